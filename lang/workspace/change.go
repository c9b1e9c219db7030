package workspace

import (
	"cmp"
	"reflect"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

// With is the snapshot with one file's text changed or added.
func (s *Snapshot) With(name, text string) *Snapshot {
	return s.change(name, s.read(name, text, true))
}

// Without is the snapshot without a file.
func (s *Snapshot) Without(name string) *Snapshot { return s.change(name, nil) }

// change puts a file in the place of the one of that name, or takes it out. What is known
// of the other files stays, but for those that the change is felt in.
func (s *Snapshot) change(name string, f *File) *Snapshot {
	c := &Snapshot{Root: s.Root, cache: s.cache, Files: slices.Clone(s.Files)}
	var old *File
	i, found := slices.BinarySearchFunc(s.Files, name, byPath)
	if found {
		old = s.Files[i]
	}
	switch {
	case f == nil && !found:
		return s
	case f == nil:
		c.Files = slices.Delete(c.Files, i, i+1)
	case found:
		c.Files[i] = f
	default:
		c.Files = slices.Insert(c.Files, i, f)
	}
	if old != nil && f != nil && declareAlike(old.Decls, f.Decls) && len(s.shared) == 0 {
		c.Env, c.settings, c.homes, c.plans = s.Env, s.settings, s.homes, s.plans
	} else {
		c.declare(s)
		if !c.Env.SameNames(s.Env) {
			for j := range c.Files {
				c.Files[j] = c.Files[j].against(c.Env)
			}
			return c
		}
	}
	if f != nil {
		f = f.against(c.Env)
		c.Files[i] = f
	}
	c.forget(s, old, f)
	return c
}

func byPath(f *File, name string) int { return cmp.Compare(f.Path, name) }

// declareAlike says whether files are read against one declaration as against the other.
// Where a movement, a house or a cycle is declared that is not asked.
func declareAlike(a, b *model.Decls) bool {
	plain := func(d *model.Decls) bool { return d.House == nil && len(d.Movements) == 0 && len(d.Cycles) == 0 }
	return plain(a) && plain(b) && slices.EqualFunc(a.Sessions, b.Sessions, func(x, y model.Name) bool { return x.Text == y.Text })
}

// forget drops the findings of those other files that a change from one snapshot to the
// next is felt in: the cycles that plan a session of the file, what a changed cycle plans,
// and files that share a name with another.
func (s *Snapshot) forget(before *Snapshot, old, now *File) {
	touched := map[string]bool{} // sessions, by key
	cycles := false
	for _, f := range []*File{old, now} {
		if f == nil {
			continue
		}
		cycles = cycles || len(f.Decls.Cycles) > 0
		for _, n := range f.Decls.Sessions {
			touched[book.Key(n.Text)] = true
		}
	}
	first := cycles && (len(before.plans()) == 0) != (len(s.plans()) == 0)
	for i, f := range s.Files {
		if f == now {
			continue
		}
		felt := first || slices.ContainsFunc(f.planned(), func(key string) bool { return touched[key] })
		if cycles && !felt {
			keys := slices.Clone(f.planned()) // a cycle looks at what others plan of its sessions
			for _, n := range f.Decls.Sessions {
				keys = append(keys, book.Key(n.Text))
			}
			felt = slices.ContainsFunc(keys, func(k string) bool { return !reflect.DeepEqual(before.plans()[k], s.plans()[k]) })
		}
		if !felt && len(before.shared)+len(s.shared) > 0 {
			felt = !reflect.DeepEqual(before.sharedBy(f), s.sharedBy(f))
		}
		if felt {
			s.Files[i] = f.afresh()
		}
	}
}

// plans are the keys of the sessions that the file's cycles plan.
func (f *File) plans() []string {
	if len(f.Decls.Cycles) == 0 {
		return nil
	}
	var out []string
	for _, c := range f.Program().Cycles {
		for _, w := range c.Plan {
			for _, d := range w.Days {
				out = append(out, book.Key(d.Session))
			}
		}
	}
	return out
}

// declare gathers what the files declare. What the snapshot before, if any, has of it and is
// still the same stays.
func (s *Snapshot) declare(before *Snapshot) {
	decls := make([]*model.Decls, len(s.Files))
	s.homes = map[string]string{}
	for i, f := range s.Files {
		decls[i] = f.Decls
		for _, n := range f.Decls.Sessions {
			if k := book.Key(n.Text); s.homes[k] == "" {
				s.homes[k] = f.Path
			}
		}
	}
	var env *model.Env
	if before != nil {
		env = before.Env
	}
	s.Env, s.shared = model.NewEnv(decls, env)
	if before != nil && before.Env.House == s.Env.House {
		s.settings = before.settings
	} else {
		s.settings = check.NewSettings(s.Env.House, rules.Registry())
	}
	s.plans = s.plan()
}

// sharedBy is what a file draws only together with others.
func (s *Snapshot) sharedBy(f *File) []diag.Diagnostic {
	var out []diag.Diagnostic
	for _, d := range s.shared {
		if d.At.File == f.Src {
			out = append(out, d)
		}
	}
	return out
}

package workspace

import (
	"cmp"
	"reflect"
	"slices"
	"sync"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
)

// With is the snapshot with one file's text changed or added.
func (s *Snapshot) With(name, text string) *Snapshot {
	return s.change(name, s.read(name, text, true))
}

// Without is the snapshot without a file.
func (s *Snapshot) Without(name string) *Snapshot { return s.change(name, nil) }

// change replaces the file of that name, adds it, or removes it where f is nil. What is known
// of the other files stays, except for those that the change affects.
func (s *Snapshot) change(name string, f *File) *Snapshot {
	c := &Snapshot{Root: s.Root, cache: s.cache, Files: slices.Clone(s.Files)}
	var old *File
	i, found := slices.BinarySearchFunc(s.Files, name, comparePath)
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
	if old != nil && f != nil && sameDecls(old.Decls, f.Decls) && len(s.sharedDiags) == 0 {
		c.Env, c.houseRules, c.pathOfSession, c.plans = s.Env, s.houseRules, s.pathOfSession, s.plans
		c.lacksLength = s.lacksLength
	} else {
		c.collectDecls(s)
		if !c.Env.SameNames(s.Env) {
			for j := range c.Files {
				c.Files[j] = c.Files[j].withEnv(c.Env)
			}
			return c
		}
	}
	if f != nil {
		f = f.withEnv(c.Env)
		c.Files[i] = f
	}
	c.invalidate(s, old, f)
	return c
}

func comparePath(f *File, name string) int { return cmp.Compare(f.Path, name) }

// sameDecls says whether two versions of a file declare the same names, so that the env and
// the other files stay as they are. A file with a movement, a house or a cycle never counts as
// the same: more than its name matters to others.
func sameDecls(a, b *model.Decls) bool {
	plain := func(d *model.Decls) bool { return d.House == nil && len(d.Movements) == 0 && len(d.Cycles) == 0 }
	sameName := func(x, y model.Name) bool { return x.Text == y.Text }
	return plain(a) && plain(b) && a.Length == b.Length && slices.EqualFunc(a.Sessions, b.Sessions, sameName)
}

// invalidate drops the diagnostics of the other files that an edit affects: cycles that plan
// a session of the edited file, sessions that an edited cycle plans, files that declare a name which
// another declares too, and the file that says for all that no length is stated. Old and now are the edited file before and after.
func (s *Snapshot) invalidate(before *Snapshot, old, now *File) {
	edited := map[string]bool{} // keys of the sessions in the edited file
	cycles := false
	for _, f := range []*File{old, now} {
		if f == nil {
			continue
		}
		cycles = cycles || len(f.Decls.Cycles) > 0
		for _, n := range f.Decls.Sessions {
			edited[book.Key(n.Text)] = true
		}
	}
	firstOrLastCycle := cycles && (len(before.plans()) == 0) != (len(s.plans()) == 0)
	for i, f := range s.Files {
		if f == now {
			continue
		}
		affected := firstOrLastCycle ||
			slices.ContainsFunc(f.plannedKeys(), func(key string) bool { return edited[key] })
		if cycles && !affected {
			keys := slices.Clone(f.plannedKeys()) // the rules of a cycle look at what other cycles plan of its sessions
			for _, n := range f.Decls.Sessions {
				keys = append(keys, book.Key(n.Text))
			}
			affected = slices.ContainsFunc(keys, func(k string) bool {
				return !reflect.DeepEqual(before.plans()[k], s.plans()[k])
			})
		}
		if !affected && len(before.sharedDiags)+len(s.sharedDiags) > 0 {
			affected = !reflect.DeepEqual(before.sharedDiagsOf(f), s.sharedDiagsOf(f))
		}
		if s.lacksLength != before.lacksLength {
			affected = affected || f.Path == s.lacksLength || f.Path == before.lacksLength
		}
		if affected {
			s.Files[i] = f.withoutDiagnostics()
		}
	}
}

// collectDecls makes the env of what the files declare. It shares with the snapshot before, if
// any, what is still the same.
func (s *Snapshot) collectDecls(before *Snapshot) {
	decls := make([]*model.Decls, len(s.Files))
	s.pathOfSession = map[string]string{}
	for i, f := range s.Files {
		decls[i] = f.Decls
		for _, n := range f.Decls.Sessions {
			if k := book.Key(n.Text); s.pathOfSession[k] == "" {
				s.pathOfSession[k] = f.Path
			}
		}
	}
	var env *model.Env
	if before != nil {
		env = before.Env
	}
	s.Env, s.sharedDiags = model.NewEnv(decls, env)
	if before != nil && before.Env.House == s.Env.House {
		s.houseRules = before.houseRules
	} else {
		s.houseRules = check.NewHouseRules(s.Env.House, rules.Registry())
	}
	s.plans = s.collectPlans()
	s.lacksLength = lacksLength(s.Files)
}

// lacksLength is the path of the file to say in that neither the house nor a session says how long the hour
// is: the house's, or that of the first session. It is empty where one does, and where there is no session.
func lacksLength(files []*File) string {
	sessions := func(f *File) bool { return len(f.Decls.Sessions) > 0 }
	first := slices.IndexFunc(files, sessions)
	if first < 0 || slices.ContainsFunc(files, func(f *File) bool { return f.Decls.Length }) {
		return ""
	}
	if house := slices.IndexFunc(files, func(f *File) bool { return f.Decls.House != nil }); house >= 0 {
		return files[house].Path
	}
	return files[first].Path
}

// sharedDiagsOf are the diagnostics of a file that it has only together with others.
func (s *Snapshot) sharedDiagsOf(f *File) []diag.Diagnostic {
	var out []diag.Diagnostic
	for _, d := range s.sharedDiags {
		if d.At.File == f.Src {
			out = append(out, d)
		}
	}
	return out
}

// withEnv is the file resolved against an env, with nothing computed yet.
func (f *File) withEnv(env *model.Env) *File {
	c := &File{
		Path: f.Path, Src: f.Src, Decls: f.Decls, tree: f.tree, heldTree: f.heldTree,
		analyses: new(sessionAnalyses), diags: new(diagnosticsOnce),
	}
	c.program = &weakCache[model.File]{compute: func() *model.File { return model.Resolve(c.Syntax(), env) }}
	c.refs = &weakCache[[]refs.Ref]{compute: func() *[]refs.Ref { rs := refs.Of(c.Syntax(), env); return &rs }}
	c.plannedKeys = sync.OnceValue(c.plannedSessions)
	c.symbols = sync.OnceValue(func() []uint64 { return symbolHashes(c.Refs()) })
	return c
}

// withoutDiagnostics is the file with its program and references, whose diagnostics are to be
// computed again.
func (f *File) withoutDiagnostics() *File {
	c := *f
	c.diags = new(diagnosticsOnce)
	return &c
}

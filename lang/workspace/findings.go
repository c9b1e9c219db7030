package workspace

import (
	"hash/maphash"
	"iter"
	"slices"
	"sync"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
)

// findings are what does not hold in a file, once that has been worked out.
type findings struct {
	once sync.Once
	list []diag.Diagnostic
}

// Diagnostics is what does not hold in a file of the snapshot, sorted. It is worked out
// once, and kept by later snapshots as long as nothing that it hangs on changes; two
// snapshots that give the same slice say the same.
func (s *Snapshot) Diagnostics(f *File) []diag.Diagnostic {
	f.found.once.Do(func() {
		p := f.Program()
		given := slices.Concat(f.Decls.Diags, p.Diags, s.sharedBy(f))
		f.found.list = check.File(s.Env, s.settings, p, given, around{s})
		diag.Sort(f.found.list)
		f.planned() // so that the first edit need not wait for it
	})
	return f.found.list
}

// Check is all that does not hold in the workspace, sorted.
func (s *Snapshot) Check() []diag.Diagnostic {
	each(len(s.Files), func(i int) { s.Diagnostics(s.Files[i]) })
	var all []diag.Diagnostic
	for _, f := range s.Files {
		all = append(all, s.Diagnostics(f)...)
	}
	diag.Sort(all)
	return all
}

// Session finds a session by its name, whatever its spelling, and the file that has it.
func (s *Snapshot) Session(name string) (*model.Session, *File) {
	k := book.Key(name)
	f := s.File(s.homes[k])
	if f == nil {
		return nil, nil
	}
	for _, o := range f.Program().Sessions {
		if book.Key(o.Name) == k {
			return o, f
		}
	}
	return nil, nil
}

// Uses are all names of a thing in the workspace, where it is declared and where it is
// used, by file and place.
func (s *Snapshot) Uses(id refs.ID) iter.Seq2[*File, refs.Ref] {
	return func(yield func(*File, refs.Ref) bool) {
		for _, f := range s.Naming(id) {
			for _, r := range f.Refs() {
				if r.ID == id && !yield(f, r) {
					return
				}
			}
		}
	}
}

// Naming are the files that name a thing, by path. It is far cheaper than to look at the
// names themselves.
func (s *Snapshot) Naming(id refs.ID) []*File {
	const some = 64 // files at once: mostly their names are known, and it is soon done
	each((len(s.Files)+some-1)/some, func(i int) {
		for _, f := range s.Files[i*some : min(i*some+some, len(s.Files))] {
			f.names()
		}
	})
	h := hash(id)
	var out []*File
	for _, f := range s.Files {
		if _, has := slices.BinarySearch(f.names(), h); has {
			out = append(out, f)
		}
	}
	return out
}

// hash tells things apart, but for a few that it takes for one.
func hash(id refs.ID) uint64 { return maphash.Comparable(seed, id) }

var seed = maphash.MakeSeed()

// namesIn are the hashes of the things that names lead to, sorted: most files have no name
// of a thing that is looked for, and this says so fast.
func namesIn(rs []refs.Ref) []uint64 {
	out := make([]uint64, len(rs))
	for i, r := range rs {
		out[i] = hash(r.ID)
	}
	slices.Sort(out)
	return slices.Clip(slices.Compact(out))
}

// Planned are the days that the workspace's cycles plan a session on.
func (s *Snapshot) Planned(name string) []check.Planned { return s.plans()[book.Key(name)] }

// IsPlanned says whether a cycle plans the session of a key.
func (s *Snapshot) IsPlanned(key string) bool { return len(s.plans()[key]) > 0 }

// Rule finds a rule by its name, with the severity and the thresholds that the house sets.
func (s *Snapshot) Rule(name string) (check.Rule, bool) {
	r, ok := check.Find(name)
	if !ok {
		return r, false
	}
	return s.settings.Of(r), true
}

// plans are the days that cycles plan sessions on, by the session's key.
type plans map[string][]check.Planned

// plan gathers them when they are first asked for.
func (s *Snapshot) plan() func() plans {
	return sync.OnceValue(func() plans {
		out := plans{}
		for _, f := range s.Files {
			if len(f.Decls.Cycles) == 0 {
				continue
			}
			for _, c := range f.Program().Cycles {
				for _, w := range c.Plan {
					for _, d := range w.Days {
						if k := book.Key(d.Session); k != "" {
							out[k] = append(out[k], check.Planned{Cycle: c, Week: w, Day: d})
						}
					}
				}
			}
		}
		return out
	})
}

// around is a snapshot as the rules of one of its files see it.
type around struct{ s *Snapshot }

func (a around) Session(name string) *model.Session {
	s, _ := a.s.Session(name)
	return s
}

func (a around) Planned(name string) []check.Planned { return a.s.Planned(name) }

func (a around) Cycles() bool { return len(a.s.plans()) > 0 }

func (a around) Facts(name, version string) *cycle.SessionAnalysis { return a.s.Facts(name, version) }

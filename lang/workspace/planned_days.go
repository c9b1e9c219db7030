package workspace

import (
	"iter"
	"sync"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
)

// Planned are the days that the workspace's cycles plan a session on.
func (s *Snapshot) Planned(name string) []check.Planned { return s.plans()[book.Key(name)] }

// IsPlanned says whether a cycle plans the session of a key.
func (s *Snapshot) IsPlanned(key string) bool { return len(s.plans()[key]) > 0 }

// plannedDays are the days that cycles plan sessions on, by the session's key.
type plannedDays map[string][]check.Planned

// collectPlans collects the planned days when they are first asked for.
func (s *Snapshot) collectPlans() func() plannedDays {
	return sync.OnceValue(func() plannedDays {
		out := plannedDays{}
		for _, f := range s.Files {
			for p := range f.days() {
				if k := book.Key(p.Day.Session); k != "" {
					out[k] = append(out[k], p)
				}
			}
		}
		return out
	})
}

// plannedSessions are the keys of the sessions that the file's cycles plan.
func (f *File) plannedSessions() []string {
	var out []string
	for p := range f.days() {
		out = append(out, book.Key(p.Day.Session))
	}
	return out
}

// days are the days of the file's cycles. A file without a cycle is not resolved for them.
func (f *File) days() iter.Seq[check.Planned] {
	return func(yield func(check.Planned) bool) {
		if len(f.Decls.Cycles) == 0 {
			return
		}
		for _, c := range f.Program().Cycles {
			for _, w := range c.Plan {
				for _, d := range w.Days {
					if !yield(check.Planned{Cycle: c, Week: w, Day: d}) {
						return
					}
				}
			}
		}
	}
}

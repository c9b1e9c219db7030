package workspace

import (
	"slices"
	"sync"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

// diagnosticsOnce are the diagnostics of a file, computed once.
type diagnosticsOnce struct {
	once sync.Once
	list []diag.Diagnostic
}

// Diagnostics are those of a file of the snapshot, sorted. They are computed once, and later
// snapshots keep them until an edit affects them: the same slice means the same diagnostics.
func (s *Snapshot) Diagnostics(f *File) []diag.Diagnostic {
	f.diags.once.Do(func() {
		p := f.Program()
		given := slices.Concat(f.Decls.Diags, p.Diags, s.sharedDiagsOf(f))
		f.diags.list = check.File(s.Env, s.houseRules, p, given, ruleQueries{s})
		diag.Sort(f.diags.list)
		f.plannedKeys() // computed now, so that the first edit need not wait for it
	})
	return f.diags.list
}

// Check is the diagnostics of all files, sorted. It runs in parallel.
func (s *Snapshot) Check() []diag.Diagnostic {
	parallelFor(len(s.Files), func(i int) { s.Diagnostics(s.Files[i]) })
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
	f := s.File(s.pathOfSession[k])
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

// FindSession finds a session by its name, whatever its spelling; nil where no file has it.
func (s *Snapshot) FindSession(name string) *model.Session {
	found, _ := s.Session(name)
	return found
}

// Rule finds a rule by its name, with the severity and the thresholds that the house sets.
func (s *Snapshot) Rule(name string) (check.HouseRule, bool) {
	r, ok := rules.Find(name)
	if !ok {
		return check.HouseRule{}, false
	}
	return s.houseRules.Of(r), true
}

// ruleQueries answers check.WorkspaceQueries from a snapshot.
type ruleQueries struct{ s *Snapshot }

func (q ruleQueries) Session(name string) *model.Session {
	return q.s.FindSession(name)
}

func (q ruleQueries) Planned(name string) []check.Planned { return q.s.Planned(name) }

func (q ruleQueries) LacksLength() string { return q.s.lacksLength }

func (q ruleQueries) Cycles() bool { return len(q.s.plans()) > 0 }

func (q ruleQueries) SessionAnalysis(of *model.Cycle, week int, name, version string) *cycle.SessionAnalysis {
	return q.s.SessionAnalysis(of, week, name, version)
}

// FileFor is where a session's file belongs by convention.
func (q ruleQueries) FileFor(session string) string { return FileFor(session) }

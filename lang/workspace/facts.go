package workspace

import (
	"sync"
	"weak"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
)

// facts are what the sessions of a file come to, and their versions, as far as a cycle has
// asked. A cycle asks for those of all its sessions whenever one of them is edited, so they
// are kept; but no longer than somebody holds them, as with what the file means.
type facts struct {
	lock sync.Mutex
	of   map[[2]string]weak.Pointer[cycle.SessionAnalysis] // by the keys of session and version
}

// Facts are what a session comes to in a version, or as written where that is empty; nil
// where the workspace has none such.
func (s *Snapshot) Facts(name, version string) *cycle.SessionAnalysis {
	k := [2]string{book.Key(name), book.Key(version)}
	home := s.File(s.homes[k[0]])
	if home == nil {
		return nil
	}
	f := home.facts
	f.lock.Lock()
	defer f.lock.Unlock()
	if kept := f.of[k].Value(); kept != nil {
		return kept
	}
	of, _ := s.Session(name)
	if of = of.InVersion(version); of == nil {
		return nil
	}
	if f.of == nil {
		f.of = map[[2]string]weak.Pointer[cycle.SessionAnalysis]{}
	}
	made := cycle.Of(of, s.Env)
	f.of[k] = weak.Make(made)
	return made
}

package workspace

import (
	"sync"
	"weak"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
)

// sessionAnalyses caches what the rules of cycles ask of a file's sessions and their versions. A
// cycle asks for those of all its sessions whenever one of them is edited. The cache is weak,
// as that of the programs.
type sessionAnalyses struct {
	mu sync.Mutex
	of map[[2]string]weak.Pointer[cycle.SessionAnalysis] // by the keys of session and version
}

// SessionAnalysis is the volume and intensity of a session in a version, or as written where that is empty;
// nil where the workspace has no such session or version.
func (s *Snapshot) SessionAnalysis(name, version string) *cycle.SessionAnalysis {
	k := [2]string{book.Key(name), book.Key(version)}
	home := s.File(s.pathOfSession[k[0]])
	if home == nil {
		return nil
	}
	f := home.analyses
	f.mu.Lock()
	defer f.mu.Unlock()
	if kept := f.of[k].Value(); kept != nil {
		return kept
	}
	session, _ := s.Session(name)
	if session == nil {
		return nil
	}
	variant := session.InVersion(version)
	if variant == nil {
		return nil
	}
	if f.of == nil {
		f.of = map[[2]string]weak.Pointer[cycle.SessionAnalysis]{}
	}
	made := cycle.Of(variant, s.Env)
	f.of[k] = weak.Make(made)
	return made
}

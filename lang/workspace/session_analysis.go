package workspace

import (
	"maps"
	"sync"
	"weak"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// sessionAnalyses caches what the rules of cycles ask of a file's sessions and their versions. A
// cycle asks for those of all its sessions whenever one of them is edited. The cache is weak,
// as that of the programs.
type sessionAnalyses struct {
	mu sync.Mutex
	of map[analysisKey]weak.Pointer[cycle.SessionAnalysis]
}

// An analysisKey is a session in a version, and what a cycle has moved in it: empty for the session as
// it stands.
type analysisKey struct{ session, version, moved string }

// SessionAnalysis is the volume and intensity of a session in a version, or as written where that is empty,
// as a cycle has it in a week; nil where the workspace has no such session or version. Without a cycle it is the
// session as it stands.
func (s *Snapshot) SessionAnalysis(of *model.Cycle, week int, name, version string) *cycle.SessionAnalysis {
	k := analysisKey{session: book.Key(name), version: book.Key(version)}
	home := s.File(s.pathOfSession[k.session])
	if home == nil {
		return nil
	}
	if of != nil {
		k.moved = of.MovedBy(name, week)
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
	if k.moved != "" {
		session = of.InWeek(session, week)
	}
	variant := session.InVersion(version)
	if variant == nil {
		return nil
	}
	if f.of == nil {
		f.of = map[analysisKey]weak.Pointer[cycle.SessionAnalysis]{}
	}
	maps.DeleteFunc(f.of, func(_ analysisKey, p weak.Pointer[cycle.SessionAnalysis]) bool { return p.Value() == nil })
	made := cycle.Of(variant, s.Env)
	f.of[k] = weak.Make(made)
	return made
}

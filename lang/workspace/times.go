package workspace

import (
	"sync"

	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/program"
)

// times are how long the sessions of a file take, and their versions, as far as somebody
// has asked. They are kept as long as what the file means: a cycle asks for those of all
// its sessions whenever one of them is edited.
type times struct {
	lock sync.Mutex
	of   map[*program.Session]*clock.Timeline
}

// timeline is how long a session of the file takes.
func (t *times) timeline(s *program.Session, env *program.Env) *clock.Timeline {
	t.lock.Lock()
	defer t.lock.Unlock()
	if t.of[s] == nil {
		if t.of == nil {
			t.of = map[*program.Session]*clock.Timeline{}
		}
		t.of[s] = clock.Of(s, env)
	}
	return t.of[s]
}

// Timeline is how long a session of the snapshot takes, as written or in a version.
func (s *Snapshot) Timeline(of *program.Session) *clock.Timeline {
	if of.At.File != nil {
		if f := s.File(of.At.File.Name); f != nil && f.Syntax.Src == of.At.File {
			return f.times.timeline(of, s.Env)
		}
	}
	return clock.Of(of, s.Env)
}

package workspace

import (
	"sync"
	"weak"
)

// A lazy is what can be worked out from a file's text at any time: it is made when it is
// asked for, and kept only as long as somebody holds it. What ten thousand sessions mean
// takes more room than all else that is known of them, and seldom more than a few are
// looked at together.
type lazy[T any] struct {
	mu   sync.Mutex
	kept weak.Pointer[T]
	make func() *T
}

func (l *lazy[T]) get() *T {
	l.mu.Lock()
	defer l.mu.Unlock()
	if v := l.kept.Value(); v != nil {
		return v
	}
	v := l.make()
	l.kept = weak.Make(v)
	return v
}

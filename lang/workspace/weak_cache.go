package workspace

import (
	"sync"
	"weak"
)

// A weakCache computes a value when it is asked for, and caches it only as long as somebody
// else references it. The programs of ten thousand sessions would take more memory than all
// else that is known of them, and seldom more than a few are looked at together.
type weakCache[T any] struct {
	mu      sync.Mutex
	kept    weak.Pointer[T]
	compute func() *T
}

func (l *weakCache[T]) get() *T {
	l.mu.Lock()
	defer l.mu.Unlock()
	if v := l.kept.Value(); v != nil {
		return v
	}
	v := l.compute()
	l.kept = weak.Make(v)
	return v
}

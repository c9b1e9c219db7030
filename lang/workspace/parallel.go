package workspace

import (
	"errors"
	"fmt"
	"runtime"

	"golang.org/x/sync/errgroup"
)

// parallelFor runs f for 0 to n-1, on as many processors as there are, and returns when all
// are done. A panic in f would end the program, as no caller is on the stack of a goroutine
// of its own: it is carried over and raised again in the caller, where a front end recovers.
func parallelFor(n int, f func(int)) {
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		g.Go(func() (err error) {
			defer func() {
				if p := recover(); p != nil {
					err = panicError{p}
				}
			}()
			f(i)
			return nil
		})
	}
	var p panicError
	if errors.As(g.Wait(), &p) {
		panic(p.value)
	}
}

// A panicError is what a function panicked with.
type panicError struct{ value any }

func (p panicError) Error() string { return fmt.Sprintf("panic: %v", p.value) }

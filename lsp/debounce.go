package lsp

import (
	"context"
	"time"
)

// publishLoop computes diagnostics after each change: of the open documents at once, and of the
// other files in debounceLoop, so that no key press waits for those. It publishes them, or asks a
// client that pulls to pull again.
func (s *Server) publishLoop(ctx context.Context) {
	others := make(chan struct{}, 1)
	s.spawn(func() { s.debounceLoop(ctx, others) })
	for {
		select {
		case <-ctx.Done():
			return
		case <-s.wake:
		}
		s.publishOpenDocuments(ctx)
		select {
		case others <- struct{}{}:
		default:
		}
	}
}

// The other files are checked once no change has come for debounceDelay: on a laptop, that work
// would slow the next key press. After maxDebounceDelay they are checked all the same.
const (
	debounceDelay    = 50 * time.Millisecond
	maxDebounceDelay = time.Second
)

// debounceLoop publishes the diagnostics of the files that are not open, debounced.
func (s *Server) debounceLoop(ctx context.Context, wake <-chan struct{}) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-wake:
		}
		for end, quiet := time.After(maxDebounceDelay), false; !quiet; {
			select {
			case <-ctx.Done():
				return
			case <-wake:
			case <-time.After(debounceDelay):
				quiet = true
			case <-end:
				quiet = true
			}
		}
		s.publishOtherFiles(ctx)
	}
}

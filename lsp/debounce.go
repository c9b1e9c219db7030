package lsp

import (
	"context"
	"time"
)

// publishLoop works out findings whenever something has changed: here of the open documents,
// beside it, in follower, of the other files, so that nobody who types waits for those. It
// sends them, or asks the client to ask again.
func (s *Server) publishLoop(ctx context.Context) {
	rest := make(chan struct{}, 1)
	s.spawn(func() { s.debounceLoop(ctx, rest) })
	for {
		select {
		case <-ctx.Done():
			return
		case <-s.wake:
		}
		s.publishOpenDocuments(ctx)
		select {
		case rest <- struct{}{}:
		default:
		}
	}
}

// lull is how long nobody has to have typed before the other files are looked at: on a
// laptop, that work would be felt in the next key. After the longest wait they are looked
// at all the same.
const (
	debounceDelay    = 50 * time.Millisecond
	maxDebounceDelay = time.Second
)

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

package lsp

import (
	"context"
	"sync/atomic"
	"time"

	"go.lsp.dev/protocol"
)

var progresses atomic.Int32

// progress begins work-done progress, where the client shows it; the function that it returns
// ends it.
func (s *Server) progress(ctx context.Context, title string) func() {
	if !s.clientCapabilities().progress {
		return func() {}
	}
	token := protocol.Integer(progresses.Add(1))
	made := make(chan bool, 1)
	s.spawn(func() {
		made <- s.client.WorkDoneProgressCreate(ctx, &protocol.WorkDoneProgressCreateParams{Token: token}) == nil
	})
	// A client that is slow to answer is not waited for.
	select {
	case ok := <-made:
		if !ok {
			return func() {}
		}
	case <-time.After(time.Second):
		return func() {}
	case <-ctx.Done():
		return func() {}
	}
	s.report(ctx, token, &protocol.WorkDoneProgressBegin{Kind: "begin", Title: title})
	return func() { s.report(ctx, token, &protocol.WorkDoneProgressEnd{Kind: "end"}) }
}

func (s *Server) report(ctx context.Context, token protocol.ProgressToken, value any) {
	raw, err := protocol.Marshal(value)
	if err == nil {
		_ = s.client.Progress(ctx, &protocol.ProgressParams{Token: token, Value: raw})
	}
}

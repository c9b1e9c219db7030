package lsp

import (
	"context"
	"fmt"
	"time"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/ide/wording"
)

// How much of what the server does a client wants to see.
const (
	traceOff int32 = iota
	traceMessages
	traceVerbose
)

func (s *Server) setTrace(_ context.Context, raw []byte) error {
	var p protocol.SetTraceParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	s.setLevel(p.Value)
	return nil
}

func (s *Server) setLevel(value protocol.TraceValue) {
	level := traceOff
	switch value {
	case protocol.TraceValueMessages:
		level = traceMessages
	case protocol.TraceValueVerbose:
		level = traceVerbose
	}
	s.level.Store(level)
}

// trace begins a request; what it returns says how long it took.
func (s *Server) trace(name string) func(error) {
	level := s.level.Load()
	if level == traceOff {
		return func(error) {}
	}
	began := time.Now()
	return func(err error) {
		p := &protocol.LogTraceParams{Message: fmt.Sprintf("%s answered in %s", name,
			time.Since(began).Round(10*time.Microsecond))}
		if err != nil {
			p.Message = fmt.Sprintf("%s refused: %v", name, err)
		}
		if level == traceVerbose {
			p.Verbose = new(s.state())
		}
		_ = s.client.LogTrace(s.ctx, p)
	}
}

// state says what the server holds.
func (s *Server) state() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	files := 0
	for _, f := range s.folders {
		if f.snap != nil {
			files += len(f.snap.Files)
		}
	}
	return fmt.Sprintf("%s, %s, %s open", wording.Count(len(s.folders), "workspace"),
		wording.Count(files, "file"), wording.Count(len(s.docs), "document"))
}

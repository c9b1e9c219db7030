package lsp

import (
	"context"
	"fmt"
	"io"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"go.lsp.dev/protocol"
)

// A logger tells the client, and the log file if there is one, what went wrong.
type logger struct {
	srv *Server
	out io.Writer

	mu   sync.Mutex
	said map[string]bool
}

func (l *logger) errorf(format string, args ...any) {
	l.send(protocol.MessageTypeError, fmt.Sprintf(format, args...))
}

// warnOnce warns once per text, however often it is found again.
func (l *logger) warnOnce(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	l.mu.Lock()
	known := l.said[text]
	if l.said == nil {
		l.said = map[string]bool{}
	}
	l.said[text] = true
	l.mu.Unlock()
	if !known {
		l.send(protocol.MessageTypeWarning, text)
	}
}

// panicked logs a panic with its stack.
func (l *logger) panicked(where string, p any) {
	l.write(strings.TrimSpace(string(debug.Stack())))
	l.errorf("internal error in %s: %v; this is a fault of stint, not of your text", where, p)
}

func (l *logger) send(kind protocol.MessageType, text string) {
	l.write(text)
	// A client that cannot be told has gone, and the connection says so itself.
	_ = l.srv.client.LogMessage(context.Background(), &protocol.LogMessageParams{Type: kind, Message: text})
}

func (l *logger) write(text string) {
	if l.out == nil {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	fmt.Fprintf(l.out, "%s %s\n", time.Now().Format(time.RFC3339), text)
}

package lsp

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// requestFailed is the code of a well-formed request that could not be answered, with a
// reason for the person who asked.
const requestFailed jsonrpc2.Code = -32803

// handle takes every message. Notifications are done at once and in order, and whatever
// is wrong with one, the connection lives; requests are released once they have seen the
// state.
func (s *Server) handle(ctx context.Context, req *jsonrpc2.Request) (any, error) {
	// The context of a request dies with it, and must not be one's parent.
	base := jsonrpc2.DetachContext(ctx)
	if !req.IsCall() {
		s.handleNotification(base, req.Method(), req.Params())
		return nil, nil
	}
	return s.handleRequest(base, ctx, req)
}

func (s *Server) handleNotification(ctx context.Context, name string, params []byte) {
	defer s.recoverPanic(name)
	s.mu.Lock()
	phase := s.phase
	s.mu.Unlock()
	switch {
	case name == protocol.MethodExit:
		s.stop()
		return
	case name == protocol.MethodCancelRequest:
		s.pending.cancel(params)
		return
	case phase != running:
		return // as the protocol has it
	}
	f, known := notificationHandlers[name]
	if !known {
		if !strings.HasPrefix(name, "$/") {
			s.log.warnOnce("the client notified of %q, which is not known here", name)
		}
		return
	}
	if err := f(s, ctx, params); err != nil {
		s.log.errorf("%s: %v", name, err)
	}
}

func (s *Server) handleRequest(base, ctx context.Context, req *jsonrpc2.Request) (result any, err error) {
	name := strings.Clone(req.Method()) // it is lent until Async
	defer func() {
		if p := recover(); p != nil {
			s.log.panicked(name, p)
			result, err = nil, jsonrpc2.Errorf(jsonrpc2.InternalError, "internal error in %s: %v", name, p)
		}
	}()
	m, err := s.requestHandler(name)
	if err != nil {
		return nil, err
	}
	base, done := s.pending.add(base, req.ID())
	defer done()
	run, err := m(s, base, req.Params())
	if err != nil {
		return nil, err
	}
	traced := s.trace(name)
	// Initialize and shutdown are answered before anything else is read.
	if name != protocol.MethodInitialize && name != protocol.MethodShutdown {
		jsonrpc2.Async(ctx)
	}
	result, err = run()
	traced(err)
	var wire *jsonrpc2.Error
	switch {
	case base.Err() != nil:
		return nil, protocol.ErrRequestCancelled
	case err != nil && !errors.As(err, &wire):
		return nil, jsonrpc2.NewError(requestFailed, err.Error())
	}
	return result, err
}

// requestHandler finds the method of a name, if it may be called now.
func (s *Server) requestHandler(name string) (handler, error) {
	s.mu.Lock()
	phase := s.phase
	s.mu.Unlock()
	switch {
	case phase == starting && name != protocol.MethodInitialize:
		return nil, jsonrpc2.NewError(jsonrpc2.ServerNotInitialized, "the server is not initialized")
	case phase == stopping:
		return nil, jsonrpc2.NewError(jsonrpc2.InvalidRequest, "the server is shut down")
	case phase == running && name == protocol.MethodInitialize:
		return nil, jsonrpc2.NewError(jsonrpc2.InvalidRequest, "the server is initialized already")
	}
	if m := requestHandlers[name]; m != nil {
		return m, nil
	}
	return nil, jsonrpc2.Errorf(jsonrpc2.MethodNotFound, "there is no method %q", name)
}

// pendingRequests are the requests that are being answered, so that they can be cancelled.
type pendingRequests struct {
	mu  sync.Mutex
	all map[jsonrpc2.ID]context.CancelFunc
}

func (c *pendingRequests) add(ctx context.Context, id jsonrpc2.ID) (context.Context, func()) {
	ctx, cancel := context.WithCancel(ctx)
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.all == nil {
		c.all = map[jsonrpc2.ID]context.CancelFunc{}
	}
	c.all[id] = cancel
	return ctx, func() {
		c.mu.Lock()
		delete(c.all, id)
		c.mu.Unlock()
		cancel()
	}
}

// cancel cancels a request. An id that names none, or is none, changes nothing.
func (c *pendingRequests) cancel(params []byte) {
	var p struct {
		ID any `json:"id"`
	}
	if json.Unmarshal(params, &p) != nil {
		return
	}
	var id jsonrpc2.ID
	switch v := p.ID.(type) {
	case string:
		id = jsonrpc2.NewStringID(v)
	case float64:
		id = jsonrpc2.NewNumberID(int64(v))
	default:
		return
	}
	c.mu.Lock()
	cancel := c.all[id]
	c.mu.Unlock()
	if cancel != nil {
		cancel()
	}
}

// invalid is the error of parameters that cannot be read.
func invalid(err error) error {
	return fmt.Errorf("%w: %w", jsonrpc2.ErrInvalidParams, err)
}

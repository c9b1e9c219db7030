package lsp

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"
	"time"

	"go.lsp.dev/jsonrpc2"
)

const (
	// maxMessage is the largest message that is read; a larger one is skipped and answered.
	maxMessage = 64 << 20
	// keepBuffer is the largest buffer that is kept for the next message.
	keepBuffer = 1 << 20
	maxHeader  = 4096
	// maxQueue is how much a client may leave unread.
	maxQueue = 256 << 20
)

var errSlow = errors.New("the client does not read what it is sent")

// errHeader ends a connection: after a broken header nobody knows where the next one is.
var errHeader = errors.New("a message header that cannot be read")

// A stream reads and writes messages with a Content-Length header. A body that is no
// message is answered here and left, so that one slip of a client does not end the rest.
//
// What is written waits in a queue, so that a client that is slow to read, or writes before
// it reads, does not keep the server from reading.
type stream struct {
	conn io.ReadWriteCloser
	in   *bufio.Reader
	body []byte // lent to the message that Read returned, until the next Read

	mu      sync.Mutex
	queued  *sync.Cond // something is in the queue, or the stream is closed
	queue   []byte
	closed  bool
	broken  error         // why no more can be written
	drained chan struct{} // closed when all that was queued is written, or cannot be
}

func newStream(conn io.ReadWriteCloser) *stream {
	s := &stream{conn: conn, in: bufio.NewReader(conn), drained: make(chan struct{})}
	s.queued = sync.NewCond(&s.mu)
	go s.drain()
	return s
}

// Read is the next message.
func (s *stream) Read(ctx context.Context) (jsonrpc2.Message, int64, error) {
	for {
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		n, err := s.header()
		if err != nil {
			return nil, 0, err
		}
		if n > maxMessage {
			if _, err := io.CopyN(io.Discard, s.in, n); err != nil {
				return nil, 0, err
			}
			if err := s.refuse(ctx, jsonrpc2.InvalidRequest,
				fmt.Sprintf("a message of %d bytes is more than is read", n)); err != nil {
				return nil, 0, err
			}
			continue
		}
		if int64(cap(s.body)) < n || cap(s.body) > keepBuffer {
			s.body = make([]byte, n)
		}
		s.body = s.body[:n]
		if _, err := io.ReadFull(s.in, s.body); err != nil {
			return nil, 0, err
		}
		if !json.Valid(s.body) {
			if err := s.refuse(ctx, jsonrpc2.ParseError, "a message that is not JSON"); err != nil {
				return nil, 0, err
			}
			continue
		}
		msg, err := jsonrpc2.DecodeMessage(s.body)
		if err != nil {
			if err := s.refuse(ctx, jsonrpc2.InvalidRequest, "a message that is no request: "+err.Error()); err != nil {
				return nil, 0, err
			}
			continue
		}
		return msg, n, nil
	}
}

// header reads a header and returns the length of the body that follows.
func (s *stream) header() (int64, error) {
	length := int64(-1)
	for read := 0; ; {
		line, err := s.in.ReadSlice('\n')
		if read += len(line); err != nil {
			if errors.Is(err, io.EOF) && read > 0 {
				err = io.ErrUnexpectedEOF
			}
			if errors.Is(err, bufio.ErrBufferFull) {
				err = errHeader
			}
			return 0, err
		}
		field := strings.TrimRight(string(line), "\r\n")
		if field == "" {
			if length < 0 {
				return 0, errHeader
			}
			return length, nil
		}
		name, value, found := strings.Cut(field, ":")
		if !found || read > maxHeader {
			return 0, errHeader
		}
		if strings.EqualFold(strings.TrimSpace(name), "Content-Length") {
			length, err = strconv.ParseInt(strings.TrimSpace(value), 10, 64)
			if err != nil || length < 0 {
				return 0, errHeader
			}
		}
	}
}

// refuse answers what is no message. It has no id that could be known.
func (s *stream) refuse(ctx context.Context, code jsonrpc2.Code, why string) error {
	_, err := s.Write(ctx, jsonrpc2.NewResponse(jsonrpc2.ID{}, nil, jsonrpc2.NewError(code, why)))
	return err
}

// Write queues a message.
func (s *stream) Write(ctx context.Context, msg jsonrpc2.Message) (int64, error) {
	if err := ctx.Err(); err != nil {
		return 0, err
	}
	body := jsonrpc2.AppendMessage(nil, msg)
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.broken == nil && len(s.queue) > maxQueue {
		s.broken = errSlow
	}
	switch {
	case s.broken != nil:
		return 0, s.broken
	case s.closed:
		return 0, io.ErrClosedPipe
	}
	before := len(s.queue)
	s.queue = fmt.Appendf(s.queue, "Content-Length: %d\r\n\r\n", len(body))
	s.queue = append(s.queue, body...)
	s.queued.Signal()
	return int64(len(s.queue) - before), nil
}

// drain writes what is queued until the stream is closed.
func (s *stream) drain() {
	defer close(s.drained)
	var spare []byte
	for {
		s.mu.Lock()
		for len(s.queue) == 0 && !s.closed {
			s.queued.Wait()
		}
		out := s.queue
		if len(out) == 0 {
			s.mu.Unlock()
			return
		}
		s.queue = spare[:0]
		s.mu.Unlock()
		_, err := s.conn.Write(out)
		if spare = out; cap(spare) > keepBuffer {
			spare = nil
		}
		if err != nil {
			s.mu.Lock()
			s.broken, s.queue = err, nil
			s.mu.Unlock()
			return
		}
	}
}

// shutdownTimeout is how long a client may take to read the last that it is told.
const shutdownTimeout = time.Second

// Close closes the connection below, when what is queued is written.
func (s *stream) Close() error {
	s.mu.Lock()
	s.closed = true
	s.queued.Signal()
	s.mu.Unlock()
	select {
	case <-s.drained:
	case <-time.After(shutdownTimeout):
	}
	return s.conn.Close()
}

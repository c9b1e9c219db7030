// Package lsp is the language server: the Language Server Protocol on immutable snapshots of
// workspaces. It knows nothing of sessions. The packages under lang say what a text means, and
// those under lang/ide what an editor shows of it.
//
// A file is a capability, by the name that the protocol gives it: hover.go, completion.go,
// semantic_tokens.go, code_action.go. handlers.go has the table of requests and notifications.
// Of the machinery, stream.go frames messages, dispatch.go calls handlers, document_sync.go
// applies edits, workspace_folders.go and workspace_load.go find and read workspaces, view.go is
// what a request sees, and debounce.go says when diagnostics are computed, which
// diagnostics_publish.go (push) and diagnostics_pull.go (pull) report.
//
// Notifications are handled on the goroutine that reads the connection, in order. A request
// takes the snapshot that is current when it arrives, and is answered concurrently with later
// messages.
package lsp

import (
	"context"
	"errors"
	"io"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// ServerOptions is what a server is started with.
type ServerOptions struct {
	Version string                 // of the program, as the client is told
	Log     io.Writer              // where the server logs, a line each; nil for nowhere
	Cache   func() (string, error) // the user's cache folder; nil for os.UserCacheDir
}

// A connectionPhase is where a connection is in the protocol's life cycle.
type connectionPhase uint8

const (
	starting connectionPhase = iota // before initialize
	running
	stopping // after shutdown
)

// A Server serves one client.
type Server struct {
	opt        ServerOptions
	stream     *stream
	conn       jsonrpc2.Conn
	client     protocol.Client
	ctx        context.Context    // of the connection
	stop       context.CancelFunc // ends it
	pending    pendingRequests
	log        *logger
	caps       atomic.Pointer[clientCapabilities] // of the client; nil before initialize, and set once
	level      atomic.Int32                       // a trace level: traceOff, traceMessages or traceVerbose
	pages      *builtinPages
	wake       chan struct{} // a change for publishLoop
	background sync.WaitGroup

	tokenCache semanticTokenCache // the last tokens that each document was answered

	discoverMu sync.Mutex    // one discovery of workspaces at a time
	discovered chan struct{} // closed after the first
	spawnMu    sync.Mutex    // of additions to work
	closing    bool          // no more are made
	publishMu  sync.Mutex    // of diagnostics, so that old ones do not overtake new ones

	mu              sync.Mutex // of what follows
	phase           connectionPhase
	initializedSeen bool // the client said initialized, so discover runs or has run
	enc             encoding
	config          Configuration
	initialConfig   Configuration      // of initializationOptions
	clientFolders   []string           // the workspace folders of the client
	docs            map[string]*buffer // the open documents, by URI
	folders         []*workspaceFolder
	droppedFolders  []*workspaceFolder // dropped workspaces whose diagnostics the client still shows
	changes         int                // counts changes, so that work on an old state can stop
}

// ErrNoShutdown says that a client went away, or said exit, without shutdown.
var ErrNoShutdown = errors.New("the client left without shutdown")

// Serve serves a client until it says exit or goes away.
func Serve(ctx context.Context, conn io.ReadWriteCloser, opt ServerOptions) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	return newServer(ctx, stop, conn, opt).run()
}

func newServer(ctx context.Context, stop context.CancelFunc, conn io.ReadWriteCloser, opt ServerOptions) *Server {
	if opt.Cache == nil {
		opt.Cache = os.UserCacheDir
	}
	s := &Server{
		opt:        opt,
		ctx:        ctx,
		stop:       stop,
		wake:       make(chan struct{}, 1),
		discovered: make(chan struct{}),
		config:     defaults(), initialConfig: defaults(),
		docs: map[string]*buffer{},
	}
	s.log = &logger{srv: s, out: opt.Log}
	s.pages = &builtinPages{cache: opt.Cache, log: s.log.errorf}
	s.stream = newStream(conn)
	s.conn = jsonrpc2.NewConn(s.stream, jsonrpc2.WithCodec(codec{}))
	s.client = protocol.ClientDispatcher(s.conn)
	return s
}

func (s *Server) run() error {
	s.spawn(func() { s.publishLoop(s.ctx) })
	s.conn.Go(s.ctx, s.handle)
	select {
	case <-s.conn.Done():
	case <-s.ctx.Done():
	}
	s.stop()
	_ = s.stream.Close() // unblocks the reader; there is nobody left to tell
	s.spawnMu.Lock()
	s.closing = true
	s.spawnMu.Unlock()
	ended := make(chan struct{})
	go func() { s.background.Wait(); close(ended) }()
	select {
	case <-ended:
	case <-time.After(shutdownTimeout): // thousands of files may be half read
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.phase != stopping {
		return errors.Join(ErrNoShutdown, s.conn.Err())
	}
	return nil
}

// spawn runs background work, which ends when the connection does. A panic in it is logged and
// ends that work alone.
func (s *Server) spawn(f func()) {
	s.spawnMu.Lock()
	defer s.spawnMu.Unlock()
	if s.closing {
		return // nobody waits for it any more
	}
	s.background.Go(func() {
		defer s.recoverPanic("background work")
		f()
	})
}

// recoverPanic is deferred where a panic is to be logged and to go no further.
func (s *Server) recoverPanic(where string) {
	if p := recover(); p != nil {
		s.log.panicked(where, p)
	}
}

// changed counts a change and wakes publishLoop. It is called with the lock held.
func (s *Server) changed() {
	s.changes++
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

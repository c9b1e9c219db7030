// Package lsp is the language server: the language server protocol on a snapshot of a
// workspace. It knows nothing of sessions; what a text means and whether it holds is for
// the packages under lang to say.
//
// The reader of the connection makes the changes that notifications bring, one after
// another and in the order of the wire. A request takes the snapshot that is current when
// it comes and is answered beside what comes after it.
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
	Log     io.Writer              // what the server does, a line each; nil for none
	Cache   func() (string, error) // the user's folder for caches; nil for the usual one
}

// The phases of a connection.
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
	level      atomic.Int32                       // how much of what it does the client wants traced
	pages      *builtinPages
	wake       chan struct{} // tells the publisher that something has changed
	background sync.WaitGroup

	tokenCache semanticTokenCache // the tokens that documents were given

	discoverMu sync.Mutex    // one discovery of workspaces at a time
	discovered chan struct{} // closed after the first
	spawnMu    sync.Mutex    // of additions to work
	closing    bool          // no more are made
	publishMu  sync.Mutex    // of diagnostics, so that old ones do not overtake new ones

	mu              sync.Mutex // of what follows
	phase           connectionPhase
	initializedSeen bool // the client said initialized, so that workspaces are being looked for
	enc             encoding
	config          Configuration
	initialConfig   Configuration      // what the client set when it came
	clientFolders   []string           // the folders that the client has open
	docs            map[string]*buffer // the open documents, by URI
	folders         []*folder
	droppedFolders  []*folder // dropped, with findings that the client still shows
	changes         int       // how many there have been, so that work on what is past can stop
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

// spawn runs work of the server's own, which ends when the connection does. A fault in it
// is written down and ends that work alone.
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

// recoverPanic is deferred where a fault is to be written down and to go no further.
func (s *Server) recoverPanic(where string) {
	if p := recover(); p != nil {
		s.log.panicked(where, p)
	}
}

// changed says that something has changed. It is called with the lock held.
func (s *Server) changed() {
	s.changes++
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

package lsp

import (
	"context"
	"errors"
	"os"
	"runtime"
	"syscall"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

func (s *Server) initialize(_ context.Context, p protocol.InitializeParams) (*protocol.InitializeResult, error) {
	can := readClientCapabilities(&p.Capabilities)
	var offered []protocol.PositionEncodingKind
	if g := p.Capabilities.General; g != nil {
		offered = g.PositionEncodings
	}
	enc, kind := negotiateEncoding(offered)
	set, err := defaults().merge(p.InitializationOptions)
	if err != nil {
		s.log.errorf("initializationOptions: %v", err)
	}
	s.mu.Lock()
	s.caps.Store(&can)
	s.phase, s.enc, s.config, s.initialConfig = running, enc, set, set
	s.clientFolders = foldersOf(p)
	s.mu.Unlock()
	s.setLevel(p.Trace)
	if p.ProcessID != nil {
		base := s.ctx
		s.spawn(func() { s.watchParent(base, int(*p.ProcessID), parentPoll) })
	}
	result := &protocol.InitializeResult{
		Capabilities: s.capabilities(can),
		ServerInfo:   protocol.ServerInfo{Name: "stint", Version: protocol.NewOptional(s.opt.Version)},
	}
	result.Capabilities.PositionEncoding = kind
	return result, nil
}

// foldersOf are the folders that a client has open, in the newest of the three ways to
// say so that it uses.
func foldersOf(p protocol.InitializeParams) []string {
	if fs, given := p.WorkspaceFolders.Get(); given && len(fs) > 0 {
		var out []string
		for _, f := range fs {
			if dir, ok := filePath(f.URI); ok {
				out = append(out, dir)
			}
		}
		return out
	}
	//lint:ignore SA1019 older clients say it so
	if root := p.RootURI; root != nil {
		if dir, ok := filePath(*root); ok {
			return []string{dir}
		}
	}
	//lint:ignore SA1019 still older clients say it so
	if dir, given := p.RootPath.Get(); given && dir != "" {
		return []string{dir}
	}
	return nil
}

func (s *Server) initialized(ctx context.Context, _ []byte) error {
	s.mu.Lock()
	again := s.initializedSeen
	s.initializedSeen = true
	s.mu.Unlock()
	if again {
		return errors.New("said twice")
	}
	s.spawn(func() {
		defer close(s.discovered)
		s.discover(ctx)
	})
	s.spawn(func() { s.registerWatchers(ctx) })
	s.spawn(func() { s.registerConfiguration(ctx) })
	return nil
}

func (s *Server) shutdown(context.Context, jsonrpc2.RawMessage) (jsonrpc2.RawMessage, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.phase = stopping
	return nil, nil
}

// parentPoll is how often it is looked whether the process that started the server lives.
const parentPoll = 5 * time.Second

// watchParent ends the connection when a process is gone: an editor that crashed says no
// exit, and may leave the pipes open.
func (s *Server) watchParent(ctx context.Context, pid int, every time.Duration) {
	tick := time.NewTicker(every)
	defer tick.Stop()
	for alive(pid) {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
	s.log.write("the process that started the server is gone")
	s.stop()
}

// alive says whether a process is there. Where that cannot be found out, it is taken to be.
func alive(pid int) bool {
	p, err := os.FindProcess(pid)
	if runtime.GOOS == "windows" {
		if err != nil {
			return false
		}
		return p.Release() == nil
	}
	if err != nil {
		return !errors.Is(err, os.ErrProcessDone)
	}
	defer func() { _ = p.Release() }()
	err = p.Signal(syscall.Signal(0))
	return err == nil || !errors.Is(err, os.ErrProcessDone) && !errors.Is(err, syscall.ESRCH)
}

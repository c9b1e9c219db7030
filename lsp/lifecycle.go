package lsp

import (
	"context"
	"errors"
	"os"
	"runtime"
	"slices"
	"syscall"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// clientCapabilities are what the client can do, of what the server asks it to.
type clientCapabilities struct {
	documentChanges bool // takes edits with the version that they are for
	pull            bool // asks for diagnostics, so that none are sent
	pullRefresh     bool
	related         bool // shows the other places that a diagnostic speaks of
	tags            []protocol.DiagnosticTag
	ruleLinks       bool // shows a link behind a rule's name
	data            bool // gives a diagnostic's data back
	hintRefresh     bool
	lensRefresh     bool
	tokenRefresh    bool
	progress        bool
	watch           bool // watches files when asked to
	watchElsewhere  bool // also outside its folders
	configure       bool // answers workspace/configuration
	configured      bool // takes a registration for changes of settings
	markdown        bool // hovers
	snippets        bool // takes items with stops
	indents         bool // indents their lines as the one that they stand on
	itemDocs        []protocol.MarkupKind
	client          *protocol.ClientCapabilities
}

func isTrue(b *bool) bool { return b != nil && *b }

func readClientCapabilities(c *protocol.ClientCapabilities) clientCapabilities {
	a := clientCapabilities{client: c}
	if w := c.Workspace; w != nil {
		if e := w.WorkspaceEdit; e != nil {
			a.documentChanges = isTrue(e.DocumentChanges)
		}
		if d := w.DidChangeWatchedFiles; d != nil {
			a.watch, a.watchElsewhere = isTrue(d.DynamicRegistration), isTrue(d.RelativePatternSupport)
		}
		if d := w.DidChangeConfiguration; d != nil {
			a.configured = isTrue(d.DynamicRegistration)
		}
		if d := w.Diagnostics; d != nil {
			a.pullRefresh = isTrue(d.RefreshSupport)
		}
		if h := w.InlayHint; h != nil {
			a.hintRefresh = isTrue(h.RefreshSupport)
		}
		if l := w.CodeLens; l != nil {
			a.lensRefresh = isTrue(l.RefreshSupport)
		}
		if t := w.SemanticTokens; t != nil {
			a.tokenRefresh = isTrue(t.RefreshSupport)
		}
		a.configure = isTrue(w.Configuration)
	}
	if t := c.TextDocument; t != nil {
		a.pull = t.Diagnostic != nil
		var shown protocol.DiagnosticsCapabilities
		if p := t.PublishDiagnostics; p != nil {
			shown = p.DiagnosticsCapabilities
		}
		if a.pull && t.Diagnostic.RelatedInformation != nil {
			shown = t.Diagnostic.DiagnosticsCapabilities
		}
		a.related = isTrue(shown.RelatedInformation)
		a.tags = shown.TagSupport.ValueSet
		a.ruleLinks = isTrue(shown.CodeDescriptionSupport)
		a.data = isTrue(shown.DataSupport)
		if c := t.Completion; c != nil && c.CompletionItem != nil {
			a.snippets = isTrue(c.CompletionItem.SnippetSupport)
			a.itemDocs = c.CompletionItem.DocumentationFormat
			a.indents = slices.Contains(c.CompletionItem.InsertTextModeSupport.ValueSet, protocol.InsertTextModeAdjustIndentation)
		}
		if h := t.Hover; h != nil {
			a.markdown = slices.Contains(h.ContentFormat, protocol.MarkupKindMarkdown)
		}
	}
	if w := c.Window; w != nil {
		a.progress = isTrue(w.WorkDoneProgress)
	}
	return a
}

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

package lsp

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// asked is an editor that can be asked for settings, and to watch files.
func asked(p *protocol.InitializeParams) {
	if err := protocol.Unmarshal([]byte(`{"capabilities":{"workspace":{"configuration":true,
			"didChangeConfiguration":{"dynamicRegistration":true},
			"didChangeWatchedFiles":{"dynamicRegistration":true,"relativePatternSupport":true},
			"inlayHint":{"refreshSupport":true},"codeLens":{"refreshSupport":true}}}}`), p); err != nil {
		panic(err)
	}
}

func (e *editor) settings() Configuration {
	e.srv.mu.Lock()
	defer e.srv.mu.Unlock()
	return e.srv.config
}

func TestSettingsThatAreAskedFor(t *testing.T) {
	setting := `{"inlayHints":{"totals":false}}`
	registered := make(chan string, 10)
	e := connect(t)
	e.answer = func(method string, params json.RawMessage) (any, error) {
		switch method {
		case protocol.MethodWorkspaceConfiguration:
			e.mu.Lock()
			defer e.mu.Unlock()
			return jsonrpc2.RawMessage("[" + setting + "]"), nil
		case protocol.MethodClientRegisterCapability:
			registered <- string(params)
		}
		return nil, nil
	}
	e.begin(t.TempDir(), asked)
	e.wait("the setting", func() bool { return !e.settings().InlayHints.Totals })
	assert.True(t, e.settings().InlayHints.Times, "what is not set is as it was")
	assert.Contains(t, <-registered+<-registered, `"**/*.stint"`)

	e.mu.Lock()
	setting = `{"codeLens":{"enabled":false}}`
	e.mu.Unlock()
	e.notify(protocol.MethodWorkspaceDidChangeConfiguration,
		&protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny("null")})
	e.wait("the other setting", func() bool { return !e.settings().CodeLens.Enabled })
	assert.True(t, e.settings().InlayHints.Totals, "what is no longer set is as it was")
	e.wait("a word that hints may be asked for again", func() bool {
		return strings.Contains(strings.Join(e.asked, " "), protocol.MethodWorkspaceInlayHintRefresh)
	})
}

func TestSettingsThatAreSent(t *testing.T) {
	e := start(t, hall, func(p *protocol.InitializeParams) {
		p.InitializationOptions = protocol.LSPAny(`{"stint":{"rulePages":"https://rules.example/"}}`)
	})
	e.open(bowline)
	e.replace(bowline, "total 30", "total 31")
	assert.Equal(t, uri.URI("https://rules.example/total-wrong.md"), e.diagnostics(bowline)[0].CodeDescription.Href)
	e.notify(protocol.MethodWorkspaceDidChangeConfiguration, &protocol.DidChangeConfigurationParams{
		Settings: protocol.LSPAny(`{"stint":{"rulePages":"https://elsewhere.example/","inlayHints":{"units":false}}}`)})
	e.wait("the link to change", func() bool {
		ds := e.sent[e.uri(bowline)].Diagnostics
		return len(ds) == 1 && ds[0].CodeDescription.Href == "https://elsewhere.example/total-wrong.md"
	})
	assert.False(t, e.settings().InlayHints.Units)
	e.notify(protocol.MethodWorkspaceDidChangeConfiguration, &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny(`{"stint":{"inlayHints":7}}`)})
	e.wait("a word on settings that are none",
		func() bool { return strings.Contains(strings.Join(e.logged, "\n"), "settings cannot be read") })
}

func TestProgressOnTheFirstLoad(t *testing.T) {
	dir := t.TempDir()
	for i := range progressThreshold {
		write(t, filepath.Join(dir, "s", strings.Repeat("x", i/26)+string(rune('a'+i%26))+".stint"), "stint 1\n")
	}
	write(t, filepath.Join(dir, "house.stint"), house)
	e := startIn(t, dir, func(p *protocol.InitializeParams) {
		p.Capabilities.Window = &protocol.WindowClientCapabilities{WorkDoneProgress: new(true)}
	})
	e.wait("progress", func() bool { return len(e.progressed) == 2 })
	e.mu.Lock()
	defer e.mu.Unlock()
	assert.Contains(t, e.progressed[0], "Reading 501 files")
	assert.Contains(t, e.progressed[1], `"end"`)
}

func TestTracing(t *testing.T) {
	e := start(t, hall)
	ask := func() {
		e.ask(protocol.MethodTextDocumentFormatting, &protocol.DocumentFormattingParams{TextDocument: e.doc(bowline)},
			nil)
	}
	e.settle()
	e.notify(protocol.MethodSetTrace, &protocol.SetTraceParams{Value: protocol.TraceValueVerbose})
	ask()
	e.wait("a trace", func() bool { return len(e.traced) > 0 })
	e.notify(protocol.MethodSetTrace, &protocol.SetTraceParams{Value: protocol.TraceValueOff})
	ask()
	e.mu.Lock()
	defer e.mu.Unlock()
	require.Len(t, e.traced, 1)
	assert.Contains(t, e.traced[0], "textDocument/formatting answered in")
	assert.Contains(t, e.traced[0], "1 workspace, 2 files")
}

// A fault in one request is that request's, and the log's.
func TestAFaultAnswersOneRequest(t *testing.T) {
	requestHandlers["test/fault"] = partialDocument(func(*view, protocol.DocumentFormattingParams) (*int,
		error) {
		panic("a fault of the test")
	})
	notificationHandlers["test/fault"] = func(*Server, context.Context, []byte) error { panic("another") }
	defer func() { delete(requestHandlers, "test/fault"); delete(notificationHandlers, "test/fault") }()
	e := start(t, hall)
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	err := e.call(ctx, "test/fault", &protocol.DocumentFormattingParams{TextDocument: e.doc(bowline)}, nil)
	var wire *jsonrpc2.Error
	require.ErrorAs(t, err, &wire)
	assert.Equal(t, jsonrpc2.InternalError, wire.Code)
	e.notify("test/fault", nil)
	e.wait("both in the log", func() bool {
		all := strings.Join(e.logged, "\n")
		return strings.Contains(all, "a fault of the test") && strings.Contains(all, "another")
	})
	e.open(bowline)
	e.rules(bowline)
}

// A request that waits is answered as cancelled at once.
func TestCancelling(t *testing.T) {
	begun := make(chan struct{})
	requestHandlers["test/wait"] = partialDocument(func(v *view, _ protocol.DocumentFormattingParams) (*int, error) {
		close(begun)
		<-v.ctx.Done()
		return nil, v.ctx.Err()
	})
	defer delete(requestHandlers, "test/wait")
	e := start(t, hall)
	w := make(chan error, 1)
	go func() {
		w <- e.call(context.Background(), "test/wait", &protocol.DocumentFormattingParams{TextDocument: e.doc(bowline)},
			nil)
	}()
	select {
	case <-begun:
	case <-time.After(patience):
		t.Fatal("the request does not begin")
	}
	for id := range int32(10) {
		e.notify(protocol.MethodCancelRequest, &protocol.CancelParams{ID: protocol.Integer(id)})
	}
	var wire *jsonrpc2.Error
	require.ErrorAs(t, <-w, &wire)
	assert.Equal(t, protocol.CodeRequestCancelled, wire.Code)
}

func TestTheParentIsWatched(t *testing.T) {
	assert.True(t, alive(os.Getpid()))
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	require.NoError(t, cmd.Run())
	assert.False(t, alive(cmd.Process.Pid))

	e := start(t, hall)
	done := make(chan struct{})
	go func() { e.srv.watchParent(e.srv.ctx, cmd.Process.Pid, time.Millisecond); close(done) }()
	<-done
	assert.ErrorIs(t, <-e.ended, ErrNoShutdown)
	e.ended <- nil
}

func TestTheLogFile(t *testing.T) {
	var out strings.Builder
	e := connect(t)
	e.srv.log.out = &out
	e.srv.log.errorf("something %d", 7)
	e.wait("the client to be told", func() bool { return len(e.logged) == 1 })
	assert.Contains(t, out.String(), "something 7\n")
}

func TestOlderWaysToNameAFolder(t *testing.T) {
	for _, change := range []func(*protocol.InitializeParams, string){
		//lint:ignore SA1019 it is what is tested
		func(p *protocol.InitializeParams, dir string) { p.RootURI = new(uri.File(dir)) },
		//lint:ignore SA1019 it is what is tested
		func(p *protocol.InitializeParams, dir string) { p.RootPath = protocol.NewNullable(dir) },
	} {
		dir := t.TempDir()
		write(t, filepath.Join(dir, "house.stint"), house)
		write(t, filepath.Join(dir, "reef.stint"), reef)
		e := startIn(t, dir, func(p *protocol.InitializeParams) {
			p.WorkspaceFolders = protocol.Nullable[[]protocol.WorkspaceFolder]{}
			change(p, dir)
		})
		e.rules("reef.stint", "movement-unknown")
	}
}

// What a client can do is looked up by work in the background, too, which may run while the
// client is still being read. The race detector is what this test is for.
func TestClientCapabilitiesAreReadInTheBackground(t *testing.T) {
	e := connect(t)
	ctx := t.Context()
	done := make(chan struct{})
	go func() {
		defer close(done)
		for range 100 {
			e.srv.publishOpenDocuments(ctx)
			e.srv.publishOtherFiles(ctx)
			e.srv.registerWatchers(ctx)
			e.srv.refreshShown(ctx)
		}
	}()
	e.begin(t.TempDir())
	<-done
}

package lsp

import (
	"context"
	"encoding/json"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/source"
)

// patience is how long a test waits for what has to come.
const patience = 30 * time.Second

// An editor is a client of a server in the same process.
type editor struct {
	t      testing.TB
	dir    string // the folder that it has open
	enc    encoding
	srv    *Server
	conn   jsonrpc2.Conn
	server protocol.Server
	result *protocol.InitializeResult
	ended  chan error // what the server's run returned

	languageID protocol.LanguageKind // of the documents that it opens

	// answer, if it is set, answers requests of the server; otherwise they get null.
	answer func(method string, params json.RawMessage) (any, error)

	mu         sync.Mutex
	came       *sync.Cond
	texts      map[uri.URI]string
	versions   map[uri.URI]int32
	count      int32                                         // the last version of any document
	sent       map[uri.URI]protocol.PublishDiagnosticsParams // the last ones
	sends      int
	seen       func(protocol.PublishDiagnosticsParams) // is told of each
	logged     []string
	progressed []string
	traced     []string
	asked      []string // requests and notifications of the server, in order
}

// client is what an editor says that it can do; tests change it before they start one.
func client() *protocol.InitializeParams {
	p := &protocol.InitializeParams{}
	err := protocol.Unmarshal([]byte(`{
		"processId": null, "rootUri": null,
		"capabilities": {
			"general": {"positionEncodings": ["utf-16"]},
			"workspace": {"workspaceEdit": {"documentChanges": true}, "workspaceFolders": true},
			"textDocument": {
				"publishDiagnostics": {
					"relatedInformation": true, "versionSupport": true, "codeDescriptionSupport": true,
					"dataSupport": true, "tagSupport": {"valueSet": [1, 2]}
				},
				"hover": {"contentFormat": ["markdown", "plaintext"]}
			}
		}
	}`), p)
	if err != nil {
		panic(err)
	}
	return p
}

// start starts a server and an editor that has a folder open, which holds files given as
// a text in the txtar way, or as pairs of name and text. Change, if given, changes what the
// editor says of itself.
func start(t testing.TB, files map[string]string, change ...func(*protocol.InitializeParams)) *editor {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	for name, text := range files {
		write(t, filepath.Join(dir, filepath.FromSlash(name)), text)
	}
	return startIn(t, dir, change...)
}

// startIn is start in a folder that is there already.
func startIn(t testing.TB, dir string, change ...func(*protocol.InitializeParams)) *editor {
	t.Helper()
	e := connect(t)
	e.begin(dir, change...)
	return e
}

// begin says what the editor can do, and which folder it has open.
func (e *editor) begin(dir string, change ...func(*protocol.InitializeParams)) {
	e.t.Helper()
	e.dir = dir
	p := client()
	p.WorkspaceFolders = protocol.NewNullable([]protocol.WorkspaceFolder{{URI: uri.File(dir), Name: "hall"}})
	for _, c := range change {
		c(p)
	}
	e.ask(protocol.MethodInitialize, p, &e.result)
	e.enc = map[protocol.PositionEncodingKind]encoding{"": utf16, "utf-8": utf8s, "utf-16": utf16,
		"utf-32": utf32}[e.result.Capabilities.PositionEncoding]
	e.notify(protocol.MethodInitialized, &protocol.InitializedParams{})
}

// connect starts a server and an editor that has said nothing yet.
func connect(t testing.TB) *editor {
	t.Helper()
	here, there := net.Pipe()
	cache := t.TempDir()
	e := &editor{
		t: t, languageID: "stint", ended: make(chan error, 1),
		texts: map[uri.URI]string{}, versions: map[uri.URI]int32{}, sent: map[uri.URI]protocol.PublishDiagnosticsParams{},
	}
	e.came = sync.NewCond(&e.mu)
	ctx, stop := context.WithCancel(context.Background())
	e.srv = newServer(ctx, stop, there,
		ServerOptions{Version: "test", Cache: func() (string, error) { return cache, nil }})
	go func() { e.ended <- e.srv.run() }()
	e.conn = jsonrpc2.NewConn(jsonrpc2.NewStream(here), jsonrpc2.WithCodec(codec{}))
	e.conn.Go(context.Background(), e.handle)
	e.server = protocol.ServerDispatcher(e.conn)
	t.Cleanup(func() {
		_ = here.Close()
		select {
		case err := <-e.ended:
			e.ended <- err
		case <-time.After(patience):
			t.Error("the server does not end when its client goes")
		}
	})
	return e
}

// handle takes what the server sends.
func (e *editor) handle(ctx context.Context, req *jsonrpc2.Request) (any, error) {
	name, params := strings.Clone(req.Method()), slices.Clone(req.Params())
	e.mu.Lock()
	e.asked = append(e.asked, name)
	switch name {
	case protocol.MethodTextDocumentPublishDiagnostics:
		var p protocol.PublishDiagnosticsParams
		if err := decode(params, &p); err != nil {
			e.t.Error(err)
		}
		e.sent[p.URI] = p
		e.sends++
		if e.seen != nil {
			e.seen(p)
		}
	case protocol.MethodProgress:
		e.progressed = append(e.progressed, string(params))
	case protocol.MethodLogTrace:
		e.traced = append(e.traced, string(params))
	case protocol.MethodWindowLogMessage:
		var p protocol.LogMessageParams
		if err := decode(params, &p); err != nil {
			e.t.Error(err)
		}
		e.logged = append(e.logged, p.Message)
	}
	e.came.Broadcast()
	answer := e.answer
	e.mu.Unlock()
	if !req.IsCall() {
		return nil, nil
	}
	if answer == nil {
		return jsonrpc2.RawMessage("null"), nil
	}
	jsonrpc2.Async(ctx)
	return answer(name, json.RawMessage(params))
}

// call asks the server and waits for the answer.
func (e *editor) call(ctx context.Context, method string, params, result any) error {
	_, err := e.conn.Call(ctx, method, params, result)
	return err
}

// ask asks the server, and fails the test where it gets an error.
func (e *editor) ask(method string, params, result any) {
	e.t.Helper()
	ctx, cancel := context.WithTimeout(e.t.Context(), patience)
	defer cancel()
	require.NoError(e.t, e.call(ctx, method, params, result), method)
}

func (e *editor) notify(method string, params any) {
	e.t.Helper()
	require.NoError(e.t, e.conn.Notify(e.t.Context(), method, params), method)
}

// wait waits until something holds of what came.
func (e *editor) wait(what string, holds func() bool) {
	e.t.Helper()
	late := time.AfterFunc(patience, e.came.Broadcast)
	defer late.Stop()
	until := time.Now().Add(patience)
	e.mu.Lock()
	defer e.mu.Unlock()
	for !holds() {
		if time.Now().After(until) {
			e.t.Fatalf("waited in vain for %s; the server said: %s", what, strings.Join(e.logged, "; "))
		}
		e.came.Wait()
	}
}

// uri is the URI of a file of the open folder; one with a scheme is taken as it is.
func (e *editor) uri(name string) uri.URI {
	if strings.Contains(name, ":") {
		return uri.URI(name)
	}
	return uri.File(filepath.Join(e.dir, filepath.FromSlash(name)))
}

// doc names a document.
func (e *editor) doc(name string) protocol.TextDocumentIdentifier {
	return protocol.TextDocumentIdentifier{URI: e.uri(name)}
}

// open opens a document with a text; without one, as it is on disk.
func (e *editor) open(name string, text ...string) {
	e.t.Helper()
	u := e.uri(name)
	if len(text) == 0 {
		on, err := os.ReadFile(u.FsPath())
		require.NoError(e.t, err)
		text = []string{string(on)}
	}
	e.count++
	e.texts[u], e.versions[u] = text[0], e.count
	e.notify(protocol.MethodTextDocumentDidOpen, &protocol.DidOpenTextDocumentParams{
		TextDocument: protocol.TextDocumentItem{URI: u, LanguageID: e.languageID, Version: e.count, Text: text[0]},
	})
}

// text is the text of an open document.
func (e *editor) text(name string) string { return e.texts[e.uri(name)] }

// change puts a new text in the place of all of an open document.
func (e *editor) change(name, text string) {
	e.t.Helper()
	e.changes(name, text, &protocol.TextDocumentContentChangeWholeDocument{Text: text})
}

// changes sends changes that result in a text.
func (e *editor) changes(name, text string, changes ...protocol.TextDocumentContentChangeEvent) {
	e.t.Helper()
	u := e.uri(name)
	e.count++
	e.versions[u] = e.count
	e.texts[u] = text
	p := &protocol.DidChangeTextDocumentParams{ContentChanges: changes}
	p.TextDocument.URI, p.TextDocument.Version = u, e.versions[u]
	e.notify(protocol.MethodTextDocumentDidChange, p)
}

// replace puts new words in the place of the first that are there, as typing does.
func (e *editor) replace(name, old, with string) {
	e.t.Helper()
	at := strings.Index(e.text(name), old)
	require.GreaterOrEqual(e.t, at, 0, "%q is not in %s", old, name)
	e.edit(name, source.Span{Start: at, End: at + len(old)}, with)
}

// edit puts a text in the place of bytes.
func (e *editor) edit(name string, at source.Span, with string) {
	e.t.Helper()
	text := e.text(name)
	e.changes(name, text[:at.Start]+with+text[at.End:],
		&protocol.TextDocumentContentChangePartial{Range: plainRange(text, e.enc, at), Text: with})
}

// close closes a document.
func (e *editor) close(name string) {
	e.t.Helper()
	e.notify(protocol.MethodTextDocumentDidClose, &protocol.DidCloseTextDocumentParams{TextDocument: e.doc(name)})
	delete(e.texts, e.uri(name))
	delete(e.versions, e.uri(name))
}

// position is where the first such words begin in an open document.
func (e *editor) position(name, words string) protocol.Position {
	e.t.Helper()
	return e.rangeOf(name, words).Start
}

// rangeOf is the range of the first such words in an open document.
func (e *editor) rangeOf(name, words string) protocol.Range {
	e.t.Helper()
	text := e.text(name)
	at := strings.Index(text, words)
	require.GreaterOrEqual(e.t, at, 0, "%q is not in %s", words, name)
	return plainRange(text, e.enc, source.Span{Start: at, End: at + len(words)})
}

// at is a document and a position in it, as most requests have them.
func (e *editor) at(name, words string) protocol.TextDocumentPositionParams {
	e.t.Helper()
	return protocol.TextDocumentPositionParams{TextDocument: e.doc(name), Position: e.position(name, words)}
}

// diagnostics waits for those of the newest text of an open document, or for any of one
// that is not open, and returns them.
func (e *editor) diagnostics(name string) []protocol.Diagnostic {
	e.t.Helper()
	u := e.uri(name)
	e.wait("diagnostics of "+name, func() bool {
		p, ok := e.sent[u]
		if v, open := e.versions[u]; open {
			got, _ := p.Version.Get()
			return ok && got == v
		}
		return ok
	})
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.sent[u].Diagnostics
}

// rules waits until a file's diagnostics are of these rules, in the order of the text.
func (e *editor) rules(name string, want ...string) {
	e.t.Helper()
	u := e.uri(name)
	var p protocol.PublishDiagnosticsParams
	defer func() {
		if e.t.Failed() {
			e.t.Logf("the last in %s are %s", name, rulesOf(p.Diagnostics))
		}
	}()
	e.wait(fmt.Sprintf("%s in %s", want, name), func() bool {
		var ok bool
		p, ok = e.sent[u]
		if v, open := e.versions[u]; open {
			if got, _ := p.Version.Get(); !ok || got != v {
				return false
			}
		}
		return (ok || len(want) == 0) && slices.Equal(want, rulesOf(p.Diagnostics))
	})
}

func rulesOf(ds []protocol.Diagnostic) []string {
	var out []string
	for _, d := range ds {
		code, _ := d.Code.(protocol.String)
		out = append(out, string(code))
	}
	return out
}

// apply makes edits on an open document's text and returns the new text; the document
// stays as it is.
func (e *editor) apply(name string, edits []protocol.TextEdit) string {
	e.t.Helper()
	text := e.text(name)
	ls := newLineIndex(text, e.enc)
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a,
		b protocol.TextEdit) int {
		return ls.span(b.Range).Start - ls.span(a.Range).Start
	})
	for i, ed := range edits {
		at := ls.span(ed.Range)
		if i > 0 {
			require.LessOrEqual(e.t, at.End, ls.span(edits[i-1].Range).Start, "edits overlap")
		}
		text = text[:at.Start] + ed.NewText + text[at.End:]
	}
	return text
}

func write(t testing.TB, name, text string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
	require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
}

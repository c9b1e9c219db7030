package lsp

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/uri"
)

// A wire is a client that sends bytes as it likes, and reads messages.
type wire struct {
	t     testing.TB
	dir   string
	conn  net.Conn
	in    *bufio.Reader
	ended chan error
}

// A reply is a message of the server.
type reply struct {
	ID     json.RawMessage `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Code    int    `json:"code"`
		Message string `json:"message"`
	} `json:"error"`
}

func dial(t testing.TB) *wire {
	t.Helper()
	here, there := net.Pipe()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	w := &wire{t: t, dir: dir, conn: here, in: bufio.NewReader(here), ended: make(chan error, 1)}
	write(t, filepath.Join(dir, "house.stint"), "stint 1\n\nhouse Quayside Hall\n")
	write(t, filepath.Join(dir, "a.stint"), "stint 1\n\nsession Reef\n")
	cache := t.TempDir()
	go func() {
		w.ended <- Serve(context.Background(), there,
			ServerOptions{Cache: func() (string, error) { return cache, nil }})
	}()
	t.Cleanup(func() { _ = here.Close(); w.end() })
	return w
}

// end waits for the server to end, and returns what it ended with.
func (w *wire) end() error {
	w.t.Helper()
	select {
	case err := <-w.ended:
		w.ended <- err
		return err
	case <-time.After(patience):
		w.t.Error("the server does not end")
		return nil
	}
}

// raw sends bytes.
func (w *wire) raw(text string) {
	w.t.Helper()
	_ = w.conn.SetWriteDeadline(time.Now().Add(patience))
	_, err := io.WriteString(w.conn, text)
	require.NoError(w.t, err)
}

// body sends bytes with a header in front.
func (w *wire) body(text string) {
	w.t.Helper()
	w.raw(fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(text), text))
}

// sendf sends a message, written without its version.
func (w *wire) sendf(format string, args ...any) {
	w.t.Helper()
	w.body(`{"jsonrpc":"2.0",` + fmt.Sprintf(format, args...) + `}`)
}

// next is the next message.
func (w *wire) next() reply {
	w.t.Helper()
	_ = w.conn.SetReadDeadline(time.Now().Add(patience))
	length := 0
	for {
		line, err := w.in.ReadString('\n')
		require.NoError(w.t, err)
		if line = strings.TrimSpace(line); line == "" {
			break
		}
		name, value, _ := strings.Cut(line, ": ")
		assert.Equal(w.t, "Content-Length", name)
		length, err = strconv.Atoi(value)
		require.NoError(w.t, err)
	}
	body := make([]byte, length)
	_, err := io.ReadFull(w.in, body)
	require.NoError(w.t, err)
	var r reply
	require.NoError(w.t, json.Unmarshal(body, &r), "%s", body)
	return r
}

// answer is the next answer to a request; what the server says by itself is passed over.
func (w *wire) answer() reply {
	w.t.Helper()
	for {
		if r := w.next(); r.Method == "" {
			return r
		}
	}
}

// refused waits for an error with a code, for the request of an id.
func (w *wire) refused(id string, code int) {
	w.t.Helper()
	r := w.answer()
	require.NotNil(w.t, r.Error, "%s", r.Result)
	assert.Equal(w.t, id, string(r.ID))
	assert.Equal(w.t, code, r.Error.Code, r.Error.Message)
}

// answered waits for a result.
func (w *wire) answered(id string) json.RawMessage {
	w.t.Helper()
	r := w.answer()
	require.Nil(w.t, r.Error)
	require.Equal(w.t, id, string(r.ID))
	return r.Result
}

// begin initializes the server.
func (w *wire) begin() {
	w.t.Helper()
	w.sendf(`"id":"begin","method":"initialize","params":{"processId":null,"rootUri":%q,"capabilities":{}}`, uri.File(w.dir))
	w.answered(`"begin"`)
	w.sendf(`"method":"initialized","params":{}`)
}

// works asserts that the connection lives and is in step.
func (w *wire) works() {
	w.t.Helper()
	w.sendf(`"id":99,"method":"textDocument/formatting","params":{"textDocument":{"uri":%q},"options":{"tabSize":2,"insertSpaces":true}}`, w.uri("a.stint"))
	w.answered("99")
}

func (w *wire) uri(name string) uri.URI { return uri.File(filepath.Join(w.dir, name)) }

// The codes of the specifications of JSON-RPC 2.0 (section 5.1) and of the language server
// protocol 3.17 (ErrorCodes).
const (
	codeParse          = -32700
	codeInvalidRequest = -32600
	codeMethodNotFound = -32601
	codeInvalidParams  = -32602
	codeNotInitialized = -32002
	codeCancelled      = -32800
)

func TestMessagesThatAreNone(t *testing.T) {
	for name, c := range map[string]struct {
		send string
		code int
	}{
		"no JSON":              {"{", codeParse},
		"an empty message":     {"", codeParse},
		"words":                {"hello", codeParse},
		"JSON and more":        {`{"jsonrpc":"2.0","method":"x"} {}`, codeParse},
		"a number":             {"42", codeInvalidRequest},
		"an empty object":      {"{}", codeInvalidRequest},
		"a batch":              {`[{"jsonrpc":"2.0","id":1,"method":"shutdown"}]`, codeInvalidRequest},
		"an empty batch":       {"[]", codeInvalidRequest},
		"an id that is a list": {`{"jsonrpc":"2.0","id":[1],"method":"shutdown"}`, codeInvalidRequest},
		"no method":            {`{"jsonrpc":"2.0","id":1,"params":{}}`, codeInvalidRequest},
	} {
		t.Run(name, func(t *testing.T) {
			w := dial(t)
			w.begin()
			w.body(c.send)
			w.refused("null", c.code)
			w.works()
		})
	}
}

func TestBrokenHeadersEndTheConnection(t *testing.T) {
	for _, header := range []string{
		"Content-Length: x\r\n\r\n{}", "Content-Length: -1\r\n\r\n", "Content-Length 2\r\n\r\n{}", "\r\n{}",
		"Content-Type: text\r\n\r\n{}", "Content-Length: 99999999999999999999\r\n\r\n", "X: " + strings.Repeat("y",
			2*maxHeader) + "\r\n",
	} {
		w := dial(t)
		w.begin()
		go func() { _, _ = io.WriteString(w.conn, header) }() // the server may stop reading it
		go func() { _, _ = io.Copy(io.Discard, w.conn) }()
		assert.ErrorIs(t, w.end(), ErrNoShutdown, "%q", header)
	}
}

func TestHeadersThatAreFine(t *testing.T) {
	w := dial(t)
	w.begin()
	const body = `{"jsonrpc":"2.0","id":1,"method":"none"}`
	w.raw(fmt.Sprintf("Content-Type: application/vscode-jsonrpc; charset=utf-8\r\ncontent-length:%d\r\n\r\n%s",
		len(body), body))
	w.refused("1", codeMethodNotFound)
	w.raw(fmt.Sprintf("Content-Length: %d\n\n%s", len(body), body))
	w.refused("1", codeMethodNotFound)
	for _, c := range fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(body), body) { // a byte at a time
		w.raw(string(c))
	}
	w.refused("1", codeMethodNotFound)
}

func TestTheOrderOfALife(t *testing.T) {
	w := dial(t)
	w.sendf(`"id":1,"method":"textDocument/hover","params":{}`)
	w.refused("1", codeNotInitialized)
	w.sendf(`"id":2,"method":"none"`)
	w.refused("2", codeNotInitialized)
	w.sendf(`"method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///a.stint","languageId":"stint","version":1,"text":""}}`)
	w.begin()
	w.sendf(`"id":3,"method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{}}`)
	w.refused("3", codeInvalidRequest)
	w.sendf(`"id":4,"method":"textDocument/none","params":{}`)
	w.refused("4", codeMethodNotFound)
	w.sendf(`"id":"five","method":"$/none"`)
	w.refused(`"five"`, codeMethodNotFound)
	w.sendf(`"method":"$/none","params":[1]`)
	w.sendf(`"method":"none"`)
	w.sendf(`"id":6,"method":"textDocument/formatting","params":{"textDocument":7}`)
	w.refused("6", codeInvalidParams)
	w.sendf(`"id":7,"method":"textDocument/formatting","params":[]`)
	w.refused("7", codeInvalidParams)
	w.sendf(`"id":8,"result":null`) // an answer to nothing
	w.sendf(`"id":9,"error":{"code":1,"message":"no"}`)
	w.works()
	w.sendf(`"id":10,"method":"shutdown","params":null`)
	assert.Equal(t, "null", string(w.answered("10")))
	w.sendf(`"id":11,"method":"textDocument/formatting","params":{}`)
	w.refused("11", codeInvalidRequest)
	w.sendf(`"id":12,"method":"shutdown"`)
	w.refused("12", codeInvalidRequest)
	w.sendf(`"method":"exit"`)
	assert.NoError(t, w.end())
}

func TestTheWaysToLeave(t *testing.T) {
	for name, c := range map[string]struct {
		leave func(*wire)
		clean bool
	}{
		"exit without shutdown": {func(w *wire) { w.sendf(`"method":"exit"`) }, false},
		"gone":                  {func(w *wire) { _ = w.conn.Close() }, false},
		"gone in a header":      {func(w *wire) { w.raw("Content-Len"); _ = w.conn.Close() }, false},
		"gone in a message": {func(w *wire) { w.raw("Content-Length: 100\r\n\r\n{"); _ = w.conn.Close() },
			false},
		"gone with a question open": {func(w *wire) { w.sendf(`"id":1,"method":"shutdown"`); _ = w.conn.Close() }, true},
		"gone after shutdown":       {func(w *wire) { w.sendf(`"id":1,"method":"shutdown"`); w.answered("1"); _ = w.conn.Close() }, true},
		"exit before initialize":    {func(w *wire) { w.sendf(`"method":"exit"`) }, false},
	} {
		t.Run(name, func(t *testing.T) {
			w := dial(t)
			if !strings.Contains(name, "before") {
				w.begin()
			}
			c.leave(w)
			go func() { _, _ = io.Copy(io.Discard, w.in) }()
			if err := w.end(); c.clean {
				assert.NoError(t, err)
			} else {
				assert.True(t, errors.Is(err, ErrNoShutdown), "%v", err)
			}
		})
	}
}

func TestNotificationsOutOfPlace(t *testing.T) {
	w := dial(t)
	w.begin()
	doc := fmt.Sprintf(`"textDocument":{"uri":%q,"languageId":"stint","version":1,"text":"stint 1\n\nsession Reef\n"}`, w.uri("a.stint"))
	for _, params := range []string{
		fmt.Sprintf(`"method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":2},"contentChanges":[{"text":"x"}]}`, w.uri("b.stint")),
		fmt.Sprintf(`"method":"textDocument/didClose","params":{"textDocument":{"uri":%q}}`, w.uri("b.stint")),
		fmt.Sprintf(`"method":"textDocument/didSave","params":{"textDocument":{"uri":%q}}`, w.uri("b.stint")),
		`"method":"textDocument/didOpen","params":{` + doc + `}`,
		`"method":"textDocument/didOpen","params":{` + doc + `}`,
		`"method":"textDocument/didOpen"`,
		`"method":"textDocument/didOpen","params":{"textDocument":{"uri":"","languageId":"stint","version":1,"text":""}}`,
		`"method":"textDocument/didOpen","params":{"textDocument":{"uri":"::::","languageId":"stint","version":1,"text":""}}`,
		`"method":"textDocument/didOpen","params":{"textDocument":{"uri":"file://far.example/x.stint","languageId":"stint","version":1,"text":""}}`,
		fmt.Sprintf(`"method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":2},"contentChanges":[{"range":{"start":{"line":-1,"character":0},"end":{"line":0,"character":0}},"text":"x"}]}`, w.uri("a.stint")),
		fmt.Sprintf(`"method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":2},"contentChanges":[{"range":{"start":{"line":99,"character":9},"end":{"line":2,"character":7}},"text":" "}]}`, w.uri("a.stint")),
		fmt.Sprintf(`"method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":3},"contentChanges":[]}`, w.uri("a.stint")),
		fmt.Sprintf(`"method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":4}}`, w.uri("a.stint")),
		`"method":"workspace/didChangeWatchedFiles","params":{"changes":[{"uri":"file:///nowhere/x.stint","type":3},{"uri":"x:y","type":9}]}`,
		`"method":"workspace/didChangeConfiguration","params":{"settings":17}`,
		`"method":"workspace/didChangeWorkspaceFolders","params":{"event":{"added":[{"uri":"file:///nowhere/at/all","name":"x"}],"removed":[{"uri":"y:z","name":""}]}}`,
		`"method":"$/setTrace","params":{"value":"loud"}`,
		`"method":"$/cancelRequest","params":{"id":null}`,
		`"method":"$/cancelRequest","params":{"id":1.5}`,
		`"method":"$/cancelRequest"`,
	} {
		w.sendf("%s", params)
		w.works()
	}
	// The range that came last was the wrong way about and past the end: what stood behind
	// "session" is gone.
	w.sendf(`"id":1,"method":"textDocument/formatting","params":{"textDocument":{"uri":%q},"options":{}}`, w.uri("a.stint"))
	var edits []struct {
		Range struct{ Start struct{ Line, Character int } }
	}
	require.NoError(t, json.Unmarshal(w.answered("1"), &edits))
	require.NotEmpty(t, edits)
	assert.Equal(t, 2, edits[0].Range.Start.Line)
}

func TestAManyQuestionsAtOnce(t *testing.T) {
	w := dial(t)
	w.begin()
	const many = 1000
	sent := make(chan struct{})
	go func() {
		defer close(sent)
		for i := range many {
			w.sendf(`"id":%d,"method":"textDocument/formatting","params":{"textDocument":{"uri":%q},"options":{}}`, i, w.uri("a.stint"))
		}
	}()
	seen := map[string]bool{}
	for range many {
		r := w.answer()
		assert.Nil(t, r.Error)
		assert.False(t, seen[string(r.ID)], "answered twice")
		seen[string(r.ID)] = true
	}
	assert.Len(t, seen, many)
	<-sent
}

// Every request is answered once, whatever is cancelled: with its result or as cancelled.
func TestAStormOfCancels(t *testing.T) {
	w := dial(t)
	w.begin()
	const many = 300
	sent := make(chan struct{})
	go func() {
		defer close(sent)
		for i := range many {
			w.sendf(`"id":%d,"method":"textDocument/formatting","params":{"textDocument":{"uri":%q},"options":{}}`, i, w.uri("a.stint"))
			w.sendf(`"method":"$/cancelRequest","params":{"id":%d}`, i)
			w.sendf(`"method":"$/cancelRequest","params":{"id":%d}`, i)
			w.sendf(`"method":"$/cancelRequest","params":{"id":null}`)
			w.sendf(`"method":"$/cancelRequest","params":{"id":"none"}`)
		}
	}()
	seen := map[string]bool{}
	for range many {
		r := w.answer()
		if r.Error != nil {
			assert.Equal(t, codeCancelled, r.Error.Code)
		}
		assert.False(t, seen[string(r.ID)], "answered twice")
		seen[string(r.ID)] = true
	}
	w.works()
	<-sent
}

func TestALargeDocumentDoesNotHang(t *testing.T) {
	w := dial(t)
	w.begin()
	text, err := json.Marshal(strings.Repeat("part A\n  10 burpee\n", 10<<20/18))
	require.NoError(t, err)
	began := time.Now()
	w.sendf(`"method":"textDocument/didOpen","params":{"textDocument":{"uri":%q,"languageId":"stint","version":1,"text":%s}}`, w.uri("a.stint"), text)
	for i := range 20 {
		w.sendf(`"method":"textDocument/didChange","params":{"textDocument":{"uri":%q,"version":%d},"contentChanges":[{"range":{"start":{"line":100000,"character":0},"end":{"line":100000,"character":2}},"text":"é"}]}`, w.uri("a.stint"), i+2)
	}
	w.works()
	assert.Less(t, time.Since(began), patience/2)

	go w.body(strings.Repeat(" ", maxMessage+1))
	w.refused("null", codeInvalidRequest)
	w.works()
}

// A client that stops reading, and then goes, leaves nothing behind.
func TestAClientThatVanishesInTheMiddle(t *testing.T) {
	before := goroutines()
	for range 10 {
		w := dial(t)
		w.begin()
		go func() {
			const body = `{"jsonrpc":"2.0","id":1,"method":"none"}`
			for range 200 {
				if _, err := fmt.Fprintf(w.conn, "Content-Length: %d\r\n\r\n%s", len(body), body); err != nil {
					return
				}
			}
		}()
		time.Sleep(5 * time.Millisecond)
		_ = w.conn.Close()
		_ = w.end()
	}
	until := time.Now().Add(patience)
	for goroutines() > before && time.Now().Before(until) {
		time.Sleep(10 * time.Millisecond)
	}
	assert.LessOrEqual(t, goroutines(), before, "goroutines are left")
}

func goroutines() int {
	runtime.GC()
	return runtime.NumGoroutine()
}

// Typing for hours takes no more and more memory.
func TestEditsLeaveNothingBehind(t *testing.T) {
	if testing.Short() {
		t.Skip("10,000 edits")
	}
	e := start(t, hall)
	const name = "sessions/bowline.stint"
	e.open(name)
	typed := 0
	edit := func(n int) {
		for range n {
			typed++
			words := fmt.Sprintf("10 burpee > the %dth", typed) // no line is like one before
			e.replace(name, "10 burpee", words)
			e.replace(name, words, "10 burpee")
		}
		e.diagnostics(name)
	}
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	edit(500)
	before := heap()
	edit(5000)
	after := heap()
	t.Logf("heap %d KB, after 10,000 edits %d KB", before/1024, after/1024)
	assert.Less(t, after, before+4<<20)
}

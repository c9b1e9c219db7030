package editors

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A conversation is what an editor and the server said to each other.
type conversation struct {
	calls        []*call
	capabilities map[string]any  // what the server said that it can do
	registered   map[string]bool // methods that it asked the editor for later
	wrong        []string
}

// A call is a request with its answer, or a notification.
type call struct {
	from, method string
	params       any
	result       any
	failed       map[string]any // the error, if it was answered by one
	answered     bool
	request      bool
}

// An envelope is what is around every message.
type envelope struct {
	Version string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Method  string          `json:"method"`
	Params  json.RawMessage `json:"params"`
	Result  json.RawMessage `json:"result"`
	Error   json.RawMessage `json:"error"`
}

// hear reads what was recorded and holds every message against the published model of
// the protocol: those of the server always, those of the editor only if asked, since what
// an editor makes of the protocol is not the server's fault.
func hear(t *testing.T, file string, editorToo bool) *conversation {
	t.Helper()
	m, err := theModel()
	require.NoError(t, err)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	c := &conversation{registered: map[string]bool{}}
	open := map[string]*call{}
	for line := range bytes.Lines(text) {
		var msg message
		require.NoError(t, json.Unmarshal(line, &msg))
		if len(msg.Body) == 0 {
			c.wrong = append(c.wrong, msg.From+" sent what is no JSON: "+string(line))
			continue
		}
		if err := c.add(m, open, msg); err != nil && (msg.From == "server" || editorToo) {
			c.wrong = append(c.wrong, err.Error())
		}
	}
	for _, call := range c.calls {
		if call.request && !call.answered && call.from == "client" {
			c.wrong = append(c.wrong, "no answer to "+call.method)
		}
	}
	for i, w := range c.wrong {
		if i == 20 {
			t.Errorf("and %d more", len(c.wrong)-i)
			break
		}
		t.Error(w)
	}
	return c
}

func (c *conversation) add(m *metaModel, open map[string]*call, msg message) error {
	var e envelope
	d := json.NewDecoder(bytes.NewReader(msg.Body))
	d.DisallowUnknownFields()
	if err := d.Decode(&e); err != nil {
		return fmt.Errorf("%s sent %s: %w", msg.From, msg.Body, err)
	}
	if e.Version != "2.0" {
		return fmt.Errorf("%s sent a message of no version: %s", msg.From, msg.Body)
	}
	if e.Method == "" {
		return c.answer(m, open, msg, e)
	}
	call := &call{from: msg.From, method: e.Method, request: len(e.ID) > 0}
	c.calls = append(c.calls, call)
	if call.request {
		open[msg.From+string(e.ID)] = call
	}
	if len(e.Params) > 0 {
		if err := unmarshal(e.Params, &call.params); err != nil {
			return err
		}
	}
	method := m.methods[e.Method]
	if method == nil {
		return fmt.Errorf("%s: no such method in the protocol", e.Method)
	}
	if way := msg.From + "To" + map[string]string{"client": "Server", "server": "Client"}[msg.From]; method.Direction != way && method.Direction != "both" {
		return fmt.Errorf("%s: sent by the %s", e.Method, msg.From)
	}
	if (method.Result != nil) != call.request {
		return fmt.Errorf("%s: a request without an id, or a notification with one", e.Method)
	}
	if method.Params == nil {
		if call.params != nil {
			return fmt.Errorf("%s: params where there are none", e.Method)
		}
		return nil
	}
	if e.Method == "client/registerCapability" {
		return errors.Join(m.check(e.Method+": params", method.Params, call.params), c.register(m, call.params))
	}
	return m.check(e.Method+" params", method.Params, call.params)
}

func (c *conversation) answer(m *metaModel, open map[string]*call, msg message, e envelope) error {
	asker := map[string]string{"client": "server", "server": "client"}[msg.From]
	call := open[asker+string(e.ID)]
	if call == nil {
		return fmt.Errorf("%s answered what was not asked: %s", msg.From, brief(string(msg.Body)))
	}
	delete(open, asker+string(e.ID))
	call.answered = true
	if (e.Error == nil) == (e.Result == nil) {
		return fmt.Errorf("%s: an answer with both a result and an error, or with neither: %s", call.method, msg.Body)
	}
	if e.Error != nil {
		if err := unmarshal(e.Error, &call.failed); err != nil {
			return err
		}
		for k, v := range call.failed {
			switch {
			case k == "code" && isBase("integer", v), k == "message" && isBase("string", v), k == "data":
			default:
				return fmt.Errorf("%s: an error with %s %s", call.method, k, brief(v))
			}
		}
		return nil
	}
	if err := unmarshal(e.Result, &call.result); err != nil {
		return err
	}
	method := m.methods[call.method]
	if method == nil || method.Result == nil {
		return fmt.Errorf("%s: a result for a method that has none", call.method)
	}
	if call.method == "initialize" {
		if result, ok := call.result.(map[string]any); ok {
			c.capabilities, _ = result["capabilities"].(map[string]any)
		}
	}
	return m.check(call.method+" result", method.Result, call.result)
}

// register holds the options of what the server asks for against the model, too.
func (c *conversation) register(m *metaModel, params any) error {
	p, _ := params.(map[string]any)
	list, _ := p["registrations"].([]any)
	for _, r := range list {
		r, _ := r.(map[string]any)
		name, _ := r["method"].(string)
		c.registered[name] = true
		found := false
		for _, method := range m.methods {
			if method.Method != name && method.RegistrationMethod != name {
				continue
			}
			found = true
			if options := r["registerOptions"]; options != nil && method.RegistrationOptions != nil {
				if err := m.check("registration of "+name, method.RegistrationOptions, options); err != nil {
					return err
				}
			}
		}
		if !found {
			return fmt.Errorf("a registration of %s, which is no method", name)
		}
	}
	return nil
}

// undriven lists what the server said that it can do and was never asked, or to which
// it never had anything to say.
func (c *conversation) undriven(m *metaModel) []string {
	var out []string
	for _, name := range slices.Sorted(maps.Keys(m.methods)) {
		method := m.methods[name]
		if method.Direction == "serverToClient" || !c.offers(method) {
			continue
		}
		driven := slices.ContainsFunc(c.calls, func(call *call) bool {
			return call.method == name && (!call.request || call.answered && call.failed == nil && !empty(call.result))
		})
		if !driven {
			out = append(out, name)
		}
	}
	return out
}

// offers says whether the server announced a method, at once or later.
func (c *conversation) offers(method *metaMethod) bool {
	if c.registered[method.Method] || method.RegistrationMethod != "" && c.registered[method.RegistrationMethod] {
		return true
	}
	if method.Capability == "" {
		return false
	}
	var at any = c.capabilities
	for _, key := range strings.Split(method.Capability, ".") {
		object, _ := at.(map[string]any)
		at = object[key]
	}
	return at != nil && at != false
}

// empty says whether a result holds nothing to look at.
func empty(v any) bool {
	switch v := v.(type) {
	case nil:
		return true
	case []any:
		return len(v) == 0
	case map[string]any:
		return len(v) == 0
	}
	return false
}

// The test's own reader of the model tells right from wrong.
func TestModelTells(t *testing.T) {
	m, err := theModel()
	require.NoError(t, err)
	for _, tt := range []struct{ typ, value, wrong string }{
		{"Hover", `{"contents": {"kind": "markdown", "value": "x"}}`, ""},
		{"Hover", `{"contents": "x", "range": {"start": {"line": 1, "character": 2}, "end": {"line": 1, "character": 4}}}`, ""},
		{"Hover", `{"contents": {"kind": "html", "value": "x"}}`, `v.contents.kind: "html" is no MarkupKind`},
		{"Hover", `{}`, "v: no contents"},
		{"Hover", `{"contents": "x", "colour": 1}`, "v: a property colour, which is none of its own"},
		{"Range", `{"start": {"line": 1, "character": -2}, "end": {"line": 1, "character": 4}}`, "v.start.character: -2 where a uinteger is asked for"},
		{"Range", `{"start": {"line": 1, "character": 1.5}, "end": {"line": 1, "character": 4}}`, "v.start.character: 1.5 where a uinteger is asked for"},
		{"Range", `{"start": {"line": 1, "character": 5}, "end": {"line": 1, "character": 4}}`, "v: a range that ends before it starts: "},
		{"Diagnostic", `{"range": {"start": {"line": 1, "character": 2}, "end": {"line": 1, "character": 4}}, "message": "x", "severity": 5}`, "v.severity: 5 is no DiagnosticSeverity"},
		{"Diagnostic", `{"range": {"start": {"line": 1, "character": 2}, "end": {"line": 1, "character": 4}}, "message": "x", "code": null}`, "v.code: null where a "},
		{"WorkspaceEdit", `{"changes": {"file:///a": [{"range": {"start": {"line": 1, "character": 2}, "end": {"line": 1, "character": 4}}, "newText": "x"}]}}`, ""},
		{"WorkspaceEdit", `{"changes": {"a b": []}}`, `v.changes.a b: "a b" where a DocumentUri is asked for`},
		{"CodeAction", `{"title": "x", "kind": "source.fixAll.stint"}`, ""},
		{"SemanticTokens", `{"data": [1, 2, 3]}`, "v.data: 3 numbers"},
		{"CompletionItem", `{"label": "x", "data": {"any": ["thing", 1, null]}, "kind": 99}`, "v.kind: 99 is no CompletionItemKind"},
		{"ServerCapabilities", `{"textDocumentSync": 2, "hoverProvider": true, "renameProvider": {"prepareProvider": true}}`, ""},
		{"ServerCapabilities", `{"textDocumentSync": 7}`, "v.textDocumentSync: 7 "},
	} {
		var v any
		require.NoError(t, unmarshal([]byte(tt.value), &v))
		err := m.check("v", &metaType{Kind: "reference", Name: tt.typ}, v)
		if tt.wrong == "" {
			assert.NoError(t, err, tt.value)
		} else {
			assert.ErrorContains(t, err, tt.wrong)
		}
	}
}

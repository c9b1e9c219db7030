package lsp

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"pgregory.net/rapid"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/workspace"
)

// harbour is a small workspace with letters outside ASCII before what is asked about.
var harbour = map[string]string{
	"house.stint": `stint 1

house Quayside Hall
  length 60:00
  class 16
  tiers full, lesser
  scaling no-kit > At home.
    has loaded bag
  kit
    32 kettlebell @ 24 kg
    32 kettlebell @ 16 kg
`,
	"movements/pier-hop.stint": "stint 1\n\nmovement pier hop\n  trains jump\n  pace 1 / 1.5 / 2 s per rep > no source\n  standard > Both feet *leave* the pier 🌊.\n",
	"sessions/bowline.stint": `stint 1

session Bowline > 🌊 é
  length 60:00

part A at 0:00 3 rounds for time > 🌊🌊
  15 pier hop
  10 kettlebell swing @ 53/35 lb

part B at 20:00 for time
  20 burpee

scaling no-kit
  kettlebell swing -> bag swing
`,
}

// with says what the client can do beside what clients here mostly can.
func with(raw string) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		var more protocol.TextDocumentClientCapabilities
		if err := protocol.Unmarshal([]byte(raw), &more); err != nil {
			panic(err)
		}
		if more.Completion != nil {
			p.Capabilities.TextDocument.Completion = more.Completion
		}
		if more.Hover != nil {
			p.Capabilities.TextDocument.Hover = more.Hover
		}
	}
}

var encodings = []protocol.PositionEncodingKind{protocol.PositionEncodingKindUTF8, protocol.PositionEncodingKindUTF16,
	protocol.PositionEncodingKindUTF32}

func TestHover(t *testing.T) {
	for _, enc := range encodings {
		e := start(t, harbour, speaking(enc))
		e.open("sessions/bowline.stint")
		e.replace("sessions/bowline.stint", "  15 pier hop", "  15 pier hop > 🌊\n  5 pier hop") // unsaved
		var h *protocol.Hover
		e.ask(protocol.MethodTextDocumentHover,
			&protocol.HoverParams{TextDocumentPositionParams: e.at("sessions/bowline.stint", "kettlebell swing")}, &h)
		require.NotNil(t, h)
		m := h.Contents.(*protocol.MarkupContent)
		assert.Equal(t, protocol.MarkupKindMarkdown, m.Kind)
		assert.Contains(t, m.Value, "**kettlebell swing** (movement)")
		assert.Contains(t, m.Value, "the house has 32 of 24 kg and 32 of 16 kg")
		assert.Equal(t, e.rangeOf("sessions/bowline.stint", "kettlebell swing"), *h.Range)

		e.ask(protocol.MethodTextDocumentHover,
			&protocol.HoverParams{TextDocumentPositionParams: e.at("sessions/bowline.stint", "pier hop")}, &h)
		assert.Contains(t, h.Contents.(*protocol.MarkupContent).Value, `Both feet \*leave\* the pier 🌊.`)
		e.ask(protocol.MethodTextDocumentHover,
			&protocol.HoverParams{TextDocumentPositionParams: e.at("sessions/bowline.stint", "part A")}, &h)
		assert.Contains(t, h.Contents.(*protocol.MarkupContent).Value, "60 pier hop", "of the text as it stands")
		h = nil
		e.ask(protocol.MethodTextDocumentHover,
			&protocol.HoverParams{TextDocumentPositionParams: e.at("sessions/bowline.stint", "🌊 é")}, &h)
		assert.Nil(t, h, "there is nothing to say of a note")
	}
}

func TestHoverAsPlainText(t *testing.T) {
	e := start(t, harbour, with(`{"hover": {"contentFormat": ["plaintext"]}}`))
	e.open("sessions/bowline.stint",
		strings.Replace(harbour["sessions/bowline.stint"], "  15 pier", "  allow cap-tight > Why.\n  15 pier", 1))
	var h *protocol.Hover
	e.ask(protocol.MethodTextDocumentHover,
		&protocol.HoverParams{TextDocumentPositionParams: e.at("sessions/bowline.stint", "cap-tight")}, &h)
	require.NotNil(t, h)
	m := h.Contents.(*protocol.MarkupContent)
	assert.Equal(t, protocol.MarkupKindPlainText, m.Kind)
	assert.Contains(t, m.Value, "cap-tight (")
	assert.Regexp(t, `more, with examples <file://.*/rules/cap-tight\.md>`, m.Value)
}

const snippets = `{"completion": {"completionItem": {"snippetSupport": true, "documentationFormat": ["markdown"], "insertTextModeSupport": {"valueSet": [1, 2]}}}}`

// complete asks for what may stand behind some words.
func (e *editor) complete(name, words string) protocol.CompletionList {
	e.t.Helper()
	p := &protocol.CompletionParams{}
	p.TextDocument = e.doc(name)
	p.Position = e.rangeOf(name, words).End
	var l protocol.CompletionList
	e.ask(protocol.MethodTextDocumentCompletion, p, &l)
	return l
}

func item(t *testing.T, l protocol.CompletionList, label string) protocol.CompletionItem {
	t.Helper()
	for _, it := range l.Items {
		if it.Label == label {
			return it
		}
	}
	require.Fail(t, "not offered", label)
	return protocol.CompletionItem{}
}

func TestCompletion(t *testing.T) {
	for _, enc := range encodings {
		e := start(t, harbour, speaking(enc), with(snippets))
		const name = "sessions/bowline.stint"
		e.open(name)
		e.replace(name, "  20 burpee", "  20 kettelbell sw, alternating > 🌊")
		l := e.complete(name, "20 kettelbell sw")
		it := item(t, l, "kettlebell swing")
		assert.True(t, l.IsIncomplete, "a client has to ask again, as its own filter forgives less")
		filter, _ := it.FilterText.Get()
		assert.Equal(t, "kettelbell sw", filter)
		edit := it.TextEdit.(*protocol.TextEdit)
		assert.Equal(t, e.rangeOf(name, "kettelbell sw"), edit.Range)
		assert.Contains(t, e.apply(name, []protocol.TextEdit{*edit}), "  20 kettlebell swing, alternating > 🌊")

		assert.Nil(t, it.Documentation, "it comes when it is asked for")
		var full protocol.CompletionItem
		e.ask(protocol.MethodCompletionItemResolve, &it, &full)
		assert.Contains(t, full.Documentation.(*protocol.MarkupContent).Value, "*standard*")
		assert.Equal(t, it.Label, full.Label)

		e.replace(name, "  15 pier hop", "  am")
		it = item(t, e.complete(name, "  am"), "amrap")
		assert.Equal(t, protocol.InsertTextFormatSnippet, it.InsertTextFormat)
		assert.Equal(t, protocol.InsertTextModeAdjustIndentation, it.InsertTextMode)
		assert.Equal(t, "amrap ${1:9:00}\n  $0", it.TextEdit.(*protocol.TextEdit).NewText)
		e.ask(protocol.MethodCompletionItemResolve, &it, &full)
		assert.Equal(t, "as many rounds and repetitions as possible in the time\n\n```stint\namrap 9:00\n```", full.Documentation.(*protocol.MarkupContent).Value)
	}
}

func TestCompletionWithoutSnippets(t *testing.T) {
	e := start(t, harbour)
	const name = "sessions/bowline.stint"
	e.open(name)
	e.replace(name, "  15 pier hop", "  am")
	it := item(t, e.complete(name, "  am"), "amrap")
	assert.Zero(t, it.InsertTextFormat)
	assert.Equal(t, "amrap ", it.TextEdit.(*protocol.TextEdit).NewText)
}

// A character that was typed brings offers only where it asks for some.
func TestCompletionByItself(t *testing.T) {
	e := start(t, harbour)
	const name = "sessions/bowline.stint"
	for text, wanted := range map[string]bool{
		"part A\n  |":                            false,
		"part A\n  10 |":                         true,
		"part A\n  10 burpee >|":                 false,
		"part A\n  10 burpee @ |":                true,
		"part A\n  10 burpee |":                  false,
		"part A\n  10 kettlebell |":              true,
		"part A\n  10 burpee,|":                  true,
		"part A\n\nscaling no-kit\n  burpee ->|": true,
		"part A\n  10 burpee > a note |":         false,
	} {
		before, _, _ := strings.Cut(text, "|")
		full := "stint 1\n\nsession Draft\n\n" + before
		e.open(name, full)
		p := &protocol.CompletionParams{Context: protocol.CompletionContext{TriggerKind: protocol.CompletionTriggerKindTriggerCharacter, TriggerCharacter: new(full[len(full)-1:])}}
		p.TextDocument, p.Position = e.doc(name), plainPosition(full, e.enc, len(full))
		var l protocol.CompletionList
		e.ask(protocol.MethodTextDocumentCompletion, p, &l)
		assert.Equal(t, wanted, len(l.Items) > 0, text)
		e.close(name)
	}
}

// decoded are tokens as places in a text.
func decoded(t testing.TB, text string, enc encoding, data []uint32) []source.Span {
	t.Helper()
	require.Zero(t, len(data)%5)
	l := newLineIndex(text, enc)
	var out []source.Span
	var p protocol.Position
	for i := 0; i < len(data); i += 5 {
		if data[i] > 0 {
			p.Character = 0
		}
		p.Line += data[i]
		p.Character += data[i+1]
		require.Positive(t, data[i+2])
		require.Less(t, data[i+3], uint32(len(tokenTypes)))
		require.Less(t, data[i+4], uint32(1)<<len(tokenModifiers))
		end := protocol.Position{Line: p.Line, Character: p.Character + data[i+2]}
		s := source.Span{Start: l.offset(p), End: l.offset(end)}
		require.Equal(t, p, l.position(s.Start), "tokens begin between characters")
		require.Equal(t, end, l.position(s.End), "and end on their line")
		out = append(out, s)
	}
	return out
}

func TestTokens(t *testing.T) {
	for _, enc := range encodings {
		e := start(t, harbour, speaking(enc))
		const name = "sessions/bowline.stint"
		e.open(name)
		var all protocol.SemanticTokens
		e.ask(protocol.MethodTextDocumentSemanticTokensFull, &protocol.SemanticTokensParams{TextDocument: e.doc(name)},
			&all)
		got := map[string]string{}
		for i, s := range decoded(t, e.text(name), e.enc, all.Data) {
			got[e.text(name)[s.Start:s.End]] = tokenTypes[all.Data[5*i+3]]
		}
		for text, kind := range map[string]string{
			"session": "keyword", "Bowline": "namespace", "> 🌊 é": "string", "60:00": "number", "part": "keyword", "rounds": "keyword", "pier hop": "function",
			"kettlebell swing": "function", "@": "operator", "lb": "parameter", "no-kit": "type", "->": "operator", "bag swing": "function",
		} {
			assert.Equal(t, kind, got[text], text)
		}

		// What was given before is known, and only what has changed is sent.
		e.replace(name, "15 pier hop", "15 pier hop > 🌊 new")
		p := &protocol.SemanticTokensDeltaParams{TextDocument: e.doc(name), PreviousResultID: *all.ResultID}
		var delta protocol.SemanticTokensDelta
		e.ask(protocol.MethodTextDocumentSemanticTokensFullDelta, p, &delta)
		require.Len(t, delta.Edits, 1)
		assert.Less(t, len(delta.Edits[0].Data), 11)
		now := applied(all.Data, delta.Edits)
		var fresh protocol.SemanticTokens
		e.ask(protocol.MethodTextDocumentSemanticTokensFull, &protocol.SemanticTokensParams{TextDocument: e.doc(name)},
			&fresh)
		assert.Equal(t, fresh.Data, now)
		assert.Equal(t, *fresh.ResultID, *delta.ResultID)

		p.PreviousResultID = "another"
		var whole protocol.SemanticTokens
		e.ask(protocol.MethodTextDocumentSemanticTokensFullDelta, p, &whole)
		assert.Equal(t, fresh.Data, whole.Data, "where it is not known what the client has, it gets all")

		var some protocol.SemanticTokens
		e.ask(protocol.MethodTextDocumentSemanticTokensRange,
			&protocol.SemanticTokensRangeParams{TextDocument: e.doc(name), Range: e.rangeOf(name, "kettlebell swing")},
			&some)
		assert.Len(t, some.Data, 5)
	}
}

func applied(data []uint32, edits []protocol.SemanticTokensEdit) []uint32 {
	out := append([]uint32{}, data...)
	for _, e := range edits {
		out = append(append(append([]uint32{}, out[:e.Start]...), e.Data...), out[e.Start+e.DeleteCount:]...)
	}
	return out
}

// Whatever the text: tokens are in order, apart, inside their lines and of types that are
// told, in every encoding; and what has changed makes the old the new.
func TestTokensOfAnyText(t *testing.T) {
	base := workspace.Make(workspace.Root{Dir: "/hall", House: true}, harbour)
	var last []uint32
	rapid.Check(t, func(rt *rapid.T) {
		text := draw(rt, "text") + rapid.SampledFrom([]string{"", "part A 3 rounds\n  8 burpee > é🌊\n",
			"\tx\r\n\r  12 quay hop", harbour["sessions/bowline.stint"]}).Draw(rt, "more")
		s := base.With("sessions/x.stint", text)
		f := s.File("sessions/x.stint")
		for _, enc := range []encoding{utf8s, utf16, utf32} {
			v := &view{snap: s, file: f, enc: enc}
			data := v.allTokens()
			at := 0
			for _, span := range decoded(t, text, enc, data) {
				if span.Start < at {
					rt.Fatalf("a token at %d begins before the one before ends, at %d", span.Start, at)
				}
				at = span.End
			}
			assert.Equal(rt, data, applied(last, tokenEdits(last, data)))
			last = data
		}
	})
}

func TestInlayHints(t *testing.T) {
	for _, enc := range encodings {
		e := start(t, harbour, speaking(enc))
		const name = "sessions/bowline.stint"
		e.open(name)
		ask := func(p protocol.Range) []protocol.InlayHint {
			var hs []protocol.InlayHint
			e.ask(protocol.MethodTextDocumentInlayHint, &protocol.InlayHintParams{TextDocument: e.doc(name), Range: p},
				&hs)
			return hs
		}
		all := protocol.Range{End: protocol.Position{Line: 99}}
		var got []string
		for _, h := range ask(all) {
			got = append(got, string(h.Label.(protocol.String)))
		}
		assert.Contains(t, got, "~2:40, rest 17:20; = 45 pier hop, 30 kettlebell swing")
		assert.Contains(t, got, "≈ 24/16 kg")
		hs := ask(e.rangeOf(name, "53/35 lb"))
		require.Len(t, hs, 1)
		assert.Equal(t, e.rangeOf(name, "53/35 lb").End, hs[0].Position)
		var h protocol.InlayHint
		e.ask(protocol.MethodInlayHintResolve, &hs[0], &h)
		assert.Contains(t, h.Tooltip.(*protocol.MarkupContent).Value, "53/35 lb")
	}
}

func TestHintsAndLensesCanBeTurnedOff(t *testing.T) {
	e := start(t, harbour, func(p *protocol.InitializeParams) {
		p.InitializationOptions = protocol.LSPAny(`{"inlayHints": {"totals": false, "times": false, "units": true}, "codeLens": {"enabled": false}}`)
	})
	const name = "sessions/bowline.stint"
	e.open(name)
	var hs []protocol.InlayHint
	e.ask(protocol.MethodTextDocumentInlayHint,
		&protocol.InlayHintParams{TextDocument: e.doc(name), Range: protocol.Range{End: protocol.Position{Line: 99}}},
		&hs)
	assert.Len(t, hs, 1)
	var ls []protocol.CodeLens
	e.ask(protocol.MethodTextDocumentCodeLens, &protocol.CodeLensParams{TextDocument: e.doc(name)}, &ls)
	assert.Empty(t, ls)
}

func TestCodeLenses(t *testing.T) {
	e := start(t, harbour)
	lenses := func(name string) []protocol.CodeLens {
		var ls []protocol.CodeLens
		e.ask(protocol.MethodTextDocumentCodeLens, &protocol.CodeLensParams{TextDocument: e.doc(name)}, &ls)
		for i := range ls {
			assert.Empty(t, ls[i].Command.Title, "it comes when it is asked for")
			var full protocol.CodeLens
			e.ask(protocol.MethodCodeLensResolve, &ls[i], &full)
			ls[i] = full
		}
		return ls
	}
	const name = "sessions/bowline.stint"
	e.open(name)
	ls := lenses(name)
	require.Len(t, ls, 3)
	assert.Regexp(t, `^\d+:\d\d of 60:00; 1 version: no-kit$`, ls[0].Command.Title)
	assert.Regexp(t, `^\d:\d\d / \d:\d\d / \d:\d\d; rest left `, ls[1].Command.Title)
	assert.Equal(t, e.rangeOf(name, "Bowline"), ls[0].Range)

	e.open("movements/pier-hop.stint")
	ls = lenses("movements/pier-hop.stint")
	require.Len(t, ls, 1)
	assert.Equal(t, "used in 1 session", ls[0].Command.Title)
	assert.Equal(t, showReferences, ls[0].Command.Command)
	require.Len(t, ls[0].Command.Arguments, 3)
	var uses []protocol.Location
	require.NoError(t, json.Unmarshal(ls[0].Command.Arguments[2], &uses))
	assert.Equal(t, []protocol.Location{{URI: e.uri(name), Range: e.rangeOf(name, "pier hop")}}, uses)
}

// Whatever is asked of the demo, wherever: an answer, and never a fault.
func TestReadingEverywhere(t *testing.T) {
	dir := filepath.Join("..", "testdata", "quayside")
	files := map[string]string{}
	for _, name := range []string{"house.stint", "sessions/bowline.stint", "cycles/spring-tide.stint",
		"movements/quay-run.stint"} {
		text, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		require.NoError(t, err)
		files[name] = string(text)
	}
	e := start(t, files)
	for name, text := range files {
		e.open(name)
		for off := 0; off <= len(text); off += 37 {
			p := protocol.TextDocumentPositionParams{TextDocument: e.doc(name),
				Position: plainPosition(text, e.enc, off)}
			var h *protocol.Hover
			e.ask(protocol.MethodTextDocumentHover, &protocol.HoverParams{TextDocumentPositionParams: p}, &h)
			var l protocol.CompletionList
			e.ask(protocol.MethodTextDocumentCompletion, &protocol.CompletionParams{TextDocumentPositionParams: p}, &l)
			for _, it := range l.Items {
				edit := it.TextEdit.(*protocol.TextEdit)
				assert.Equal(t, p.Position.Line, edit.Range.Start.Line)
				assert.Equal(t, p.Position.Line, edit.Range.End.Line)
			}
		}
	}
}

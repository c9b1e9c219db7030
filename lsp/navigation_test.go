package lsp

import (
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// quay is a workspace in which every kind of name stands. A note and a comment hold
// characters that are wider in some encodings than in others.
var quay = map[string]string{
	"house.stint": `stint 1

house Quayside Hall
  needs no-kit
  effort brisk 75-80%
  allow sides-uneven > Watched.
  scaling no-kit
    has loaded bag
    row -> run
  kit
    16 kettlebell @ 24 kg
    16 kettlebell @ 16 kg
    4 pier rope @ 20 kg
`,
	"movements/pier-hop.stint": `stint 1

movement pier hop
  also quay hop
  trains jump
  needs pier rope
  easier step-up
`,
	"movements/burpee.stint": `stint 1

movement burpee
  cue > Fall softly.
`,
	"sessions/reef.stint": `stint 1

# Two lines
# of comment.
session Reef
  length 60:00
  purpose > Hop, and hop again. 🪢
  allow total-unproven > It is a fragment.

warm-up
  2:00 row @ brisk

part A at 0:00 in pairs
  8 quay hops
  3 rounds, with pier rope @ 20 kg
    12 pier hop
    400 m row
    12 burpee > Softly 🪢, softly.

scaling no-kit
  pier hop -> burpee
  3 rounds -> 2 rounds

total 44 pier hop
`,
	"sessions/bowline.stint": "stint 1\n\nsession Bowline\n\npart A\n  10 pier hop\n  10 pier hop\n",
	"cycles/neap.stint": `stint 1

cycle Neap
  week 1
    mon Reef, no-kit
    wed Bowline
`,
}

// spots are places as "file:line:words", from 1, for tests to compare.
func (e *editor) spots(ls []protocol.Location) []string {
	e.t.Helper()
	var out []string
	for _, l := range ls {
		out = append(out, e.spot(l.URI, l.Range))
	}
	return out
}

func (e *editor) spot(u uri.URI, r protocol.Range) string {
	name := strings.TrimPrefix(u.FsPath(), e.dir+"/")
	text, known := quay[name]
	if on, open := e.texts[u]; open {
		text, known = on, true
	}
	if !known {
		return path.Base(path.Dir(name)) + "/" + path.Base(name)
	}
	at := newLineIndex(text, e.enc).span(r)
	return fmt.Sprintf("%s:%d:%s", name, r.Start.Line+1, text[at.Start:at.End])
}

func TestDefinition(t *testing.T) {
	e := start(t, quay)
	for name := range quay {
		e.open(name)
	}
	for _, c := range []struct {
		file, words, in string // the words, inside others where they are not the first such
		want            []string
	}{
		{"sessions/reef.stint", "pier hop", "12 pier hop", []string{"movements/pier-hop.stint:3:pier hop"}},
		{"sessions/reef.stint", "quay hops", "", []string{"movements/pier-hop.stint:3:pier hop"}},
		{"sessions/reef.stint", "row", "", []string{"movements/locomotion.stint"}},
		{"sessions/reef.stint", "burpee", "12 burpee",
			[]string{"movements/burpee.stint:3:burpee", "movements/horizontal-push.stint"}},
		{"sessions/reef.stint", "brisk", "", []string{"house.stint:5:brisk"}},
		{"sessions/reef.stint", "pier rope", "", []string{"house.stint:13:pier rope"}},
		{"sessions/reef.stint", "no-kit", "scaling no-kit", []string{"house.stint:7:no-kit"}},
		{"sessions/reef.stint", "total-unproven", "", []string{"rules/total-unproven.md"}},
		{"sessions/reef.stint", "pier hop", "pier hop -> burpee",
			[]string{"sessions/reef.stint:14:8 quay hops", "sessions/reef.stint:16:12 pier hop",
				"movements/pier-hop.stint:3:pier hop"}},
		{"sessions/reef.stint", "rounds", "3 rounds -> 2",
			[]string{"sessions/reef.stint:15:3 rounds, with pier rope @ 20 kg"}},
		{"sessions/reef.stint", "rounds", "2 rounds", nil},
		{"sessions/reef.stint", "400", "", nil},
		{"cycles/neap.stint", "Reef", "", []string{"sessions/reef.stint:5:Reef"}},
		{"cycles/neap.stint", "no-kit", "", []string{"sessions/reef.stint:20:no-kit", "house.stint:7:no-kit"}},
		{"house.stint", "no-kit", "", []string{"house.stint:7:no-kit"}},
		{"house.stint", "kettlebell", "", []string{"house.stint:11:kettlebell", "house.stint:12:kettlebell"}},
		{"movements/pier-hop.stint", "jump", "", nil},
		{"movements/burpee.stint", "burpee", "",
			[]string{"movements/burpee.stint:3:burpee", "movements/horizontal-push.stint"}},
	} {
		t.Run(c.file+" "+c.words, func(t *testing.T) {
			at := e.within(c.file, c.words, c.in)
			var got protocol.LocationSlice
			e.ask(protocol.MethodTextDocumentDefinition, &protocol.DefinitionParams{TextDocumentPositionParams: at},
				&got)
			assert.Equal(t, c.want, e.spots(got))
		})
	}
}

// within is the position of words in an open document, inside other words.
func (e *editor) within(name, words, in string) protocol.TextDocumentPositionParams {
	e.t.Helper()
	text := e.text(name)
	from := strings.Index(text, in)
	require.GreaterOrEqual(e.t, from, 0, in)
	at := from + strings.Index(text[from:], words) + 1
	return protocol.TextDocumentPositionParams{TextDocument: e.doc(name),
		Position: newLineIndex(text, e.enc).position(at)}
}

// A client that shows links is told which words they lead from.
func TestDefinitionLinks(t *testing.T) {
	e := start(t, quay, func(p *protocol.InitializeParams) {
		p.Capabilities.TextDocument.Definition = &protocol.DefinitionClientCapabilities{LinkSupport: new(true)}
	})
	e.open("sessions/reef.stint")
	var got protocol.DefinitionLinkSlice
	e.ask(protocol.MethodTextDocumentDefinition,
		&protocol.DefinitionParams{TextDocumentPositionParams: e.at("sessions/reef.stint", "quay hops")}, &got)
	require.Len(t, got, 1)
	assert.Equal(t, e.rangeOf("sessions/reef.stint", "quay hops"), *got[0].OriginSelectionRange)
	assert.Equal(t, e.uri("movements/pier-hop.stint"), got[0].TargetURI)
	got = nil
	e.ask(protocol.MethodTextDocumentDefinition,
		&protocol.DefinitionParams{TextDocumentPositionParams: e.at("sessions/reef.stint", "total-unproven")}, &got)
	require.Len(t, got, 1)
	assert.Equal(t, "total-unproven.md", path.Base(got[0].TargetURI.FsPath()))
}

func TestReferences(t *testing.T) {
	e := start(t, quay)
	for name := range quay {
		e.open(name)
	}
	for _, c := range []struct {
		file, words, in string
		declared        bool
		want            []string
	}{
		{"sessions/reef.stint", "quay hops", "", false,
			[]string{"sessions/bowline.stint:6:pier hop", "sessions/bowline.stint:7:pier hop",
				"sessions/reef.stint:14:quay hops", "sessions/reef.stint:16:pier hop", "sessions/reef.stint:21:pier hop", "sessions/reef.stint:24:pier hop"}},
		{"movements/pier-hop.stint", "pier hop", "", true,
			[]string{"movements/pier-hop.stint:3:pier hop", "movements/pier-hop.stint:4:quay hop",
				"sessions/bowline.stint:6:pier hop", "sessions/bowline.stint:7:pier hop",
				"sessions/reef.stint:14:quay hops", "sessions/reef.stint:16:pier hop", "sessions/reef.stint:21:pier hop", "sessions/reef.stint:24:pier hop"}},
		{"cycles/neap.stint", "Bowline", "", true,
			[]string{"cycles/neap.stint:6:Bowline", "sessions/bowline.stint:3:Bowline"}},
		{"house.stint", "no-kit", "scaling no-kit", false,
			[]string{"cycles/neap.stint:5:no-kit", "house.stint:4:no-kit", "sessions/reef.stint:20:no-kit"}},
		{"house.stint", "pier rope", "", false,
			[]string{"movements/pier-hop.stint:6:pier rope", "sessions/reef.stint:15:pier rope"}},
		{"sessions/reef.stint", "total-unproven", "", true, []string{"sessions/reef.stint:8:total-unproven"}},
		{"movements/pier-hop.stint", "jump", "", true, []string{"movements/pier-hop.stint:5:jump"}},
		{"sessions/reef.stint", "400", "", true, nil},
	} {
		t.Run(c.file+" "+c.words, func(t *testing.T) {
			var got []protocol.Location
			e.ask(protocol.MethodTextDocumentReferences,
				&protocol.ReferenceParams{TextDocumentPositionParams: e.within(c.file, c.words, c.in),
					Context: protocol.ReferenceContext{IncludeDeclaration: c.declared}}, &got)
			assert.Equal(t, c.want, e.spots(got))
		})
	}
}

func TestImplementation(t *testing.T) {
	e := start(t, quay)
	for name := range quay {
		e.open(name)
	}
	for _, c := range []struct {
		file, words, in string
		want            []string
	}{
		{"movements/pier-hop.stint", "pier hop", "",
			[]string{"sessions/bowline.stint:6:pier hop", "sessions/reef.stint:14:quay hops"}},
		{"sessions/bowline.stint", "Bowline", "", []string{"cycles/neap.stint:6:Bowline"}},
		{"house.stint", "no-kit", "scaling no-kit", []string{"sessions/reef.stint:20:no-kit"}},
		{"house.stint", "pier rope", "", []string{"sessions/reef.stint:15:pier rope"}},
		{"sessions/reef.stint", "12", "12 pier hop", []string{"sessions/reef.stint:21:pier hop -> burpee"}},
		{"sessions/reef.stint", "rounds", "3 rounds, with", []string{"sessions/reef.stint:22:3 rounds -> 2 rounds"}},
		{"sessions/reef.stint", "400 m", "", []string{"house.stint:9:row -> run"}},
		{"sessions/bowline.stint", "10", "", nil},
	} {
		t.Run(c.file+" "+c.words, func(t *testing.T) {
			var got protocol.LocationSlice
			e.ask(protocol.MethodTextDocumentImplementation,
				&protocol.ImplementationParams{TextDocumentPositionParams: e.within(c.file, c.words, c.in)}, &got)
			assert.Equal(t, c.want, e.spots(got))
		})
	}
}

func TestHighlights(t *testing.T) {
	e := start(t, quay)
	e.open("sessions/reef.stint")
	var got []protocol.DocumentHighlight
	e.ask(protocol.MethodTextDocumentDocumentHighlight,
		&protocol.DocumentHighlightParams{TextDocumentPositionParams: e.within("sessions/reef.stint", "burpee",
			"12 burpee")}, &got)
	require.Len(t, got, 2)
	e.open("movements/pier-hop.stint")
	got = nil
	e.ask(protocol.MethodTextDocumentDocumentHighlight,
		&protocol.DocumentHighlightParams{TextDocumentPositionParams: e.at("movements/pier-hop.stint", "pier hop")},
		&got)
	require.Len(t, got, 2)
	assert.Equal(t, protocol.DocumentHighlightKindWrite, got[0].Kind)
}

func TestSymbols(t *testing.T) {
	for enc := range positionEncodings {
		e := start(t, quay, func(p *protocol.InitializeParams) {
			p.Capabilities.General.PositionEncodings = []protocol.PositionEncodingKind{enc}
			p.Capabilities.TextDocument.DocumentSymbol = &protocol.DocumentSymbolClientCapabilities{HierarchicalDocumentSymbolSupport: new(true)}
		})
		for name, want := range map[string]string{
			"sessions/reef.stint": `Reef (session) 5-24
  warm-up 10-11
  part A (at 0:00 in pairs) 13-18
    3 rounds, with pier rope @ 20 kg 15-18
  no-kit (scaling) 20-22
`,
			"house.stint": `Quayside Hall (house) 3-13
  no-kit (scaling) 7-9
  kit 10-13
    16 kettlebell @ 24 kg 11-11
    16 kettlebell @ 16 kg 12-12
    4 pier rope @ 20 kg 13-13
`,
			"movements/pier-hop.stint": "pier hop (movement) 3-7\n",
			"cycles/neap.stint":        "Neap (cycle) 3-6\n  week 1 4-6\n    Reef (mon) 5-5\n    Bowline (wed) 6-6\n",
		} {
			e.open(name)
			var got protocol.DocumentSymbolSlice
			e.ask(protocol.MethodTextDocumentDocumentSymbol, &protocol.DocumentSymbolParams{TextDocument: e.doc(name)},
				&got)
			assert.Equal(t, want, outlined(t, got, ""), name)
		}
	}
}

var positionEncodings = map[protocol.PositionEncodingKind]bool{"utf-8": true, "utf-16": true, "utf-32": true}

func outlined(t *testing.T, ss []protocol.DocumentSymbol, indent string) string {
	t.Helper()
	var b strings.Builder
	for _, s := range ss {
		detail := ""
		if s.Detail != nil {
			detail = " (" + *s.Detail + ")"
		}
		fmt.Fprintf(&b, "%s%s%s %d-%d\n", indent, s.Name, detail, s.Range.Start.Line+1, s.Range.End.Line+1)
		assert.True(t, inside(s.SelectionRange, s.Range), "%s: what is selected is not inside", s.Name)
		for _, k := range s.Children {
			assert.True(t, inside(k.Range, s.Range), "%s is not inside %s", k.Name, s.Name)
		}
		b.WriteString(outlined(t, s.Children, indent+"  "))
	}
	return b.String()
}

func inside(in, out protocol.Range) bool {
	before := func(a, b protocol.Position) bool {
		return a.Line < b.Line || a.Line == b.Line && a.Character <= b.Character
	}
	return before(out.Start, in.Start) && before(in.End, out.End)
}

// A client that knows no trees gets a list.
func TestSymbolsFlat(t *testing.T) {
	e := start(t, quay)
	e.open("cycles/neap.stint")
	var got protocol.SymbolInformationSlice
	e.ask(protocol.MethodTextDocumentDocumentSymbol,
		&protocol.DocumentSymbolParams{TextDocument: e.doc("cycles/neap.stint")}, &got)
	var names []string
	for _, s := range got {
		in := ""
		if s.ContainerName != nil {
			in = *s.ContainerName
		}
		names = append(names, in+">"+s.Name)
	}
	assert.Equal(t, []string{">Neap", "Neap>week 1", "week 1>Reef", "week 1>Bowline"}, names)
}

func TestWorkspaceSymbols(t *testing.T) {
	for _, resolves := range []bool{false, true} {
		e := start(t, quay, func(p *protocol.InitializeParams) {
			if resolves {
				p.Capabilities.Workspace.Symbol = &protocol.WorkspaceSymbolClientCapabilities{
					ResolveSupport: protocol.ClientSymbolResolveOptions{Properties: []string{"location.range"}}}
			}
		})
		e.open("house.stint")
		e.diagnostics("house.stint")
		for query, want := range map[string][]string{
			"reef":         {"Reef"},
			"bwl":          {"Bowline"},
			"NEAP":         {"Neap"},
			"pier":         {"pier hop"},
			"qyh":          {"Quayside Hall"},
			"ring muscle":  {"ring muscle-up"},
			"xylophone":    nil,
			"pier hopping": nil,
		} {
			var got protocol.WorkspaceSymbolSlice
			e.ask(protocol.MethodWorkspaceSymbol, &protocol.WorkspaceSymbolParams{Query: query}, &got)
			if want == nil {
				assert.Empty(t, got, query)
				continue
			}
			require.NotEmpty(t, got, query)
			assert.Equal(t, want[0], got[0].Name, query)
			first := got[0]
			if resolves {
				_, bare := first.Location.(*protocol.LocationUriOnly)
				require.True(t, bare)
				e.ask(protocol.MethodWorkspaceSymbolResolve, &first, &first)
			}
			l, whole := first.Location.(*protocol.Location)
			require.True(t, whole)
			if !strings.Contains(query, "ring") {
				_, words, _ := strings.Cut(e.spot(l.URI, l.Range), ":")
				assert.Equal(t, want[0], words[strings.Index(words, ":")+1:])
			}
		}
		var all protocol.WorkspaceSymbolSlice
		e.ask(protocol.MethodWorkspaceSymbol, &protocol.WorkspaceSymbolParams{}, &all)
		assert.Len(t, all, maxSymbols)
	}
}

func TestLike(t *testing.T) {
	rank := []string{"rope", "rope climb", "battle rope", "skipropes", "ring or pull up and erg", "trot up bare legs"}
	for i := range rank {
		s := matchScore(rank[i], "rope")
		if i > 3 {
			continue
		}
		assert.Greater(t, s, matchScore(rank[i+1], "rope"), rank[i])
	}
	assert.Zero(t, matchScore("row", "rope"))
	assert.Positive(t, matchScore("anything", ""))
	assert.Positive(t, matchScore("pull-up", "pull up"))
}

func TestFolding(t *testing.T) {
	e := start(t, quay)
	e.open("sessions/reef.stint")
	ask := func(e *editor) []string {
		var got []protocol.FoldingRange
		e.ask(protocol.MethodTextDocumentFoldingRange,
			&protocol.FoldingRangeParams{TextDocument: e.doc("sessions/reef.stint")}, &got)
		var out []string
		for _, r := range got {
			out = append(out, fmt.Sprintf("%s %d-%d", r.Kind, r.StartLine+1, r.EndLine+1))
		}
		return out
	}
	assert.Equal(t, []string{"comment 3-4", "region 5-24", "region 10-11", "region 13-18", "region 15-18",
		"region 20-22"}, ask(e))
	e = start(t, quay, func(p *protocol.InitializeParams) {
		p.Capabilities.TextDocument.FoldingRange = &protocol.FoldingRangeClientCapabilities{RangeLimit: new(uint32(2))}
	})
	e.open("sessions/reef.stint")
	assert.Equal(t, []string{"region 5-24", "region 10-11"}, ask(e))
}

func TestSelection(t *testing.T) {
	for enc := range positionEncodings {
		e := start(t, quay, func(p *protocol.InitializeParams) {
			p.Capabilities.General.PositionEncodings = []protocol.PositionEncodingKind{enc}
		})
		e.open("sessions/reef.stint")
		text := e.text("sessions/reef.stint")
		grown := func(words, in string) []string {
			at := e.within("sessions/reef.stint", words, in)
			var got []protocol.SelectionRange
			e.ask(protocol.MethodTextDocumentSelectionRange,
				&protocol.SelectionRangeParams{TextDocument: at.TextDocument,
					Positions: []protocol.Position{at.Position}}, &got)
			require.Len(t, got, 1)
			var out []string
			for r := &got[0]; r != nil; r = r.Parent {
				at := newLineIndex(text, e.enc).span(r.Range)
				s := text[at.Start:at.End]
				if strings.Contains(s, "\n") {
					s = fmt.Sprintf("%d lines", strings.Count(strings.TrimSpace(s), "\n")+1)
				}
				out = append(out, s)
			}
			return out
		}
		assert.Equal(t, []string{"burpee", "12 burpee", "12 burpee > Softly 🪢, softly.",
			"    12 burpee > Softly 🪢, softly.", "4 lines", "6 lines", "20 lines", "24 lines"},
			grown("burpee", "12 burpee"))
		assert.Equal(t, []string{"softly.", "Softly 🪢, softly.", "> Softly 🪢, softly.", "12 burpee > Softly 🪢, softly.",
			"    12 burpee > Softly 🪢, softly.", "4 lines", "6 lines", "20 lines", "24 lines"},
			slices.DeleteFunc(grown("softly.", "softly."), func(s string) bool { return s == "" }))
		assert.Equal(t, []string{"rope", "pier rope", "with pier rope @ 20 kg", "3 rounds, with pier rope @ 20 kg",
			"  3 rounds, with pier rope @ 20 kg", "4 lines", "6 lines", "20 lines", "24 lines"},
			grown("rope", "with pier rope"))
		assert.Equal(t, []string{"burpee", "pier hop -> burpee", "  pier hop -> burpee", "3 lines", "20 lines",
			"24 lines"}, grown("burpee", "-> burpee"))
	}
}

// Wherever a selection starts, it grows, and each is inside the next.
func TestSelectionNests(t *testing.T) {
	e := start(t, quay)
	for name, text := range quay {
		e.open(name)
		var all []protocol.Position
		for i := range len(text) + 1 {
			all = append(all, newLineIndex(text, e.enc).position(i))
		}
		var got []protocol.SelectionRange
		e.ask(protocol.MethodTextDocumentSelectionRange,
			&protocol.SelectionRangeParams{TextDocument: e.doc(name), Positions: all}, &got)
		require.Len(t, got, len(all))
		for i := range got {
			assert.True(t, inside(protocol.Range{Start: all[i], End: all[i]}, got[i].Range))
			for r := &got[i]; r.Parent != nil; r = r.Parent {
				assert.True(t, inside(r.Range, r.Parent.Range) && r.Range != r.Parent.Range, "%s at %v", name, all[i])
			}
		}
	}
	e.open("sessions/new.stint", "")
	var got []protocol.SelectionRange
	e.ask(protocol.MethodTextDocumentSelectionRange,
		&protocol.SelectionRangeParams{TextDocument: e.doc("sessions/new.stint"), Positions: []protocol.Position{{}}},
		&got)
	assert.Len(t, got, 1)
}

func TestDocumentLinks(t *testing.T) {
	e := start(t, quay, func(p *protocol.InitializeParams) {
		p.Capabilities.TextDocument.DocumentLink = &protocol.DocumentLinkClientCapabilities{TooltipSupport: new(true)}
	})
	ask := func(name string) []string {
		e.open(name)
		var got []protocol.DocumentLink
		e.ask(protocol.MethodTextDocumentDocumentLink, &protocol.DocumentLinkParams{TextDocument: e.doc(name)}, &got)
		var out []string
		for _, l := range got {
			tip := ""
			if l.Tooltip != nil {
				tip = *l.Tooltip
			}
			out = append(out, fmt.Sprintf("%s -> %s %s", e.spot(e.uri(name), l.Range), path.Base(l.Target.FsPath()),
				tip))
		}
		return out
	}
	assert.Equal(t, []string{"cycles/neap.stint:5:Reef -> reef.stint Hop, and hop again. 🪢",
		"cycles/neap.stint:6:Bowline -> bowline.stint "}, ask("cycles/neap.stint"))
	assert.Equal(t, []string{"sessions/reef.stint:8:total-unproven -> total-unproven.md a stated total that hangs on work without a settled count, so it cannot be proven"}, ask("sessions/reef.stint"))
}

// In a file that is none of a workspace's, or whose text is no text, all answers are empty.
func TestNavigationOfNothing(t *testing.T) {
	files := maps.Clone(quay)
	files["sessions/odd.stint"] = "\xff\xfes\x00e\x00\n\x00"
	e := start(t, files)
	e.open("sessions/reef.stint")
	at := protocol.TextDocumentPositionParams{TextDocument: e.doc("sessions/odd.stint")}
	var spots protocol.LocationSlice
	e.ask(protocol.MethodTextDocumentDefinition, &protocol.DefinitionParams{TextDocumentPositionParams: at}, &spots)
	assert.Empty(t, spots)
	var symbols protocol.SymbolInformationSlice
	e.ask(protocol.MethodTextDocumentDocumentSymbol, &protocol.DocumentSymbolParams{TextDocument: at.TextDocument},
		&symbols)
	assert.Empty(t, symbols)
}

package lsp

import (
	"cmp"
	"strings"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// symbols are what a document is made of: sessions with their parts, groups and scalings,
// movements, the house with its scalings and kit, cycles with their weeks and days. A
// client that knows no trees gets a list.
func (v *view) symbols(protocol.DocumentSymbolParams) (protocol.DocumentSymbolResult, error) {
	tree := v.outline()
	t := v.caps.client.TextDocument
	if t != nil && t.DocumentSymbol != nil && isTrue(t.DocumentSymbol.HierarchicalDocumentSymbolSupport) {
		return protocol.DocumentSymbolSlice(tree), nil
	}
	flat := protocol.SymbolInformationSlice{}
	var walk func(in string, ss []protocol.DocumentSymbol)
	walk = func(in string, ss []protocol.DocumentSymbol) {
		for _, s := range ss {
			one := protocol.SymbolInformation{Location: protocol.Location{URI: v.uriOf(v.file.Src), Range: s.Range}}
			one.Name, one.Kind = s.Name, s.Kind
			if in != "" {
				one.ContainerName = new(in)
			}
			flat = append(flat, one)
			walk(s.Name, s.Children)
		}
	}
	walk("", tree)
	return flat, nil
}

// outline is the tree of a document's symbols. The parts and scalings of a session stand
// at the margin, below its first lines; in the tree they are the session's.
func (v *view) outline() []protocol.DocumentSymbol {
	out := []protocol.DocumentSymbol{}
	var session *protocol.DocumentSymbol // the last of out
	for _, b := range v.file.Syntax().Roots {
		s, ok := v.symbol(b)
		e, entry := b.Line.Stmt.(*syntax.Entry)
		switch {
		case !ok:
			if entry {
				session = nil
			}
		case !entry && session != nil:
			session.Children = append(session.Children, s)
			session.Range.End = s.Range.End
		default:
			out = append(out, s)
			session = nil
			if entry && e.Kind == "session" {
				session = &out[len(out)-1]
			}
		}
		if !ok && !entry && session != nil && b.Line.Stmt != nil {
			session.Range.End = v.rangeOf(v.file.Src.At(spanOf(b))).End // a total
		}
	}
	return out
}

// Kinds of symbols. The protocol's words are those of programs; these are the ones that
// editors draw apart from each other.
const (
	sessionSymbol  = protocol.SymbolKindClass
	partSymbol     = protocol.SymbolKindMethod
	groupSymbol    = protocol.SymbolKindStruct
	scalingSymbol  = protocol.SymbolKindInterface
	movementSymbol = protocol.SymbolKindFunction
	houseSymbol    = protocol.SymbolKindPackage
	kitSymbol      = protocol.SymbolKindObject
	cycleSymbol    = protocol.SymbolKindModule
	weekSymbol     = protocol.SymbolKindNamespace
	daySymbol      = protocol.SymbolKindEvent
)

// symbol is what a block is in the outline, if it is anything there.
func (v *view) symbol(b *syntax.Block) (protocol.DocumentSymbol, bool) {
	l := b.Line
	switch s := l.Stmt.(type) {
	case *syntax.Entry:
		kinds := map[string]protocol.SymbolKind{"session": sessionSymbol, "movement": movementSymbol,
			"house": houseSymbol, "cycle": cycleSymbol}
		if kind, ok := kinds[s.Kind]; ok {
			return v.named(b, s.Name.Text, s.Kind, kind, s.Name.Span), true
		}
	case *syntax.Head:
		if s.Part == "" {
			return v.named(b, l.Text[s.Start:s.End], "", groupSymbol, s.Span), true
		}
		name := strings.TrimSpace(s.Part + " " + s.Letter.Text)
		rest := strings.TrimPrefix(strings.Join(strings.Fields(l.Text[s.Start:s.End]), " "), name)
		return v.named(b, name, strings.Trim(rest, " ,:"), partSymbol, s.Span), true
	case *syntax.Lead:
		if len(b.Kids) > 0 {
			return v.named(b, strings.TrimSuffix(l.Text[s.Start:s.End], ":"), "", groupSymbol, s.Span), true
		}
	case *syntax.Scaling:
		return v.named(b, s.Name.Text, "scaling", scalingSymbol, s.Name.Span), true
	case *syntax.Property:
		switch {
		case s.Key == "kit":
			return v.named(b, "kit", "", kitSymbol, s.KeySpan), true
		case s.Key == "week":
			return v.named(b, l.Text[s.Start:s.End], noteOf(l), weekSymbol, s.Span), true
		case len(s.Names) > 0 && isDay(s.Key):
			return v.named(b, s.Names[0].Text, l.Text[s.KeySpan.Start:s.KeySpan.End], daySymbol, s.Names[0].Span), true
		}
	}
	return protocol.DocumentSymbol{}, false
}

func isDay(key string) bool {
	for _, d := range syntax.Weekdays {
		if d == key {
			return true
		}
	}
	return false
}

func noteOf(l *syntax.Line) string {
	if l.Note == nil {
		return ""
	}
	return l.Note.Text
}

// named is a symbol of a block, with those of the blocks in it. Its words are a span of
// its first line.
func (v *view) named(
	b *syntax.Block, name, detail string, kind protocol.SymbolKind, words source.Span,
) protocol.DocumentSymbol {
	src := v.file.Src
	out := protocol.DocumentSymbol{
		Name: cmp.Or(strings.TrimSpace(name), "no name"), Kind: kind,
		Range: v.rangeOf(src.At(spanOf(b))), SelectionRange: v.rangeOf(src.At(b.Line.Span(words))),
	}
	if detail != "" {
		out.Detail = &detail
	}
	for _, k := range b.Kids {
		if it, ok := k.Line.Stmt.(*syntax.Item); ok && kind == kitSymbol {
			out.Children = append(out.Children, v.named(k, k.Line.Text[it.Start:it.End], "", kitSymbol, it.Span))
			continue
		}
		if s, ok := v.symbol(k); ok {
			out.Children = append(out.Children, s)
		}
	}
	return out
}

// spanOf is all that a block covers: its line, and the lines under it.
func spanOf(b *syntax.Block) source.Span {
	s := source.Span{Start: b.Line.Body, End: b.Line.Body + len(strings.TrimRight(b.Line.Text, " \t"))}
	for _, k := range b.Kids {
		s = s.Join(spanOf(k))
	}
	return s
}

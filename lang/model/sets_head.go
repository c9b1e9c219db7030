package model

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// setsHead reports a head that says "sets", and offers the same without it: sets of a line stand
// before its count, several lines with the same counts are a ladder, and lines in order need no head.
func (l *lowerer) setsHead(g *Group, b *syntax.Block, h *syntax.Head) {
	if h.Sets == (source.Span{}) {
		return
	}
	g.refused = true
	d := diag.Diagnostic{Rule: wordMisplaced, Severity: diag.Error, At: l.place(b.Line, h.Sets),
		Message: "sets is no head: how many sets there are stands before the count of their line",
		Help:    "write it on the line, such as 5 x 3 push press, rest 2:00"}
	if l.swaps == nil {
		e := setsEdit{l: l, g: g, b: b, h: h, line: b.Line, src: l.file.Src}
		d.Fixes = e.fixes()
	}
	*l.diags = append(*l.diags, d)
}

// A setsEdit writes a head that says "sets", and the block under it, without.
type setsEdit struct {
	l    *lowerer
	g    *Group
	b    *syntax.Block
	h    *syntax.Head
	line *syntax.Line
	src  *source.File
}

func (e *setsEdit) fixes() []diag.Fix {
	items, rest, plain := e.block()
	r := e.h.Repeat
	switch {
	case r == nil:
		if edits, ok := e.inOrder(items, rest, plain); ok {
			return []diag.Fix{{Title: "take sets out", Edits: edits}}
		}
	case plain && len(items) == 1 && len(e.h.Clauses) == 0 && r.Until == nil && e.g.Repeat.Series != nil && !e.g.Repeat.Series.Open:
		if edits, ok := e.ofLine(items[0], rest); ok {
			return []diag.Fix{{Title: "write the sets on the line", Edits: edits}}
		}
	}
	if r == nil {
		return nil
	}
	edits := []diag.Edit{{At: e.src.At(e.line.Span(e.h.Sets)), New: "ladder"}}
	if rest != nil {
		s := rest.Line.Stmt.(*syntax.Rest)
		edits = append(edits, diag.Edit{At: restEnd(e.l.place(rest.Line, s.Span)), New: " between rungs"})
	}
	return []diag.Fix{{Title: "write ladder", Edits: edits}}
}

// block is what stands under the head: its lines of work, and the plain rest behind them. Plain says
// that there is nothing else.
func (e *setsEdit) block() (items []*syntax.Block, rest *syntax.Block, plain bool) {
	if _, item := e.h.Inline.(*syntax.Item); item {
		return []*syntax.Block{e.b}, nil, len(e.b.Kids) == 0
	}
	plain = e.h.Inline == nil
	for _, k := range e.b.Kids {
		switch s := k.Line.Stmt.(type) {
		case *syntax.Item:
			plain = plain && rest == nil && len(k.Kids) == 0
			items = append(items, k)
		case *syntax.Rest:
			plain = plain && rest == nil && s.Between.Text == "" && !s.After && s.Bound == "" && s.Inline == nil && k.Line.Note == nil && k.Line.Comment == nil
			rest = k
		default:
			plain = false
		}
	}
	if rest != nil && rest != e.b.Kids[len(e.b.Kids)-1] {
		return items, nil, false
	}
	return items, rest, plain
}

// ofLine writes the sets of the head's series on the one line under it.
func (e *setsEdit) ofLine(b, rest *syntax.Block) ([]diag.Edit, bool) {
	it, ok := b.Line.Stmt.(*syntax.Item)
	if b == e.b {
		it, ok = e.h.Inline.(*syntax.Item)
	}
	if !ok || it.Dose != nil || slices.ContainsFunc(it.Clauses, func(c syntax.Clause) bool { return c.Kind == syntax.RestOf }) {
		return nil, false
	}
	series := e.g.Repeat.Series
	count := e.src.At(e.line.Span(e.h.Repeat.Count.Span)).Text()
	if !slices.ContainsFunc(series.Terms, func(t []float64) bool { return !slices.Equal(t, series.Terms[0]) }) {
		count, _, _ = strings.Cut(count, "-")
	}
	if u := e.h.Repeat.Unit; u != "" {
		count += " " + u
	}
	text := count + " "
	if n := len(series.Terms); n > 1 {
		text = fmt.Sprintf("%d x %s ", n, count)
	}
	at := b.Line.Span(it.Span)
	var edits []diag.Edit
	if b == e.b {
		edits = append(edits, diag.Edit{At: e.src.At(source.Span{Start: e.line.Span(e.h.Sets).Start, End: at.Start}), New: e.modeBefore() + text})
	} else {
		edits = append(e.withoutHead(rest), diag.Edit{At: e.src.At(source.Span{Start: at.Start, End: at.Start}), New: text})
	}
	if rest != nil && len(series.Terms) == 1 { // nothing comes after the one set
		edits = append(edits, e.withoutLine(rest.Line))
	} else if rest != nil {
		s := rest.Line.Stmt.(*syntax.Rest)
		edits = append(edits, diag.Edit{At: e.src.At(source.Span{Start: at.End, End: at.End}), New: ", " + e.l.place(rest.Line, s.Span).Text()},
			e.withoutLine(rest.Line))
	}
	return edits, true
}

// modeBefore is what stands before a line of work that keeps its place behind the head's colon.
func (e *setsEdit) modeBefore() string {
	switch {
	case e.h.Mode != nil:
		return e.src.At(e.line.Span(e.h.Mode.Span)).Text() + ": "
	case e.h.Part != "":
		return ": "
	}
	return ""
}

// inOrder takes the word away; a rest that stood between all lines is written between them.
func (e *setsEdit) inOrder(items []*syntax.Block, rest *syntax.Block, plain bool) ([]diag.Edit, bool) {
	if rest != nil && !plain || e.h.Inline != nil {
		return nil, false
	}
	if len(e.h.Clauses) > 0 && e.h.Mode == nil && e.h.Part == "" {
		return nil, false // what is left need not be a head
	}
	edits := e.withoutHead(rest)
	if rest != nil {
		s := rest.Line.Stmt.(*syntax.Rest)
		depth := items[0].Line.Depth
		if e.gone() {
			depth--
		}
		for _, k := range items[:len(items)-1] {
			edits = append(edits, lineBehind(e.src, blockSpan(k).End, depth, e.l.place(rest.Line, s.Span).Text()))
		}
		edits = append(edits, e.withoutLine(rest.Line))
	}
	return edits, true
}

// gone says whether nothing is left of the head without its sets.
func (e *setsEdit) gone() bool { return e.h.Part == "" && e.h.Mode == nil && len(e.h.Clauses) == 0 }

// withoutHead takes the sets out of the head. Where nothing is left of it, what stands under it moves
// to its place, but for a line that goes too.
func (e *setsEdit) withoutHead(gone *syntax.Block) []diag.Edit {
	if !e.gone() {
		at := e.line.Span(e.h.Sets)
		if e.h.Repeat != nil {
			at.End = e.line.Span(e.h.Repeat.Span).End
		}
		text := e.src.Text
		for at.End < len(text) && (text[at.End] == ' ' || text[at.End] == ',') {
			at.End++
		}
		if at.End == len(text) || text[at.End] == '\n' || text[at.End] == '\r' {
			at.Start = len(strings.TrimRight(text[:at.Start], " "))
		}
		return []diag.Edit{{At: e.src.At(at)}}
	}
	edits := []diag.Edit{e.withoutLine(e.line)}
	var dedent func(bs []*syntax.Block)
	dedent = func(bs []*syntax.Block) {
		for _, b := range bs {
			at := e.src.At(source.Span{Start: max(0, b.Line.Body-2), End: b.Line.Body})
			if at.Text() == "  " && b != gone {
				edits = append(edits, diag.Edit{At: at})
			}
			dedent(b.Kids)
		}
	}
	dedent(e.b.Kids)
	return edits
}

// withoutLine takes a whole line out.
func (e *setsEdit) withoutLine(line *syntax.Line) diag.Edit {
	text := e.src.Text
	start := strings.LastIndexByte(text[:line.Body], '\n') // with the break before it
	end := line.Body + line.Len
	return diag.Edit{At: e.src.At(source.Span{Start: max(start, 0), End: end})}
}

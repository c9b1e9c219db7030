package lsp

import (
	"slices"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// selection grows a selection from each position outwards: the word, the name or the
// number with its unit, the clause, the side of a swap, the line without its note and with
// it, the lines under it, what is around those, the session and the file.
func (v *view) selection(p protocol.SelectionRangeParams) ([]protocol.SelectionRange, error) {
	out := make([]protocol.SelectionRange, len(p.Positions))
	for i, at := range p.Positions {
		spans := v.enclosingSpans(v.offset(at))
		var outer *protocol.SelectionRange
		for _, s := range slices.Backward(spans) {
			outer = &protocol.SelectionRange{Range: v.rangeOf(v.file.Src.At(s)), Parent: outer}
		}
		out[i] = *outer
	}
	return out, nil
}

// enclosingSpans are the spans around an offset, each inside the next.
func (v *view) enclosingSpans(off int) []source.Span {
	src := v.file.Src
	c := spanCollector{src: src, off: off}
	c.add(source.Span{Start: 0, End: len(src.Text)})
	for i, b := range v.file.Syntax().Roots {
		c.block(b)
		if e, ok := b.Line.Stmt.(*syntax.Entry); ok && e.Kind == "session" {
			all := spanOf(b)
			for _, next := range v.file.Syntax().Roots[i+1:] {
				if _, entry := next.Line.Stmt.(*syntax.Entry); entry {
					break
				}
				all = all.Join(spanOf(next))
			}
			c.add(all)
		}
	}
	if i := src.LineAt(off); i < len(v.file.Syntax().Lines) {
		c.line(v.file.Syntax().Lines[i])
		c.add(src.Line(i))
	}
	for _, r := range v.file.Refs() {
		c.add(r.At.Span)
	}
	return c.nested()
}

// spanCollector gathers spans that an offset is in.
type spanCollector struct {
	src  *source.File
	off  int
	list []source.Span
}

func (c *spanCollector) add(s source.Span) {
	if s.Contains(c.off) {
		c.list = append(c.list, s)
	}
}

// nested is what was gathered, the shortest first, without what cuts across.
func (c *spanCollector) nested() []source.Span {
	slices.SortStableFunc(c.list, func(a, b source.Span) int { return a.Len() - b.Len() })
	var out []source.Span
	for _, s := range c.list {
		if s.Len() == 0 && len(c.list) > 1 {
			continue
		}
		if n := len(out); n == 0 || out[n-1] != s && s.Start <= out[n-1].Start && out[n-1].End <= s.End {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		out = c.list[:1] // an empty text
	}
	return out
}

// block adds a line with what stands under it, its indent included, and so on in it.
func (c *spanCollector) block(b *syntax.Block) {
	s := spanOf(b)
	s.Start = c.src.Line(c.src.LineAt(s.Start)).Start
	if !s.Contains(c.off) {
		return
	}
	c.add(s)
	for _, k := range b.Kids {
		c.block(k)
	}
}

// line adds what a line is made of.
func (c *spanCollector) line(l *syntax.Line) {
	w := lineSpans{spanCollector: c, line: l}
	c.add(source.Span{Start: l.Body, End: l.Body + len(l.Text)})
	for _, t := range l.Toks {
		w.add(t.Span)
	}
	for _, t := range []*syntax.Text{l.Note, l.Comment} {
		if t != nil {
			w.add(t.Span)
			w.words(t)
		}
	}
	w.stmt(l.Stmt)
}

// lineSpans adds spans of one line.
type lineSpans struct {
	*spanCollector
	line *syntax.Line
}

func (w *lineSpans) add(s source.Span) { w.spanCollector.add(w.line.Span(s)) }

// words adds the words of free text.
func (w *lineSpans) words(t *syntax.Text) {
	text := w.line.Text[t.Start:t.End]
	start := -1
	for i, r := range text + " " {
		switch {
		case r != ' ' && start < 0:
			start = i
		case r == ' ' && start >= 0:
			w.add(source.Span{Start: t.Start + start, End: t.Start + i})
			start = -1
		}
	}
}

func (w *lineSpans) stmt(s syntax.Stmt) {
	if s == nil {
		return
	}
	w.add(s.Extent())
	switch s := s.(type) {
	case *syntax.Head:
		if s.Repeat != nil {
			w.add(s.Repeat.Span)
		}
		if s.Mode != nil {
			w.add(s.Mode.Span)
		}
		w.clauses(s.Clauses)
		w.stmt(s.Inline)
	case *syntax.Lead:
		w.stmt(s.Inline)
	case *syntax.Item:
		w.item(s)
	case *syntax.Rest:
		w.quantity(s.Amount)
		w.stmt(s.Inline)
	case *syntax.Swap:
		w.stmt(s.From)
		w.stmt(s.To)
	case *syntax.LoadSide:
		w.loads(s.Loads)
	case *syntax.Property:
		w.quantity(s.Quantity)
		for _, it := range s.Items {
			w.add(it.Span)
			w.item(it)
		}
		w.loads(s.Loads)
	}
}

func (w *lineSpans) item(it *syntax.Item) {
	if it.Dose != nil {
		w.add(it.Dose.Span)
	}
	for _, m := range it.Moves {
		w.add(m.Span)
	}
	w.loads(it.Loads)
	w.clauses(it.Clauses)
}

func (w *lineSpans) loads(ls []syntax.Load) {
	for _, l := range ls {
		w.add(l.Span)
		w.quantity(l.Amount)
	}
}

func (w *lineSpans) clauses(cs []syntax.Clause) {
	for _, c := range cs {
		w.add(c.Span)
		w.quantity(c.Amount)
		w.loads(c.Loads)
	}
}

func (w *lineSpans) quantity(q *syntax.Quantity) {
	if q != nil {
		w.add(q.Span)
	}
}

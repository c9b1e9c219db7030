package model

import (
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// How hard work is meant to be is a line under a head, or stands behind the @ of a line of work. As a
// clause, which boards have too, it is read and refused, with a fix that writes it in its place.

const effortNoClause = "how hard it is meant to be is no clause"

// effortOnHead reports an effort that is a clause of a head.
func (l *lowerer) effortOnHead(b *syntax.Block, h *syntax.Head, c *syntax.Clause) {
	at := l.place(b.Line, c.Span)
	if c.Kind != syntax.EffortOf || l.swaps != nil || at.File != l.file.Src {
		return
	}
	text := at.Text()
	help, fix := "write "+text+" on a line under the head", &diag.Fix{Title: "write " + text + " on a line under the head", Edits: []diag.Edit{clauseOut(at)}}
	switch in := h.Inline.(type) {
	case nil:
		end := b.Line.Body + b.Line.Len
		fix.Edits = append(fix.Edits, lineBehind(l.file.Src, end, b.Line.Depth+1, text))
	case *syntax.Item:
		help = "write @ " + text + " behind the line of work that it is for"
		end := len(strings.TrimRight(l.file.Src.Text[:beforeClauses(b.Line, in)], " ,"))
		fix.Title = "write @ " + text + " behind the line of work"
		fix.Edits = append(fix.Edits, diag.Edit{At: l.file.Src.At(source.Span{Start: end, End: end}), New: " @ " + text})
	default:
		fix = nil
	}
	l.report(wordMisplaced, at, effortNoClause, help, fix)
}

// effortBehind reports an effort that is a clause of a line of work. It is read as the load that it
// has to be written as.
func (l *lowerer) effortBehind(w *Work, line *syntax.Line, it *syntax.Item) {
	i := slices.IndexFunc(it.Clauses, func(c syntax.Clause) bool { return c.Kind == syntax.EffortOf })
	if i < 0 {
		return
	}
	at := l.place(line, it.Clauses[i].Span)
	text := "@ " + at.Text()
	if j := slices.IndexFunc(w.Loads, func(ld Load) bool { return ld.says() == "how hard it is" && ld.At != at }); j >= 0 {
		said := w.Loads[j].At
		l.reportRelated(wordMisplaced, at, effortNoClause+", and the line says it already", "keep one of the two, behind an @", said)
		d := &(*l.diags)[len(*l.diags)-1]
		d.Fixes = []diag.Fix{{Title: "keep " + said.Text(), Edits: []diag.Edit{clauseOut(at)}},
			{Title: "write " + text, Edits: []diag.Edit{{At: said, New: text}, clauseOut(at)}}}
		return
	}
	end := len(strings.TrimRight(l.file.Src.Text[:beforeClauses(line, it)], " ,"))
	edits := []diag.Edit{{At: l.file.Src.At(source.Span{Start: end, End: end}), New: " " + text}, clauseOut(at)}
	if edits[1].At.Start == end {
		edits = []diag.Edit{{At: edits[1].At, New: " " + text}}
	}
	l.report(wordMisplaced, at, effortNoClause, "write "+text+" behind the movement", &diag.Fix{Title: "write " + text, Edits: edits})
}

// effortSwap reports a swap of efforts that are clauses, and says whether it is one.
func (l *lowerer) effortSwap(line *syntax.Line, s *syntax.Swap) bool {
	effort := func(side syntax.Stmt) *syntax.Clause {
		switch st := side.(type) {
		case *syntax.ClauseSide:
			if st.Clause.Kind == syntax.EffortOf {
				return &st.Clause
			}
		case *syntax.Head:
			if i := slices.IndexFunc(st.Clauses, func(c syntax.Clause) bool { return c.Kind == syntax.EffortOf }); i >= 0 {
				return &st.Clauses[i]
			}
		}
		return nil
	}
	from, to := effort(s.From), effort(s.To)
	if from == nil && to == nil {
		return false
	}
	at, text := l.place(line, s.Span), "effort 80%"
	var fix *diag.Fix
	if _, alone := s.To.(*syntax.ClauseSide); to != nil && alone {
		text = l.place(line, to.Span).Text()
		own := text
		if s.Part != "" {
			own = strings.TrimSpace(s.Part+" "+s.Letter.Text) + ":\n" + strings.Repeat("  ", line.Depth+1) + text
		}
		fix = &diag.Fix{Title: "write " + text + " on a line of its own", Edits: []diag.Edit{{At: at, New: own}}}
	}
	l.report(wordMisplaced, at, effortNoClause, "how hard a part of this version is stands on a line of its own: part A: and under it "+text, fix)
	return true
}

// beforeClauses is where in the file the clauses of a line of work start, or its end where it has none.
func beforeClauses(line *syntax.Line, it *syntax.Item) int {
	if len(it.Clauses) == 0 {
		return line.Span(it.Span).End
	}
	return line.Span(it.Clauses[0].Span).Start
}

// clauseOut takes a clause out of its line, with the comma before it.
func clauseOut(at source.Place) diag.Edit {
	start := len(strings.TrimRight(at.File.Text[:at.Start], " ,"))
	return diag.Edit{At: at.File.At(source.Span{Start: start, End: at.End})}
}

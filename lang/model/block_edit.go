package model

import (
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// A blockEditor makes the edits that move lines and the blocks under them.
type blockEditor struct{ src *source.File }

func (e blockEditor) at(start, end int) source.Place {
	return e.src.At(source.Span{Start: start, End: end})
}

// lines are the whole lines that a span covers, line ends included.
func (e blockEditor) lines(s source.Span) source.Span {
	first, last := e.src.LineAt(s.Start), e.src.LineAt(s.End)
	out := source.Span{Start: e.src.Line(first).Start, End: len(e.src.Text)}
	if last+1 < e.src.Lines() {
		out.End = e.src.Line(last + 1).Start
	}
	return out
}

// indented is a text of whole lines with each two blanks deeper, or less deep.
func indented(text string, deeper bool) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		switch {
		case strings.TrimSpace(line) == "":
			b.WriteString(line)
		case deeper:
			b.WriteString("  " + line)
		default:
			b.WriteString(strings.TrimPrefix(line, "  "))
		}
	}
	if text != "" && !strings.HasSuffix(text, "\n") {
		b.WriteByte('\n')
	}
	return b.String()
}

// unlabelled takes out the label of a group, whose colon ends at an offset. What stood under it stands
// in its place; a note behind the label stays as a line of its own.
func (e blockEditor) unlabelled(g *Group, colon int) []diag.Edit {
	block := e.lines(g.Block)
	head := e.lines(source.Span{Start: g.At.Start, End: g.At.Start})
	rest := strings.TrimLeft(e.src.Text[colon:head.End], " \t")
	own := diag.Edit{At: e.at(g.At.Start, head.End-len(rest))}
	if strings.TrimSpace(rest) == "" {
		own.At = e.at(head.Start, head.End)
	}
	if head.End >= block.End || g.At.End > colon {
		return []diag.Edit{own}
	}
	return []diag.Edit{own, {At: e.at(head.End, block.End), New: indented(e.src.Text[head.End:block.End], false)}}
}

// moveOut moves a step of a group that comes round before that group, or behind it. Where the group is
// a section, which has nothing around it, the section keeps its clauses, and what comes round becomes a
// group in it. It is nil where that cannot be done by moving lines.
func (e blockEditor) moveOut(round, step *Group, before bool) []diag.Edit {
	from := e.lines(step.Block)
	whole := e.lines(round.Block)
	head := e.lines(source.Span{Start: round.At.Start, End: round.At.Start})
	if from.Start < head.End {
		return nil // it stands behind the head's colon
	}
	moved := e.src.Text[from.Start:from.End]
	if !round.IsSection() {
		edits := []diag.Edit{{At: e.at(from.Start, from.End)}}
		at := head.Start
		if !before {
			at = whole.End
		}
		if at == from.End {
			return []diag.Edit{{At: e.at(from.Start, from.End), New: indented(moved, false)}}
		}
		return append(edits, diag.Edit{At: e.at(at, at), New: indented(moved, false)})
	}
	repeat := e.repeatOf(round)
	if repeat.Len() == 0 {
		return nil
	}
	var b strings.Builder
	rest := e.src.Text[head.End:from.Start] + e.src.Text[from.End:whole.End]
	var inner, outer string
	for line := range strings.Lines(rest) {
		first, _, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch first {
		case "score", "total", "aim", "effort", "allow":
			outer += line
		default:
			inner += line
		}
	}
	if before {
		b.WriteString(moved)
	}
	b.WriteString("  " + e.src.Text[repeat.Start:repeat.End] + "\n")
	b.WriteString(indented(inner, true))
	if !before {
		b.WriteString(moved)
		if !strings.HasSuffix(moved, "\n") {
			b.WriteByte('\n')
		}
	}
	b.WriteString(outer)
	cut := repeat
	for cut.Start > 0 && e.src.Text[cut.Start-1] == ' ' {
		cut.Start--
	}
	return []diag.Edit{{At: e.at(cut.Start, cut.End)}, {At: e.at(head.End, whole.End), New: b.String()}}
}

// repeatOf is the text of a section's repeat, or of its amrap; empty where there is neither, or where
// it cannot be told.
func (e blockEditor) repeatOf(g *Group) source.Span {
	if g.Repeat.Kind != Once {
		return g.Repeat.At.Span
	}
	return source.Span{}
}

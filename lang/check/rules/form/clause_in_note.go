package form

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var ClauseInNote = check.Rule{Name: "clause-in-note", Family: "form", Severity: diag.Warning,
	Summary: "a rest, a clause, work or another condition in the note of an end, a load, a condition or a score, where it is only text",
	File: func(p *check.Pass, f *model.File) {
		var visit func(bs []*syntax.Block)
		visit = func(bs []*syntax.Block) {
			for _, b := range bs {
				clauseInNote(p, b)
				visit(b.Kids)
			}
		}
		visit(f.Syntax.Roots)
	}}

func clauseInNote(p *check.Pass, b *syntax.Block) {
	in := b.Line.ReadInNote()
	if in == nil || in.Work != nil && slices.ContainsFunc(in.Work.Moves, func(m syntax.Move) bool {
		found, claims := p.Env.Book.Lookup(m.Name.Text)
		return found == nil && len(claims) == 0
	}) {
		return
	}
	d := diag.Diagnostic{At: p.File.Syntax.Src.At(b.Line.Span(in.Span)), Label: "text, because it stands behind a >",
		Message: fmt.Sprintf("%q stands in the note behind %s, which takes the rest of the line, so it is not read", in.Text, in.Behind)}
	switch in.Kind {
	case syntax.InNoteNote:
		d.Help = "a line has one note: write the condition above it, if > You can, or one of the two on a line of its own"
	case syntax.InNoteWork:
		d.Help = "write it on a line of its own; as text, end it with a full stop"
	case syntax.InNoteClause:
		d.Help = "write it before " + in.Behind + ", or a rest on a line of its own; as text, end it with a full stop"
	}
	if len(in.Lines) == 1 || in.Lines != nil && len(b.Kids) == 0 {
		title := "write " + in.Lines[0]
		if len(in.Lines) > 1 {
			title = "write " + strings.Join(strings.Fields(strings.Join(in.Lines, " / ")), " ") + ", each on a line of its own"
		}
		body := source.Span{Start: 0, End: len(strings.TrimRight(b.Line.Text, " \t\r"))}
		d.Fixes = []diag.Fix{{Title: title, Edits: []diag.Edit{{At: p.File.Syntax.Src.At(b.Line.Span(body)),
			New: strings.Join(in.Lines, "\n"+strings.Repeat("  ", b.Line.Depth))}}}}
	}
	p.Report(d, check.OfWords)
}

package warmup

import (
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var LengthMissing = check.Rule{Name: "length-missing", Family: "warm-up", Severity: diag.Suggestion,
	Summary: "a workspace in which neither the house nor any session says how long the hour is",
	File: func(p *check.Pass, f *model.File) {
		if p.Workspace.LacksLength() != f.Syntax.Src.Name {
			return
		}
		d := diag.Diagnostic{At: whereLengthLacks(f.Syntax),
			Message: "neither the house nor any session says how long the hour is, so nothing asks for a warm-up or whether all fits",
			Help:    "write it among the first lines of the session, such as length 60:00, or of a house, for all sessions"}
		if p.Env.House.At.File == f.Syntax.Src {
			d.Help = "write it among the lines of the house, such as length 60:00; a session that is longer or shorter says its own"
		}
		p.Report(d)
	}}

// whereLengthLacks is the name of the file's house, or of its first session.
func whereLengthLacks(f *syntax.File) source.Place {
	var first *syntax.Block
	for _, b := range f.Roots {
		e, ok := b.Line.Stmt.(*syntax.Entry)
		switch {
		case !ok:
		case e.Kind == "house":
			return f.Src.At(b.Line.Span(e.Name.Span))
		case e.Kind == "session" && first == nil:
			first = b
		}
	}
	return f.Src.At(first.Line.Span(first.Line.Stmt.(*syntax.Entry).Name.Span))
}

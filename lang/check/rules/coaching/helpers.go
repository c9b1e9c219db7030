// Package coaching has the rules about what whoever briefs a session can say: standards, cues, cautions.
package coaching

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// eachOwnMovement calls f with the movements that a file adds to the book or changes, as they
// are with what the book has of them. A duty, and one whose lines draw an error, is left out.
func eachOwnMovement(p *check.Pass, f *model.File, do func(m *book.Movement, block *syntax.Block)) {
	for _, b := range f.Syntax.Roots {
		e, ok := b.Line.Stmt.(*syntax.Entry)
		if !ok || e.Kind != "movement" || b.Line.Bad {
			continue
		}
		scope := source.Place{File: f.Syntax.Src, Span: source.Span{Start: b.Line.Body, End: b.Line.Body + b.Line.Len}}
		for _, k := range b.Kids {
			scope.End = max(scope.End, k.Line.Body+k.Line.Len)
		}
		m, _ := p.Env.Book.Lookup(e.Name.Text)
		if m == nil || m.At.File != f.Syntax.Src || len(m.Trains) == 0 || !p.NoReadErrorsIn(scope) {
			continue
		}
		do(m, b)
	}
}

// unsaid reports a movement that lacks what is said of one, such as its standard.
func unsaid(p *check.Pass, m *book.Movement, what, why, example string) {
	p.Report(diag.Diagnostic{At: m.At, Message: "it is not said of the " + m.Name + " " + what, Label: why,
		Help: "add a line " + example})
}

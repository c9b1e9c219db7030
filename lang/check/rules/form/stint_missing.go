package form

import (
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var StintMissing = check.Rule{Name: "stint-missing", Family: "form", Severity: diag.Suggestion,
	Summary: "a house file that does not say which stint its folder is written in",
	File: func(p *check.Pass, f *model.File) {
		for _, b := range f.Syntax.Roots {
			if e, ok := b.Line.Stmt.(*syntax.Entry); ok && e.Kind == "stint" {
				return
			}
		}
		for _, b := range f.Syntax.Roots {
			e, ok := b.Line.Stmt.(*syntax.Entry)
			if !ok || e.Kind != "house" {
				continue
			}
			at := f.Syntax.Src.At(source.Span{})
			p.Report(diag.Diagnostic{At: f.Syntax.Src.At(b.Line.Span(e.Name.Span)),
				Message: "the house does not say which stint its folder is written in",
				Help:    "write stint 1 on the first line: a later tool then knows how to read it",
				Fixes: []diag.Fix{{Title: "write stint 1 on the first line", Safe: true,
					Edits: []diag.Edit{{At: at, New: "stint 1\n\n"}}}}})
			return
		}
	}}

package form

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var NameSpelling = check.Rule{Name: "name-spelling", Family: "form", Severity: diag.Suggestion,
	Summary: "a movement that is written otherwise than the book has it",
	Session: func(p *check.Pass, s *model.Session) {
		for w := range s.Lines(model.Everything) {
			for _, m := range w.Moves {
				if m.Movement == nil || m.At.File != p.File.Syntax.Src {
					continue
				}
				if text := strings.Join(strings.Fields(m.At.Text()), " "); text == m.Name || text == m.Movement.At.Text() {
					continue
				}
				// Another spelling is only that; another name, such as pull-up, may have been
				// meant more widely than the movement that it leads to.
				safe, help := m.Movement.Called(m.At.Text()),
					"one name for one thing is easy to find and to compare: write it so, or let stint check --fix do it"
				if !safe {
					help = "where that is what you mean, write it so; it is easier to find and to compare"
				}
				p.Report(diag.Diagnostic{At: m.At, Message: fmt.Sprintf("the book calls this %s", m.Name), Help: help,
					Fixes: []diag.Fix{{Title: "write " + m.Name, Safe: safe,
						Edits: []diag.Edit{{At: m.At, New: m.Name}}}}}, check.OfWords)
			}
		}
	}}

package check

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

var standardMissing = Rule{Name: "standard-missing", Family: "coaching", Severity: diag.Suggestion,
	Summary: "a movement of the workspace's own of which it is not said what counts",
	file: func(p *pass, f *model.File) {
		p.eachOwnMovement(f, func(m *book.Movement, _ *syntax.Block) {
			if len(m.Standard) == 0 {
				p.unsaid(m, "what makes a repetition count", "no standard here, and none in the book", "like standard > Hips below the knees, and a full stand at the top.")
			}
		})
	}}

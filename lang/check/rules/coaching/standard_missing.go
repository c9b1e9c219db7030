package coaching

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

var StandardMissing = check.Rule{Name: "standard-missing", Family: "coaching", Severity: diag.Suggestion,
	Summary: "a movement of the workspace's own of which it is not said what counts",
	File: func(p *check.Pass, f *model.File) {
		eachOwnMovement(p, f, func(m *book.Movement, _ *syntax.Block) {
			if len(m.Standard) == 0 {
				unsaid(p, m, "what makes a repetition count", "no standard here, and none in the book",
					"like standard > Hips below the knees, and a full stand at the top.")
			}
		})
	}}

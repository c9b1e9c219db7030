package coaching

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

var CueMissing = check.Rule{Name: "cue-missing", Family: "coaching", Severity: diag.Suggestion,
	Summary: "a movement of the workspace's own that comes without a cue",
	File: func(p *check.Pass, f *model.File) {
		eachOwnMovement(p, f, func(m *book.Movement, _ *syntax.Block) {
			if len(m.Cues) == 0 {
				unsaid(p, m, "what to think of while doing it", "no cue here, and none in the book",
					"like cue > Push the floor away.")
			}
		})
	}}

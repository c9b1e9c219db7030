package check

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

var cueMissing = Rule{Name: "cue-missing", Family: "coaching", Severity: diag.Suggestion,
	Summary: "a movement of the workspace's own that comes without a cue",
	file: func(p *pass, f *model.File) {
		p.eachOwnMovement(f, func(m *book.Movement, _ *syntax.Block) {
			if len(m.Cues) == 0 {
				p.unsaid(m, "what to think of while doing it", "no cue here, and none in the book", "like cue > Push the floor away.")
			}
		})
	}}

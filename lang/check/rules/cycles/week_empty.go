package cycles

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var WeekEmpty = check.Rule{Name: "week-empty", Family: "cycle", Severity: diag.Warning,
	Summary: "a week without a day, in a cycle that has days",
	Cycle: func(p *check.Pass, c *model.Cycle) {
		if !slices.ContainsFunc(c.Plan, func(w *model.Week) bool { return len(w.Days) > 0 }) {
			return // it has only been begun
		}
		for _, w := range c.Plan {
			if len(w.Days) == 0 && p.NoReadErrorsIn(p.File.Syntax.Src.At(w.Block)) {
				p.Report(diag.Diagnostic{At: w.At, Message: fmt.Sprintf("week %d has no days", w.Number),
					Label: "nothing is planned",
					Help:  "write its days, one a line, such as mon Bowline; a free week has at least a mon rest"},
					check.OncePerPlace)
			}
		}
	}}

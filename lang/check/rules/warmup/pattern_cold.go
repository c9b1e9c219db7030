package warmup

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var PatternCold = check.Rule{Name: patternColdName, Family: "warm-up", Severity: diag.Warning,
	Summary:    "hard work in a way of moving that nothing lighter has touched before it",
	Thresholds: check.HardWork,
	Session: func(p *check.Pass, s *model.Session) {
		if !judgeable(p, s) || len(warmUps(s)) == 0 {
			return
		}
		said := foundAsWritten(p, func(s *model.Session) []book.Pattern {
			var out []book.Pattern
			if len(warmUps(s)) > 0 {
				for _, c := range coldPatternsIn(s, p.HardThresholds()) {
					out = append(out, c.pattern)
				}
			}
			return out
		})
		for _, c := range coldPatternsIn(s, p.HardThresholds()) {
			if slices.Contains(said, c.pattern) ||
				c.line.Share >= nearMaximum(p) && intensity.TestedLift(c.line.Work) == c.move.Movement {
				continue // as written, or by ramp-missing: the sets that it asks for touch the pattern
			}
			line := drillFor[c.pattern]
			d := diag.Diagnostic{At: c.move.At,
				Label:   fmt.Sprintf("this loads the %s, and nothing before it does so lightly", c.pattern),
				Message: fmt.Sprintf("the warm-up has no %s before the %s %s", c.pattern, c.move.Name, c.line.Why),
				Help: fmt.Sprintf("add a lighter %s to the warm-up, such as %s; lighter sets of the %s count too",
					c.pattern, line, c.move.Name)}
			for _, g := range warmUps(s) {
				if e, ok := addDrills(p, g, []string{line}); ok {
					d.Fixes = []diag.Fix{{Title: fmt.Sprintf("add %s to the warm-up", line), Edits: []diag.Edit{e}}}
					break
				}
			}
			p.Report(d)
		}
	}}

package check

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var patternCold = Rule{Name: "pattern-cold", Family: "warm-up", Severity: diag.Warning,
	Summary:  "hard work in a way of moving that nothing lighter has touched before it",
	Settings: hardSettings,
	session: func(p *pass, s *model.Session) {
		if !p.judged(s) || len(warmUps(s)) == 0 {
			return
		}
		said := drawnAsWritten(p, func(s *model.Session) []book.Pattern {
			var out []book.Pattern
			if len(warmUps(s)) > 0 {
				for _, c := range p.colds(s) {
					out = append(out, c.pattern)
				}
			}
			return out
		})
		for _, c := range p.colds(s) {
			if slices.Contains(said, c.pattern) || c.line.share >= nearMaximum && testedLift(c.line.work) == c.move.Movement {
				continue // as written, or by rampMissing: the sets that it asks for touch the pattern
			}
			line := drillFor[c.pattern]
			d := diag.Diagnostic{At: c.move.At, Label: fmt.Sprintf("this loads the %s, and nothing before it does so lightly", c.pattern),
				Message: fmt.Sprintf("the warm-up has no %s before the %s %s", c.pattern, c.move.Name, c.line.why),
				Help:    fmt.Sprintf("add a lighter %s to the warm-up, such as %s; lighter sets of the %s count too", c.pattern, line, c.move.Name)}
			for _, g := range warmUps(s) {
				if e, ok := p.addDrills(g, []string{line}); ok {
					d.Fixes = []diag.Fix{{Title: fmt.Sprintf("add %s to the warm-up", line), Edits: []diag.Edit{e}}}
					break
				}
			}
			p.report(d)
		}
	}}

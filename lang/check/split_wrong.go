package check

import (
	"fmt"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var splitWrong = Rule{Name: "split-wrong", Family: "arithmetic", Severity: diag.Error,
	Summary: "the pieces behind = do not add up to the count before it",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, _ []*program.Group) {
			w, ok := step.(*program.Work)
			if !ok || len(w.Terms) == 0 || w.Dose == nil {
				return
			}
			for tier := range max(w.Dose.Tiers(), 1) {
				sum := 0.0
				for _, t := range w.Terms {
					v, _, _ := t.Count.Value(0, 1, tier)
					sum += v
				}
				lo, hi, known := w.Dose.Value(0, 1, tier)
				if w.Dose.Form != "one" || !known {
					p.report(diag.Diagnostic{At: w.Dose.At, Message: "pieces are spelled out behind =, but the count is not one number",
						Help: "write one count, or leave the pieces out"})
					return
				}
				if sum < lo || sum > hi {
					p.report(diag.Diagnostic{At: w.At,
						Message: fmt.Sprintf("%s: %s are asked for, the pieces come to %s", movesOf(w), units.FormatNumber(lo), units.FormatNumber(sum)),
						Label:   "the pieces come to " + units.FormatNumber(sum),
						Help:    "mend the count or one of the pieces",
						Fixes:   []diag.Fix{{Title: "write the count as " + units.FormatNumber(sum), Edits: []diag.Edit{{At: w.Dose.At, New: units.FormatNumber(sum)}}}}})
					return
				}
			}
		})
	}}

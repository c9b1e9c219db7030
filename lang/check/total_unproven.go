package check

import (
	"fmt"

	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
)

var totalUnproven = Rule{Name: "total-unproven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a stated total that hangs on work without a settled count, so it cannot be proven",
	session: func(p *pass, s *program.Session) {
		eachTotal(p, s, func(t *program.Total, row clock.Row, what string) {
			for tier, sum := range row.Tiers {
				if _, hi, known := t.Amount.Value(0, 1, tier); known && sum.Open && hi >= sum.Lo {
					p.report(diag.Diagnostic{At: t.At, Label: "it comes to " + showTiers(row),
						Message: fmt.Sprintf("%s: how much there is hangs on work that the text does not count, so %s cannot be proven", of(t), showStated(t)),
						Help:    "leave it out of the total, or give the work a count (it is under max, as many rounds as possible, a window, or until)"})
					return
				}
			}
		})
	}}

package warmup

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var warmupLongMost = &check.Threshold{Name: "most", Unit: "s", Default: 1500,
	Source: "the upper ends of the minutes that later authors give the phases of " + check.RampSource +
		": 10, about 5, and 10"}

var WarmupLong = check.Rule{Name: "warmup-long", Family: "warm-up", Severity: diag.Suggestion,
	Summary:    "a warm-up that takes more time than its phases ask for",
	Thresholds: []*check.Threshold{warmupLongMost},
	Session: func(p *check.Pass, s *model.Session) {
		most := p.Value(warmupLongMost)
		long := func(v float64) bool { return v > most+estimate.Tolerance }
		warmUpTime(p, s, long, func(v float64, said string) diag.Diagnostic {
			return diag.Diagnostic{Message: fmt.Sprintf("the warm-up takes %s%s, more than the %s that its phases come to at most", units.FormatClock(v), said, units.FormatClock(most)),
				Help: "shorten it, or make a part of what is more than a warm-up"}
		})
	}}

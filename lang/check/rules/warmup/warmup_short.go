package warmup

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var warmupShortLeast = &check.Threshold{Name: "least", Unit: "s", Default: 300,
	Source: "American College of Sports Medicine, Guidelines for Exercise Testing and Prescription, 9th to 11th ed.: 5 to 10 minutes or more"}

var WarmupShort = check.Rule{Name: "warmup-short", Family: "warm-up", Severity: diag.Warning,
	Summary:    "a warm-up of less time than bodies take to warm",
	Thresholds: []*check.Threshold{warmupShortLeast},
	Session: func(p *check.Pass, s *model.Session) {
		least := p.Value(warmupShortLeast)
		short := func(v float64) bool { return v < least-estimate.Tolerance }
		warmUpTime(p, s, short, func(v float64, said string) diag.Diagnostic {
			return diag.Diagnostic{
				Message: fmt.Sprintf("the warm-up takes %s%s, and %s is the least that is advised",
					units.FormatClock(v), said, units.FormatClock(least)),
				Help: "give it more time; where the hour is short, take it from the middle and leave its ends"}
		})
	}}

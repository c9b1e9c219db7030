package cycles

import (
	"fmt"
	"math"

	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var weekMonotoneMost = &check.Threshold{Name: "most", Default: strength.MonotonyHigh,
	Source: "common practice, no source: over 2 is high, under 1.5 preferred; the measure is of " +
		strength.SessionSource}

var WeekMonotone = check.Rule{Name: "week-monotone", Family: "cycle", Severity: diag.Warning,
	Summary:    "a week whose days are all about as hard, so that none of them is a rest",
	Thresholds: []*check.Threshold{weekMonotoneMost},
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		for _, w := range c.Weeks {
			if w.Repeat || !w.Rated() || !w.Known() {
				continue
			}
			s := w.Sums()
			if s.Load.Load == 0 {
				continue
			}
			d := diag.Diagnostic{At: w.At,
				Label: fmt.Sprintf("over %s is high; it is the mean daily load over its standard deviation (%s of 7 days)",
					units.FormatNumber(p.Value(weekMonotoneMost)), strength.SDName),
				Help: "make the hard days harder and the easy ones easier, or leave a day free"}
			switch {
			case !s.Load.Varied:
				d.Message = fmt.Sprintf("every day of week %d has the same load, about %s: nothing varies, so its monotony is undefined", w.Number, rounded(s.Load.Mean))
			case s.Load.Monotony > p.Value(weekMonotoneMost):
				d.Message = fmt.Sprintf("the days of week %d are much alike: its monotony is about %s, at a load of about %s (strain about %s)",
					w.Number, units.FormatNumber(math.Round(100*s.Load.Monotony)/100), rounded(s.Load.Load),
					rounded(s.Load.Strain))
			default:
				continue
			}
			p.Report(d)
		}
	}}

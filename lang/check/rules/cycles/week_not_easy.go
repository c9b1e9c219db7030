package cycles

import (
	"fmt"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var weekNotEasyLess = &check.Threshold{Name: "less", Unit: "%", Default: 10,
	Source: "no source: less than so much nobody notices"}

var WeekNotEasy = check.Rule{Name: "week-not-easy", Family: "cycle", Severity: diag.Warning,
	Summary:    "a week that is called easy and is no easier than the week before it",
	Thresholds: []*check.Threshold{weekNotEasyLess},
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		for _, w := range c.Weeks {
			before := c.Before(w)
			if w.Repeat || w.Kind != cycle.Easy || before == nil || len(w.Days) == 0 || !w.Known() || !before.Known() {
				continue
			}
			if says, ok := easierWeek(p, before.Sums(), w.Sums()); !ok {
				p.Report(diag.Diagnostic{At: w.At,
					Message: fmt.Sprintf("week %d is called easy and is no easier than week %d: %s", w.Number,
						before.Number, says),
					Label:   fmt.Sprintf("easier is %s less or more", phrase.Percent(p.Value(weekNotEasyLess))),
					Help:    "take out rounds, sets or a day, or lower the efforts",
					Related: []diag.Related{{At: before.At, Message: "the week that it is held against"}}})
			}
		}
	}}

// easierWeek holds an easy week against another: by the load of their sessions where all are
// rated. Otherwise it is enough that one of repetitions, load moved, hard sets and time
// is less.
func easierWeek(p *check.Pass, was, now *cycle.WeekSums) (says string, ok bool) {
	less := func(a, b float64) bool { return b <= a*(1-p.Value(weekNotEasyLess)/100)+1e-9 && a > 0 }
	if was.Rated && now.Rated {
		return fmt.Sprintf("a session load of about %s after about %s", rounded(now.Load.Load), rounded(was.Load.Load)),
			less(was.Load.Load, now.Load.Load)
	}
	a, b := was.Of(cycle.Strength), now.Of(cycle.Strength)
	says = fmt.Sprintf("%s repetitions after %s, %s hard sets after %s, about %s min after about %s",
		about(b.Reps, b.Estimate), about(a.Reps, a.Estimate),
		rounded(now.HardSets), rounded(was.HardSets), rounded(now.Minutes.Min), rounded(was.Minutes.Min))
	moved := len(was.Moved.Without)+len(now.Moved.Without) == 0
	return says, less(a.Reps, b.Reps) || less(was.HardSets, now.HardSets) || less(was.Minutes.Min, now.Minutes.Min) ||
		moved && less(was.Moved.Kg, now.Moved.Kg)
}

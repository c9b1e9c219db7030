package cycles

import (
	"cmp"
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var DayTwice = check.Rule{Name: "day-twice", Family: "cycle", Severity: diag.Warning,
	Summary: "a weekday that stands twice in one week, with no times to tell its two sessions apart",
	Cycle: func(p *check.Pass, c *model.Cycle) {
		clock := map[*model.Day]string{} // of those that have a session: what it says of its start counts too
		for _, d := range plan(p, c).Days() {
			clock[d.Day] = d.Clock
		}
		for _, w := range c.Plan {
			seen := map[string]*model.Day{}
			for _, d := range w.Days {
				first := seen[d.Weekday]
				if first == nil {
					seen[d.Weekday] = d
					continue
				}
				one, other := cmp.Or(first.Time, clock[first]), cmp.Or(d.Time, clock[d])
				if one != "" && other != "" && one != other {
					continue
				}
				p.Report(diag.Diagnostic{At: d.At,
					Message: fmt.Sprintf("week %d has %s twice, for %s and %s", w.Number, dayNames[d.Weekday],
						onDay(first), onDay(d)),
					Label:   "the second time",
					Help:    fmt.Sprintf("write the day that is meant, or say when both are, such as %s 7:00 and %s 17:30", d.Weekday, d.Weekday),
					Related: []diag.Related{{At: first.At, Message: "the first time"}}}, check.OncePerPlace)
			}
		}
	}}

// onDay is what stands on a day.
func onDay(d *model.Day) string {
	if d.Rest {
		return "rest"
	}
	return d.Session
}

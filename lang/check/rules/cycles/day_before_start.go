package cycles

import (
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var DayBeforeStart = check.Rule{Name: "day-before-start", Family: "cycle", Severity: diag.Warning,
	Summary: "a day of a cycle's first week that lies before the day that the cycle starts on",
	Cycle: func(p *check.Pass, c *model.Cycle) {
		var earliest *model.Day
		for _, w := range c.Plan {
			for _, d := range w.Days {
				if d.Date != "" && d.Date < c.From && !d.Rest && (earliest == nil || d.Date < earliest.Date) {
					earliest = d
				}
			}
		}
		if earliest == nil {
			return
		}
		d := diag.Diagnostic{At: earliest.At,
			Message: fmt.Sprintf("%s is planned on %s, and %s starts on %s", earliest.Session, dayOf(earliest.Date),
				c.Name, dayOf(c.From)),
			Label: "before the first day",
			Help:  "write the first day behind from, or plan this on a later one"}
		if at, ok := dateAt(p, "cycle", "from", c.At); ok {
			d.Related = []diag.Related{{At: at, Message: "the first day"}}
			d.Fixes = []diag.Fix{{Title: "start on " + dayOf(earliest.Date),
				Edits: []diag.Edit{{At: at, New: earliest.Date}}}}
		}
		p.Report(d)
	}}

package cycles

import (
	"fmt"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var SessionTwice = check.Rule{Name: "session-twice", Family: "cycle", Severity: diag.Warning,
	Summary: "a session that is planned twice in one week, or in two cycles on one day",
	Cycle: func(p *check.Pass, of *model.Cycle) {
		for _, w := range plan(p, of).Weeks {
			seen := map[string]*cycle.DayAnalysis{}
			for _, d := range w.Days {
				if d.Of == nil {
					continue
				}
				k := book.Key(d.Session) + "\n" + book.Key(d.Version)
				if first := seen[k]; first != nil {
					p.Report(diag.Diagnostic{At: d.At,
						Message: fmt.Sprintf("%s is planned twice in week %d, on %s and on %s", d.Session, w.Number,
							dayNames[first.Weekday], dayNames[d.Weekday]),
						Label:   "the second time",
						Help:    "plan another session on one of the days, or the same one in another version",
						Related: []diag.Related{{At: first.At, Message: "the first time"}}}, check.OncePerPlace)
					continue
				}
				seen[k] = d
				twiceInCycles(p, of, d)
			}
		}
	}}

// twiceInCycles reports a day that a cycle before this one has for the session too.
func twiceInCycles(p *check.Pass, c *model.Cycle, d *cycle.DayAnalysis) {
	for _, o := range p.Workspace.Planned(d.Session) {
		if o.Cycle.At == c.At {
			return // cycles further on say it themselves
		}
		if d.Date == "" || o.Day.Date != d.Date || book.Key(o.Day.Version) != book.Key(d.Version) ||
			o.Day.Time != d.Time {
			continue
		}
		p.Report(diag.Diagnostic{At: d.At,
			Message: fmt.Sprintf("%s is planned on %s in the cycle %s too", d.Session, dayOf(d.Date), o.Cycle.Name),
			Label:   "in two cycles on one day",
			Help:    "keep one of them, or say the times if two classes do it",
			Related: []diag.Related{{At: o.Day.At, Message: "the other is here"}}}, check.OncePerPlace)
		return
	}
}

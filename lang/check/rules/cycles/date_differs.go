package cycles

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var DateDiffers = check.Rule{Name: "date-differs", Family: "cycle", Severity: diag.Error,
	Summary: "a session whose date is not the day that a cycle plans it on",
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version != nil || s.Date == "" {
			return
		}
		var dates []string
		var related []diag.Related
		for _, o := range p.Workspace.Planned(s.Name) {
			switch o.Day.Date {
			case s.Date:
				return
			case "": // its cycle does not say from when it is
				continue
			}
			dates = append(dates, o.Day.Date)
			related = append(related, diag.Related{At: o.Day.At, Message: "planned here, on " + dayOf(o.Day.Date)})
		}
		if len(dates) == 0 {
			return
		}
		at, ok := dateAt(p, "session", "date", s.At)
		if !ok {
			at = s.At
		}
		slices.Sort(dates)
		dates = slices.Compact(dates)
		var days []string
		for _, d := range dates {
			days = append(days, dayOf(d))
		}
		d := diag.Diagnostic{At: at,
			Message: fmt.Sprintf("%s has the date %s, and is planned on %s", s.Name, dayOf(s.Date),
				phrase.And(days...)),
			Label: "another day than the cycle's",
			Help:  "write the day of the cycle, or take the date out: the cycle has it", Related: related}
		if len(dates) == 1 && ok {
			d.Fixes = []diag.Fix{{Title: "write the date as " + dates[0], Edits: []diag.Edit{{At: at, New: dates[0]}}}}
		}
		p.Report(d)
	}}

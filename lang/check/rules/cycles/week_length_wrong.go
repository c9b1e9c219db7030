package cycles

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var WeekLengthWrong = check.Rule{Name: "week-length-wrong", Family: "cycle", Severity: diag.Error,
	Summary: "a week that states another length than its sessions come to",
	Cycle: func(p *check.Pass, c *model.Cycle) {
		for _, w := range c.Plan {
			if w.Length != nil {
				weekLength(p, w)
			}
		}
	}}

// weekLength holds the length that a week states against those of its sessions: what each
// states, else what the house does.
func weekLength(p *check.Pass, w *model.Week) {
	var lo, hi float64
	var pieces []string
	for _, d := range w.Days {
		if d.Rest {
			continue
		}
		s := p.Workspace.Session(d.Session)
		if s != nil {
			s = s.InVersion(d.Version)
		}
		if s == nil {
			return // reported with the day
		}
		length := s.Length
		if length == nil {
			length = p.Env.House.Length
		}
		least, most, known := length.Value(0, 1, 0)
		if !known {
			p.Report(diag.Diagnostic{At: w.Length.At, Label: "not proven", Related: []diag.Related{{At: d.At, Message: "its length is not stated"}},
				Message: fmt.Sprintf("neither %s nor the house says a length, so that of the week cannot be proven", s.Name),
				Help:    "write length 60:00 under the session's name, or in the house"}, check.OncePerPlace)
			return
		}
		lo, hi = lo+least, hi+most
		pieces = append(pieces, units.FormatClock(most))
	}
	least, most, known := w.Length.Value(0, 1, 0)
	if !known || units.Same(least, lo) && units.Same(most, hi) {
		return
	}
	comes := units.FormatClock(lo)
	if !units.Same(lo, hi) {
		comes += "-" + units.FormatClock(hi)
	}
	p.Report(diag.Diagnostic{At: w.Length.At, Label: strings.Join(pieces, " + "),
		Message: fmt.Sprintf("the week's sessions come to %s", comes),
		Help:    "mend the days or their lengths if one of them is wrong, or write length " + comes,
		Fixes:   []diag.Fix{{Title: "write " + comes, Edits: []diag.Edit{{At: w.Length.At, New: comes}}}}}, check.OncePerPlace)
}

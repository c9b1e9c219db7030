package arithmetic

import (
	"fmt"
	"math"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var MinutesUneven = check.Rule{Name: "minutes-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "an emom that is not a whole number of minutes, or a clock of no length",
	Session: func(p *check.Pass, s *model.Session) {
		for g := range s.Groups(model.Everything) {
			if w, ok := g.Repeat.Whole.One(); ok && w > 0 && math.Mod(w, 60) != 0 {
				p.Report(unevenEmom(g.Repeat.Whole, w))
				continue
			}
			clocks := []*model.Quantity{g.Repeat.Whole, g.Repeat.Interval, g.Repeat.On, g.Time, g.Cap, g.Lasts}
			for _, e := range g.Events {
				if strings.HasPrefix(string(e.Kind), string(model.AtEach)) {
					clocks = append(clocks, e.When)
				}
			}
			for _, q := range clocks {
				if v, ok := q.One(); ok && v <= 0 {
					p.Report(diag.Diagnostic{At: q.At, Message: "this clock has no length",
						Help: "write how long it is, such as 2:30"})
				}
			}
		}
	}}

func unevenEmom(q *model.Quantity, whole float64) diag.Diagnostic {
	n, left := math.Floor(whole/60), math.Mod(whole, 60)
	d := diag.Diagnostic{At: q.At, Label: fmt.Sprintf("%g starts and %s over", n, units.FormatClock(left)),
		Message: fmt.Sprintf("an emom starts every minute, and %s is no whole number of minutes",
			units.FormatClock(whole)),
		Help: fmt.Sprintf("write %s or %s, or say another interval: %s", units.FormatClock(60*n),
			units.FormatClock(60*n+60), interval(whole))}
	if n == 0 {
		d.Label, d.Help = "not one whole minute",
			"write 1:00 or more, or say another interval: every "+units.FormatClock(whole)+" x 8"
	}
	return d
}

// interval is a clock that fills so many seconds in whole intervals, where one in use does.
func interval(whole float64) string {
	for _, s := range []float64{90, 150, 75, 45, 30} { // common practice, no source
		if math.Mod(whole, s) == 0 && whole > s {
			return fmt.Sprintf("every %s x %g", units.FormatClock(s), whole/s)
		}
	}
	return "every 1:30 x 5"
}

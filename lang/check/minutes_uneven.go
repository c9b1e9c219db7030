package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var minutesUneven = Rule{Name: "minutes-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "an emom that is not a whole number of minutes, or a clock of no length",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, _ []*program.Group) {
			g, ok := step.(*program.Group)
			if !ok {
				return
			}
			if w, ok := g.Repeat.Whole.One(); ok && w > 0 && math.Mod(w, 60) != 0 {
				p.report(unevenEmom(g.Repeat.Whole, w))
				return
			}
			for _, q := range []*program.Quantity{g.Repeat.Whole, g.Repeat.Interval, g.Repeat.On, g.Time, g.Cap, g.Lasts} {
				if v, ok := q.One(); ok && v <= 0 {
					p.report(diag.Diagnostic{At: q.At, Message: "this clock has no length", Help: "write how long it is, such as 2:30"})
				}
			}
		})
	}}

func unevenEmom(q *program.Quantity, whole float64) diag.Diagnostic {
	n, left := math.Floor(whole/60), math.Mod(whole, 60)
	d := diag.Diagnostic{At: q.At, Label: fmt.Sprintf("%g starts and %s over", n, units.FormatClock(left)),
		Message: fmt.Sprintf("an emom starts every minute, and %s is no whole number of minutes", units.FormatClock(whole)),
		Help:    fmt.Sprintf("write %s or %s, or say another interval: every 1:30 x 5", units.FormatClock(60*n), units.FormatClock(60*n+60))}
	if n == 0 {
		d.Label, d.Help = "not one whole minute", "write 1:00 or more, or say another interval: every "+units.FormatClock(whole)+" x 8"
	}
	return d
}

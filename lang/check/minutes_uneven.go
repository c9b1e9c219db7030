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
			if w, ok := g.Repeat.Whole.One(); ok && (w < 60 || math.Mod(w, 60) != 0) {
				p.report(diag.Diagnostic{At: g.Repeat.Whole.At, Message: fmt.Sprintf("an emom starts every minute, and %s is no whole number of minutes", units.FormatClock(w)),
					Label: fmt.Sprintf("%g starts and %s over", math.Floor(w/60), units.FormatClock(math.Mod(w, 60))),
					Help:  "write whole minutes, or another interval: every 1:30 x 5"})
			}
			for _, q := range []*program.Quantity{g.Repeat.Interval, g.Repeat.On, g.Time, g.Cap, g.Lasts} {
				if v, ok := q.One(); ok && v <= 0 {
					p.report(diag.Diagnostic{At: q.At, Message: "this clock has no length", Help: "write how long it is, such as 2:30"})
				}
			}
			if v, ok := g.Repeat.Count.One(); ok && (v < 1 || !isWhole(v)) && g.Repeat.Whole == nil {
				p.report(diag.Diagnostic{At: g.Repeat.Count.At, Message: fmt.Sprintf("nothing comes round %s times", units.FormatNumber(v)), Help: "write a whole number, 1 or more"})
			}
		})
	}}

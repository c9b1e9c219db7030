package clock

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var IntervalOverfull = check.Rule{Name: "interval-overfull", Family: "clock", Severity: diag.Error,
	Thresholds: []*check.Threshold{check.LateShare},
	Summary:    "work that does not fit into the interval that it has; a warning where it does not for some",
	Session: func(p *check.Pass, s *model.Session) {
		t := p.Timeline(s)
		for part, g := range t.Intervals() {
			missed := g.Group.Repeat.Until != nil && g.Group.Repeat.Until.Kind == model.UntilMissed
			if missed || !p.PartReadWithoutErrors(part.Group) {
				continue
			}
			verdict, who := t.JudgeTurns(part, g, 0, p.Value(check.LateShare)/100)
			if verdict == estimate.InTime {
				continue
			}
			mid := g.Turns[1]
			d := diag.Diagnostic{At: g.Group.Repeat.At, Severity: check.SeverityOf(verdict),
				Label: phrase.TurnTook(t, g, verdict)}
			work, place := phrase.TurnName(g.Group, mid.Number)
			if place.File != nil {
				d.At = place
			}
			if g.Group.OnceOverWindows() {
				work = "the list"
			}
			length := units.FormatClock(mid.Interval)
			if mid.LeastRest < -estimate.Tolerance {
				d.Message = fmt.Sprintf("%s takes %s, and has %s", work, units.FormatClock(mid.Took), length)
			} else {
				n, span := phrase.People(who)
				d.Message = fmt.Sprintf("%s does not fit into %s for %s%s", work, length, n, span)
			}
			interval := "an interval"
			if g.Group.Repeat.Kind == model.On {
				interval = "a window"
			}
			if g.Group.OnceOverWindows() {
				interval = "windows"
			}
			d.Help = fmt.Sprintf("ask for less, or write "+interval+" of %s, in which the slow have done it too",
				units.FormatClock(estimate.RoundUp(g.Turns[2].Took, 15)))
			p.Report(d)
		}
	}}

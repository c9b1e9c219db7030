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
		buildUpsCut(p, t)
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
				n, span := who.Words()
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

// buildUpsCut suggests more time where building up to the heaviest set takes longer than its window. How
// somebody builds up is practice, and no rule of the text: it has to be more than the estimate may be off.
func buildUpsCut(p *check.Pass, t *estimate.Timeline) {
	for _, part := range t.Parts {
		for _, g := range part.Groups {
			limit, ok := g.Group.Lasts.One()
			if !ok || g.BuildUp.Typical*(1-t.Figures.Margin) <= limit+estimate.Tolerance || !p.PartReadWithoutErrors(part.Group) {
				continue
			}
			p.Report(diag.Diagnostic{At: g.Group.Lasts.At, Severity: diag.Suggestion,
				Message: fmt.Sprintf("building up to the heaviest set takes about %s, and has %s", units.FormatClock(g.BuildUp.Typical), units.FormatClock(limit)),
				Label:   "eight lifts, with three rests of 1:00 and four of 2:00",
				Help: fmt.Sprintf("write lasts %s, in which the slow have built up to it too, or say how many sets",
					units.FormatClock(estimate.RoundUp(g.BuildUp.Slow, 30)))})
		}
	}
}

package clock

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var AimUnreachable = check.Rule{Name: "aim-unreachable", Family: "clock", Severity: diag.Warning,
	Summary: "an aim for time or rounds that neither the fast nor the slow come near, or for another sum than that of the lines",
	Session: func(p *check.Pass, s *model.Session) {
		t := p.Timeline(s)
		aimsOfSession(p, t, s)
		for _, a := range s.Aims {
			aimedSum(p, a, p.Totals(totals.View{}, s))
		}
		for _, part := range t.Parts {
			if !p.PartReadWithoutErrors(part.Group) {
				continue
			}
			for _, g := range part.Groups {
				for _, a := range g.Group.Aims {
					aimedSum(p, a, p.TotalsOf(totals.View{}, g.Group))
					if aimed, known := t.Aim(part, g.Group, a); known {
						reportAim(p, a, &aimed, "it takes ")
					}
				}
			}
		}
	}}

// aimedSum holds an aim for so much in all against what the lines add up to.
func aimedSum(p *check.Pass, a *model.Aim, sums *totals.Totals) {
	aimed := a.Sum()
	if aimed == nil || sums.Unread {
		return
	}
	row := sums.All(aimed.Amount.Unit)
	for tier, sum := range row.Tiers {
		lo, hi, known := aimed.Amount.Value(0, 1, tier)
		if !known || row.Unread {
			return
		}
		few := !sum.Open && sum.Hi < lo && !units.Same(sum.Hi, lo)
		many := sum.Lo > hi && !units.Same(sum.Lo, hi) && !aimed.Amount.OrMore()
		if few || many {
			text := totals.Text(row, aimed.Amount.Written, false)
			p.Report(diag.Diagnostic{At: a.At, Label: "the lines add up to " + text,
				Message: "this aim is not met: the lines add up to " + text, Help: "change the work, or write " + text})
			return
		}
	}
}

// aimsOfSession holds when all of a session is over against its aims: how long it takes, or until when.
func aimsOfSession(p *check.Pass, t *estimate.Timeline, s *model.Session) {
	for _, g := range s.Parts {
		if !p.PartReadWithoutErrors(g) {
			return
		}
	}
	for _, a := range s.Aims {
		if aimed, known := t.AimOfSession(a); known {
			reportAim(p, a, &aimed, "all of it takes ")
		}
	}
}

// reportAim reports an aim that nobody comes near.
func reportAim(p *check.Pass, a *model.Aim, aimed *estimate.Aimed, takes string) {
	if !aimed.TooFew && !aimed.TooMany {
		return
	}
	figure := units.FormatClock
	d := diag.Diagnostic{At: a.At, Help: "change the work, or write a time between the fast and the slow"}
	switch aimed.Kind {
	case estimate.AimedTurn:
		takes = "a turn takes "
	case estimate.AimedEnd:
		takes = "it is over at "
	case estimate.AimedRounds:
		figure = func(v float64) string { return units.FormatNumber(v) }
	}
	label := takes + phrase.Typical(aimed.Took) + ", an estimate"
	switch {
	case aimed.Fixed:
		d.Label = "by the clock, whatever anybody's pace"
		d.Message = fmt.Sprintf("this aim is not met: %s%s", takes, units.FormatClock(aimed.Took.Slow))
		d.Help = "change the work, or write " + units.FormatClock(aimed.Took.Slow)
	case aimed.Kind == estimate.AimedRounds:
		d.Label = fmt.Sprintf("typical %s (%s fast, %s slow), an estimate", phrase.Many(aimed.Took.Typical, "whole round"),
			figure(max(aimed.Took.Fast, aimed.Least.Fast)), figure(aimed.Took.Slow))
		if aimed.TooMany {
			d.Message = "nobody gets so many rounds as this aim: the fast get " + figure(max(aimed.Took.Fast, aimed.Least.Fast))
			d.Help = "ask for less in a round, or write a number between the slow and the fast"
		} else {
			d.Message = "nobody gets so few rounds as this aim: the slow get " + figure(aimed.Took.Slow)
			d.Help = "ask for more in a round, or write a number between the slow and the fast"
		}
	case aimed.TooFew && aimed.Kind == estimate.AimedEnd:
		d.Label, d.Message = label, "nobody is so early as this aim: for the fast "+takes+figure(aimed.Least.Fast)
	case aimed.TooFew:
		d.Label, d.Message = label, "nobody is so quick as this aim: the fast take "+figure(aimed.Least.Fast)
		d.Help = "ask for less work, or write a time between the fast and the slow"
	case aimed.Kind == estimate.AimedEnd:
		d.Label, d.Message = label, "nobody is so late as this aim: for the slow "+takes+figure(aimed.Took.Slow)
	default:
		d.Label, d.Message = label, "nobody takes so long as this aim: the slow take "+figure(aimed.Took.Slow)
		d.Help = "ask for more work, or write a time between the fast and the slow"
	}
	p.Report(d)
}

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
					if a.Amount == nil || !g.Proven {
						continue
					}
					lo, hi, ok := a.Amount.Value(0, 1, part.Tier)
					if !ok {
						continue
					}
					switch {
					case a.What == model.AimedEnd && g.Group == part.Group:
						aimOver(p, t, t.OverOnClock(part), a, lo, hi, "it is over at ")
					case a.What == "time" && a.Amount.Unit == "s" && part.Proven():
						aimTime(p, t, part, g, a, lo, hi)
					case a.What == "rounds" && g.Counted && g.Group.Mode == model.AMRAP:
						aimRounds(p, t, part, g, a, lo, hi)
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
		takes, any := t.Over()
		if !any || a.Amount == nil {
			continue
		}
		last := t.Parts[len(t.Parts)-1]
		lo, hi, ok := a.Amount.Value(0, 1, last.Tier)
		switch {
		case !ok:
		case a.What == model.AimedEnd:
			aimOver(p, t, t.OverOnClock(last), a, lo, hi, "it is over at ")
		case a.What == "time" && a.Amount.Unit == "s":
			aimOver(p, t, takes, a, lo, hi, "all of it takes ")
		}
	}
}

// aimOver holds an aim, from lo to hi s, against when something is over.
func aimOver(p *check.Pass, t *estimate.Timeline, o estimate.Over, a *model.Aim, lo, hi float64, what string) {
	if !o.Proven {
		return
	}
	if a.Amount.IsMost() {
		lo = 0
	}
	early, late := t.Beyond(o, lo, hi)
	late = late && !a.Amount.OrMore()
	d := diag.Diagnostic{At: a.At, Label: what + phrase.Typical(o.Times) + ", an estimate",
		Help: "change the work, or write a time between the fast and the slow"}
	switch {
	case !early && !late:
		return
	case o.Fixed:
		d.Label = "by the clock, whatever anybody's pace"
		d.Message = fmt.Sprintf("this aim is not met: %s%s", what, units.FormatClock(o.Slow))
		d.Help = "change the work, or write " + units.FormatClock(o.Slow)
	case late:
		d.Message = fmt.Sprintf("nobody is so early as this aim: for the fast %s%s", what, units.FormatClock(o.Least.Fast))
	default:
		d.Message = fmt.Sprintf("nobody is so late as this aim: for the slow %s%s", what, units.FormatClock(o.Slow))
	}
	p.Report(d)
}

// aimTime holds a time against how long a group takes, or its longest turn where a clock
// starts them.
func aimTime(p *check.Pass, t *estimate.Timeline, part *estimate.PartTime, g *estimate.GroupTime, a *model.Aim, lo, hi float64) {
	took, least, what := g.Took, g.AtLeast().Took, "it takes "
	switch _, window := totals.Whole(g.Group, part.Tier); {
	case g.Turns[0].Number > 0 && g.Group.Slots() == 0 && g.Group.Repeat.Kind == model.Every:
		turn := func(g *estimate.GroupTime) estimate.Times {
			return estimate.Times{Fast: g.Turns[0].Took, Typical: g.Turns[1].Took, Slow: g.Turns[2].Took}
		}
		took, least, what = turn(g), turn(g.AtLeast()), "a turn takes "
	case window || part.Outlasts:
		return
	}
	if a.Amount.OrMore() { // so long, or longer
		hi = took.Slow
	}
	d := diag.Diagnostic{At: a.At, Label: what + phrase.Typical(took) + ", an estimate"}
	switch m := t.Figures.Margin; {
	case hi < least.Fast*(1-m)-estimate.Tolerance:
		d.Message = fmt.Sprintf("nobody is so quick as this aim: the fast take %s", units.FormatClock(least.Fast))
		d.Help = "ask for less work, or write a time between the fast and the slow"
	case lo > took.Slow*(1+m)+estimate.Tolerance:
		d.Message = fmt.Sprintf("nobody takes so long as this aim: the slow take %s", units.FormatClock(took.Slow))
		d.Help = "ask for more work, or write a time between the fast and the slow"
	default:
		return
	}
	p.Report(d)
}

// aimRounds holds a number of rounds against how many an amrap allows.
func aimRounds(p *check.Pass, t *estimate.Timeline, part *estimate.PartTime, g *estimate.GroupTime, a *model.Aim, lo, hi float64) {
	fast, slow := max(g.Rounds[0].Rounds, g.AtLeast().Rounds[0].Rounds), g.Rounds[2].Rounds
	d := diag.Diagnostic{At: a.At, Label: fmt.Sprintf("typical %s (%d fast, %d slow), an estimate", phrase.Many(float64(g.Rounds[1].Rounds), "whole round"), fast, slow)}
	switch {
	case lo > float64(fast) && t.ShareOfRounds(part, g.Group, int(lo)).Low >= estimate.Slow-1e-9:
		d.Message = fmt.Sprintf("nobody gets so many rounds as this aim: the fast get %d", fast)
		d.Help = "ask for less in a round, or write a number between the slow and the fast"
	case hi < float64(slow) && !a.Amount.OrMore() && t.ShareOfRounds(part, g.Group, int(hi)+1).High <= estimate.Fast+1e-9:
		d.Message = fmt.Sprintf("nobody gets so few rounds as this aim: the slow get %d", slow)
		d.Help = "ask for more in a round, or write a number between the slow and the fast"
	default:
		return
	}
	p.Report(d)
}

package rest

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var RestGapShort = check.Rule{Name: "rest-gap-short", Family: "rest", Severity: diag.Error,
	Thresholds: []*check.Threshold{check.LateShare},
	Summary:    "less rest than the part, the session or the house asks for; a warning where only some have less",
	Session: func(p *check.Pass, s *model.Session) {
		t := p.Timeline(s)
		for _, g := range t.Gaps() {
			restBehind(p, g)
		}
		for part, g := range t.Intervals() {
			if p.PartReadWithoutErrors(part.Group) {
				restInside(p, t, part, g)
			}
		}
	}}

// restBehind looks at the rest between a part and the next.
func restBehind(p *check.Pass, g estimate.Gap) {
	ask := g.Asked()
	if ask.Rest == 0 || g.Backwards() || !g.Known() || !p.PartReadWithoutErrors(g.Part.Group) {
		return
	}
	if !g.Next.Pinned && g.Part.RestBehind.Slow == 0 {
		return // nothing says when the next starts: the coach sees to it
	}
	share := p.Value(check.LateShare) / 100
	verdict, who := g.JudgeRest(ask.Rest, share)
	if verdict == estimate.InTime {
		return
	}
	if over, _ := g.Judge(g.Window, share); over != estimate.InTime && g.Next.Pinned {
		return // it runs over, which says more
	}
	a, b, rest := g.Part.Group.PartName(), g.Next.Group.PartName(), units.FormatClock(ask.Rest)
	d := diag.Diagnostic{At: g.Part.Group.At, Severity: check.SeverityOf(verdict), Label: phrase.PartTook(g, verdict)}
	if g.Next.Pinned {
		d.Label += fmt.Sprintf("; %s starts at %s", b, units.FormatClock(g.Next.Start))
	}
	if ask.From.At.File == d.At.File {
		d.Related = append(d.Related, diag.Related{At: ask.From.At, Message: "asked for here"})
	}
	asks := "asks"
	by := "it"
	if ask.By != "part" {
		by = "the " + ask.By
	}
	if left := g.Left(); left < ask.Rest-estimate.Tolerance {
		d.Message = fmt.Sprintf("%s leaves %s of rest before %s, and %s %s for %s", a, units.FormatClock(max(0, left)),
			b, by, asks, rest)
	} else {
		n, span := who.Words()
		d.Message = fmt.Sprintf("%s leaves less than %s of rest before %s for %s%s, and %s %s for that", a, rest, b, n,
			span, by, asks)
	}
	if g.Next.Pinned {
		d = p.OfferRestart(d, g.Next.Group, "ask for less work in "+a)
	} else {
		d.Help = fmt.Sprintf("write rest %s behind %s", rest, a)
	}
	p.Report(d)
}

// restInside looks at the rest that the intervals of a group are to leave, and those of its
// slots.
func restInside(p *check.Pass, t *estimate.Timeline, part *estimate.PartTime, g *estimate.GroupTime) {
	off, _ := g.Group.Repeat.Off.One() // behind each window, beside what that leaves
	for _, r := range g.Group.Rests {
		rest, ok := r.Asks(model.RestInInterval, part.Tier)
		if !ok {
			continue
		}
		verdict, who := t.JudgeTurns(part, g, max(0, rest-off), p.Value(check.LateShare)/100)
		if verdict == estimate.InTime || g.Turns[1].LeastRest < -estimate.Tolerance {
			continue // it does not even fit, which says more
		}
		work, _ := phrase.TurnName(g.Group, g.Turns[1].Number)
		d := diag.Diagnostic{At: r.At, Severity: check.SeverityOf(verdict), Label: phrase.TurnTook(t, g, verdict),
			Help: fmt.Sprintf("ask for less in a turn, or write an interval of %s, which leaves it to the slow too",
				units.FormatClock(estimate.RoundUp(g.Turns[2].Took+max(0, rest-off), 15)))}
		if left := g.Turns[1].LeastRest + off; left < rest-estimate.Tolerance {
			d.Message = fmt.Sprintf("%s leaves %s of rest, and %s is asked for", work, units.FormatClock(left),
				units.FormatClock(rest))
		} else {
			n, span := who.Words()
			d.Message = fmt.Sprintf("%s leaves less than %s of rest for %s%s", work, units.FormatClock(rest), n, span)
		}
		p.Report(d)
	}
	for _, st := range g.Group.Steps {
		k, ok := st.(*model.Group)
		if !ok || !k.IsSlot() {
			continue
		}
		slot, ok := part.GroupOf(k)
		if !ok || !slot.Proven {
			continue
		}
		for _, r := range k.Rests {
			rest, _, ok := r.Amount.Value(0, 1, part.Tier)
			left := g.Turns[1].Interval - slot.Took.Typical
			if r.Bound != model.AtLeast || !ok || left >= rest-estimate.Tolerance {
				continue
			}
			sev := diag.Warning
			if units.Same(slot.Took.Fast, slot.Took.Slow) {
				sev = diag.Error
			}
			p.Report(diag.Diagnostic{At: r.At, Severity: sev, Label: phrase.Typical(slot.Took),
				Message: fmt.Sprintf("%s %d leaves %s of rest, and %s is asked for", k.Kind, k.Number,
					units.FormatClock(max(0, left)), units.FormatClock(rest)),
				Help: "ask for less in it, or write a longer interval"})
		}
	}
}

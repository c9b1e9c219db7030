package check

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var restGapShort = Rule{Name: "rest-gap-short", Family: "rest", Severity: diag.Error, Settings: fitting,
	Summary: "less rest than the part, the session or the house asks for; a warning where only some have less",
	session: func(p *pass, s *model.Session) {
		t := p.timeline(s)
		for _, g := range gaps(t) {
			p.restBehind(g)
		}
		p.eachInterval(t, func(t *estimate.Timeline, part *estimate.PartTime, g *estimate.GroupTime) {
			p.restInside(t, part, g)
		})
	}}

// restBehind looks at the rest between a part and the next.
func (p *pass) restBehind(g gap) {
	ask := g.asked()
	if ask.rest == 0 || g.backwards() || !g.known() || !p.sound(g.part.Group) {
		return
	}
	if !g.next.Pinned && g.part.RestBehind.Slow == 0 {
		return // nothing says when the next starts: the coach sees to it
	}
	sev, who := p.late(g, g.window-ask.rest)
	if sev == diag.Off {
		return
	}
	if over, _ := p.late(g, g.window); over != diag.Off && g.next.Pinned {
		return // it runs over, which says more
	}
	a, b, rest := partName(g.part.Group), partName(g.next.Group), units.FormatClock(ask.rest)
	d := diag.Diagnostic{At: g.part.Group.At, Severity: sev, Label: took(g, sev)}
	if g.next.Pinned {
		d.Label += fmt.Sprintf("; %s starts at %s", b, units.FormatClock(g.next.Start))
	}
	if ask.at.File == d.At.File {
		d.Related = append(d.Related, diag.Related{At: ask.at, Message: "asked for here"})
	}
	asks := "asks"
	by := ask.by
	if by == a {
		by = "it"
	}
	if left := g.window - g.took(g.part.Work.Typical); left < ask.rest-second {
		d.Message = fmt.Sprintf("%s leaves %s of rest before %s, and %s %s for %s", a, units.FormatClock(max(0, left)), b, by, asks, rest)
	} else {
		n, span := people(who)
		d.Message = fmt.Sprintf("%s leaves less than %s of rest before %s for %s%s, and %s %s for that", a, rest, b, n, span, by, asks)
	}
	if g.next.Pinned {
		d = p.withRestart(d, g.next, "ask for less work in "+a)
	} else {
		d.Help = fmt.Sprintf("write rest %s behind %s", rest, a)
	}
	p.report(d)
}

// restInside looks at the rest that the intervals of a group are to leave, and those of its
// slots.
func (p *pass) restInside(t *estimate.Timeline, part *estimate.PartTime, g *estimate.GroupTime) {
	for _, r := range g.Group.Rests {
		rest, _, ok := r.Amount.Value(0, 1, part.Tier)
		if r.Place != model.RestInInterval || r.Bound != model.AtLeast || !ok {
			continue
		}
		sev, who := p.crowded(t, part, g, rest)
		if sev == diag.Off || g.Turns[1].LeastRest < -second {
			continue // it does not even fit, which says more
		}
		work, _ := turnName(g.Group, g.Turns[1].Number)
		d := diag.Diagnostic{At: r.At, Severity: sev, Label: turnTook(g, sev),
			Help: fmt.Sprintf("ask for less in a turn, or write an interval of %s, which leaves it to the slow too", units.FormatClock(upTo(g.Turns[2].Took+rest, 15)))}
		if left := g.Turns[1].LeastRest; left < rest-second {
			d.Message = fmt.Sprintf("%s leaves %s of rest, and %s is asked for", work, units.FormatClock(left), units.FormatClock(rest))
		} else {
			n, span := people(who)
			d.Message = fmt.Sprintf("%s leaves less than %s of rest for %s%s", work, units.FormatClock(rest), n, span)
		}
		p.report(d)
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
			if r.Bound != model.AtLeast || !ok || left >= rest-second {
				continue
			}
			sev := diag.Warning
			if same(slot.Took.Fast, slot.Took.Slow) || g.Turns[1].Interval-slot.Took.Typical*(1-t.Figures.Margin) < rest-second {
				sev = diag.Error
			}
			p.report(diag.Diagnostic{At: r.At, Severity: sev, Label: typical(slot.Took),
				Message: fmt.Sprintf("%s %d leaves %s of rest, and %s is asked for", k.Kind, k.Number, units.FormatClock(max(0, left)), units.FormatClock(rest)),
				Help:    "ask for less in it, or write a longer interval"})
		}
	}
}

package check

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

var intervalOverfull = Rule{Name: "interval-overfull", Family: "clock", Severity: diag.Error, Settings: fitting,
	Summary: "work that does not fit into the interval that it has; a warning where it does not for some",
	session: func(p *pass, s *model.Session) {
		p.eachInterval(p.timeline(s), func(t *estimate.Timeline, part *estimate.PartTime, g *estimate.GroupTime) {
			if g.Group.Repeat.Until != nil {
				return // it goes on until somebody misses
			}
			sev, who := p.crowded(t, part, g, 0)
			if sev == diag.Off {
				return
			}
			mid := g.Turns[1]
			d := diag.Diagnostic{At: g.Group.Repeat.At, Severity: sev, Label: turnTook(g, sev)}
			work, place := turnName(g.Group, mid.Number)
			if place.File != nil {
				d.At = place
			}
			length := units.FormatClock(mid.Interval)
			if mid.LeastRest < -second {
				d.Message = fmt.Sprintf("%s takes %s, and has %s", work, units.FormatClock(mid.Took), length)
			} else {
				n, span := people(who)
				d.Message = fmt.Sprintf("%s does not fit into %s for %s%s", work, length, n, span)
			}
			d.Help = fmt.Sprintf("ask for less in a turn, or write an interval of %s, in which the slow have done it too", units.FormatClock(upTo(g.Turns[2].Took, 15)))
			p.report(d)
		})
	}}

// eachInterval calls f with every group of a session whose turns a clock starts one after
// the other, and of which it is known how long they take.
func (p *pass) eachInterval(t *estimate.Timeline, f func(*estimate.Timeline, *estimate.PartTime, *estimate.GroupTime)) {
	for _, part := range t.Parts {
		for _, g := range part.Groups {
			if !p.sound(part.Group) {
				break
			}
			if g.Group.Repeat.Kind == model.Every && g.Proven && g.Turns[0].Number > 0 && g.Turns[1].Number > 0 && g.Turns[2].Number > 0 {
				f(t, part, g)
			}
		}
	}
}

// crowded judges whether the turns of a group leave less than some rest: as late does.
func (p *pass) crowded(t *estimate.Timeline, part *estimate.PartTime, g *estimate.GroupTime, rest float64) (diag.Severity, estimate.ClassShare) {
	fast, mid, slow := g.Turns[0], g.Turns[1], g.Turns[2]
	limit := mid.Interval - rest
	var none estimate.ClassShare
	steady := same(mid.Took+mid.LeastRest, mid.Interval) && same(fast.Interval, slow.Interval)
	share := func() estimate.ClassShare {
		if !steady { // intervals that differ: the longest turn need not be the tightest
			return none
		}
		return t.ShareOfTurns(part, g.Group, limit)
	}
	switch {
	case mid.LeastRest >= rest-second && slow.LeastRest >= rest-second && p.setting("share") >= 10:
		return diag.Off, none
	case same(fast.Took, slow.Took):
		if mid.LeastRest < rest-second {
			return diag.Error, none
		}
		return diag.Off, none
	case mid.LeastRest < rest-second && mid.Interval-(mid.Interval-mid.LeastRest)*(1-t.Figures.Margin) < rest-second:
		return diag.Error, share()
	case mid.LeastRest < rest-second:
		return diag.Warning, share()
	}
	if !steady || t.TurnAt(part, g.Group, 1-p.setting("share")/100) <= limit+second {
		return diag.Off, none
	}
	return diag.Warning, share()
}

// turnName is what a sentence calls a turn on a clock, and where its work stands if it is a
// slot's.
func turnName(g *model.Group, turn int) (string, source.Place) {
	var slots []*model.Group
	for _, s := range g.Steps {
		if k, ok := s.(*model.Group); ok && k.IsSlot() {
			slots = append(slots, k)
		}
	}
	if len(slots) == 0 {
		return fmt.Sprintf("turn %d", turn), source.Place{}
	}
	k := slots[(turn-1)%len(slots)]
	return fmt.Sprintf("%s %d, in turn %d,", k.Kind, k.Number, turn), k.At
}

// turnTook is a label: how long the longest turn takes, and how sure it is that this is too
// long.
func turnTook(g *estimate.GroupTime, sev diag.Severity) string {
	t := estimate.Times{Fast: g.Turns[0].Took, Typical: g.Turns[1].Took, Slow: g.Turns[2].Took}
	switch {
	case same(t.Fast, t.Slow):
		return "it takes " + units.FormatClock(t.Typical)
	case sev == diag.Error:
		return typical(t) + "; too long even if everyone is 10% quicker"
	}
	return typical(t) + ", an estimate"
}

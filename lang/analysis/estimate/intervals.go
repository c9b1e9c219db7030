package estimate

import (
	"iter"

	"stint.example/stint/lang/units"
)

// Intervals are the groups of a session whose turns a clock starts one after the other, and of
// which it is known how long they take, each with its part.
func (t *Timeline) Intervals() iter.Seq2[*PartTime, *GroupTime] {
	return func(yield func(*PartTime, *GroupTime) bool) {
		for _, part := range t.Parts {
			for _, g := range part.Groups {
				clocked := g.Group.Repeat.Clocked() && g.Turns[0].Number > 0 && g.Turns[1].Number > 0 && g.Turns[2].Number > 0
				if clocked && g.Proven && !yield(part, g) {
					return
				}
			}
		}
	}
}

// JudgeTurns holds the turns of a group on a clock against intervals that are to leave some
// rest, in s, to all but a share of the class, from 0 to 1. With the verdict comes how many
// have less, where that is known.
func (t *Timeline) JudgeTurns(part *PartTime, g *GroupTime, rest, share float64) (Verdict, ClassShare) {
	fast, mid, slow := g.Turns[0], g.Turns[1], g.Turns[2]
	limit := mid.Interval - rest
	var none ClassShare
	steady := units.Same(mid.Took+mid.LeastRest, mid.Interval) && units.Same(fast.Interval, slow.Interval)
	over := func() ClassShare {
		if !steady { // intervals that differ: the longest turn need not be the tightest
			return none
		}
		return t.ShareOfTurns(part, g.Group, limit)
	}
	late := mid.LeastRest < rest-Tolerance
	switch {
	case !late && slow.LeastRest >= rest-Tolerance && share >= 1-Slow:
		return InTime, none
	case late && (units.Same(fast.Took, slow.Took) || mid.Stated > limit+Tolerance):
		return ProvenLate, none
	case units.Same(fast.Took, slow.Took):
		return InTime, none
	case late && mid.Interval-(mid.Interval-mid.LeastRest)*(1-t.Figures.Margin) < rest-Tolerance:
		return SurelyLate, over()
	case late:
		return Late, over()
	}
	if !steady || t.TurnAt(part, g.Group, 1-share) <= limit+Tolerance {
		return InTime, none
	}
	return Late, over()
}

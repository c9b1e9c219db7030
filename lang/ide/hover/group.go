package hover

import (
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/readback"
	"stint.example/stint/lang/units"
)

// groupCard is the card of a group inside a part: what its turns add up to.
func (s *target) groupCard(g *model.Group) *Card {
	c := &Card{At: g.At, Title: prose.Head(g), Kind: "in " + wording.PartName(s.part)}
	c.row("", readback.Head(s.env().House, g))
	each := ""
	if slices.ContainsFunc(s.around, func(o *model.Group) bool { return o != g && o.ComesRound() }) {
		each = ", each time"
	}
	s.comesTo(c, each, g)
	_, t := s.partTimeline(s.part)
	if t == nil {
		return c
	}
	if of, ok := t.GroupOf(g); ok && of.Proven {
		took := wording.Times(of.Took)
		if n := totals.Turns(g, t.Tier); n.Exact() && n.Lo > 1 && of.Turns[1].Number == 0 {
			one := estimate.Times{Fast: of.Took.Fast / n.Lo, Typical: of.Took.Typical / n.Lo, Slow: of.Took.Slow / n.Lo}
			took += ", so about " + units.FormatClock(one.Typical) + " a turn for a typical member"
		}
		c.row("takes"+each, took)
		c.Foot = estimateNote
	}
	if len(c.Rows) == 0 {
		return nil
	}
	return c
}

package hover

import (
	"fmt"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/readback"
	"stint.example/stint/lang/units"
)

// restCard is the card of a rest: where it is taken, for that is what boards are misread on.
func (s *target) restCard(r *model.Rest) *Card {
	c := &Card{At: r.At, Title: prose.Rest(restWithoutNotes(r)), Kind: "in " + wording.PartName(s.part)}
	c.row("", readback.Rest(s.env().House, r, s.around))
	switch {
	case r.Bound != model.Unbounded:
		c.row("", "it asks for so much rest and adds none: the checks hold the estimate against it")
	case r.Until.Untold() && (r.Amount == nil || r.Amount.OrMore()):
		c.row("", "nothing in the text can say when it ends, so what comes behind it starts at no settled time")
	case r.Needed:
		c.row("", "as long as it takes, so what comes behind it starts at no settled time")
	}
	if n, all := s.restTotal(r); n > 1 {
		c.row("comes to", fmt.Sprintf("%s in all, %d times", units.FormatClock(all), n))
	}
	if r.Bound != model.Unbounded && s.part != nil {
		if p, _ := s.partTimeline(s.part); p != nil {
			for _, l := range p.Limits {
				if l.Kind == "rest" {
					c.row("", l.Text)
					c.Foot = estimateNote
				}
			}
		}
	}
	return c
}

// maxRestTurns is more often than anybody rests.
const maxRestTurns = 1000

// restTotal is how often a rest between turns is taken, and how long that is in all; 0 where
// it is not known.
func (s *target) restTotal(r *model.Rest) (times int, all float64) {
	if r.Place != model.RestBetweenTurns || r.Of != model.NearestTurns || r.Bound != model.Unbounded ||
		r.Amount == nil || len(s.around) == 0 {
		return 0, 0
	}
	outer, inner := 1, 0
	for i, g := range s.around {
		t := totals.Turns(g, 0)
		if !t.Exact() || g.Slots() > 0 || t.Lo > maxRestTurns {
			return 0, 0
		}
		if i == len(s.around)-1 {
			inner = int(t.Lo) - 1
		} else {
			outer *= int(t.Lo)
		}
	}
	for turn := range inner {
		lo, hi, known := r.Amount.Value(turn, inner, 0)
		if !known || lo != hi {
			return 0, 0
		}
		all += lo
	}
	return outer * inner, float64(outer) * all
}

func restWithoutNotes(r *model.Rest) *model.Rest {
	c := *r
	c.Notes = nil
	return &c
}

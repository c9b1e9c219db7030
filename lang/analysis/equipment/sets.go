package equipment

import (
	"math"

	"stint.example/stint/lang/model"
)

// leisurely says whether a group is done once, in order and against no clock.
func leisurely(g *model.Group) bool {
	return !g.ComesRound() && g.Mode != model.ForTime
}

// setRest is the rest between the sets that a group holds on a free clock, or between its
// turns, and what is done in one turn. What is built up to a heavy set is rested for as
// needed.
func setRest(g *model.Group, c crowd) (*model.Rest, []model.Step) {
	switch {
	case g.Mode == model.ForTime || g.Mode == model.AMRAP || g.Repeat.Clocked():
		return nil, nil
	case g.Mode == model.ForLoad && g.Lasts != nil:
		return &model.Rest{Needed: true}, nil
	case !g.ComesRound():
		return c.rest, c.turn
	}
	for _, s := range g.Steps {
		r, ok := s.(*model.Rest)
		switch {
		case !ok || r.Bound != "":
		case r.Place == model.RestBetweenTurns && r.Of == "":
			return r, model.WorkSteps(g.Steps)
		}
	}
	return nil, nil
}

// inTurn says whether two can share an implement, one at work while the other rests: where
// the rest is as long as a typical member's set, or turn. One bar for one or two people is
// common practice, no source; three to a bar is not reckoned with.
func (w *classWalk) inTurn(s *model.Work, c crowd) bool {
	r, turn := c.rest, c.turn
	if s.Sets != nil && s.Rest != nil || len(turn) == 0 {
		turn = []model.Step{s}
	}
	if s.Sets != nil && s.Rest != nil {
		r = s.Rest
	}
	if r == nil {
		return false
	}
	if r.Needed {
		return true
	}
	if v, ok := r.Work.One(); ok {
		return v >= 1
	}
	rest, _, ok := r.Amount.Value(0, max(1, r.Amount.Turns()), 0)
	takes := 0.0
	for _, t := range turn {
		line, plain := t.(*model.Work)
		if !plain {
			return false
		}
		takes += w.setTakes(line)
	}
	return ok && rest > 0 && rest >= takes
}

// setTakes is how long a set of a line takes a typical member, in s; for ever where nobody
// knows.
func (w *classWalk) setTakes(s *model.Work) float64 {
	least, n, known := s.Dose.Value(0, max(1, s.Dose.Turns()), 0)
	pace := 1.0
	if known && s.Dose.Unit != "s" {
		n, pace = max(n, least), w.paces[s]
	}
	if !known || pace <= 0 {
		return math.Inf(1)
	}
	if s.Side {
		n *= 2
	}
	return n * pace
}

package totals

import (
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// LineTurns is how many turns the values of a line move with: its own sets, or the turns
// of the nearest group that comes round. It is 0 where that is not settled, or is not
// the same for all.
func LineTurns(w *model.Work, around []*model.Group) int {
	if w.Sets != nil {
		v, ok := w.Sets.One()
		if !ok {
			return 0
		}
		return int(v)
	}
	return TurnsAround(around)
}

// TurnsAround is how many turns the innermost of some groups that comes round has, 0 where
// that is not settled. Where nothing comes round there is one.
func TurnsAround(around []*model.Group) int {
	g := model.Repeating(around)
	if g == nil {
		return 1
	}
	n := GroupTurns(g)
	// Under "round 2-3:" only those turns count.
	for i := len(around) - 1; i >= 0 && around[i] != g; i-- {
		if r := around[i]; r.Kind == model.RoundOf {
			last := r.Last
			if n > 0 {
				last = min(last, n)
			}
			return max(0, last-r.Number+1)
		}
	}
	return n
}

// GroupTurns is how many turns a group has, 0 where that is not settled or not the same for
// all. With slots on a clock a turn is a lap.
func GroupTurns(g *model.Group) int { return settled(g, Turns(g, 0)) }

// GroupStarts is how often a head starts what it holds, 0 where that is not settled or not the same
// for all: of windows, how many there are.
func GroupStarts(g *model.Group) int { return settled(g, Starts(g, 0)) }

func settled(g *model.Group, turns Sum) int {
	if !turns.Exact() || g.Repeat.Count.Tiers() > 1 {
		return 0
	}
	n := turns.Lo
	if k := float64(g.Slots()); k > 0 && g.Repeat.Clocked() && !g.Repeat.Laps {
		n /= k
	}
	if !units.IsWhole(n) {
		return 0
	}
	return int(n)
}

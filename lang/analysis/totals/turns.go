package totals

import (
	"math"
	"slices"

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

// once is a level that changes nothing.
var once = Sum{Lo: 1, Hi: 1}

// MaxTurns bounds the turns that are added up; nothing that people do has more.
const MaxTurns = 10_000

// rounds are the levels around what stands under "round 2-3:": the nearest group that
// comes round does so in those of its turns only.
func rounds(levels []level, round *model.Group) []level {
	out := slices.Clone(levels)
	for i := len(out) - 1; i >= 0; i-- {
		if out[i].round {
			out[i].turns, out[i].first = within(out[i].turns, round), round.Number-1
			break
		}
	}
	return out
}

// within is how many of a group's turns lie in a range of rounds.
func within(turns Sum, round *model.Group) Sum {
	in := func(n float64) float64 {
		return max(0, min(n, float64(round.Last))-float64(round.Number)+1)
	}
	return Sum{Lo: in(turns.Lo), Hi: in(turns.Hi), Open: turns.Open}
}

// Whole is how long a group is by what its head says, in seconds: the time of an amrap,
// what it lasts, its intervals. Known is false where the head does not say.
func Whole(g *model.Group, tier int) (seconds float64, known bool) {
	one := func(q *model.Quantity) (float64, bool) {
		lo, hi, ok := q.Value(0, 1, tier)
		return hi, ok && lo == hi
	}
	if v, ok := one(g.Time); ok {
		return v, true
	}
	if v, ok := one(g.Lasts); ok {
		return v, true
	}
	n, counted := one(g.Repeat.Count)
	if !counted || g.Repeat.Until != nil {
		return 0, false
	}
	if v, ok := one(g.Repeat.Whole); ok {
		return v, true
	}
	if g.Repeat.Laps {
		n *= float64(max(1, g.Slots()))
	}
	turns := Sum{Lo: n, Hi: n}
	of := over(g.Repeat.On, nil, turns, tier)
	switch {
	case g.Repeat.Interval != nil:
		of = over(g.Repeat.Interval, nil, turns, tier)
	case g.Repeat.Off != nil:
		of = of.plus(over(g.Repeat.Off, nil, turns, tier))
	}
	return of.Hi, of.Exact()
}

// slotTurns is how often a slot of a group comes round: as often as there are laps, and
// once more for the first slots where the intervals do not make whole laps. Stations come once more for
// those who start near enough before them.
func (a *adder) slotTurns(g, slot *model.Group) Sum {
	if g.RepeatsInWindow(slot) {
		return Sum{Open: true}
	}
	turns := a.limited(g, Starts(g, a.tier))
	k := float64(g.Slots())
	if g.Repeat.Laps || !g.Repeat.Clocked() || turns.Open {
		return turns
	}
	laps := func(n float64) float64 {
		whole := math.Floor(n / k)
		if float64(slot.Number) <= n-whole*k {
			whole++
		}
		return whole
	}
	if slot.Kind == model.Station {
		return Sum{Lo: math.Floor(turns.Lo / k), Hi: math.Ceil(turns.Hi / k)}
	}
	return Sum{Lo: laps(turns.Lo), Hi: laps(turns.Hi)}
}

// Turns is how often what a group holds is done for a tier, by what its head says.
func Turns(g *model.Group, tier int) Sum {
	switch {
	case g.OnceOverWindows():
		return once
	case g.Repeat.Kind == model.On && g.Mode == model.AMRAP && !g.CarryOn && !g.RepeatsInWindow(g):
	case g.Mode == model.AMRAP:
		return Sum{Open: true}
	}
	return Starts(g, tier)
}

// Starts is how often a head starts what it holds for a tier: of windows, how many there are, however
// often the work in each is done.
func Starts(g *model.Group, tier int) Sum {
	if g.Unread {
		return Sum{Lo: 1, Hi: 1, Open: true}
	}
	turns := counted(g.Repeat, tier)
	switch end := g.Repeat.Until; {
	case end == nil:
	case g.Repeat.Count == nil && g.Repeat.Series == nil:
		return Sum{Open: true}
	case end.Clock != nil: // it stops the work
		turns.Lo = 0
	case !g.Repeat.Count.HoldsLeast(): // it is looked at when a turn is over
		turns.Lo = min(1, turns.Hi)
	}
	return turns
}

// counted is how often a repeat comes round by the number that it has.
func counted(r model.Repeat, tier int) Sum {
	if r.Series != nil {
		if r.Series.Open {
			return Sum{Open: true}
		}
		n := float64(max(1, len(r.Series.Terms)))
		return Sum{Lo: n, Hi: n}
	}
	if r.Count == nil {
		return once
	}
	lo, hi, known := r.Count.Value(0, 1, tier)
	if !known || hi > MaxTurns {
		return Sum{Lo: lo, Hi: hi, Open: true}
	}
	return Sum{Lo: lo, Hi: hi, Open: r.Count.OrMore()}
}

// Package clock computes with sessions: what they come to in repetitions, distance and
// time.
package clock

import (
	"cmp"
	"math"
	"slices"

	"stint.example/stint/lang/program"
)

// A Sum is an amount between Lo and Hi. Open says that more may come on top, by an
// amount that the text does not settle: as many rounds as possible, max, until missed.
type Sum struct {
	Lo, Hi float64
	Open   bool
}

func (s Sum) plus(t Sum) Sum { return Sum{s.Lo + t.Lo, s.Hi + t.Hi, s.Open || t.Open} }

func (s Sum) times(t Sum) Sum {
	return Sum{s.Lo * t.Lo, s.Hi * t.Hi, s.Open && t != Sum{} || t.Open && s != Sum{}}
}

// Exact says whether the sum is one number.
func (s Sum) Exact() bool { return !s.Open && s.Lo == s.Hi }

// A Row is what a movement comes to in one unit: "rep", "m", "cal", "breath", "s".
type Row struct {
	Movement string
	Duty     bool // it trains nothing, and does not count among all repetitions
	Unit     string
	Tiers    []Sum // one for each tier of the house
}

// Totals are what a part or a session comes to, for one athlete; where a pair or a team
// shares a count, for all of them together, as it stands on the board.
type Totals struct {
	Rows []Row // by movement and unit
	// Unread says that a line could not be read, so that the sums are not what was meant.
	Unread bool
	tiers  int
}

// Row finds a movement's total in a unit.
func (t *Totals) Row(movement, unit string) (Row, bool) {
	i := slices.IndexFunc(t.Rows, func(r Row) bool { return r.Movement == movement && r.Unit == unit })
	if i < 0 {
		return Row{Movement: movement, Unit: unit, Tiers: make([]Sum, t.tiers)}, false
	}
	return t.Rows[i], true
}

// All is the sum over all movements in a unit.
func (t *Totals) All(unit string) Row {
	out := Row{Unit: unit, Tiers: make([]Sum, t.tiers)}
	for _, r := range t.Rows {
		if r.Unit != unit || r.Duty {
			continue
		}
		for i, s := range r.Tiers {
			out.Tiers[i] = out.Tiers[i].plus(s)
		}
	}
	return out
}

// OfSession adds up a session, its warm-up and cool-down included.
func OfSession(s *program.Session, tiers int) *Totals {
	return total(tiers, s.Parts...)
}

// OfGroup adds up a part, or any group of work.
func OfGroup(g *program.Group, tiers int) *Totals { return total(tiers, g) }

func total(tiers int, groups ...*program.Group) *Totals {
	t := &Totals{tiers: max(tiers, 1)}
	for tier := range t.tiers {
		a := adder{totals: t, tier: tier}
		for _, g := range groups {
			a.group(g, nil)
		}
	}
	slices.SortFunc(t.Rows, func(a, b Row) int {
		return cmp.Or(cmp.Compare(a.Movement, b.Movement), cmp.Compare(a.Unit, b.Unit))
	})
	return t
}

type adder struct {
	totals *Totals
	tier   int
}

// A level is a group around the work that comes round again.
type level struct {
	turns  Sum  // how often
	round  bool // it comes round again, so values may move with its turns
	series *program.Quantity
}

// once is a level that changes nothing.
var once = Sum{Lo: 1, Hi: 1}

// maxTurns bounds the turns that are walked; nothing that people do has more.
const maxTurns = 10_000

func (a *adder) group(g *program.Group, around []level) {
	a.totals.Unread = a.totals.Unread || g.Unread
	levels := append(slices.Clip(around), a.level(g))
	for _, s := range g.Steps {
		switch s := s.(type) {
		case *program.Group:
			inner := levels
			if s.IsSlot() {
				inner = append(slices.Clip(around), level{turns: a.slotTurns(g, s), round: true})
			}
			if g.Repeat.Kind == "choose one" {
				inner = append(slices.Clip(inner), level{turns: Sum{Lo: 0, Hi: 1}})
			}
			a.group(s, inner)
		case *program.Work:
			inner := levels
			if g.Repeat.Kind == "choose one" && works(g) > 1 {
				inner = append(slices.Clip(inner), level{turns: Sum{Lo: 0, Hi: 1}})
			}
			if g.Repeat.Kind == "on" && (works(g) > 1 || s.From == "line" && (s.Dose == nil || !s.Dose.Max && s.Dose.Unit != "s")) {
				// Lines in a window are done over and over until it closes.
				inner = append(slices.Clip(levels[:len(levels)-1]), level{turns: Sum{Open: true}, round: true})
			}
			a.work(s, inner)
		}
	}
	for _, e := range g.Events {
		a.event(g, e, levels)
	}
}

func works(g *program.Group) int {
	n := 0
	for _, s := range g.Steps {
		switch s.(type) {
		case *program.Work, *program.Group:
			n++
		}
	}
	return n
}

// event adds what is dropped into other work. How often that is depends on the clock,
// but for a single time that lies inside a group of known length.
func (a *adder) event(g *program.Group, e *program.Event, levels []level) {
	turns := Sum{Open: true}
	if e.Kind == "at" {
		when, ok := e.When.One()
		if whole, known := Whole(g, a.tier); ok && known && when < whole {
			turns, levels = once, levels[:len(levels)-1]
		}
	}
	a.group(&program.Group{Kind: "group", Repeat: program.Repeat{Kind: "once"}, Steps: e.Steps}, append(slices.Clip(levels), level{turns: turns}))
}

// Whole is how long a group is by what its head says, in seconds: the time of an amrap,
// what it lasts, its intervals. Known is false where the head does not say.
func Whole(g *program.Group, tier int) (seconds float64, known bool) {
	one := func(q *program.Quantity) (float64, bool) {
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
	if g.Repeat.Laps {
		n *= float64(max(1, g.Slots()))
	}
	if v, ok := one(g.Repeat.Whole); ok {
		return v, true
	}
	if v, ok := one(g.Repeat.Interval); ok {
		return v * n, true
	}
	on, ok := one(g.Repeat.On)
	off, _ := one(g.Repeat.Off)
	return (on + off) * n, ok
}

// slotTurns is how often a slot of a group comes round: as often as there are laps, and
// once more for the first slots where the intervals do not make whole laps.
func (a *adder) slotTurns(g, slot *program.Group) Sum {
	turns := Turns(g, a.tier)
	k := float64(g.Slots())
	if g.Repeat.Laps || !g.Repeat.Clocked() || turns.Open {
		return turns
	}
	laps := math.Floor(turns.Lo / k)
	if float64(slot.Number) <= turns.Lo-laps*k {
		laps++
	}
	return Sum{Lo: laps, Hi: laps}
}

func (a *adder) level(g *program.Group) level {
	return level{turns: Turns(g, a.tier), round: g.ComesRound(), series: g.Repeat.Series}
}

// Turns is how often a group comes round for a tier, by what its head says.
func Turns(g *program.Group, tier int) Sum {
	if g.Unread {
		return Sum{Lo: 1, Hi: 1, Open: true}
	}
	if g.Mode == "amrap" || g.Repeat.Until != nil {
		return Sum{Open: true}
	}
	r := g.Repeat
	if r.Series != nil && (r.Kind == "ladder" || r.Kind == "sets") {
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
	if !known || hi > maxTurns {
		return Sum{Lo: lo, Hi: hi, Open: true}
	}
	return Sum{Lo: lo, Hi: hi}
}

// work adds one line: over the turns of the group that its count moves with, as often
// as the other groups around it come round.
func (a *adder) work(w *program.Work, levels []level) {
	if len(w.Moves) == 0 {
		return
	}
	own := len(levels) - 1
	for own >= 0 && !levels[own].round {
		own--
	}
	if w.From == "head" {
		for i, l := range levels {
			if l.series == w.Dose {
				own = i
			}
		}
	}
	outer := once
	for i, l := range levels {
		if i != own {
			outer = outer.times(l.turns)
		}
	}
	turns := once
	if own >= 0 {
		turns = levels[own].turns
	}
	if w.Sets != nil { // N x on the line itself is nearest of all
		outer = outer.times(turns)
		lo, hi, known := w.Sets.Value(0, 1, a.tier)
		turns = Sum{Lo: lo, Hi: hi, Open: !known}
	}
	unit := "rep"
	if w.Dose != nil {
		unit = w.Dose.Unit
	} else if w.From == "clock" {
		unit = "s"
	}
	for i, m := range w.Moves {
		q := w.Dose
		if i > 0 && !w.Choice && m.Count != nil {
			q = m.Count
		}
		s := over(q, turns, a.tier).times(outer)
		if w.Side {
			s = s.times(Sum{Lo: 2, Hi: 2})
		}
		if w.Choice && len(w.Moves) > 1 {
			s.Lo = 0
		}
		a.add(m, unit, s)
	}
}

// over is the sum of a quantity over turns.
func over(q *program.Quantity, turns Sum, tier int) Sum {
	if q == nil {
		return Sum{Open: true}
	}
	part := func(n float64) Sum {
		var s Sum
		for t := range int(min(n, maxTurns)) {
			lo, hi, known := q.Value(t, int(n), tier)
			s = s.plus(Sum{Lo: lo, Hi: hi, Open: !known})
		}
		return s
	}
	least, most := part(turns.Lo), part(turns.Hi)
	return Sum{Lo: least.Lo, Hi: most.Hi, Open: least.Open || most.Open || turns.Open}
}

func (a *adder) add(m program.Move, unit string, s Sum) {
	t := a.totals
	i := slices.IndexFunc(t.Rows, func(r Row) bool { return r.Movement == m.Name && r.Unit == unit })
	if i < 0 {
		i = len(t.Rows)
		t.Rows = append(t.Rows, Row{Movement: m.Name, Unit: unit, Tiers: make([]Sum, t.tiers),
			Duty: m.Movement != nil && len(m.Movement.Trains) == 0})
	}
	t.Rows[i].Tiers[a.tier] = t.Rows[i].Tiers[a.tier].plus(s)
}

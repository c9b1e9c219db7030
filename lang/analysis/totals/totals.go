// Package totals adds up sessions: repetitions, distance, time and load moved,
// by movement, pattern, part, day or week.
package totals

import (
	"cmp"
	"math"
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// A Sum is an amount between Lo and Hi. Open says that more may come on top, by an
// amount that the text does not settle: as many rounds as possible, max, until missed.
type Sum struct {
	Lo, Hi float64
	Open   bool
}

func (s Sum) plus(t Sum) Sum { return Sum{s.Lo + t.Lo, s.Hi + t.Hi, s.Open || t.Open} }

// or is the sum where one of two is done.
func (s Sum) or(t Sum) Sum { return Sum{min(s.Lo, t.Lo), max(s.Hi, t.Hi), s.Open || t.Open} }

func (s Sum) times(t Sum) Sum {
	return Sum{s.Lo * t.Lo, s.Hi * t.Hi, s.Open && t != Sum{} || t.Open && s != Sum{}}
}

// Exact says whether the sum is one number.
func (s Sum) Exact() bool { return !s.Open && s.Lo == s.Hi }

// A Row is the sum of a movement in one unit: "rep", "m", "cal", "breath", "s".
type Row struct {
	Movement string
	Duty     bool // it trains nothing, and does not count among all repetitions
	Unit     string
	Tiers    []Sum // one for each tier of the house
	// Unread says that the sum is not what was meant: a line of it has no count, or a
	// series that does not fit its turns. Such a line adds what it says.
	Unread bool
}

// Totals are the sums of a part or a session, for one athlete; where a pair or a team
// shares a count, for all of them together, as it stands on the board.
type Totals struct {
	Rows []Row // by movement and unit
	// Unread says that no sum is sure to be what was meant: a line could not be read, or
	// names a movement that no book has.
	Unread bool
	all    []Row // over all movements, by unit
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

// All is the sum over all movements in a unit. It is not that of the rows where there is
// a choice: of 12 burpees or push-ups each row has 0 to 12, and all have 12.
func (t *Totals) All(unit string) Row {
	i := slices.IndexFunc(t.all, func(r Row) bool { return r.Unit == unit })
	if i < 0 {
		return Row{Unit: unit, Tiers: make([]Sum, t.tiers)}
	}
	return t.all[i]
}

// OfSession adds up a session, its warm-up and cool-down included.
func OfSession(s *model.Session, tiers int) *Totals { return View{}.OfSession(s, tiers) }

// OfGroup adds up a part, or any group of work.
func OfGroup(g *model.Group, tiers int) *Totals { return View{}.OfGroup(g, tiers) }

func total(tiers int, groups ...*model.Group) *Totals { return View{}.total(tiers, groups...) }

func (v View) total(tiers int, groups ...*model.Group) *Totals {
	t := &Totals{tiers: max(tiers, 1)}
	for tier := range t.tiers {
		a := v.adder(t, tier, groups)
		sums := tally{}
		for _, g := range groups {
			sums.add(a.group(g, nil, nil).maybe(g.If))
		}
		for k, s := range sums {
			t.put(k, tier, s)
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
	view   View
	stated *model.Group // whose turns are added up to the one of the view
	crowd  crowd        // who does the work at hand
}

// A level is a group around the work that comes round again.
type level struct {
	group  *model.Group // nil for the second side of a group, and for an event
	turns  Sum          // how often
	of     Sum          // of how many turns those are the first
	round  bool         // it comes round again, so values may move with its turns
	series *model.Quantity
	first  int // how many turns were before the first of these
}

// group adds up a group. Window is how long a slot or station is open.
func (a *adder) group(g *model.Group, around []level, window *model.Quantity) tally {
	a.totals.Unread = a.totals.Unread || g.Unread || g.Gaps
	if g.Side {
		around = append(slices.Clip(around), level{turns: Sum{Lo: 2, Hi: 2}})
	}
	crowd, turns := a.crowd, a.turns(g)
	a.crowd = a.divide(g)
	defer func() { a.crowd = crowd }()
	levels := append(slices.Clip(around), level{group: g, turns: turns, of: Turns(g, a.tier), round: g.ComesRound(), series: g.Repeat.Series})
	switch {
	case len(model.WorkSteps(g.Steps)) > 1 || g.Solo:
		window = nil // how they share the time is for the athletes to say
	case g.Lasts != nil:
		window = g.Lasts
	case g.Repeat.Kind == model.On:
		window = g.Repeat.On
	}
	var done []tally
	for _, s := range g.Steps {
		switch s := s.(type) {
		case *model.Group:
			inner, open := levels, (*model.Quantity)(nil)
			if s.IsSlot() {
				inner = append(slices.Clip(around), level{group: g, turns: a.slotTurns(g, s), round: true})
				if open = g.Repeat.On; g.Repeat.Kind == model.Every {
					open = g.Repeat.Interval
				}
				if g.Solo {
					open = nil
				}
			}
			if s.Kind == model.RoundOf {
				inner = rounds(levels, s)
			}
			done = append(done, a.group(s, inner, open).maybe(conditionOf(g, s.If)))
		case *model.Work:
			inner := levels
			if g.Mode == model.ForLoad && g.Lasts != nil && !g.ComesRound() && s.Sets == nil {
				// As many attempts as the time allows.
				inner = append(slices.Clip(inner), level{turns: Sum{Lo: 1, Hi: 1, Open: true}})
			}
			done = append(done, a.work(s, inner, window).maybe(conditionOf(g, s.If)))
		case *model.Rest:
			for _, k := range s.Steps {
				if w, ok := k.(*model.Work); ok {
					done = append(done, a.work(w, a.restLevels(s, levels), s.Amount).maybe(w.If))
				}
			}
		}
	}
	out := tally{}
	if g.Repeat.Kind == model.ChooseOne {
		out = either(done)
		if g.MayDoNothing() {
			out.or(tally{})
		}
		if moves(g) {
			// Who takes the first in one turn may take the second in the next.
			for k, s := range out {
				if k.movement == "" {
					out[k] = tallied{Sum{Open: true}, s.unread}
				}
			}
		}
	} else {
		for _, t := range done {
			out.add(t)
		}
	}
	for _, e := range g.Events {
		out.add(a.event(g, e, levels))
	}
	return out
}

// conditionOf is the condition of a step of a group. Of what stands in a choose one, one is done at
// most, and that is settled for all of it.
func conditionOf(g *model.Group, condition string) string {
	if g.Repeat.Kind == model.ChooseOne {
		return ""
	}
	return condition
}

// restLevels are the levels around what is done in a rest: between turns it is taken once less
// than there are turns, after a group once.
func (a *adder) restLevels(r *model.Rest, levels []level) []level {
	var around []*model.Group
	for _, l := range levels {
		if l.group != nil {
			around = append(around, l.group)
		}
	}
	of := r.Between(around)
	i := len(levels) - 1
	for i > 0 && levels[i].group != of {
		i--
	}
	outer, own := levels[:i], levels[i]
	switch r.Place {
	case model.RestBetweenTurns:
		own.turns = restsBetween(r, of, a.tier)
		return append(slices.Clip(outer), own)
	case model.RestAfterPart:
		return outer
	default: // where it stands, every turn
		return levels
	}
}

// restsBetween is how often a rest between the turns of a group, or between its slots, is taken in one
// pass of the group.
func restsBetween(r *model.Rest, g *model.Group, tier int) Sum {
	turns := Turns(g, tier)
	if g.Repeat.Clocked() {
		turns = Starts(g, tier)
	}
	slots := float64(g.Slots())
	intervals := g.Repeat.Clocked() && !g.Repeat.Laps && slots > 0 // they are counted, and not the rounds over all slots
	rests := func(n float64) float64 {
		rounds := n
		if intervals {
			rounds = math.Ceil(n / slots)
		}
		switch {
		case !r.BetweenSlots():
			return max(0, rounds-1)
		case intervals:
			return n - rounds // each but the first of a round
		}
		return rounds * max(0, slots-1)
	}
	turns.Lo, turns.Hi = rests(turns.Lo), rests(turns.Hi)
	return turns
}

// moves says whether a count of the steps of a group moves with the turns.
func moves(g *model.Group) bool {
	for w := range g.Lines(model.OnlySteps) { // of what may be chosen, neither its rests nor its events
		if !steady(w.Dose) || !steady(w.Sets) {
			return true
		}
	}
	return false
}

// event adds what is dropped into other work. How often that is depends on the clock,
// but for a single time that lies inside a group of known length.
func (a *adder) event(g *model.Group, e *model.Event, levels []level) tally {
	turns := Sum{Open: true}
	whole, known := Whole(g, a.tier)
	when, ok := e.When.One()
	switch {
	case !known || !ok || e.When.Unit != "s":
	case e.Kind == model.AtTime && when < whole:
		turns, levels = once, levels[:len(levels)-1]
	case e.Kind == model.AtEach && when > 0 && whole/when < MaxTurns:
		// Every so often from the first time on, as long as the group is not over.
		first := when
		if f, ok := e.First.One(); ok {
			first = f
		}
		n := max(0, math.Ceil((whole-first)/when))
		turns, levels = Sum{Lo: n, Hi: n}, levels[:len(levels)-1]
	}
	inner := append(slices.Clip(levels), level{turns: turns})
	return a.group(&model.Group{Kind: model.Plain, Repeat: model.Repeat{Kind: model.Once}, Steps: e.Steps}, inner, nil)
}

// work adds one line: over the turns of the group that its count moves with, as often
// as the other groups around it come round.
func (a *adder) work(w *model.Work, levels []level, window *model.Quantity) tally {
	if len(w.Moves) == 0 {
		return nil
	}
	own := len(levels) - 1
	for own >= 0 && !levels[own].round {
		own--
	}
	if w.From == model.FromHead {
		for i, l := range levels {
			if l.series == w.Dose {
				own = i
			}
		}
	}
	outer, turns := once, once
	for i, l := range levels {
		if i == own {
			turns = l.turns
		} else {
			outer = outer.times(l.turns)
		}
	}
	dose, unit := w.Dose, "rep"
	switch {
	case w.Dose != nil:
		unit = w.Dose.Unit
	case w.From == model.FromClock:
		unit = "s"
		if (len(w.Moves) == 1 || w.Choice) && !w.Shares {
			dose = window
		}
	}
	if own >= 0 && w.From == model.FromHead {
		dose = from(dose, levels[own].first)
	}
	if unit == "%" {
		dose, unit = nil, "rep" // a share of what only the athlete knows
	}
	if w.Until != nil && !w.HasCount() {
		dose = nil // nobody knows how much that is
	}
	of := turns
	if a.view.After > 0 && own >= 0 && levels[own].group == a.stated {
		of = levels[own].of
		dose = spread(dose, of, a.tier)
	}
	unread := a.unread(w, dose, of)
	var done []tally
	for i, m := range w.Moves {
		a.totals.Unread = a.totals.Unread || m.Movement == nil
		q := dose
		unit := unit
		if i > 0 && m.Count != nil {
			q, unit = m.Count, m.Count.Unit
		}
		s := tallied{endsEarly(w, over(q, w.Sets, turns, a.tier), q, a.tier).times(outer), unread}
		s.Open = s.Open || w.RM > 0 || q.OrMore()
		if w.Side && w.From != model.FromClock {
			s.Sum = s.times(Sum{Lo: 2, Hi: 2})
		}
		s.Sum = a.whose(w, s.Sum)
		if unread {
			s.Open = false
		}
		k := key{movement: m.Name, unit: unit, duty: m.Movement != nil && len(m.Movement.Trains) == 0}
		t := tally{k: s}
		if !k.duty {
			t[key{unit: unit}] = s
		}
		done = append(done, t)
	}
	if w.Choice {
		return either(done)
	}
	out := tally{}
	for _, t := range done {
		out.add(t)
	}
	return out
}

// endsEarly is the sum of a line that may end before all of it is done: in the middle of a set, or after
// the first of several.
func endsEarly(w *model.Work, s Sum, dose *model.Quantity, tier int) Sum {
	switch end := w.Until; {
	case end == nil || end.Kind == model.UntilDone:
	case !end.OfTurns():
		if end.Kind == model.UntilClock || !dose.HoldsLeast() {
			s.Lo = 0
		}
	case w.Sets != nil && !w.Sets.HoldsLeast():
		if lo, _, known := dose.Value(0, 1, tier); known {
			s.Lo = min(s.Lo, lo)
		} else {
			s.Lo = 0
		}
	}
	return s
}

// from is a series without its first terms.
func from(q *model.Quantity, first int) *model.Quantity {
	if q == nil || first <= 0 || first >= len(q.Terms) {
		return q
	}
	c := *q
	c.Terms = q.Terms[first:]
	return &c
}

// unread says whether a line does not say what was meant, so that no sum over it proves
// anything. What is wrong with it is reported by the rule that it breaks.
func (a *adder) unread(w *model.Work, dose *model.Quantity, turns Sum) bool {
	if w.Dose == nil && w.From == model.FromLine || w.Dose.Uneven() {
		return true
	}
	if w.Sets != nil {
		if lo, hi, known := w.Sets.Value(0, 1, a.tier); known {
			turns = Sum{Lo: lo, Hi: hi}
		}
	}
	n := dose.Turns()
	return n > 0 && w.From == model.FromLine && turns.Exact() && float64(n) != turns.Lo
}

// steady says whether a quantity is the same in every turn.
func steady(q *model.Quantity) bool {
	return q == nil || q.Form == syntax.One || q.Form == syntax.Range
}

// over is the sum of a quantity over turns, in each of which it is done for so many
// sets, if there are any: then its values move with those.
func over(q, sets *model.Quantity, turns Sum, tier int) Sum {
	if q == nil {
		return Sum{Open: true}
	}
	if sets != nil && steady(sets) {
		lo, hi, known := sets.Value(0, 1, tier)
		return over(q, nil, Sum{Lo: lo, Hi: hi, Open: !known || sets.OrMore()}, tier).times(turns)
	}
	if sets == nil && steady(q) {
		lo, hi, known := q.Value(0, 1, tier)
		return Sum{Lo: lo, Hi: hi, Open: !known}.times(turns)
	}
	first := func(n float64) Sum {
		var s Sum
		for t := range int(min(n, MaxTurns)) {
			if sets != nil {
				lo, hi, known := sets.Value(t, int(n), tier)
				s = s.plus(over(q, nil, Sum{Lo: lo, Hi: hi, Open: !known}, tier))
				continue
			}
			lo, hi, known := q.Value(t, int(n), tier)
			s = s.plus(Sum{Lo: lo, Hi: hi, Open: !known})
		}
		return s
	}
	least, most := first(turns.Lo), first(turns.Hi)
	return Sum{Lo: least.Lo, Hi: most.Hi, Open: least.Open || most.Open || turns.Open}
}

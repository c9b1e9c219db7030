package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// performLine performs a line of work, all its sets.
func (sim *simulation) performLine(s *model.Work) (cut bool) {
	if len(s.Moves) == 0 {
		return false
	}
	if s.Shares {
		return false // performGroup does it, in the time that is left
	}
	sets, every := 1, false
	own := sim.turnOfLine(s)
	if s.Sets != nil {
		v, ok := sim.value(s.Sets, own.turn, own.turns)
		if !ok {
			sim.reportMissing(s.Sets.At, "it is not said how many sets", "")
			v = 1
		}
		if s.Sets.OrMore() {
			sim.reportMissing(s.Sets.At, "more sets than this may be done", "")
		}
		sets = int(math.Ceil(min(v, totals.MaxTurns)))
		_, every = sim.value(s.Every, 0, sets)
	}
	if s.Until.OfTurns() && sets > 1 && !s.Sets.HoldsLeast() { // after any of them
		if sim.varies = true; sim.near {
			sets = 1
		}
	}
	rest := s.Rest
	if sets > 1 && rest == nil && !every && !sim.againstClock {
		sim.reportMissing(s.At, "no rest is written between these sets", "add a rest, such as , rest 2:00")
	}
	d := lineTurn{work: s, turn: own.turn, turns: own.turns}
	more := sim.moreToCome
	defer func() { sim.moreToCome = more }()
	for i := range sets {
		mark := sim.workTime()
		sim.moreToCome = more || sets > 1
		if s.Sets == nil {
			cut = sim.performSet(d)
		} else {
			if s.From != model.FromHead {
				d.turn, d.turns = i, sets
			}
			start := sim.now
			cut = sim.inFrame(frame{nil, i, sets, true}, func() bool { return sim.performSet(d) }) ||
				every && sim.waitForNextSet(s, start, i, sets)
		}
		if cut || sim.consumeStep() {
			return true
		}
		if i < sets-1 && rest != nil && !every && sim.performRest(rest, i, sets-1, mark) {
			return true
		}
	}
	return false
}

// waitForNextSet waits until the next set of a line starts by the clock.
func (sim *simulation) waitForNextSet(s *model.Work, start float64, i, sets int) (cut bool) {
	v, _ := sim.value(s.Every, i, sets)
	if i == sets-1 {
		return false // nothing comes after the last
	}
	if sim.now > start+v+epsilon {
		sim.reportMissing(s.Every.At,
			"at some standing a set takes longer than this, and nobody knows what happens then", "")
		return false
	}
	return sim.restFor(start + v - sim.now)
}

// turnOfLine is the turn that a line's values move with: that of the head that gives it its
// count, or of the nearest thing that comes round.
func (sim *simulation) turnOfLine(s *model.Work) frame {
	if s.From == model.FromHead {
		for i := len(sim.frames) - 1; i >= 0; i-- {
			if f := sim.frames[i]; f.group != nil && f.group.Repeat.Series != nil && f.group.Repeat.Series == s.Dose {
				return f
			}
		}
	}
	return sim.nearestTurn()
}

// performSet performs one set of a line.
func (sim *simulation) performSet(d lineTurn) (cut bool) {
	s := d.work
	limit, fill, more := sim.limit, sim.maxUntil, sim.moreToCome
	defer func() { sim.limit, sim.maxUntil, sim.moreToCome = limit, fill, more }()
	if end := s.Until; end != nil {
		if end.Kind == model.UntilClock {
			if v, ok := sim.value(end.Clock, 0, 1); ok {
				sim.limit = min(sim.limit, max(sim.now, sim.clockZero+v))
				sim.maxUntil, sim.moreToCome = sim.limit, false
			}
		} else if s.HasCount() || !math.IsInf(sim.maxUntil, 1) || !math.IsInf(sim.limit, 1) {
			if end.Untold() && !end.OfTurns() && !s.Dose.HoldsLeast() { // at any moment of it
				if sim.varies = true; sim.near {
					return false
				}
				if s.From == model.FromClock && sim.moreToCome { // how much of the time it leaves to what follows is not known
					sim.reportMissing(end.At, "nobody knows when this ends, and more work follows", "write how long, or until a time on the clock")
					return false
				}
			}
		} else {
			sim.openEnded = true
			sim.reportMissing(end.At, "nobody knows when this ends", "write a cap, or at most how much")
		}
	}
	// The second side is another go at the same.
	sides := 1
	if s.Side {
		sides = 2
	}
	for range sides {
		cut = sim.performChoice(d, float64(sides))
		if s.Window == nil || cut {
			break // without a window, performMoves doubles the count for the second side
		}
	}
	return cut && sim.now >= limit-epsilon || sim.stopped
}

// performChoice performs a line's movements, or the slowest of those that it leaves a choice of, at
// the near end the quickest.
func (sim *simulation) performChoice(d lineTurn, sides float64) (cut bool) {
	s := d.work
	if !s.Choice {
		return sim.performMoves(d, s.Moves, s.Dose, sides)
	}
	return sim.performOne(len(s.Moves), func(i int) bool {
		q := s.Dose
		if i > 0 && s.Moves[i].Count != nil {
			q = s.Moves[i].Count
		}
		return sim.performMoves(d, s.Moves[i:i+1], q, sides)
	})
}

// performOne performs each of n choices from the same state, and keeps the one that takes longest, at
// the near end the one that takes least.
func (sim *simulation) performOne(n int, perform func(i int) (cut bool)) (cut bool) {
	start := sim.snapshot()
	var kept state
	var others []logEntry
	sim.varies = sim.varies || n > 1
	for i := range n {
		sim.rollBack(start)
		c := perform(i)
		further := sim.now > kept.now+epsilon || c && !cut
		if sim.near {
			further = sim.now < kept.now-epsilon
		}
		if i > 0 && !further {
			others = append(others, sim.log[len(start.log):]...)
			continue
		}
		others = append(others, kept.log...)
		kept, cut = sim.snapshot(), c
		kept.log = slices.Clone(sim.log[len(start.log):]) // what follows is written over it
	}
	if n > 0 {
		log := append(start.log, kept.log...)
		sim.rollBack(kept)
		sim.log, sim.others = log, append(sim.others, others...)
	}
	return cut
}

// performChooseOne performs the slowest of a group's steps, of which an athlete does one; at the near
// end the quickest, or nothing where that may be.
func (sim *simulation) performChooseOne(g *model.Group) (cut bool) {
	of := model.WorkSteps(g.Steps)
	if g.MayDoNothing() {
		if sim.varies = true; sim.near {
			return false
		}
	}
	return sim.performOne(len(of), func(i int) bool {
		sim.chosen = of[i]
		return sim.performSteps(of[i : i+1])
	})
}

// performMoves performs a dose of a movement or of a complex.
func (sim *simulation) performMoves(d lineTurn, moves []model.Move, q *model.Quantity, sides float64) (cut bool) {
	s := d.work
	toMax := s.From == model.FromClock || q != nil && q.Max
	unit := "rep"
	if q != nil {
		unit = q.Unit
	}
	switch {
	case toMax:
		return sim.performMax(d, moves, q, unit)
	case q == nil:
		sim.reportMissing(s.At, "it is not said how many or how long", "")
		return false
	case unit == "%":
		sim.reportMissing(q.At, "only the athlete knows how many that is", "")
		return false
	}
	n, ok := sim.value(q, d.turn, d.turns)
	if !ok && s.Past != nil {
		sim.reportMissing(s.Past.At, "how many that is only what is done before it will show", "write how many")
		return false
	}
	if !ok {
		sim.reportMissing(q.At, "it is not said how many for every turn", "")
		return false
	}
	if unit == "rep" && sim.buildsUpTo(s) {
		return sim.performBuildUp(d, moves, n)
	}
	if q.OrMore() {
		sim.reportMissing(q.At, "more than this may be done", "")
	}
	n *= sides
	if unit == "s" {
		return sim.performHold(d, moves[0], n)
	}
	return sim.performShared(s, n, func() (unitCost, bool) { return sim.costOf(d, moves, unit) })
}

// performHold performs a movement for a time, the same for everybody.
func (sim *simulation) performHold(d lineTurn, m model.Move, seconds float64) (cut bool) {
	if m.Movement == nil {
		sim.reportMissing(m.At, "no book has a movement "+m.Name, "")
	}
	if d.work.Rest != nil && d.work.Sets == nil {
		sim.reportMissing(d.work.Rest.At, "nobody knows how many sets this time is broken up into", "write them: 3 x 0:30 "+m.Name+", rest 0:20")
	}
	return sim.performShared(d.work, seconds, func() (unitCost, bool) {
		return unitCost{work: d.work, name: m.Name, unit: "s", pattern: patternOf(m.Movement), fixed: 1, unbroken: math.Inf(1),
			byClock: true, inTime: sim.countedInTime(d, m)}, true
	})
}

// countedInTime is what is counted of a movement in a line of so many seconds: of those that it has a pace
// for, repetitions before metres before calories. It is nil where the movement is held, and where nobody
// knows how fast it goes: then the line takes its time all the same.
func (sim *simulation) countedInTime(d lineTurn, m model.Move) *unitCost {
	if m.Movement == nil {
		return nil
	}
	for _, unit := range []string{"rep", "m", "cal"} {
		if _, ok := m.Movement.Pace(unit); !ok {
			continue
		}
		before := sim.unknowns
		sim.unknowns = unknowns{missing: slices.Clone(before.missing), notes: slices.Clone(before.notes)}
		c, ok := sim.costOf(d, []model.Move{m}, unit)
		sim.unknowns = before
		if !ok || c.moving+c.fixed <= 0 {
			return nil
		}
		return &c
	}
	return nil
}

// performMax performs as much as there is time for.
func (sim *simulation) performMax(d lineTurn, moves []model.Move, q *model.Quantity, unit string) (cut bool) {
	s := d.work
	if s.Window == nil && sim.moreToCome && q != nil {
		sim.reportMissing(q.At, "nobody knows how long a set of max takes, and it is not the last", "write a time before it, such as 0:40 max "+moves[0].Name)
		return false
	}
	limit := sim.limit
	defer func() { sim.limit = limit }()
	end := min(sim.maxUntil, sim.limit)
	if s.Window != nil {
		v, ok := sim.value(s.Window, d.turn, d.turns)
		if !ok {
			sim.reportMissing(s.Window.At, "it is not said how long for every turn", "")
			return false
		}
		end = min(sim.limit, sim.now+v)
	}
	if math.IsInf(end, 1) {
		sim.openEnded = true
		at := s.At
		if q != nil {
			at = q.At
		}
		if s.Until == nil { // else that has been said of its end
			sim.reportMissing(at, "max has no end", "write a time before it, or until a time on the clock")
		}
		return false
	}
	sim.limit = end
	if moves[0].Movement != nil && q == nil {
		if _, ok := moves[0].Movement.Pace("rep"); !ok { // it is held, or walked: for as long as there is
			if _, ok := moves[0].Movement.Pace("m"); !ok {
				cut = sim.performHold(d, moves[0], end-sim.now)
				return cut && sim.now >= limit-epsilon
			}
			unit = "m"
		}
	}
	before := sim.unknowns
	sim.unknowns = unknowns{notes: before.notes}
	c, ok := sim.costOf(d, moves, unit)
	found := sim.unknowns
	sim.unknowns = unknowns{missing: before.missing, notes: found.notes}
	if !ok { // how many is not known, and the time is
		for _, m := range found.missing {
			m.Held = true
			sim.unknowns.addMissing(m)
		}
	}
	if !ok || c.moving+c.fixed <= 0 {
		cut = sim.performHold(d, moves[0], end-sim.now)
		return cut && sim.now >= limit-epsilon
	}
	if s.ToFailure() {
		sim.reportMissing(q.At, "nobody knows how many a set of max is, nor how long it takes", "write a time before it, such as 0:40 max "+moves[0].Name)
		cut = sim.performHold(d, moves[0], end-sim.now)
		return cut && sim.now >= limit-epsilon
	}
	// There is always more of it than time.
	cut = sim.performShared(s, maxAmount, func() (unitCost, bool) { return sim.costOf(d, moves, unit) })
	return cut && sim.now >= limit-epsilon || sim.stopped
}

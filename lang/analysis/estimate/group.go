package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// performGroup performs a group, and says whether time was up before its end.
func (sim *simulation) performGroup(g *model.Group) (cut bool) {
	record := sim.records[g]
	if record == nil {
		record = &groupRecord{began: sim.now - sim.clockZero}
		sim.records[g] = record
	}
	sim.openRecords = append(sim.openRecords, record)
	defer func() { sim.openRecords = sim.openRecords[:len(sim.openRecords)-1] }()
	if g.Unread {
		sim.reportMissing(g.At, "this line could not be read, so nobody knows how often what it holds is done", "")
	}
	if g.Gaps {
		sim.reportMissing(g.At, "a line under it could not be read", "")
	}
	outer := sim.saveContext()
	start, before := sim.now, sim.spent
	duration, fixed := sim.enterGroup(g)
	sides := 1
	if g.Side {
		sides = 2
	}
	for range sides {
		if cut = sim.performTurns(g, record); cut {
			break
		}
	}
	if record.counted { // now, as a choice that this stands in may take the log back
		record.unfinished = counts(sim.log[record.turnLogStart:])
		if len(record.windows) > 0 {
			record.rounds, record.unfinished = roundsIn(record.windows), leftOver(record.windows)
		}
	}
	if !cut && g != sim.uncut {
		cut = sim.performWhenDone(g)
	}
	if took := sim.now - start; took >= record.longest {
		spent := sim.spent.minus(before)
		record.longest, record.stated = took, spent.Fixed+spent.Rest
	}
	if fixed { // it lasts, whatever anybody does
		end := min(start+duration, sim.limit)
		if w := g.SharesTime(); w != nil && !cut && sim.now < end {
			cut = sim.performHold(lineTurn{work: w}, w.Moves[0], end-sim.now)
		}
		sim.passUntil(end, record)
		sim.now = max(sim.now, end)
	}
	sim.reportHeats(g, sim.now-start)
	sim.reportIdle(g)
	sim.restoreContext(outer)
	if sim.team.size != len(sim.bodies) {
		sim.divide(sim.team.size)
	}
	if sim.now > sim.limit+epsilon {
		sim.now, cut = sim.limit, true
	}
	return sim.timeIsUp(cut)
}

// enterGroup sets the context that the head of a group gives to what it holds. Where the head
// fixes how long it takes, duration is that, in s.
func (sim *simulation) enterGroup(g *model.Group) (duration float64, fixed bool) {
	if g.Effort != nil {
		sim.heads = append(slices.Clip(sim.heads), g)
	}
	switch {
	case g.Repeat.Clocked() || g.Mode == model.AMRAP || g.Mode == model.ForTime:
		sim.againstClock = true
	case g.Mode == model.ForLoad:
		sim.againstClock = false
	}
	sim.formTeam(g)
	if end := g.Repeat.Until; end != nil && end.Kind == model.UntilClock {
		if v, ok := sim.value(end.Clock, 0, 1); ok {
			sim.limit = min(sim.limit, max(sim.now, sim.clockZero+v))
			sim.maxUntil, sim.moreToCome = sim.limit, false
		}
	}
	if v, ok := sim.value(g.Time, 0, 1); ok && g.Mode == model.AMRAP {
		duration, fixed = v, true
	}
	if g.Mode == model.AMRAP && g.Time == nil && g.Repeat.Kind != model.On { // until what it stands in ends
		sim.limit = min(sim.limit, sim.maxUntil)
	}
	if v, ok := sim.value(g.Lasts, 0, 1); ok {
		duration, fixed = v, true
	}
	if len(sim.openRecords) == 1 && sim.unbounded || sim.goal != nil && sim.goal.group == g {
		duration, fixed = 0, false
	}
	outer, filled := sim.limit, sim.filled
	if fixed {
		sim.openWindow(duration)
	}
	if v, ok := sim.value(g.Cap, 0, 1); ok && !g.IsSection() {
		sim.limit = min(sim.limit, sim.now+v)
	}
	if g == sim.uncut { // a max still ends when it would
		sim.maxUntil, sim.limit, sim.filled = min(sim.maxUntil, sim.limit), outer, filled
	}
	if len(sim.openRecords) == 1 || g.Cap != nil || g.Time != nil {
		sim.clockZero = sim.now
	}
	sim.armEvents(g)
	return duration, fixed
}

// performTurns performs a group as often as it comes round.
func (sim *simulation) performTurns(g *model.Group, record *groupRecord) (cut bool) {
	switch {
	case g.Repeat.Clocked():
		return sim.performClocked(g, record)
	case g.Repeat.Kind == model.ChooseOne:
		return sim.performChooseOne(g)
	}
	n, open := sim.countTurns(g)
	sim.filled = sim.filled || open && !math.IsInf(sim.limit, 1)
	if sim.team.size > 1 && !sim.team.inTurn {
		if slices.ContainsFunc(g.Steps, model.IsTag) {
			return sim.performRelay(g, record, n, open)
		}
		if e := pacerOf(g); e != nil {
			return sim.performPaced(g, record, e, n, open)
		}
	}
	aimed := sim.goal != nil && sim.goal.group == g
	if open && math.IsInf(sim.limit, 1) && !aimed {
		sim.openEnded = true
		sim.reportMissing(g.Repeat.At, "nothing says when this ends", "write a cap, or how often")
		n, open = 1, false
	}
	round := g.ComesRound()
	more := sim.moreToCome
	defer func() { sim.moreToCome = more }()
	last := 0.0 // the workTime at which the last turn began
	each := 1   // turns that make a round: one of each member's where they take turns at all of it
	if sim.oneRun(g.Steps) && !sim.dealsOut(g) {
		each = sim.team.size
	}
	for i := 0; open || i < n*each; i++ {
		if i > 0 && i%each == 0 && sim.restBetweenTurns(g, i/each-1, n, last) {
			return true
		}
		start, mark := sim.now, sim.workTime()
		sim.workMark, last = mark, mark
		record.rounds, record.turnLogStart, record.counted = i, len(sim.log), record.counted || open
		sim.moreToCome = more || open || n*each > 1
		if sim.inFrame(frame{g, i / each, n, round}, func() bool {
			if each > 1 {
				return sim.performAlone(i%each, func() bool { return sim.performSteps(g.Steps) })
			}
			return sim.performTurn(g, i)
		}) {
			return true
		}
		record.rounds, record.turnLogStart = i+1, len(sim.log)
		if sim.recordGoalRound(g, i+1) {
			return true
		}
		if open && sim.now <= start+epsilon { // it would go on for ever
			sim.passUntil(sim.limit, record)
			break
		}
		if sim.consumeStep() {
			break
		}
	}
	return sim.restAfterTurns(g, last)
}

// countTurns is how often a group comes round for this tier; open where nothing but the clock
// ends it.
func (sim *simulation) countTurns(g *model.Group) (n int, open bool) {
	if g.Unread {
		return 1, false
	}
	sim.differsByTier = sim.differsByTier || g.Repeat.Count.Tiers() > 1
	t := totals.Turns(g, sim.tier)
	if g.Repeat.Clocked() {
		t = totals.Starts(g, sim.tier)
	}
	if end := g.Repeat.Until; end.Untold() && end.Kind != model.UntilMissed { // after any of them
		if sim.varies = true; sim.near {
			return max(1, int(math.Ceil(min(t.Lo, totals.MaxTurns)))), false
		}
	}
	if t.Open {
		return 0, true
	}
	sim.varies = sim.varies || t.Lo < t.Hi
	n = int(math.Ceil(min(t.Hi, totals.MaxTurns)))
	if sim.near {
		n = int(math.Ceil(t.Lo))
	}
	if g.Share != "" && sim.team.size > 1 && !sim.team.solo {
		n = int(math.Ceil(float64(n) / float64(sim.team.size))) // all of them work at once
	}
	return n, false
}

// performTurn performs what a group holds, once.
func (sim *simulation) performTurn(g *model.Group, turn int) (cut bool) {
	if sim.dealsOut(g) {
		return sim.performAlone(turn%sim.team.size, func() bool { return sim.performSlots(g) })
	}
	return sim.performSlots(g)
}

// performSlots performs the steps of a group in order, with the rests that stand between one slot, or
// station, and the next.
func (sim *simulation) performSlots(g *model.Group) (cut bool) {
	slots := g.Slots()
	if slots < 2 {
		return sim.performSteps(g.Steps)
	}
	more, from, slot := sim.moreToCome, 0, 0
	defer func() { sim.moreToCome = more }()
	for i, s := range g.Steps {
		if k, ok := s.(*model.Group); !ok || !k.IsSlot() {
			continue
		}
		if slot++; slot == 1 {
			continue
		}
		sim.moreToCome = true
		if sim.performSteps(g.Steps[from:i]) || sim.restBetweenSlots(g, slot-2, slots) {
			return true
		}
		from = i
	}
	sim.moreToCome = more
	return sim.performSteps(g.Steps[from:])
}

// performSteps performs steps one after the other.
func (sim *simulation) performSteps(steps []model.Step) (cut bool) {
	more := sim.moreToCome
	defer func() { sim.moreToCome = more }()
	for i := 0; i < len(steps); i++ {
		if run := sim.runOf(steps[i:]); run > 0 {
			sim.moreToCome = more || slices.ContainsFunc(steps[i+run:], model.IsWork)
			if sim.performInTurn(func() bool { return sim.performSteps(steps[i : i+run]) }) {
				return true
			}
			i += run - 1
			continue
		}
		s := steps[i]
		if s != sim.chosen && model.Condition(s) != "" {
			if sim.varies = true; sim.near {
				continue
			}
		}
		sim.moreToCome = more || slices.ContainsFunc(steps[i+1:], model.IsWork)
		switch s := s.(type) {
		case *model.Group:
			if s.Kind != model.RoundOf {
				cut = sim.performGroup(s)
				break
			}
			turn := sim.nearestTurn().turn // of the nearest that comes round
			if turn+1 < s.Number || turn+1 > s.Last {
				continue
			}
			cut = sim.inFrame(frame{s, turn + 1 - s.Number, s.Last - s.Number + 1, true},
				func() bool { return sim.performGroup(s) })
		case *model.Work:
			cut = sim.performLine(s)
		case *model.Rest:
			if (s.Place == model.RestHere || s.Place == "") && s.Of != model.OfParts {
				f := sim.nearestTurn()
				cut = sim.performRest(s, f.turn, f.turns, sim.workMark)
			}
		}
		if cut {
			return true
		}
		if i+1 < len(steps) && !sim.againstClock && straightSets(s, steps[i+1]) {
			sim.reportMissing(steps[i+1].Where(), "no rest is written before this set", "write a line such as rest 2:00")
		}
	}
	return false
}

// straightSets says whether one line after another is a further set of the same lift, at a share of a
// maximum: athletes rest in between, whether it is said or not.
func straightSets(a, b model.Step) bool {
	one, ok := a.(*model.Work)
	two, is := b.(*model.Work)
	heavy := func(w *model.Work) bool {
		return slices.ContainsFunc(w.Loads, func(ld model.Load) bool { return ld.Kind == syntax.Share || ld.Kind == syntax.RIR })
	}
	return ok && is && len(one.Moves) > 0 && len(two.Moves) > 0 && one.Moves[0].Name == two.Moves[0].Name && heavy(one) && heavy(two)
}

// nearestTurn is the turn under way of the nearest thing that comes round, with whose turns values move.
func (sim *simulation) nearestTurn() frame {
	for i := len(sim.frames) - 1; i >= 0; i-- {
		if sim.frames[i].round {
			return sim.frames[i]
		}
	}
	return frame{turn: 0, turns: 1}
}

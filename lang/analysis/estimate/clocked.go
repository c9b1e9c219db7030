package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// performClocked performs a group whose turns a clock starts.
func (sim *simulation) performClocked(g *model.Group, record *groupRecord) (cut bool) {
	var slots []*model.Group
	for _, s := range g.Steps {
		if k, ok := s.(*model.Group); ok && k.IsSlot() {
			slots = append(slots, k)
		}
	}
	if len(slots) > 0 {
		for _, s := range g.Steps {
			if k, ok := s.(*model.Group); model.IsWork(s) && !(ok && k.IsSlot()) {
				sim.reportMissing(s.Where(), "nobody knows in which slot this is done", "")
			}
		}
	}
	n, open := sim.countTurns(g)
	if g.Repeat.Laps && len(slots) > 0 {
		n *= len(slots)
	}
	n = min(n, totals.MaxTurns)
	if end := g.Repeat.Until; open && math.IsInf(sim.limit, 1) && (end == nil || end.Kind != model.UntilMissed) {
		sim.openEnded = true
		sim.reportMissing(g.Repeat.At, "nothing says when this ends", "write how often, such as x 5")
		n, open = 1, false
	}
	sim.openEnded = sim.openEnded || open && math.IsInf(sim.limit, 1) // a cap would end it
	if g.Repeat.Kind == model.On && g.CarryOn && len(slots) == 0 {
		return sim.performCarryOn(g, record, n, open)
	}
	depth := sim.clockDepth
	sim.clockDepth++
	defer func() { sim.clockDepth = depth }()
	c := sim.saveContext()
	var took []float64 // by turn, in s
	least := 1         // turns, whatever is missed in them
	if lo, _, known := g.Repeat.Count.Value(0, 1, sim.tier); known && g.Repeat.Count.HoldsLeast() {
		if least = int(min(lo, totals.MaxTurns)); g.Repeat.Laps && len(slots) > 0 {
			least *= len(slots)
		}
	}
	missed := false
	for i := 0; open || i < n; i++ {
		turn := frame{g, i, n, true}
		lap, laps := i, n
		if k := len(slots); k > 0 {
			lap, laps = i/k, (n+k-1)/k
			if i > 0 {
				if i%k == 0 {
					cut = sim.restBetweenTurns(g, lap-1, laps, sim.workMark)
				} else {
					cut = sim.restBetweenSlots(g, i%k-1, k)
				}
				if cut {
					return true
				}
			}
		} else if i > 0 && sim.restBetweenTurns(g, i-1, n, sim.workMark) {
			return true
		}
		over, stop := sim.performClockedTurn(g, record, turn, slots, lap, laps)
		sim.restoreContext(c)
		if stop {
			return true
		}
		took = append(took, record.lastTurnTook)
		missed = missed || over
		if end := g.Repeat.Until; end != nil && end.Kind == model.UntilMissed && missed && i+1 >= least {
			record.turnLogStart = len(sim.log) // what was missed does not count
			sim.outlasts = true
			return false
		}
		if !over && len(record.windows) == 0 {
			record.rounds = i + 1
		}
		if sim.consumeStep() {
			return true
		}
		if open && math.IsInf(sim.limit, 1) && (steady(took, max(1, len(slots))) || sim.mostMoved() > sim.figures.MostMoving) {
			record.open = true
			sim.outlasts = true
			sim.clockDepth-- // no interval bounds this
			sim.reportMissing(g.Repeat.At, "at some standing nobody ever misses a turn of this, so nothing ends it", "write a cap")
			return false
		}
	}
	return sim.restAfterTurns(g, sim.workMark)
}

// steady says whether turns, by how long they took, go on as they are: each of the last lap took as long as
// the same one of the lap before, as nearly as a clock can tell.
func steady(took []float64, lap int) bool {
	const same = 0.005 // s
	if len(took) < 2*lap {
		return false
	}
	for i := len(took) - lap; i < len(took); i++ {
		if math.Abs(took[i]-took[i-lap]) > same {
			return false
		}
	}
	return true
}

// performClockedTurn performs one turn on a clock, and waits for the next. Over says that it took
// longer than its interval; stop, that time was up for more than this turn.
func (sim *simulation) performClockedTurn(g *model.Group, record *groupRecord, turn frame, slots []*model.Group, lap, laps int) (
	over, stop bool) {
	start, stated := sim.now, sim.spent.Fixed
	r := g.Repeat
	length, off, ok := sim.turnLength(r, turn)
	if !ok {
		sim.reportMissing(r.At, "it is not said how long every turn is", "")
		return false, sim.consumeStep()
	}
	sim.before = nobody
	if r.Kind == model.Every { // the clock leaves time for the change, and for whole runs in hand
		for i := range sim.bodies {
			sim.bodies[i].startAfresh()
		}
	}
	sim.workMark = sim.workTime()
	sim.clockZero, sim.maxUntil, sim.moreToCome = start, min(sim.limit, start+length), false
	if !record.counted || r.Kind != model.On {
		record.turnLogStart = len(sim.log)
	}
	record.counted = record.counted || r.Until != nil && (r.Until.Kind == model.UntilMissed || !r.Until.Untold())
	held := frame{group: g}
	if len(slots) > 0 {
		held = frame{slots[turn.turn%len(slots)], lap, laps, true}
	}
	took, cut := sim.performClockedWork(g, record, turn, held, length)
	if len(sim.openRecords) == 1 && sim.workEnd() > start+epsilon { // nobody's pace moves the starts of a part's own turns
		sim.exactUntil = start
	}
	end := start + length
	if cut && (sim.now >= sim.limit-epsilon && sim.limit < end-epsilon || sim.stopped) {
		return false, true // a cap, or a window around it
	}
	record.addTurn(Turn{Number: turn.turn + 1, Took: took, Interval: length, Stated: sim.spent.Fixed - stated})
	if over = took > length+epsilon; over && r.Kind != model.On {
		sim.spent.Over += sim.now - end
		sim.now = end
		for i := range sim.bodies {
			sim.bodies[i].free = min(sim.bodies[i].free, end)
		}
	} else {
		sim.restUntil(min(end, sim.limit))
	}
	if sim.now >= sim.limit-epsilon && end > sim.limit+epsilon {
		return over, true
	}
	return over, off > 0 && sim.restFor(off)
}

// turnLength is how long a turn on a clock lasts, and the rest that its clock leaves behind it, in s.
func (sim *simulation) turnLength(r model.Repeat, turn frame) (length, off float64, ok bool) {
	if r.Kind == model.On {
		length, ok = sim.value(r.On, turn.turn, turn.turns)
		off, _ = sim.value(r.Off, turn.turn, turn.turns)
	} else {
		length, ok = sim.value(r.Interval, turn.turn, turn.turns)
	}
	return length, off, ok && length > 0
}

// performClockedWork performs the work of one turn on a clock that lasts length, in s: of the group, or
// of the slot that is held. Took is what all of it takes, in s.
func (sim *simulation) performClockedWork(g *model.Group, record *groupRecord, turn, held frame, length float64) (
	took float64, cut bool) {
	start, outer := sim.now, sim.limit
	defer func() { sim.limit = outer }()
	perform := func() bool { return sim.performInWindow(g, turn, held) }
	switch {
	case g.Repeat.Kind != model.On:
		cut = perform()
	case !g.RepeatsInWindow(held.group):
		return sim.performAndClose(length, perform)
	case held.group == g:
		sim.limit = sim.maxUntil
		sim.repeatUntilClosed(g, record)
		record.windows = append(record.windows, Done{Rounds: record.rounds, Then: counts(sim.log[record.turnLogStart:])})
		cut = true
	default:
		sim.limit = sim.maxUntil
		cut = sim.repeatSlotUntilClosed(held.group)
	}
	return sim.now - start, cut
}

// addTurn keeps a turn on a clock if it is the longest so far, and the least rest of all of them.
func (r *groupRecord) addTurn(t Turn) {
	r.lastTurnTook = t.Took
	t.LeastRest = t.Interval - t.Took
	if r.longestTurn.Number > 0 {
		t.LeastRest = min(t.LeastRest, r.longestTurn.LeastRest)
		if t.Took <= r.longestTurn.Took {
			r.longestTurn.LeastRest = t.LeastRest
			return
		}
	}
	r.longestTurn = t
}

// performInWindow performs what one turn on a clock holds: the steps of the group, or one of its slots.
func (sim *simulation) performInWindow(g *model.Group, turn, held frame) (cut bool) {
	return sim.inFrame(turn, func() bool {
		if held.group == g {
			return sim.performTurn(g, turn.turn)
		}
		return sim.inFrame(held, func() bool { return sim.performGroup(held.group) })
	})
}

// performAndClose performs work once in a window of so many seconds, after which it is stopped. Took is
// what all of it takes, in s.
func (sim *simulation) performAndClose(seconds float64, perform func() (cut bool)) (took float64, cut bool) {
	before := sim.snapshot()
	cut = perform()
	took = sim.now - before.now
	if took > seconds+epsilon {
		sim.rollBack(before)
		sim.limit = min(sim.limit, sim.now+seconds)
		cut = perform()
	}
	return took, cut
}

// repeatSlotUntilClosed performs what a slot holds over and over until its window closes.
func (sim *simulation) repeatSlotUntilClosed(slot *model.Group) (cut bool) {
	for i := 0; !cut; i++ {
		from := sim.now
		cut = sim.inFrame(frame{slot, i, 0, true}, func() bool { return sim.performGroup(slot) })
		if sim.now <= from+epsilon || sim.consumeStep() {
			break
		}
	}
	return cut
}

// repeatUntilClosed performs what a window holds over and over until the window closes.
func (sim *simulation) repeatUntilClosed(g *model.Group, record *groupRecord) {
	record.counted, record.rounds = true, 0
	for i := 0; ; i++ {
		start := sim.now
		record.turnLogStart = len(sim.log)
		if sim.inFrame(frame{g, i, 0, true}, func() bool { return sim.performTurn(g, i) }) {
			return
		}
		record.rounds = i + 1
		record.turnLogStart = len(sim.log)
		if sim.recordGoalRound(g, i+1+roundsIn(record.windows)) {
			return
		}
		if sim.now <= start+epsilon || sim.consumeStep() {
			sim.passUntil(sim.limit, record)
			return
		}
	}
}

// roundsIn are the whole rounds of several windows.
func roundsIn(windows []Done) (n int) {
	for _, w := range windows {
		n += w.Rounds
	}
	return n
}

// leftOver is what is done beside whole rounds, in all windows together.
func leftOver(windows []Done) (all []Count) {
	for _, w := range windows {
		for _, c := range w.Then {
			c.N = whole(c.N)
			i := slices.IndexFunc(all, func(o Count) bool { return o.Movement == c.Movement && o.Unit == c.Unit })
			if i < 0 {
				all = append(all, c)
			} else {
				all[i].N += c.N
			}
		}
	}
	return all
}

// performCarryOn performs windows that go on where the last one stopped: round after round, or the list
// once. What is left of a window and the time off between two are rest.
func (sim *simulation) performCarryOn(g *model.Group, record *groupRecord, n int, open bool) (cut bool) {
	start, outer, outerBreak := sim.now, sim.limit, sim.interrupt
	defer func() { sim.limit, sim.interrupt = outer, outerBreak }()
	windows := windowsOf(sim, g, n, open)
	last := windows[len(windows)-1]
	for i := range windows {
		windows[i].closes += start
	}
	once := g.Mode == model.ForTime
	perform := func(limit float64) (worked float64) {
		sim.limit, sim.maxUntil, sim.clockZero, sim.moreToCome = min(outer, limit), min(outer, limit), start, false
		sim.filled = sim.filled || !math.IsInf(sim.limit, 1)
		sim.interrupt = interruption{at: closing(windows, 0), then: func() bool {
			i := slices.IndexFunc(windows, func(w window) bool { return w.closes >= sim.now-epsilon })
			sim.restUntil(sim.now + windows[i].off)
			sim.interrupt.at = closing(windows, i+1)
			return sim.now >= sim.limit-epsilon
		}}
		if once {
			sim.performInWindow(g, frame{group: g, turns: 1}, frame{group: g})
		} else {
			sim.repeatUntilClosed(g, record)
		}
		worked = sim.now - start
		for _, w := range windows[:len(windows)-1] {
			if w.closes < sim.now-epsilon {
				worked -= w.off
			}
		}
		return worked
	}
	if end := start + last.closes; once {
		before := sim.snapshot()
		on := 0.0
		for _, w := range windows {
			on += w.on
		}
		worked := perform(math.Inf(1))
		record.addTurn(Turn{Number: 1, Took: worked, Interval: on})
		if sim.now > end+epsilon {
			sim.rollBack(before)
			perform(end)
		}
	} else if !math.IsInf(min(outer, end), 1) {
		perform(end)
	}
	sim.limit, sim.interrupt = outer, outerBreak
	if sim.now >= outer-epsilon {
		return true
	}
	return sim.restFor(start + last.closes + last.off - sim.now)
}

// A window is the time for work that a clock gives, and the rest behind it.
type window struct{ on, off, closes float64 } // s; closes since the first opened

// closing is when a window interrupts the work under way; the last one ends it.
func closing(windows []window, i int) float64 {
	if i < len(windows)-1 {
		return windows[i].closes
	}
	return math.Inf(1)
}

// windowsOf are the windows of a group, one after the other: so many, or as many as there is time for.
func windowsOf(sim *simulation, g *model.Group, n int, open bool) []window {
	var out []window
	at := 0.0
	for i := 0; (open || i < max(1, n)) && i < totals.MaxTurns; i++ {
		on, _ := sim.value(g.Repeat.On, i, n)
		off, _ := sim.value(g.Repeat.Off, i, n)
		out = append(out, window{on, off, at + on})
		if at += on + off; open && (sim.now+at >= sim.limit || on+off <= 0) {
			break
		}
	}
	return out
}

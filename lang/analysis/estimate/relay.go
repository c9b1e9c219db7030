package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/model"
)

// A leg is one member's turn of a relay.
type leg struct {
	above, below Spent   // what passed until the tag, and after it
	end          float64 // s since the part began
	own          bool    // it began when the member was back from the leg before, and not at a tag
}

// performRelay performs a group that hands on at a tag, each member in turn: the next starts at the tag,
// or when they have done what stands below it themselves. It is over when the last of them is.
func (sim *simulation) performRelay(g *model.Group, record *groupRecord, n int, open bool) (cut bool) {
	if open && math.IsInf(sim.limit, 1) {
		sim.openEnded = true
		sim.reportMissing(g.Repeat.At, "nothing says when this ends", "write a cap, or how often")
		n, open = 1, false
	}
	if sim.team.onward {
		return sim.performOnward(g, record, n, open)
	}
	k := sim.team.size
	tag := slices.IndexFunc(g.Steps, model.IsTag)
	if again := slices.IndexFunc(g.Steps[tag+1:], model.IsTag); again >= 0 {
		sim.reportMissing(g.Steps[tag+1+again].Where(), "it is handed on again here, and each starts from the top",
			"write carry on where the next goes on behind the tag")
	}
	spent, start := sim.spent, sim.now
	was := sim.team.inTurn
	sim.team.inTurn = true
	defer func() { sim.team.inTurn, sim.before = was, nobody }()
	own := slices.Repeat([]float64{sim.now}, k)
	tagged := math.Inf(-1)
	var legs []leg
	for i := 0; (open || i < n*k) && !cut; i++ {
		l := leg{own: own[i%k] > tagged}
		sim.now = max(own[i%k], tagged)
		if sim.now >= sim.limit || sim.consumeStep() {
			cut = true
			break
		}
		sim.who, sim.handover = i%k, max(0, tagged+sim.teamHandover()-sim.now)
		record.rounds, record.turnLogStart, record.counted = i, len(sim.log), record.counted || open
		from := sim.now
		sim.spent = Spent{}
		cut = sim.inFrame(frame{g, i / k, n, true}, func() bool {
			if sim.performSteps(g.Steps[:tag]) {
				return true
			}
			tagged, l.above, sim.spent = sim.now, sim.spent, Spent{}
			return sim.performSteps(g.Steps[tag+1:])
		})
		if cut && tagged < from {
			l.above, sim.spent = sim.spent, Spent{}
		}
		l.below, l.end = sim.spent, sim.now
		if !cut {
			record.rounds, record.turnLogStart = i+1, len(sim.log)
			cut = sim.recordGoalRound(g, i+1)
		}
		if sim.now <= from+epsilon && open {
			cut = true
		}
		if i+k < n*k || open {
			sim.restBetweenTurns(g, i/k, n, 0) // of the member alone, while the others work
		}
		own[i%k] = sim.now
		legs = append(legs, l)
	}
	sim.spent = spent
	sim.finishRelay(legs, k, start)
	return cut
}

// performOnward performs a group that hands on at its tags where the next goes on with what stands behind
// the tag: the list is done once a round, one after the other.
func (sim *simulation) performOnward(g *model.Group, record *groupRecord, n int, open bool) (cut bool) {
	was := sim.team.inTurn
	sim.team.inTurn, sim.who = true, 0
	defer func() { sim.team.inTurn, sim.handover, sim.before = was, 0, nobody }()
	for i := 0; open || i < n; i++ {
		if i > 0 && sim.restBetweenTurns(g, i-1, n, 0) {
			return true
		}
		start := sim.now
		record.rounds, record.turnLogStart, record.counted = i, len(sim.log), record.counted || open
		if sim.inFrame(frame{g, i, n, true}, func() bool { return sim.performToEachTag(g.Steps) }) {
			return true
		}
		record.rounds, record.turnLogStart = i+1, len(sim.log)
		if sim.recordGoalRound(g, i+1) {
			return true
		}
		if open && sim.now <= start+epsilon || sim.consumeStep() { // it would go on for ever
			return true
		}
	}
	return false
}

// performToEachTag performs steps, and at each tag hands on to the next of the team.
func (sim *simulation) performToEachTag(steps []model.Step) (cut bool) {
	for {
		tag := slices.IndexFunc(steps, model.IsTag)
		if tag < 0 {
			return sim.performSteps(steps)
		}
		if sim.performSteps(steps[:tag]) {
			return true
		}
		sim.who, sim.handover = (sim.who+1)%sim.team.size, sim.teamHandover()
		steps = steps[tag+1:]
	}
}

// finishRelay sets the clock to the end of a relay, and explains the time by the legs that led to it: of
// each until its tag, or all of it where the same member waited for nobody.
func (sim *simulation) finishRelay(legs []leg, k int, start float64) {
	sim.now = start
	last := -1
	for i, l := range legs {
		if l.end > sim.now {
			sim.now, last = l.end, i
		}
	}
	spent, whole := sim.spent, true
	for i := last; i >= 0; {
		sim.spent = sim.spent.plus(legs[i].above)
		if whole {
			sim.spent = sim.spent.plus(legs[i].below)
		}
		if whole = legs[i].own && i >= k; whole {
			i -= k
		} else {
			i--
		}
	}
	sim.spent.Rest += max(0, sim.now-start-sim.spent.minus(spent).Total())
}

// pacerOf is what those of a team who do not work do meanwhile, where that says how long a turn is.
func pacerOf(g *model.Group) *model.Event {
	for _, e := range g.Events {
		if e.Kind == model.Meanwhile && handsOn(e) {
			return e
		}
	}
	return nil
}

// performPaced performs a group at which one works while the next does what paces them: a leg is as long as
// that takes, with the whole repetitions that fit, and then both change over.
func (sim *simulation) performPaced(g *model.Group, record *groupRecord, pace *model.Event, n int, open bool) (cut bool) {
	if open && math.IsInf(sim.limit, 1) {
		sim.openEnded = true
		sim.reportMissing(g.Repeat.At, "nothing says when this ends", "write a cap, or how often")
		n, open = 1, false
	}
	was, interrupt := sim.team.inTurn, sim.interrupt
	sim.team.inTurn = true
	defer func() { sim.team.inTurn, sim.before, sim.interrupt = was, nobody, interrupt }()
	leg := -1
	next := func() (over bool) {
		leg++
		handover := 0.0
		if leg > 0 {
			handover = sim.teamHandover()
		}
		worker, pacer := leg%sim.team.size, (leg+1)%sim.team.size
		end := sim.now
		sim.interrupt.at = math.Inf(1)
		sim.aside(pacer, func() bool {
			sim.handover = handover
			sim.performSteps(pace.Steps)
			end = sim.now
			return false
		})
		over = end <= sim.now+epsilon || sim.consumeStep()
		sim.who, sim.handover, sim.interrupt.at = worker, handover, end
		return over
	}
	sim.interrupt = interruption{at: math.Inf(1), then: next}
	if next() {
		return sim.stopped
	}
	if !g.CarryOn {
		return sim.performLegs(g, record, n, open, next)
	}
	for i := 0; open || i < n; i++ {
		start := sim.now
		record.rounds, record.turnLogStart, record.counted = i, len(sim.log), record.counted || open
		if sim.inFrame(frame{g, i, n, true}, func() bool { return sim.performSteps(g.Steps) }) {
			return true
		}
		record.rounds, record.turnLogStart = i+1, len(sim.log)
		if sim.recordGoalRound(g, i+1) || sim.now <= start+epsilon {
			return true
		}
	}
	return false
}

// performLegs performs paced work of which each leg starts from the top, until so many rounds are done.
func (sim *simulation) performLegs(g *model.Group, record *groupRecord, n int, open bool, next func() (over bool)) (cut bool) {
	limit, done := sim.limit, 0
	defer func() { sim.limit = limit }()
	for {
		begun := done
		sim.limit, sim.interrupt.at = min(limit, sim.interrupt.at), math.Inf(1)
		for cut = false; !cut && (open || done < n); {
			start := sim.now
			record.rounds, record.turnLogStart, record.counted = done, len(sim.log), record.counted || open
			cut = sim.inFrame(frame{g, done, n, true}, func() bool { return sim.performSteps(g.Steps) })
			if cut {
				break
			}
			done++
			record.rounds, record.turnLogStart = done, len(sim.log)
			cut = sim.recordGoalRound(g, done) || sim.now <= start+epsilon
		}
		sim.limit = limit
		switch {
		case sim.stopped || sim.now >= limit-epsilon:
			return true
		case !open && done >= n:
			return false
		case !open && done == begun:
			sim.reportMissing(g.At, "no turn is long enough for a whole round, and each starts from the top", "write carry on")
			return false
		}
		if next() {
			return true
		}
	}
}

package estimate

import (
	"math"

	"stint.example/stint/lang/model"
)

// A trigger says when an event's work is next dropped into other work.
type trigger struct {
	event *model.Event
	next  float64 // s since the part began; +Inf where no time brings it
	by    float64 // s from one time to the next; +Inf where there is only one

	unit  string  // what is counted towards it, such as "rep" or "m"; empty where it is a time or a break
	every float64 // so much of that
	done  float64 // of that, since it was last due
}

// armEvents adds the triggers of a group's events, for what the group holds.
func (sim *simulation) armEvents(g *model.Group) {
	for _, e := range g.Events {
		switch e.Kind {
		case model.Meanwhile, model.WhenDone, model.AtEachBreak:
		case model.AtTime, model.AtEach:
			v, ok := sim.value(e.When, 0, 1)
			if !ok || v <= 0 && e.Kind == model.AtEach {
				sim.reportMissing(e.At, "it is not said when", "")
				continue
			}
			t := trigger{event: e, next: math.Inf(1), by: math.Inf(1)}
			switch {
			case e.When.Unit != "s":
				t.unit, t.every = e.When.Unit, v
			case e.Kind == model.AtTime:
				t.next = sim.now + v
			default:
				t.next, t.by = sim.now+v, v
				if first, ok := sim.value(e.First, 0, 1); ok {
					t.next = sim.now + first
				}
			}
			sim.triggers = append(sim.triggers, t)
		default: // a drop, a miss, a catch
			sim.reportMissing(e.At, "nobody knows how often that happens", "")
		}
	}
	for _, e := range g.Events {
		if e.Kind == model.AtEachBreak {
			sim.triggers = append(sim.triggers, trigger{event: e, next: math.Inf(1), by: math.Inf(1)})
		}
	}
}

// performDueEvents performs the events that are due before work goes on, and says whether time was up before
// their end. Each costs a change there and a change back wherever it falls, also between two lines, so that
// nobody who is slower is better off for it.
func (sim *simulation) performDueEvents(c *unitCost) (cut bool) {
	if sim.inEvent {
		return false
	}
	for i := range sim.triggers {
		e := &sim.triggers[i]
		counted := e.unit != "" && e.done >= e.every-epsilon
		if !counted && e.next > sim.now+epsilon {
			continue
		}
		e.done = 0
		if math.IsInf(e.by, 1) {
			e.next = math.Inf(1)
		} else if e.next += e.by; e.next <= sim.now { // what was missed meanwhile is not made up for
			e.next += e.by * math.Floor((sim.now-e.next)/e.by+1)
		}
		was := sim.body().movement
		if sim.performEvent(e.event) {
			return true
		}
		if was != "" && was != c.name && sim.changeBack(was) {
			return true
		}
	}
	return false
}

// atEvent is the movement of who comes from an event's work: every movement is another one.
const atEvent = "the work of an event"

// changeBack takes the change back to a movement. It says whether time was up before its end.
func (sim *simulation) changeBack(to string) (cut bool) {
	b := sim.body()
	if b.change > sim.limit-sim.now {
		sim.runOut(sim.limit)
		return true
	}
	sim.now += b.change
	sim.spent.Changes += b.change
	sim.spent.ChangeCount++
	b.movement, b.free = to, sim.now
	return false
}

// performEvent performs the work of an event.
func (sim *simulation) performEvent(e *model.Event) (cut bool) {
	sim.inEvent = true
	defer func() { sim.inEvent = false }()
	if sim.body().movement != "" {
		sim.body().movement = atEvent
		defer func() { sim.body().movement = atEvent }()
	}
	return sim.inFrame(frame{nil, 0, 1, true}, func() bool { return sim.performSteps(e.Steps) })
}

// amountToEvent is how much of n units is done before the next event is due.
func (sim *simulation) amountToEvent(c *unitCost, n float64) float64 {
	if sim.inEvent {
		return n
	}
	for _, e := range sim.triggers {
		if e.unit == c.unit && e.unit != "" {
			n = min(n, max(e.every-e.done, 0))
		}
	}
	next := math.Inf(1)
	for _, e := range sim.triggers {
		next = min(next, e.next)
	}
	if next < sim.limit && sim.now+sim.cost(c, n).Total() > next+epsilon {
		n = sim.amountUntil(c, n, next-sim.now)
	}
	return n
}

// performAtBreaks performs the events of so many breaks, each with a change back to the work.
func (sim *simulation) performAtBreaks(c *unitCost, n int) (cut bool) {
	if sim.inEvent || n <= 0 {
		return false
	}
	for _, e := range sim.triggers {
		if e.event.Kind != model.AtEachBreak {
			continue
		}
		for range n {
			if sim.consumeStep() || sim.performEvent(e.event) || !sim.backTo(c) {
				return true
			}
		}
	}
	return false
}

// performWhenDone performs what is done by whoever has finished.
func (sim *simulation) performWhenDone(g *model.Group) (cut bool) {
	for _, e := range g.Events {
		if e.Kind != model.WhenDone {
			continue
		}
		if len(sim.openRecords) == 1 && math.IsInf(sim.limit, 1) {
			if v, ok := sim.value(g.Cap, 0, 1); ok { // it fills what the cap leaves, and is no part of the time
				sim.fillsUntil, sim.filler = max(sim.fillsUntil, v), e
				continue
			}
		}
		if sim.performEvent(e) {
			return true
		}
	}
	return false
}

// backTo takes the change back to work after an event. It says whether there was time for it.
func (sim *simulation) backTo(c *unitCost) (ok bool) {
	if ok = sim.lead(c, sim.limit); !ok {
		sim.runOut(sim.limit)
	}
	sim.body().free = sim.now
	return ok
}

// performFiller performs what who is done goes on with, with a change, until the cap. It is no part of
// the time.
func (sim *simulation) performFiller(limit float64) {
	sim.limit, sim.maxUntil, sim.clockZero, sim.moreToCome = limit, limit, sim.now, false
	for i := range sim.bodies {
		sim.bodies[i].free = sim.now
	}
	sim.performEvent(sim.filler)
	for i := range sim.bodies {
		sim.bodies[i].free, sim.bodies[i].worked = limit, true
	}
}

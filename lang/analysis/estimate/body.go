package estimate

import (
	"math"
	"slices"
)

// A body is one athlete on the clock. Rest is nothing but the time from the end of a body's work to
// its next: what is written, what an interval leaves, a partner's turn. The formulas are those of
// spec/estimates.md, section 2.
type body struct {
	person
	moved    float64 // s of moving still in the legs: drift grows with its square
	total    float64 // s of moving in the part
	free     float64 // s since the part began, when its last work ended; -Inf before any
	movement string  // the last one, another one costs a change; empty where that costs nothing
	worked   bool    // in the part
	byClock  bool    // its last work was a line of so many seconds, and the next such line pays the change out of its own
	unbroken [maxPatterns]unbrokenRun

	pacedOnFoot bool // its last work was so far at a stated pace, without kit
}

// maxPatterns is more than the book has.
const maxPatterns = 24

// An unbrokenRun is what an athlete has used of one unbroken run of a pattern.
type unbrokenRun struct {
	used  float64 // of a whole run, 0 to 1
	since float64 // s since the part began, when that much was used
}

// body is the one that works.
func (sim *simulation) body() *body { return &sim.bodies[sim.who] }

// startAfresh lets a body start without a change and with whole runs in hand.
func (b *body) startAfresh() {
	b.movement = ""
	b.unbroken = [maxPatterns]unbrokenRun{}
}

// unbrokenLeft is how much of an unbroken run of a pattern is in hand, 0 to 1: a whole one at first.
// Work takes from it, and time away restores it, one run in the length of a break.
func (b *body) unbrokenLeft(pattern int, now float64) float64 {
	if pattern < 0 || b.breakTime <= 0 {
		return 1
	}
	r := b.unbroken[pattern]
	return min(1, 1-r.used+max(0, now-r.since)/b.breakTime)
}

// recover lets the time since the body's last work clear some of what is in the legs. Who does
// something meanwhile does not recover.
func (sim *simulation) recover() {
	b := sim.body()
	if rest := sim.now - b.free; rest > 0 && !(sim.team.busy && b.worked) {
		b.moved = min(b.moved, sim.figures.DriftUntil) * sim.figures.unrecoveredAfter(rest)
	}
}

// leadOf is what passes before a body works: a change to another movement, as far as the time since
// its last work has not covered it, a handover, or setting up at a rack, which nothing covers;
// the longest of them, and not their sum.
func (sim *simulation) leadOf(c *unitCost) Spent {
	if sim.inTimes {
		return Spent{}
	}
	b := sim.body()
	rest := sim.now - b.free
	var s Spent
	if b.movement != "" && b.movement != c.name && !(b.pacedOnFoot && c.pacedOnFoot) {
		s = Spent{Changes: max(0, b.change-max(0, rest)), ChangeCount: 1}
	}
	if sim.handover > s.Total() {
		s = Spent{Handovers: sim.handover}
	}
	if c.fromRack && c.moving > 0 && (b.movement != c.name || rest > epsilon) && b.setUp > s.Total() {
		s = Spent{SetUps: b.setUp}
	}
	return s
}

// lead takes the time before work. It says whether there was time for it until the stop.
func (sim *simulation) lead(c *unitCost, stop float64) (ok bool) {
	s := sim.leadOf(c)
	took := s.Total()
	if took > stop-sim.now {
		return false
	}
	sim.now += took
	sim.spent = sim.spent.plus(s)
	sim.pendingLead = sim.pendingLead.plus(s)
	sim.body().movement, sim.handover = c.name, 0
	return true
}

// workEnd is when the last work of anybody ended, in s since the part began.
func (sim *simulation) workEnd() float64 {
	end := 0.0
	for i := range sim.bodies {
		if b := &sim.bodies[i]; b.worked {
			end = max(end, b.free)
		}
	}
	return end
}

// mostMoved is how long anybody has moved in the part, in s.
func (sim *simulation) mostMoved() float64 {
	most := 0.0
	for i := range sim.bodies {
		most = max(most, sim.bodies[i].total)
	}
	return most
}

// lastFree is the body that was free last.
func lastFree(bodies []body) body {
	return slices.MaxFunc(bodies, func(a, b body) int {
		switch {
		case a.free < b.free:
			return -1
		case a.free > b.free:
			return 1
		}
		return 0
	})
}

// newBody is somebody who has not worked yet.
func newBody(p person) body { return body{person: p, free: math.Inf(-1)} }

// carryOver moves the bodies to the clock of a part that began so many seconds after theirs did.
func carryOver(bodies []body, later float64) []body {
	out := slices.Clone(bodies)
	for i := range out {
		out[i].free -= later
		out[i].total, out[i].worked = 0, false
		out[i].startAfresh()
	}
	return out
}

package estimate

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// Spent is what some time went on, in seconds, so that any total can be opened.
type Spent struct {
	Moving    float64 // by pace, effort, load and share of a maximum
	Drift     float64 // what tiring adds
	Breaks    float64 // between unbroken runs
	Changes   float64 // from one movement to the next
	Handovers float64 // in a team
	Fixed     float64 // tempo, cadence, holds and stated times: the same for everybody
	Rest      float64 // written, and what a clock or a window leaves
	Over      float64 // what turns ran over their interval: the clock did not wait for it

	ChangeCount int // how many changes there were
}

// Total is all of it.
func (s Spent) Total() float64 {
	return s.Moving + s.Drift + s.Breaks + s.Changes + s.Handovers + s.Fixed + s.Rest - s.Over
}

// String is the sum, opened: "moving 335.6 + drift 9.4 + 9 changes 72.0 + breaks 0.0 = 417.0".
func (s Spent) String() string {
	out := fmt.Sprintf("moving %.1f + drift %.1f + %d changes %.1f + breaks %.1f", s.Moving, s.Drift, s.ChangeCount, s.Changes, s.Breaks)
	for _, o := range []struct {
		name string
		v    float64
	}{{"handovers", s.Handovers}, {"fixed", s.Fixed}, {"rest", s.Rest}} {
		if o.v > 0 {
			out += fmt.Sprintf(" + %s %.1f", o.name, o.v)
		}
	}
	if s.Over > 0 {
		out += fmt.Sprintf(" - over the clock %.1f", s.Over)
	}
	return out + fmt.Sprintf(" = %.1f", s.Total())
}

func (s Spent) times(k float64) Spent {
	return Spent{s.Moving * k, s.Drift * k, s.Breaks * k, s.Changes * k, s.Handovers * k, s.Fixed * k, s.Rest * k, s.Over * k,
		int(math.Round(float64(s.ChangeCount) * k))}
}

func (s Spent) plus(t Spent) Spent {
	return Spent{s.Moving + t.Moving, s.Drift + t.Drift, s.Breaks + t.Breaks, s.Changes + t.Changes, s.Handovers + t.Handovers,
		s.Fixed + t.Fixed, s.Rest + t.Rest, s.Over + t.Over, s.ChangeCount + t.ChangeCount}
}

func (s Spent) minus(t Spent) Spent { return s.plus(t.times(-1)) }

const (
	// tiny is less than any clock shows: sums of many steps are compared with it.
	epsilon = 1e-6
	// most bounds how much of anything one line can ask for, so that a slip of the keyboard
	// ends in a number.
	maxAmount = 1e6
)

// An unitCost is a movement, or a complex of several, as it is done on one line in one turn:
// what one unit of it costs.
type unitCost struct {
	work        *model.Work
	name        string // what it is told apart by from what is done before it
	unit        string
	pattern     int     // its main pattern, or -1
	moving      float64 // s of moving a unit
	fixed       float64 // s a unit takes, whoever does it
	unbroken    float64 // units before a break
	setSize     float64 // units to a set, where the line says so
	wholeUnits  bool    // it is done in whole units
	neverBroken bool    // it is not put down at all

	sharers float64 // how many take turns at it, 1 where nobody does
}

// costs is what n units of a piece come to, from the state that the athlete is in.
func (sim *simulation) cost(p *unitCost, n float64) (s Spent) {
	s.Moving, s.Fixed = n*p.moving, n*p.fixed
	s.Drift = p.sharers * (sim.figures.drift(sim.unrecovered+s.Moving/p.sharers) - sim.figures.drift(sim.unrecovered))
	switch {
	case p.sharers > 1:
		turns := p.sharers
		if !math.IsInf(p.unbroken, 1) {
			turns = p.sharers * max(1, math.Ceil(n/(p.sharers*p.unbroken)-epsilon))
		}
		s.Handovers = (turns - 1) * sim.worker.handover
	default:
		s.Breaks = sim.breaks(p, n) * sim.worker.pause
	}
	return s
}

// breaks is how often an athlete puts a piece down in n units. A fraction of a break is an
// average over people.
func (sim *simulation) breaks(p *unitCost, n float64) float64 {
	switch {
	case p.neverBroken || p.moving == 0:
		return 0
	case p.setSize > 0:
		return max(0, math.Ceil(n/p.setSize-epsilon)-1)
	case math.IsInf(p.unbroken, 1):
		return 0
	}
	return max(0, n/p.unbroken-sim.unbrokenLeft(p.pattern))
}

// unbrokenLeft is how much of an unbroken run of a pattern an athlete has in hand: a whole one at
// first; what is done takes from it, and time away gives it back, one run in the length of
// a break.
func (sim *simulation) unbrokenLeft(pattern int) float64 {
	if pattern < 0 {
		return 1
	}
	r := sim.unbroken[pattern]
	if sim.worker.pause <= 0 {
		return 1
	}
	return min(1, r.left+max(0, sim.now-r.since)/sim.worker.pause)
}

// advance does n units of a piece.
func (sim *simulation) advance(p *unitCost, n float64) {
	s := sim.cost(p, n)
	left := sim.unbrokenLeft(p.pattern)
	if p.sharers == 1 && p.moving > 0 && !math.IsInf(p.unbroken, 1) {
		left = max(0, left-n/p.unbroken)
	}
	sim.now += s.Total()
	sim.unrecovered += s.Moving / p.sharers
	sim.moving += s.Moving / p.sharers
	sim.spent = sim.spent.plus(s)
	if p.pattern >= 0 {
		sim.unbroken[p.pattern] = unbrokenRun{left: left, since: sim.now}
	}
	for i := range sim.triggers {
		if e := &sim.triggers[i]; !sim.inEvent && e.unit == p.unit {
			e.done += n
		}
	}
	if sim.logging {
		sim.logWork(p, n, s)
	}
}

// performUnits does n units of a piece, in as many goes as what is dropped into it asks for. It
// says whether time was up before.
func (sim *simulation) performUnits(p *unitCost, n float64) (cut bool) {
	for {
		if sim.outOfSteps() {
			return true
		}
		if sim.performDueEvents() {
			return true
		}
		sim.recoverByRest()
		if sim.changeMovement(p) {
			return true
		}
		if n <= epsilon {
			return false
		}
		some := sim.amountToEvent(p, n)
		if left := sim.limit - sim.now; sim.cost(p, some).Total() > left+epsilon {
			sim.advance(p, sim.amountWithin(p, some, left))
			sim.runOut()
			return true
		}
		breaks := sim.breaks(p, some)
		sim.advance(p, some)
		n -= some
		if sim.performAtBreaks(p, int(math.Ceil(breaks-epsilon))) {
			return true
		}
		if n <= epsilon {
			return false
		}
	}
}

// recoverByRest lets the rest that was just taken clear some of the moving before it.
func (sim *simulation) recoverByRest() {
	if sim.restTaken <= 0 {
		return
	}
	sim.unrecovered = min(sim.unrecovered, sim.figures.DriftUntil) * sim.figures.unrecoveredAfter(sim.restTaken)
	sim.unusedTransition, sim.restTaken = sim.restTaken, 0
}

// changeMovement is the change to another movement. A rest just before covers it, second for
// second.
func (sim *simulation) changeMovement(p *unitCost) (cut bool) {
	if sim.movement != "" && sim.movement != p.name {
		c := max(0, sim.worker.change-sim.unusedTransition)
		if c > sim.limit-sim.now {
			sim.runOut()
			return true
		}
		sim.now += c
		sim.spent.Changes += c
		sim.spent.ChangeCount++
		sim.pendingChange = Spent{Changes: c, ChangeCount: 1}
	}
	sim.unusedTransition = 0
	sim.movement = p.name
	return false
}

// amountWithin is how much of a piece is done in some time.
func (sim *simulation) amountWithin(p *unitCost, n, left float64) float64 {
	if left <= 0 {
		return 0
	}
	if p.wholeUnits {
		return float64(sort.Search(int(min(n, maxAmount)), func(i int) bool { return sim.cost(p, float64(i+1)).Total() > left+epsilon }))
	}
	lo, hi := 0.0, n
	for range 60 {
		if mid := (lo + hi) / 2; sim.cost(p, mid).Total() > left {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// amountUntil is how much of a piece is done when some time is over: up to the next whole
// repetition.
func (sim *simulation) amountUntil(p *unitCost, n, after float64) float64 {
	done := sim.amountWithin(p, n, after)
	if p.wholeUnits && sim.cost(p, done).Total() < after-epsilon {
		done++
	}
	return min(n, done)
}

// restFor is a rest that is written. It says whether time was up before its end.
func (sim *simulation) restFor(s float64) (cut bool) {
	if s <= 0 {
		return false
	}
	if s > sim.limit-sim.now+epsilon {
		sim.restUntil(sim.limit)
		return true
	}
	sim.restUntil(sim.now + s)
	return false
}

// restUntil rests until a time.
func (sim *simulation) restUntil(until float64) {
	s := until - sim.now
	if s <= 0 || math.IsInf(s, 0) {
		return
	}
	sim.now = until
	sim.spent.Rest += s
	sim.restTaken += s
}

// runOut lets the time run out that is left for no whole repetition, or not for the change
// before it. Nobody rests in it.
func (sim *simulation) runOut() {
	sim.spent.Rest += max(0, sim.limit-sim.now)
	sim.now = max(sim.now, sim.limit)
}

// patternOf pattern's place in the list of all of them, or -1.
func patternOf(m *book.Movement) int {
	if m == nil || len(m.Trains) == 0 {
		return -1
	}
	i := slices.Index(book.Patterns, m.Main())
	if i >= maxPatterns {
		return -1
	}
	return i
}

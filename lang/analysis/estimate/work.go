package estimate

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// Spent is a time by what it was spent on, in s, so that any total can be explained.
type Spent struct {
	Moving    float64 // by pace, effort, load and share of a maximum
	Drift     float64 // what fatigue adds
	Breaks    float64 // between unbroken runs
	Changes   float64 // from one movement to the next
	SetUps    float64 // of a bar in its rack, as far as that takes longer than the change to it
	Handovers float64 // in a team
	Fixed     float64 // tempo, cadence, holds and stated times: the same for everybody
	Rest      float64 // written rests, and what a clock or a window leaves
	Over      float64 // by which turns ran over their interval, for which the clock did not wait

	ChangeCount int // how many changes there were
}

// Total is the whole time, in s.
func (s Spent) Total() float64 {
	return s.Moving + s.Drift + s.Breaks + s.Changes + s.SetUps + s.Handovers + s.Fixed + s.Rest - s.Over
}

// String is the sum, term by term: "moving 335.6 + drift 9.4 + 9 changes 72.0 + breaks 0.0 = 417.0".
func (s Spent) String() string {
	out := fmt.Sprintf("moving %.1f + drift %.1f + %d changes %.1f + breaks %.1f", s.Moving, s.Drift, s.ChangeCount, s.Changes, s.Breaks)
	for _, o := range []struct {
		name string
		v    float64
	}{{"set-ups", s.SetUps}, {"handovers", s.Handovers}, {"fixed", s.Fixed}, {"rest", s.Rest}} {
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
	return Spent{s.Moving * k, s.Drift * k, s.Breaks * k, s.Changes * k, s.SetUps * k, s.Handovers * k, s.Fixed * k, s.Rest * k, s.Over * k,
		int(math.Round(float64(s.ChangeCount) * k))}
}

func (s Spent) plus(t Spent) Spent {
	return Spent{s.Moving + t.Moving, s.Drift + t.Drift, s.Breaks + t.Breaks, s.Changes + t.Changes, s.SetUps + t.SetUps,
		s.Handovers + t.Handovers, s.Fixed + t.Fixed, s.Rest + t.Rest, s.Over + t.Over, s.ChangeCount + t.ChangeCount}
}

func (s Spent) minus(t Spent) Spent { return s.plus(t.times(-1)) }

const (
	// epsilon is less than any clock shows, in s: sums of many steps are compared with it.
	epsilon = 1e-6
	// maxAmount bounds how much of anything one line can ask for, so that a slip of the keyboard
	// ends in a number.
	maxAmount = 1e6
)

// A unitCost is what one unit of a movement, or of a complex of several, costs on one line in one
// turn.
type unitCost struct {
	work        *model.Work
	name        string // of the movement or the complex; another name costs a change
	unit        string
	pattern     int     // its main pattern, or -1
	moving      float64 // s of moving a unit
	effort      float64 // by what factor its effort makes that longer; 0 where no pace of the book is in it
	fixed       float64 // s a unit takes, whoever does it
	unbroken    float64 // units before a break; +Inf where there is none
	setSize     float64 // units to a set, where the line says so; otherwise 0
	wholeUnits  bool    // it is done in whole units
	neverBroken bool    // it is not put down at all
	byClock     bool    // a line of so many seconds
	pacedOnFoot bool    // so far at a stated pace and without kit, which goes on without a change from the like
	rested      bool    // it is rested for as long as it takes, so that what is in the legs does not slow it
	fromRack    bool    // each set starts with setting up under a bar in its rack

	// rest is what is taken between the sets that the line is broken up into: of setSize, or of an
	// unbroken run. Nil where the sets are written, or no rest between them is.
	rest *model.Rest

	again func() (unitCost, bool) // the same for another body

	// inTime is what is counted of a movement with a pace while a line of so many seconds lasts; nil where
	// it is held.
	inTime *unitCost
}

// cost is the time of n units, from the state that the body is in.
func (sim *simulation) cost(c *unitCost, n float64) (s Spent) {
	b := sim.body()
	s.Moving, s.Fixed = n*c.moving, n*c.fixed
	if !c.rested {
		s.Drift = sim.figures.drift(b.moved+s.Moving) - sim.figures.drift(b.moved)
	}
	s.Breaks = sim.breaks(c, n) * b.breakTime * sim.figures.shortBreak(c.set())
	return s
}

// set is how many units are done before a break.
func (c *unitCost) set() float64 {
	if c.setSize > 0 {
		return c.setSize
	}
	return c.unbroken
}

// breaks is how often an athlete breaks up n units. A fraction of a break is an average over people.
func (sim *simulation) breaks(c *unitCost, n float64) float64 {
	switch {
	case c.neverBroken || c.moving == 0:
		return 0
	case c.setSize > 0:
		return max(0, math.Ceil(n/c.setSize-epsilon)-1)
	case math.IsInf(c.unbroken, 1):
		return 0
	}
	return max(0, n/c.unbroken-sim.body().unbrokenLeft(c.pattern, sim.now))
}

// advance performs n units at a stretch.
func (sim *simulation) advance(c *unitCost, n float64) {
	s := sim.cost(c, n)
	b := sim.body()
	left := b.unbrokenLeft(c.pattern, sim.now)
	of, counted := c, n
	if c.inTime != nil {
		of, counted = c.inTime, whole(sim.amountWithin(c.inTime, maxAmount, n))
	}
	if of.moving > 0 && !math.IsInf(of.unbroken, 1) {
		left = max(0, left-counted/of.unbroken)
	}
	sim.now += s.Total()
	b.moved += counted * of.moving
	b.total += counted * of.moving
	b.free, b.worked, b.byClock = sim.now, true, c.byClock
	b.pacedOnFoot = c.pacedOnFoot
	sim.spent = sim.spent.plus(s)
	if c.pattern >= 0 {
		b.unbroken[c.pattern] = unbrokenRun{used: 1 - left, since: sim.now}
	}
	for i := range sim.triggers {
		if e := &sim.triggers[i]; !sim.inEvent && e.unit == c.unit {
			e.done += n
		}
	}
	if sim.logging {
		sim.logWork(c, n, s)
		if e := &sim.log[len(sim.log)-1]; c.inTime != nil {
			e.counted, e.countedUnit = counted, of.unit
		}
	}
}

// advanceUntil performs the whole units of n that there is time for until a stop, and says how many.
func (sim *simulation) advanceUntil(c *unitCost, n, stop float64) (done float64) {
	left, whole := stop-sim.now, sim.cost(c, n)
	b := sim.body()
	moved, total := b.moved, b.total
	done = sim.amountWithin(c, n, left)
	sim.advance(c, done)
	if n < maxAmount/2 && c.inTime == nil { // not of a max, which has no end: in proportion, so that nobody slower carries less of it on
		some := whole.Moving * min(1, max(0, left/whole.Total()))
		b.moved, b.total = moved+some, total+some
	}
	sim.runOut(stop)
	if c.pattern >= 0 {
		b.unbroken[c.pattern].since = sim.now
	}
	return done
}

// performUnits performs n units, broken off wherever an event is due or something interrupts it. It says
// whether time was up before.
func (sim *simulation) performUnits(c *unitCost, n float64) (cut bool) {
	if c.rest != nil {
		return sim.performSetsOf(c, n)
	}
	for {
		if sim.consumeStep() {
			return true
		}
		if sim.performDueEvents(c) {
			return true
		}
		if sim.now >= sim.interrupt.at-epsilon {
			if sim.resume(c) {
				return true
			}
			continue
		}
		sim.recover()
		stop := min(sim.limit, sim.interrupt.at)
		if !sim.lead(c, stop) {
			sim.runOut(stop)
			if stop == sim.limit {
				return true
			}
			continue
		}
		if n <= epsilon {
			sim.body().free = sim.now
			return false
		}
		some := sim.amountToEvent(c, n)
		if sim.cost(c, some).Total() > stop-sim.now+epsilon {
			n -= sim.advanceUntil(c, some, stop)
			if stop == sim.limit {
				return true
			}
			continue
		}
		breaks := sim.breaks(c, some)
		sim.advance(c, some)
		n -= some
		if sim.performAtBreaks(c, int(math.Ceil(breaks-epsilon))) {
			return true
		}
		if n <= epsilon {
			return false
		}
	}
}

// performSetsOf performs n units set by set, with the rest that is written between them.
func (sim *simulation) performSetsOf(c *unitCost, n float64) (cut bool) {
	set, rest := *c, c.rest
	set.rest, set.setSize = nil, 0
	size := c.setSize
	if size == 0 {
		size = math.Floor(c.unbroken)
	}
	if math.IsInf(size, 1) || size < 1 {
		sim.reportMissing(c.work.At, "nobody knows how many sets this is broken up into", "write their size, such as sets of 10")
		return sim.performUnits(&set, n)
	}
	set.neverBroken = true
	for i := 0; n > epsilon; i++ {
		mark := sim.workTime()
		some := min(n, size)
		if sim.performUnits(&set, some) {
			return true
		}
		if n -= some; n > epsilon && sim.performRest(rest, i, 0, mark) {
			return true
		}
	}
	return false
}

// amountWithin is how many of n units are done in some time, in s.
func (sim *simulation) amountWithin(c *unitCost, n, left float64) float64 {
	if left <= 0 {
		return 0
	}
	if c.wholeUnits {
		return float64(sort.Search(int(min(n, maxAmount)), func(i int) bool { return sim.cost(c, float64(i+1)).Total() > left+epsilon }))
	}
	lo, hi := 0.0, n
	for range 60 {
		if mid := (lo + hi) / 2; sim.cost(c, mid).Total() > left {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// amountUntil is how many of n units are done when some time is over, in s: up to the next whole
// repetition.
func (sim *simulation) amountUntil(c *unitCost, n, after float64) float64 {
	done := sim.amountWithin(c, n, after)
	if c.wholeUnits && sim.cost(c, done).Total() < after-epsilon {
		done++
	}
	return min(n, done)
}

// restFor rests for some seconds, and says whether time was up before their end.
func (sim *simulation) restFor(s float64) (cut bool) {
	if s <= 0 {
		return false
	}
	if stop := min(sim.limit, sim.interrupt.at); s > stop-sim.now+epsilon {
		sim.restUntil(stop)
		return stop == sim.limit || sim.resume(nil)
	}
	sim.restUntil(sim.now + s)
	return false
}

// restUntil rests until a time, in s since the part began. Nobody takes over from who worked before it.
func (sim *simulation) restUntil(until float64) {
	s := until - sim.now
	if s <= 0 || math.IsInf(s, 0) {
		return
	}
	sim.now = until
	sim.spent.Rest += s
	sim.before, sim.handover = nobody, 0
}

// passUntil lets a window of a group go by that nothing else fills: it is rest, but not where the time goes to
// work of which nobody knows how long it takes.
func (sim *simulation) passUntil(until float64, of *groupRecord) {
	if !of.unproven || math.IsInf(until, 1) || until <= sim.now {
		sim.restUntil(until)
		return
	}
	sim.spent.Fixed += until - sim.now
	sim.now = until
	sim.before, sim.handover = nobody, 0
}

// runOut lets the time until a stop run out that is too short for a whole repetition, or for the change
// before it. It is no rest: the body is at work until then.
func (sim *simulation) runOut(stop float64) {
	sim.spent.Rest += max(0, stop-sim.now)
	sim.now = max(sim.now, stop)
	b := sim.body()
	b.free, b.worked = sim.now, true
}

// patternOf is the place of a movement's main pattern in the list of all of them; -1 where it has
// none.
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

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
	tiny = 1e-6
	// most bounds how much of anything one line can ask for, so that a slip of the keyboard
	// ends in a number.
	most = 1e6
)

// A piece is a movement, or a complex of several, as it is done on one line in one turn:
// what one unit of it costs.
type piece struct {
	work    *model.Work
	name    string // what it is told apart by from what is done before it
	unit    string
	pattern int     // its main pattern, or -1
	per     float64 // s of moving a unit
	fixed   float64 // s a unit takes, whoever does it
	run     float64 // units before a break
	setsOf  float64 // units to a set, where the line says so
	whole   bool    // it is done in whole units
	never   bool    // it is not put down at all

	team float64 // how many take turns at it, 1 where nobody does
}

// costs is what n units of a piece come to, from the state that the athlete is in.
func (w *walk) costs(p *piece, n float64) (s Spent) {
	s.Moving, s.Fixed = n*p.per, n*p.fixed
	s.Drift = p.team * (w.fig.drift(w.moved+s.Moving/p.team) - w.fig.drift(w.moved))
	switch {
	case p.team > 1:
		turns := p.team
		if !math.IsInf(p.run, 1) {
			turns = p.team * max(1, math.Ceil(n/(p.team*p.run)-tiny))
		}
		s.Handovers = (turns - 1) * w.who.handover
	default:
		s.Breaks = w.breaks(p, n) * w.who.pause
	}
	return s
}

// breaks is how often an athlete puts a piece down in n units. A fraction of a break is an
// average over people.
func (w *walk) breaks(p *piece, n float64) float64 {
	switch {
	case p.never || p.per == 0:
		return 0
	case p.setsOf > 0:
		return max(0, math.Ceil(n/p.setsOf-tiny)-1)
	case math.IsInf(p.run, 1):
		return 0
	}
	return max(0, n/p.run-w.fresh(p.pattern))
}

// fresh is how much of an unbroken run of a pattern an athlete has in hand: a whole one at
// first; what is done takes from it, and time away gives it back, one run in the length of
// a break.
func (w *walk) fresh(pattern int) float64 {
	if pattern < 0 {
		return 1
	}
	r := w.runs[pattern]
	if w.who.pause <= 0 {
		return 1
	}
	return min(1, r.left+max(0, w.now-r.since)/w.who.pause)
}

// do does n units of a piece.
func (w *walk) do(p *piece, n float64) {
	s := w.costs(p, n)
	left := w.fresh(p.pattern)
	if p.team == 1 && p.per > 0 && !math.IsInf(p.run, 1) {
		left = max(0, left-n/p.run)
	}
	w.now += s.Total()
	w.moved += s.Moving / p.team
	w.total += s.Moving / p.team
	w.spent = w.spent.plus(s)
	if p.pattern >= 0 {
		w.runs[p.pattern] = run{left: left, since: w.now}
	}
	for i := range w.events {
		if e := &w.events[i]; !w.inEvent && e.unit == p.unit {
			e.done += n
		}
	}
	if w.keep {
		w.entry(p, n, s)
	}
}

// perform does n units of a piece, in as many goes as what is dropped into it asks for. It
// says whether time was up before.
func (w *walk) perform(p *piece, n float64) (cut bool) {
	for {
		if w.tooMuch() {
			return true
		}
		if w.fire() {
			return true
		}
		w.settle()
		if w.arrive(p) {
			return true
		}
		if n <= tiny {
			return false
		}
		some := w.upToEvent(p, n)
		if left := w.limit - w.now; w.costs(p, some).Total() > left+tiny {
			w.do(p, w.fits(p, some, left))
			w.spare()
			return true
		}
		breaks := w.breaks(p, some)
		w.do(p, some)
		n -= some
		if w.atBreaks(p, int(math.Ceil(breaks-tiny))) {
			return true
		}
		if n <= tiny {
			return false
		}
	}
}

// settle lets the rest that was just taken clear some of the moving before it.
func (w *walk) settle() {
	if w.resting <= 0 {
		return
	}
	w.moved = min(w.moved, w.fig.DriftUntil) * w.fig.keeps(w.resting)
	w.credit, w.resting = w.resting, 0
}

// arrive is the change to another movement. A rest just before covers it, second for
// second.
func (w *walk) arrive(p *piece) (cut bool) {
	if w.doing != "" && w.doing != p.name {
		c := max(0, w.who.change-w.credit)
		if c > w.limit-w.now {
			w.spare()
			return true
		}
		w.now += c
		w.spent.Changes += c
		w.spent.ChangeCount++
		w.came = Spent{Changes: c, ChangeCount: 1}
	}
	w.credit = 0
	w.doing = p.name
	return false
}

// fits is how much of a piece is done in some time.
func (w *walk) fits(p *piece, n, left float64) float64 {
	if left <= 0 {
		return 0
	}
	if p.whole {
		return float64(sort.Search(int(min(n, most)), func(i int) bool { return w.costs(p, float64(i+1)).Total() > left+tiny }))
	}
	lo, hi := 0.0, n
	for range 60 {
		if mid := (lo + hi) / 2; w.costs(p, mid).Total() > left {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// until is how much of a piece is done when some time is over: up to the next whole
// repetition.
func (w *walk) until(p *piece, n, after float64) float64 {
	done := w.fits(p, n, after)
	if p.whole && w.costs(p, done).Total() < after-tiny {
		done++
	}
	return min(n, done)
}

// rest is a rest that is written. It says whether time was up before its end.
func (w *walk) rest(s float64) (cut bool) {
	if s <= 0 {
		return false
	}
	if s > w.limit-w.now+tiny {
		w.idle(w.limit)
		return true
	}
	w.idle(w.now + s)
	return false
}

// idle rests until a time.
func (w *walk) idle(until float64) {
	s := until - w.now
	if s <= 0 || math.IsInf(s, 0) {
		return
	}
	w.now = until
	w.spent.Rest += s
	w.resting += s
}

// spare lets the time run out that is left for no whole repetition, or not for the change
// before it. Nobody rests in it.
func (w *walk) spare() {
	w.spent.Rest += max(0, w.limit-w.now)
	w.now = max(w.now, w.limit)
}

// A pattern's place in the list of all of them, or -1.
func patternOf(m *book.Movement) int {
	if m == nil || len(m.Trains) == 0 {
		return -1
	}
	i := slices.Index(book.Patterns, m.Main())
	if i >= patterns {
		return -1
	}
	return i
}

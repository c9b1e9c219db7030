package referencemodel

import "math"

// small is what two times may differ by and still count as equal.
const small = 1e-9

// body is one athlete on the clock.
type body struct {
	z       float64
	moved   float64 // moving seconds still in the legs
	total   float64 // moving seconds of the part
	free    float64 // the end of its last work; minus infinity before any
	last    string  // the movement it comes from
	byClock bool    // its last work was dosed in seconds
	runs    map[string]run
	worked  bool // in this part
	paced   bool // its last work was a way on foot at a stated pace
}

// run is what is left of a pattern's unbroken run, 1 being all of it, at a time.
type run struct{ left, at float64 }

func newBody(z float64) *body {
	return &body{z: hold(z), free: math.Inf(-1), runs: map[string]run{}}
}

func (b *body) clone() *body {
	c := *b
	c.runs = map[string]run{}
	for p, r := range b.runs {
		c.runs[p] = r
	}
	return &c
}

// fresh starts a turn on a clock: without a change and with every run in hand.
func (b *body) fresh() {
	b.last, b.byClock = "", false
	clear(b.runs)
}

// Drift is the slowing after so many seconds of moving: 1 % a minute, for twenty minutes.
func Drift(moved float64) float64 {
	if moved > 1200 {
		return 0.2 * (moved - 600)
	}
	return moved * moved / 12000
}

// Keep is the share of the moving time that a rest leaves in the legs.
func Keep(rest float64) float64 { return 1 - clamp((rest-30)/150, 0, 1) }

// rested is what is in the legs after a gap.
func rested(moved, gap float64) float64 {
	if gap <= 0 {
		return moved
	}
	return min(moved, 1200) * Keep(gap)
}

// terms are the parts of the time of some work.
type terms struct{ moving, drift, breaks, fixed float64 }

func (t terms) total() float64 { return t.moving + t.drift + t.breaks + t.fixed }

// inHand is how much of the run of a pattern is there at a time: one run comes back in the
// length of a full break.
func (b *body) inHand(h House, pattern string, at float64) float64 {
	r, ok := b.runs[pattern]
	full := h.Break.At(b.z)
	if !ok || full == 0 {
		return 1
	}
	return min(1, r.left+max(0, at-r.at)/full)
}

// terms are those of n units of a line that are begun with part of a run in hand.
func (b *body) terms(h House, w Work, n, inHand float64) terms {
	if w.clockwork() {
		return terms{fixed: w.Fixed + n*w.Cadence}
	}
	m := n * w.pace(b.z)
	t := terms{moving: m, drift: Drift(b.moved+m) - Drift(b.moved)}
	u := w.run(b.z)
	switch {
	case w.Unbroken || n == 0:
	case w.SetsOf > 0:
		t.breaks = (math.Ceil(n/w.SetsOf-small) - 1) * h.breakAfter(w.SetsOf, b.z)
	case u > 0:
		t.breaks = max(0, n/u-inHand) * h.breakAfter(u, b.z)
	}
	return t
}

// most is the largest count whose time is within room seconds, not above limit; a whole one
// if asked for.
func (b *body) most(h House, w Work, limit, inHand, room float64, whole bool) float64 {
	fits := func(n float64) bool { return b.terms(h, w, n, inHand).total() <= room+small }
	if room <= 0 {
		return 0
	}
	if !math.IsInf(limit, 1) && fits(limit) {
		return limit
	}
	low, high := 0.0, 1.0
	for high < limit && fits(high) {
		low, high = high, 2*high
	}
	high = min(high, limit)
	for range 45 {
		if mid := (low + high) / 2; fits(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	if !whole {
		return low
	}
	n := math.Floor(low)
	if fits(n + 1) {
		n++
	}
	return n
}

// lead is what passes before work that may start at t: the longest of a change, as far as the
// gap has not covered it, of what is left of a handover, and of the set-up at a rack.
func (b *body) lead(h House, w Work, t, handover float64) float64 {
	gap := t - b.free
	lead := max(0, handover)
	if b.last != "" && b.last != w.Move.Name && !(b.paced && w.pacedOnFoot()) {
		lead = max(lead, h.Change.At(b.z)-gap)
	}
	if !w.clockwork() && (b.last != w.Move.Name || gap > 0) {
		lead = max(lead, w.Move.SetUp.At(b.z))
	}
	return lead
}

package estimate

import (
	"math"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// clocked does a group whose turns a clock starts.
func (w *walk) clocked(g *model.Group, v *visit) (cut bool) {
	var slots []*model.Group
	for _, s := range g.Steps {
		if k, ok := s.(*model.Group); ok && k.IsSlot() {
			slots = append(slots, k)
		}
	}
	if len(slots) > 0 {
		for _, s := range g.Steps {
			if k, ok := s.(*model.Group); isWork(s) && !(ok && k.IsSlot()) {
				w.miss(Missing{At: s.Where(), Why: "nobody knows in which slot this is done"})
			}
		}
	}
	n, open := w.count(g)
	if g.Repeat.Laps && len(slots) > 0 {
		n *= len(slots)
	}
	n = min(n, totals.MaxTurns)
	if end := g.Repeat.Until; open && math.IsInf(w.limit, 1) && (end == nil || end.Kind == model.UntilDone) {
		w.open = true
		w.miss(Missing{At: g.Repeat.At, Why: "nothing says when this ends", Add: "write how often, such as x 5"})
		n, open = 1, false
	}
	w.open = w.open || open && math.IsInf(w.limit, 1) // a cap would end it
	if g.Repeat.Kind == model.On && g.CarryOn && len(slots) == 0 {
		return w.carryOn(g, v, n, open)
	}
	w.inTurns++
	defer func() { w.inTurns-- }()
	c := w.context()
	missed := 0
	for i := 0; open || i < n; i++ {
		turn := frame{g, i, n, true}
		lap, laps := i, n
		if k := len(slots); k > 0 {
			lap, laps = i/k, (n+k-1)/k
			if i > 0 {
				atLap := i%k == 0
				if w.between(g, i/k-1, laps, w.mark, func(r *model.Rest) bool { return atLap && (r.Of == model.OfLaps || r.Of == model.OfRounds) }) ||
					w.between(g, i-1, n, w.mark, func(r *model.Rest) bool { return r.Of != model.OfLaps && r.Of != model.OfRounds }) {
					return true
				}
			}
		} else if i > 0 && w.betweenTurns(g, i-1, n, w.mark) {
			return true
		}
		over, stop := w.oneTurn(g, v, turn, slots, lap, laps)
		w.restore(c)
		if stop {
			return true
		}
		if over {
			missed++
		}
		if end := g.Repeat.Until; end != nil && (end.Kind == model.UntilMissed && missed > 0 || end.Kind == model.UntilMissedTwice && missed > 1 || missed > 2) {
			v.since = len(w.log) // what was missed does not count
			w.misses = true
			return false
		}
		if !over {
			v.rounds = i + 1
		}
		if w.tooMuch() || open && (w.total > w.fig.MostMoving || i >= 300) {
			if open && math.IsInf(w.limit, 1) {
				w.miss(Missing{At: g.Repeat.At, Why: "this may go on for ever", Add: "write a cap"})
			}
			return w.budget <= 0
		}
	}
	return w.afterTurns(g, w.mark)
}

// oneTurn does one turn on a clock, and waits for the next. Over says that it took longer
// than there was; stop, that time was up for more than this turn.
func (w *walk) oneTurn(g *model.Group, v *visit, turn frame, slots []*model.Group, lap, laps int) (over, stop bool) {
	start := w.now
	outer := w.limit
	r := g.Repeat
	length, ok := w.value(r.Interval, turn.turn, turn.turns)
	off := 0.0
	if r.Kind == model.On {
		length, ok = w.value(r.On, turn.turn, turn.turns)
		off, _ = w.value(r.Off, turn.turn, turn.turns)
	}
	if !ok || length <= 0 {
		w.miss(Missing{At: r.At, Why: "it is not said how long every turn is"})
		return false, w.tooMuch()
	}
	if r.Kind == model.Every || off > 0 { // there is time to walk over and to shake it off
		w.settle()
		w.doing, w.credit = "", 0
		w.full()
	}
	w.mark = w.busy()
	w.zero, w.fill = start, min(w.limit, start+length)
	if r.Kind == model.On {
		w.limit = w.fill
	}
	w.frames = append(w.frames, turn)
	if !v.counted || r.Kind != model.On {
		v.since = len(w.log)
	}
	v.counted = v.counted || r.Until != nil
	cut := false
	switch {
	case len(slots) > 0:
		s := slots[turn.turn%len(slots)]
		if r.Kind == model.On && totals.RepeatsInWindow(s, r.On, w.tier) {
			for i := 0; !cut; i++ { // until it closes
				from := w.now
				w.frames = append(w.frames, frame{s, i, 0, true})
				cut = w.group(s)
				w.frames = w.frames[:len(w.frames)-1]
				if w.now <= from+tiny || w.tooMuch() {
					break
				}
			}
			break
		}
		w.frames = append(w.frames, frame{s, lap, laps, true})
		cut = w.group(s)
		w.frames = w.frames[:len(w.frames)-1]
	case r.Kind == model.On && againAndAgain(g):
		w.frames = w.frames[:len(w.frames)-1]
		cut = w.again(g, v, 0)
		w.frames = append(w.frames, turn)
	default:
		cut = w.steps(g, turn.turn)
	}
	w.frames = w.frames[:len(w.frames)-1]
	took := w.now - start
	if r.Kind == model.On {
		w.limit = outer
	}
	if cut && (w.now >= w.limit-tiny && w.limit < start+length-tiny || w.budget <= 0) {
		return false, true // a cap, or a window around it
	}
	if took > v.turnTook || v.turn == 0 {
		v.turn, v.turnTook, v.interval = turn.turn+1, took, length
	}
	v.least = min(v.least, length-took)
	end := start + length
	if over = took > length+tiny; over {
		w.spent.Over += w.now - end
		w.now = end
	} else {
		w.idle(min(end, w.limit))
	}
	if w.now >= w.limit-tiny && end > w.limit+tiny {
		return over, true
	}
	return over, off > 0 && w.rest(off)
}

// againAndAgain says whether what a window holds is done again and again until it closes:
// several lines, or one with a count.
func againAndAgain(g *model.Group) bool {
	if totals.WorkLines(g) > 1 {
		return true
	}
	for _, s := range g.Steps {
		switch s := s.(type) {
		case *model.Group:
			return true
		case *model.Work:
			return s.From != model.FromClock && s.Dose != nil && !s.Dose.Max && s.Dose.Unit != "s"
		}
	}
	return false
}

// again does what a window holds over and over until it closes.
func (w *walk) again(g *model.Group, v *visit, first int) (cut bool) {
	v.counted = true
	for i := first; ; i++ {
		w.frames = append(w.frames, frame{g, i, 0, true})
		start := w.now
		v.since = len(w.log)
		cut = w.steps(g, i)
		w.frames = w.frames[:len(w.frames)-1]
		if cut {
			return true
		}
		v.rounds = i + 1
		v.since = len(w.log)
		if t := w.target; t != nil && t.group == g && t.rounds == i+1 && !t.found {
			t.at, t.found, w.budget = w.now-w.zero, true, 0
			return true
		}
		if w.now <= start+tiny || w.tooMuch() {
			w.idle(w.limit)
			return true
		}
	}
}

// carryOn does windows that go on where the last one stopped: one walk over all of them.
func (w *walk) carryOn(g *model.Group, v *visit, n int, open bool) (cut bool) {
	on, off := 0.0, 0.0
	for i := 0; i < n && i < totals.MaxTurns; i++ {
		a, _ := w.value(g.Repeat.On, i, n)
		b, _ := w.value(g.Repeat.Off, i, n)
		on, off = on+a, off+b
	}
	if open {
		on = w.limit - w.now
	}
	outer := w.limit
	w.window(on)
	if !math.IsInf(w.limit, 1) {
		cut = w.again(g, v, 0)
	}
	w.limit = outer
	if cut && w.now >= outer-tiny {
		return true
	}
	return w.rest(off)
}

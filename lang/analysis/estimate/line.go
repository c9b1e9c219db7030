package estimate

import (
	"math"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// line does a line of work, all its sets.
func (w *walk) line(s *model.Work) (cut bool) {
	if len(s.Moves) == 0 {
		return false
	}
	sets, every := 1, false
	own := w.turnOf(s)
	if s.Sets != nil {
		v, ok := w.value(s.Sets, own.turn, own.turns)
		if !ok {
			w.miss(Missing{At: s.Sets.At, Why: "it is not said how many sets"})
			v = 1
		}
		sets = int(math.Ceil(min(v, totals.MaxTurns)))
		_, every = w.value(s.Every, 0, sets)
	}
	rest := s.Rest
	if rest == nil {
		rest = w.sets
	}
	if sets > 1 && rest == nil && !every && !w.against {
		w.miss(Missing{At: s.At, Why: "no rest is written between these sets", Add: "add a rest, such as , rest 2:00"})
	}
	d := dose{work: s, turn: own.turn, turns: own.turns}
	for i := range sets {
		if s.Sets != nil {
			w.frames = append(w.frames, frame{nil, i, sets, true})
			if s.From != model.FromHead {
				d.turn, d.turns = i, sets
			}
		}
		start, mark := w.now, w.busy()
		if cut = w.set(d); !cut && every {
			cut = w.nextSet(s, start, i, sets)
		}
		if s.Sets != nil {
			w.frames = w.frames[:len(w.frames)-1]
		}
		if cut || w.tooMuch() {
			return true
		}
		if i < sets-1 && rest != nil && !every && w.takeRest(rest, i, sets-1, mark) {
			return true
		}
	}
	return false
}

// nextSet waits until the next set of a line starts by the clock.
func (w *walk) nextSet(s *model.Work, start float64, i, sets int) (cut bool) {
	v, _ := w.value(s.Every, i, sets)
	if i == sets-1 {
		return false // nothing comes after the last
	}
	if w.now > start+v+tiny {
		w.miss(Missing{At: s.Every.At, Why: "at some standing a set takes longer than this, and nobody knows what happens then"})
		return false
	}
	return w.rest(start + v - w.now)
}

// turnOf is the turn that a line's values move with: that of the head that gives it its
// count, or of the nearest thing that comes round.
func (w *walk) turnOf(s *model.Work) frame {
	if s.From == model.FromHead {
		for i := len(w.frames) - 1; i >= 0; i-- {
			if f := w.frames[i]; f.group != nil && f.group.Repeat.Series != nil && f.group.Repeat.Series == s.Dose {
				return f
			}
		}
	}
	return w.turn()
}

// set does a line once.
func (w *walk) set(d dose) (cut bool) {
	s := d.work
	limit, fill := w.limit, w.fill
	defer func() { w.limit, w.fill = limit, fill }()
	if end := s.Until; end != nil {
		if end.Kind == model.UntilClock {
			if v, ok := w.value(end.Clock, 0, 1); ok {
				w.limit = min(w.limit, max(w.now, w.zero+v))
				w.fill = w.limit
			}
		} else if math.IsInf(w.fill, 1) && math.IsInf(w.limit, 1) {
			w.open = true
			w.miss(Missing{At: end.At, Why: "nobody knows when this ends", Add: "write a cap, or until a time on the clock"})
		}
	}
	// The second side is another go at the same.
	sides := 1
	if s.Side {
		sides = 2
	}
	for range sides {
		cut = w.choose(d, float64(sides))
		if s.Window == nil || cut {
			break // the count is doubled instead
		}
	}
	return cut && w.now >= limit-tiny || w.budget <= 0
}

// choose does a line's movement, or the slowest of those that it leaves a choice of.
func (w *walk) choose(d dose, sides float64) (cut bool) {
	s := d.work
	if !s.Choice {
		return w.moves(d, s.Moves, s.Dose, sides)
	}
	return w.slowest(len(s.Moves), func(w *walk, i int) bool {
		q := s.Dose
		if i > 0 && s.Moves[i].Count != nil {
			q = s.Moves[i].Count
		}
		return w.moves(d, s.Moves[i:i+1], q, sides)
	})
}

// slowest does the one of n things that takes longest.
func (w *walk) slowest(n int, do func(*walk, int) bool) (cut bool) {
	var best *walk
	for i := range n {
		c := w.fork()
		if best != nil {
			c.budget = best.budget
		}
		was := do(c, i)
		if best != nil {
			best.budget = c.budget
		}
		if best == nil || c.now > best.now+tiny || was && !cut {
			open, tiered := best != nil && best.open, best != nil && best.tiered
			best, cut = c, was
			best.open, best.tiered = best.open || open, best.tiered || tiered
		} else {
			best.open, best.tiered = best.open || c.open, best.tiered || c.tiered
		}
	}
	if best != nil {
		*w = *best
	}
	return cut
}

func (w *walk) chooseOne(g *model.Group) (cut bool) {
	var of []model.Step
	for _, s := range g.Steps {
		if isWork(s) {
			of = append(of, s)
		}
	}
	return w.slowest(len(of), func(w *walk, i int) bool { return w.list(of[i:i+1], 0) })
}

// moves does a dose of a movement or of a complex.
func (w *walk) moves(d dose, moves []model.Move, q *model.Quantity, sides float64) (cut bool) {
	s := d.work
	max := s.From == model.FromClock || q != nil && q.Max
	unit := "rep"
	if q != nil {
		unit = q.Unit
	}
	switch {
	case max:
		return w.max(d, moves, q, unit)
	case q == nil:
		w.miss(Missing{At: s.At, Why: "it is not said how many or how long"})
		return false
	case unit == "%":
		w.miss(Missing{At: q.At, Why: "only the athlete knows how many that is"})
		return false
	}
	n, ok := w.value(q, d.turn, d.turns)
	if !ok {
		w.miss(Missing{At: q.At, Why: "it is not said how many for every turn"})
		return false
	}
	if s.RM > 0 && math.IsInf(w.fill, 1) {
		w.miss(Missing{At: q.At, Why: "nobody knows how many sets it takes to build up to this", Add: "write lasts 15:00 on its head"})
	}
	if q.More {
		w.miss(Missing{At: q.At, Why: "more than this may be done"})
	}
	if s.Until != nil && s.Until.Kind != model.UntilClock && s.Until.Kind != model.UntilDone && !math.IsInf(w.limit, 1) {
		w.miss(Missing{At: s.Until.At, Why: "nobody knows when this ends"})
	}
	n *= sides
	if unit == "s" {
		return w.hold(d, moves[0], n)
	}
	return w.shared(d, moves, unit, n)
}

// hold does something for a time, the same for everybody.
func (w *walk) hold(d dose, m model.Move, seconds float64) (cut bool) {
	if m.Movement == nil {
		w.miss(Missing{At: m.At, Why: "no book has a movement " + m.Name})
	}
	if k := w.team.size; d.work.Share != "" && k > 1 && !together(d.work.Share) && !w.team.solo {
		seconds /= k // they do it at once
	}
	p := &piece{work: d.work, name: m.Name, unit: "s", pattern: patternOf(m.Movement), fixed: 1, run: math.Inf(1), team: 1}
	return w.perform(p, seconds)
}

// max does as much as there is time for.
func (w *walk) max(d dose, moves []model.Move, q *model.Quantity, unit string) (cut bool) {
	s := d.work
	limit := w.limit
	defer func() { w.limit = limit }()
	end := min(w.fill, w.limit)
	if s.Window != nil {
		v, ok := w.value(s.Window, d.turn, d.turns)
		if !ok {
			w.miss(Missing{At: s.Window.At, Why: "it is not said how long for every turn"})
			return false
		}
		end = min(w.limit, w.now+v)
	}
	if math.IsInf(end, 1) {
		w.open = true
		at := s.At
		if q != nil {
			at = q.At
		}
		w.miss(Missing{At: at, Why: "max has no end", Add: "write a time before it, or until a time on the clock"})
		return false
	}
	w.limit = end
	if moves[0].Movement != nil && q == nil {
		if _, ok := moves[0].Movement.Pace("rep"); !ok { // it is held, or walked: for as long as there is
			if _, ok := moves[0].Movement.Pace("m"); !ok {
				cut = w.hold(d, moves[0], end-w.now)
				return cut && w.now >= limit-tiny
			}
			unit = "m"
		}
	}
	held := w.known
	w.known = &known{notes: held.notes}
	p, ok := w.piece(d, moves, unit)
	if !ok { // how many is not known, and the time is
		for _, m := range w.known.missing {
			m.Held = true
			held.miss(m)
		}
	}
	held.notes = w.known.notes
	w.known = held
	if !ok || p.per+p.fixed <= 0 {
		cut = w.hold(d, moves[0], end-w.now)
		return cut && w.now >= limit-tiny
	}
	// There is always more of it than time.
	cut = w.perform(&p, most)
	return cut && w.now >= limit-tiny || w.budget <= 0
}

package model

import (
	"slices"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/syntax"
)

// head makes the swaps that change a head: its repeat, its mode or its clauses. It is nil where one
// leaves out how often it comes round, and with that the group.
func (sw *swaps) head(line *syntax.Line, h *syntax.Head) *syntax.Head {
	c := *h
	c.Clauses = slices.Clone(h.Clauses)
	was, layer := h, 0 // as the version before has it: no swap is made in what another of its own version has put there
	for _, s := range sw.list {
		if s.layer != layer {
			before := c
			before.Clauses = slices.Clone(c.Clauses)
			was, layer = &before, s.layer
		}
		if !sw.here(s) {
			continue
		}
		by := s.line.Body - line.Body // the swap's words stand in another line
		switch from := s.stmt.From.(type) {
		case *syntax.Head:
			switch {
			case !sw.headSwap(&c, was, s, from, by):
			case from.Repeat != nil && s.stmt.To == nil:
				sw.timesToNothing(line, h, s, from.Repeat)
				s.hit(sw.l.place(line, h.Span))
				sw.leaveOut(sw.l.place(line, h.Span), s.note)
				return nil
			default:
				s.hit(sw.l.place(line, h.Span))
			}
		case *syntax.ClauseSide:
			if sw.clauseSwap(&c, was, s, from, by) {
				s.hit(sw.l.place(line, h.Span))
			}
		}
	}
	return &c
}

// headSwap changes the repeat or the mode of a head, if it was what the swap looks for.
func (sw *swaps) headSwap(h, was *syntax.Head, s *swap, from *syntax.Head, by int) bool {
	if from.Repeat != nil && from.Repeat.Kind == "" {
		return timesSwap(h, was, s, from.Repeat, by)
	}
	match := (from.Repeat == nil || was.Repeat != nil && syntax.Same(withoutEnd(from), namedLike(from, was))) &&
		(from.Mode == nil || was.Mode != nil && syntax.Same(from.Mode, was.Mode)) && (from.Repeat != nil || from.Mode != nil) &&
		(endOf(from) == nil || endOf(from).Names(endOf(was)))
	if !match {
		return false
	}
	to, _ := s.stmt.To.(*syntax.Head)
	if to == nil {
		to = &syntax.Head{}
	}
	to = syntax.ShiftSpans(to, by).(*syntax.Head)
	end := endOf(h)
	if endOf(from) != nil || endOf(to) != nil || from.Repeat != nil && to.Repeat == nil {
		end = endOf(to)
	}
	if from.Repeat != nil || to.Repeat != nil {
		now := h.Repeat
		h.Repeat = withoutEnd(to)
		if now != nil && h.Repeat != nil && namesClockAlone(from) && h.Repeat.Times == nil {
			h.Repeat.Times, h.Repeat.Laps = now.Times, now.Laps
		}
	}
	if h.Until = end; h.Repeat != nil {
		h.Repeat = withoutEnd(h)
	}
	if from.Mode != nil || to.Mode != nil {
		h.Mode = to.Mode
	}
	h.Clauses = append(h.Clauses, to.Clauses...)
	return true
}

// timesToNothing reports a swap of how often a clock starts something for nothing, which could leave out the
// work or the number of starts.
func (sw *swaps) timesToNothing(line *syntax.Line, h *syntax.Head, s *swap, from *syntax.Repeat) {
	if from.Kind != "" || s.used {
		return
	}
	whole := sw.l.place(line, h.Repeat.Span).Text()
	sw.l.report(swapUnclear, s.at, "without "+s.fromAt.Text()+" nobody knows how often the clock starts this",
		"write "+whole+" -> nothing where all of it is left out, or another number of starts, such as x 3",
		&diag.Fix{Title: "write " + whole + " -> nothing, which leaves out all of it", Edits: []diag.Edit{{At: s.fromAt, New: whole}}})
}

// endOf is what a head goes on until.
func endOf(h *syntax.Head) *syntax.End {
	if h.Until == nil && h.Repeat != nil {
		return h.Repeat.Until
	}
	return h.Until
}

// withoutEnd is how often a head comes round, without what it goes on until.
func withoutEnd(h *syntax.Head) *syntax.Repeat {
	if h.Repeat == nil {
		return nil
	}
	r := *h.Repeat
	r.Until = nil
	return &r
}

// namesClockAlone says whether the left side of a swap names a clock and not how often it starts.
func namesClockAlone(from *syntax.Head) bool {
	return from.Repeat != nil && (from.Repeat.Kind == syntax.Every || from.Repeat.Kind == syntax.OnOff) && from.Repeat.Times == nil &&
		endOf(from) == nil
}

// namedLike is how often a head comes round, as far as the left side of a swap says: without what it goes on
// until, and without how often a clock starts it where the left names the clock alone.
func namedLike(from, h *syntax.Head) *syntax.Repeat {
	r := withoutEnd(h)
	if namesClockAlone(from) {
		r.Times, r.Laps = nil, false
	}
	return r
}

// timesSwap changes how often a clock starts what a head holds.
func timesSwap(h, was *syntax.Head, s *swap, from *syntax.Repeat, by int) bool {
	if was.Repeat == nil || was.Repeat.Times == nil || was.Repeat.Laps != from.Laps || !syntax.Same(from.Times, was.Repeat.Times) {
		return false
	}
	if to, ok := syntax.ShiftSpans(s.stmt.To, by).(*syntax.Head); ok && to.Repeat != nil && h.Repeat != nil {
		changed := *h.Repeat
		changed.Times, changed.Laps = to.Repeat.Times, to.Repeat.Laps
		h.Repeat = &changed
	}
	return true
}

// clauseSwap changes a clause of a head, if it was what the swap looks for.
func (sw *swaps) clauseSwap(h, was *syntax.Head, s *swap, from *syntax.ClauseSide, by int) bool {
	to, _ := syntax.ShiftSpans(s.stmt.To, by).(*syntax.ClauseSide)
	if from.Clause.Kind == syntax.StartAt {
		if was.At == nil || from.Clause.Amount == nil || !syntax.Same(from.Clause.Amount.Steps[0].Value, *was.At) {
			return false
		}
		h.At = nil
		if to != nil && to.Clause.Amount != nil {
			h.At = &to.Clause.Amount.Steps[0].Value
		}
		return true
	}
	if from.Clause.Kind == syntax.EveryOf { // the interval of a clock; how often it starts stays
		if was.Repeat == nil || was.Repeat.Kind != syntax.Every || to == nil || !syntax.Same(from.Clause.Amount, was.Repeat.Every) ||
			h.Repeat == nil {
			return false
		}
		changed := *h.Repeat
		changed.Every, h.Repeat = to.Clause.Amount, &changed
		return true
	}
	same := func(c syntax.Clause) bool { return syntax.Same(c, from.Clause) }
	i := slices.IndexFunc(h.Clauses, same)
	if i < 0 || !slices.ContainsFunc(was.Clauses, same) {
		return false
	}
	if to == nil {
		h.Clauses = slices.Delete(h.Clauses, i, i+1)
		return true
	}
	h.Clauses[i] = to.Clause
	return true
}

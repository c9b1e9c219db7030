package model

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// best picks the most specific of those that match. All that match are used: a swap
// that only ever loses to a more specific one is a mistake that would stay hidden, but
// it is not one that matches nothing.
func (sw *swaps) best(layer int, at source.Place, match func(*swap) bool) *swap {
	var best, other *swap
	for _, s := range sw.list {
		if s.layer != layer || !sw.here(s) || !match(s) {
			continue
		}
		s.used = true
		switch {
		case best == nil || s.rank() > best.rank():
			best, other = s, nil
		case s.rank() == best.rank():
			other = s
		}
	}
	if other != nil {
		sw.l.report(swapUnclear, other.fromAt, fmt.Sprintf("two swaps of this version match %q, and neither says more than the other", at.Text()),
			"say in one of them which is meant: its count, or the part before a colon", nil)
		sw.l.reportAdd(relatedTo(best.at))
		sw.l.reportAdd(diag.Related{At: at, Message: "both match this"})
	}
	if best != nil {
		best.hit(at)
	}
	return best
}

// rest makes the swap of a line of rest; nil leaves it out.
func (sw *swaps) rest(line *syntax.Line, r *syntax.Rest) *syntax.Rest {
	for _, s := range sw.list {
		if from, ok := s.stmt.From.(*syntax.Rest); ok && sw.here(s) && namesRest(from, r) {
			s.hit(sw.l.place(line, r.Span))
			to, _ := syntax.ShiftSpans(s.stmt.To, s.line.Body-line.Body).(*syntax.Rest)
			return to
		}
	}
	return r
}

// work makes the swaps of a line of work; nil leaves it out. A version that starts from
// another is made on what that one makes, but looks for lines as the session has them.
func (sw *swaps) work(w *Work) *Work {
	out := w
	for layer := 1; layer <= sw.layer; layer++ {
		out = sw.loads(layer, w, out)
		if len(w.Moves) == 1 {
			out = sw.one(layer, w, out)
		} else {
			out = sw.several(layer, w, out)
		}
	}
	if out == nil {
		return nil
	}
	c := *out
	c.Written, c.original = w.At, w
	sw.clauses(&c)
	return &c
}

// one makes the swap of a line of one movement. Out is what the versions before have
// made of it, nil where they have left it out.
func (sw *swaps) one(layer int, w, out *Work) *Work {
	s := sw.best(layer, w.At, func(s *swap) bool { return s.from != nil && len(s.from.Moves) == 1 && s.from.matches(w) })
	if s == nil {
		return out
	}
	if s.to == nil {
		sw.leaveOut(w.At, s.note)
		return nil
	}
	if out == nil {
		out = w
	}
	c := *out
	c.Moves, c.Choice = slices.Clone(s.to.Moves), s.to.Choice
	sw.carry(&c, s, out.Moves)
	return &c
}

// leaveOut notes what a version leaves out of the session as written, and why.
func (sw *swaps) leaveOut(at source.Place, why string) {
	if why != "" {
		sw.left = append(sw.left, at)
	}
}

// several makes the swaps of a line of several movements: it is looked for whole first,
// then movement by movement.
func (sw *swaps) several(layer int, w, out *Work) *Work {
	s := sw.best(layer, w.At, func(s *swap) bool { return s.from != nil && len(s.from.Moves) > 1 && s.from.matches(w) })
	if s != nil && s.to == nil {
		sw.leaveOut(w.At, s.note)
		return nil
	}
	if s == nil && out == nil {
		return nil
	}
	if out == nil {
		out = w
	}
	c := *out
	if s != nil {
		c.Moves, c.Choice = slices.Clone(s.to.Moves), s.to.Choice
		sw.carry(&c, s, out.Moves)
		return &c
	}
	var kept []Move
	for i := range out.Moves {
		one := *out
		one.Moves = out.Moves[i : i+1]
		s := sw.best(layer, out.Moves[i].At, func(s *swap) bool { return s.from != nil && len(s.from.Moves) == 1 && s.from.matches(&one) })
		switch {
		case s == nil:
			kept = append(kept, out.Moves[i])
		case s.to == nil:
			sw.leaveOut(out.Moves[i].At, s.note)
		default:
			to := slices.Clone(s.to.Moves)
			to[0].Count = out.Moves[i].Count
			kept = append(kept, to...)
			c.Choice = c.Choice || s.to.Choice
			sw.carry(&c, s, one.Moves)
		}
	}
	if len(kept) == 0 {
		return nil
	}
	c.Moves = dedupe(kept, c.Choice)
	if len(c.Moves) == 1 {
		c.Choice = false
	}
	return &c
}

// dedupe leaves a movement in a choice once.
func dedupe(ms []Move, choice bool) []Move {
	if !choice {
		return ms
	}
	var out []Move
	for _, m := range ms {
		if !slices.ContainsFunc(out, func(o Move) bool { return o.Name == m.Name }) {
			out = append(out, m)
		}
	}
	return out
}

// carry puts what the right side of a swap says into a line, by the table of section 17 of the language. What
// the right side says stands in the place of what is of its kind, and the rest of the line stays, but for:
//
//   - a dose has its sides, its pieces and its end with it, so that another dose takes the place of all of them;
//   - a load has all loads in its place, but that a height stays where no other is given;
//   - with another movement weights, heights, shares and paces go, which are the implement's, and notes,
//     which are cues of the movement;
//   - with another movement and a dose, which are a line of their own, tempo, alternating and unbroken go.
func (sw *swaps) carry(w *Work, s *swap, from []Move) {
	to, before := s.to, w.At
	w.At = to.At
	same := len(from) == 1 && len(to.Moves) == 1 && from[0].Name == to.Moves[0].Name
	if !same {
		w.Notes = nil
	}
	if to.Dose != nil {
		w.Dose, w.Side, w.From, w.Terms = to.Dose, to.Side, FromLine, to.Terms
		w.RM, w.Window, w.Past, w.Until = to.RM, to.Window, to.Past, to.Until
		if !same {
			w.Alternating, w.Unbroken, w.Tempo = false, false, ""
		}
	}
	if to.Dose == nil && w.Dose != nil && w.Dose.Max && w.Dose.Unit == "rep" && to.Moves[0].Movement.Held() {
		most := *w.Dose
		most.Unit, w.Dose = "s", &most // the most of a hold is its time
	}
	w.Loads = carriedLoads(w.Loads, to.Loads, same)
	w.Side = w.Side || to.Side
	w.Alternating = w.Alternating || to.Alternating
	if to.Unbroken || to.AnySets || to.SetsOf != nil { // one way to break it up, or not to
		w.Unbroken, w.AnySets, w.SetsOf = to.Unbroken, to.AnySets, to.SetsOf
	}
	override(&w.Sets, to.Sets)
	override(&w.Tempo, to.Tempo)
	override(&w.Share, to.Share)
	override(&w.ShareOfEach, to.ShareOfEach)
	override(&w.Rest, to.Rest)
	override(&w.Until, to.Until)
	override(&w.If, to.If)
	override(&w.Every, to.Every)
	w.With = append(slices.Clone(w.With), to.With...)
	if s.note != "" {
		w.Notes = []string{s.note}
	}
	misfit := slices.ContainsFunc(from, func(m Move) bool { return m.Movement == nil || w.Dose != nil && !fits(m.Movement, w.Dose.Unit) })
	if w.Dose != nil && to.Dose == nil && w.From != FromClock && !misfit {
		for _, m := range to.Moves {
			if m.Movement != nil && !fits(m.Movement, w.Dose.Unit) {
				at := s.at
				if s.house {
					at = sw.l.file.Src.At(before.Span)
				}
				sw.l.report(unitUnfit, at, fmt.Sprintf("the count carries over, but %s is not counted in %s", m.Name, UnitName(w.Dose.Unit)),
					"write a count on the right of the arrow too", nil)
				break
			}
		}
	}
}

// carriedLoads are the loads of a line behind a swap: those of the right side where it has some, else those
// that another movement can have too.
func carriedLoads(was, to []Load, same bool) []Load {
	var out []Load
	height := func(ld Load) bool { return ld.Kind == syntax.Height }
	for _, ld := range was {
		stays := same
		switch ld.Kind {
		case syntax.RPE, syntax.RIR, syntax.Effort, syntax.Named, syntax.Reading:
			stays = true // how hard is the line's, not the implement's
		default: // of the implement
		}
		if len(to) > 0 {
			stays = same && height(ld) && !slices.ContainsFunc(to, height)
		}
		if stays {
			out = append(out, ld)
		}
	}
	return append(slices.Clone(to), out...)
}

// clauses makes the swaps of a clause of a line, such as a rest between sets.
func (sw *swaps) clauses(w *Work) {
	was, layer := *w, 0 // as the version before has it
	for _, s := range sw.list {
		if s.layer != layer {
			was, layer = *w, s.layer
		}
		switch from := s.stmt.From.(type) {
		case *syntax.Rest:
			if was.Rest == nil || !sw.here(s) || !s.l.rest(s.line, from, RestBetweenSets).names(was.Rest) {
				continue
			}
			s.hit(w.Written)
			w.Rest = nil
			if to, ok := s.stmt.To.(*syntax.Rest); ok {
				w.Rest = s.l.rest(s.line, to, RestBetweenSets)
			}
		case *syntax.ClauseSide:
			sw.lineClause(w, &was, s, from)
		}
	}
}

// loads makes the swaps of loads alone, whatever the movement. They are looked for on
// the line as the session has it, and made before a movement brings loads of its own.
func (sw *swaps) loads(layer int, w, out *Work) *Work {
	for _, s := range sw.list {
		from, ok := s.stmt.From.(*syntax.LoadSide)
		if !ok || s.layer != layer || !sw.here(s) {
			continue
		}
		want := s.l.loads(s.line, from.Loads, nil)
		wanted := func(o Load) bool { return slices.ContainsFunc(want, func(ld Load) bool { return sameLoad(ld, o) }) }
		if slices.ContainsFunc(want, func(ld Load) bool {
			return !slices.ContainsFunc(w.Loads, func(o Load) bool { return sameLoad(ld, o) })
		}) {
			s.paceWithOffset(w, want)
			continue
		}
		s.hit(w.At)
		if out == nil || !slices.ContainsFunc(out.Loads, wanted) {
			continue
		}
		c := *out
		c.Loads = slices.DeleteFunc(slices.Clone(out.Loads), wanted)
		if to, ok := s.stmt.To.(*syntax.LoadSide); ok {
			for _, ld := range s.l.loads(s.line, to.Loads, nil) {
				if m := out.Moves[0].Movement; ld.Offset != nil && m != nil {
					ld.offsetOn(m)
				}
				c.Loads = append(c.Loads, ld)
			}
		}
		out = &c
	}
	return out
}

// paceWithOffset notes a pace that the left side of a swap names but for what is added to it.
func (s *swap) paceWithOffset(w *Work, want []Load) {
	if len(want) != 1 || want[0].Offset != nil {
		return
	}
	for _, o := range w.Loads {
		bare := o
		if bare.Offset, bare.Per, bare.Unit = nil, want[0].Per, want[0].Unit; o.Offset != nil && sameLoad(want[0], bare) {
			s.near = o.At
		}
	}
}

// offsetUnnamed reports a swap of a pace that the session has with an offset only.
func (sw *swaps) offsetUnnamed(s *swap, at source.Place) {
	offset := strings.TrimPrefix(s.near.Text(), at.Text())
	d := diag.Diagnostic{Rule: swapUnmatched, Severity: diag.Error, At: at,
		Message: fmt.Sprintf("the session has no %q alone: a pace and what is added to it are one", at.Text()),
		Help:    "write " + s.near.Text() + " on the left, and on the right what is added there, if anything"}
	left := diag.Edit{At: at, New: s.near.Text()}
	d.Fixes = []diag.Fix{{Title: "write " + s.near.Text() + " on the left", Edits: []diag.Edit{left}}}
	if to := behindPlace(s.l.place(s.line, s.stmt.To.Extent())); strings.HasPrefix(offset, " ") {
		d.Fixes = append(d.Fixes, diag.Fix{Title: "write" + offset + " on both sides", Edits: []diag.Edit{left, {At: to, New: offset}}})
	}
	*s.l.diags = append(*s.l.diags, d)
}

func (sw *swaps) lineClause(w, was *Work, s *swap, from *syntax.ClauseSide) {
	if !sw.here(s) {
		return
	}
	to, _ := s.stmt.To.(*syntax.ClauseSide)
	is := false
	switch from.Clause.Kind {
	case syntax.TempoOf:
		if is = was.Tempo == from.Clause.Tempo; is {
			w.Tempo = ""
		}
	case syntax.Unbroken:
		if is = was.Unbroken; is {
			w.Unbroken = false
		}
	case syntax.Alternating:
		if is = was.Alternating; is {
			w.Alternating = false
		}
	case syntax.If:
		if is = was.If != ""; is {
			w.If = ""
		}
	case syntax.EachSide:
		if is = was.Side; is {
			w.Side = false
		}
	case syntax.AnySets:
		if is = was.AnySets; is {
			w.AnySets = false
		}
	case syntax.SetsOf:
		if is = was.SetsOf != nil && sameQuantity(was.SetsOf, s.l.quantity(s.line, from.Clause.Amount, "rep")); is {
			w.SetsOf = nil
		}
	case syntax.EveryOf:
		if is = was.Every != nil && sameQuantity(was.Every, s.l.quantity(s.line, from.Clause.Amount, "")); is {
			w.Every = nil
		}
	case syntax.With:
		loads := s.l.loads(s.line, from.Clause.Loads, nil)
		named := func(k Kit) bool {
			return book.Key(k.Name) == book.Key(from.Clause.Kit.Text) && slices.EqualFunc(k.Loads, loads, sameLoad)
		}
		i := slices.IndexFunc(w.With, named)
		if is = i >= 0 && slices.ContainsFunc(was.With, named); is {
			w.With = slices.Delete(slices.Clone(w.With), i, i+1)
		}
	case syntax.ShareOfEach:
		if is = was.ShareOfEach != nil && sameQuantity(was.ShareOfEach, s.l.quantity(s.line, from.Clause.Amount, "rep")); is {
			w.ShareOfEach = nil
		}
	case syntax.Split, syntax.SplitEvenly, syntax.Together:
		if is = was.Share == Sharing(from.Clause.Kind); is {
			w.Share = ""
		}
	}
	if is {
		s.hit(w.Written)
		if to != nil {
			s.l.workClause(w, s.line, &to.Clause)
		}
	}
}

// report says which of the session's own swaps match nothing. A house's swap may: it is
// written for all sessions. So may one of a version that this one starts from, which has its own report:
// this one may have left nothing that it could change.
func (sw *swaps) report() {
	for _, s := range sw.list {
		if s.used || s.house || s.layer < sw.layer {
			continue
		}
		what := "the session"
		if s.part != "" {
			what = strings.TrimSpace(s.part + " " + s.letter)
		}
		at := s.fromAt
		if at.File == nil {
			at = s.at
		}
		if s.from != nil && s.from.Moves[0].Movement == nil {
			continue // the name is wrong, and that has been reported
		}
		if s.near.File != nil && s.stmt.To != nil {
			sw.offsetUnnamed(s, at)
			continue
		}
		help, fix := sw.formThatWorks(s)
		s.l.report(swapUnmatched, at, fmt.Sprintf("%s has no %q, so this swap changes nothing", what, at.Text()), help, fix)
	}
	for _, w := range sw.wholes {
		if !w.used && w.layer == sw.layer {
			w.l.report(swapUnmatched, w.at, fmt.Sprintf("the session has no %s to take the place of", strings.TrimSpace(w.part+" "+w.letter)),
				"write the letter of one of its parts", nil)
		}
	}
}

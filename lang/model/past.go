package model

import (
	"math"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// What was done before in the session, from which lines take their count or their load.

// IsPast says whether a base is what was done before in the session.
func (k BaseKind) IsPast() bool { return k == OfToday || k == OfFirst || k == OfLast }

// past lowers what was done before, and what is added to it.
func (l *lowerer) past(line *syntax.Line, p *syntax.Past) *Past {
	if p == nil {
		return nil
	}
	out := &Past{Of: BaseKind(p.What), Bound: Bound(p.Bound), At: l.place(line, p.Span)}
	if p.Offset != nil {
		out.Offset = l.tiers(l.quantity(line, p.Offset, "rep"))
		if p.Minus {
			out.Offset.negate()
		}
	}
	return out
}

// pasts works out what the lines of a session take from earlier work, where the text tells it, and
// reports lines before which there is none.
func (l *lowerer) pasts(s *Session) {
	if l.env == nil {
		return
	}
	done := map[string]bool{} // movements of which some has been done, by name
	for w, around := range s.Lines(Everything) {
		for i := range w.Loads {
			l.pastLoad(w, &w.Loads[i], around, done)
		}
		l.pastDose(w, around, done)
		for _, m := range w.Moves {
			done[m.Name] = true
		}
	}
}

// pastDose works out the count of a line from earlier work.
func (l *lowerer) pastDose(w *Work, around []*Group, done map[string]bool) {
	p := w.Past
	if p == nil || !l.hasPast(w, p.Of, p.At, around, done) {
		return
	}
	if w.Dose.Unit == "%" {
		return
	}
	unit := "rep"
	if w.Dose = nil; p.Offset != nil {
		unit = p.Offset.Unit
	}
	w.Dose = fromTurns(w, p, around, func(o *Work) *Quantity {
		if o.Sets != nil || o.From != FromLine || o.Past != nil && o.Dose.Unit == "%" || p.Offset == nil && o.Dose == nil {
			return nil
		}
		if p.Offset == nil && o.Dose != nil {
			unit = o.Dose.Unit
		}
		return o.Dose
	})
	if w.Dose == nil { // how many that is, only the session itself will show
		w.Dose = &Quantity{Unit: unit, Form: syntax.One, At: p.At}
	}
	w.Dose.counted()
}

// pastLoad works out a load of a line from earlier work.
func (l *lowerer) pastLoad(w *Work, ld *Load, around []*Group, done map[string]bool) {
	p := ld.Past
	if p == nil {
		if b := ld.Base; b != nil && b.Kind.IsPast() {
			l.hasPast(w, b.Kind, ld.At, around, done)
		}
		return
	}
	if !l.hasPast(w, p.Of, p.At, around, done) {
		return
	}
	if slices.ContainsFunc(around, func(g *Group) bool { return len(g.Each) > 0 }) {
		return
	}
	kind := syntax.Earlier
	amount := fromTurns(w, p, around, func(o *Work) *Quantity {
		for _, e := range o.Loads {
			if e.Amount != nil && e.Count == nil && (p.Offset == nil && len(o.Loads) == 1 && weighed(e) || p.Offset != nil && e.Amount.Unit == p.Offset.Unit) {
				kind = e.Kind
				return e.Amount
			}
		}
		return nil
	})
	if amount != nil {
		ld.Kind, ld.Amount = kind, amount
		ld.Amount.Bound = p.Bound
	}
}

// weighed says whether a load is so heavy or so high, whoever lifts it.
func weighed(ld Load) bool { return ld.Kind == syntax.Mass || ld.Kind == syntax.Height }

// hasPast reports a line that takes from earlier work where there is none.
func (l *lowerer) hasPast(w *Work, of BaseKind, at source.Place, around []*Group, done map[string]bool) bool {
	name := w.Moves[0].Name
	if of == OfToday {
		if !done[name] && !earlierTurn(w, around) {
			l.pastless(countMissing, at, "no "+name+" is done before this, so there is no best of today", "write how much or how heavy")
			return false
		}
		return true
	}
	turns := turnsOf(around)
	switch {
	case turns == nil:
		l.pastless(wordMisplaced, at, "nothing comes round here, so there is no "+string(of)[len("the "):]+" turn",
			"put it into rounds, or on a clock; the best so far in the session is today")
	case turns.first <= 1:
		l.pastless(countMissing, at, "the first "+turns.noun+" has nothing before it", "say what is done in the first behind "+turns.noun+
			" 1:, and put this behind "+turns.noun+" 2: or a later one")
	case slices.ContainsFunc(turns.before(turns.first), func(o *Work) bool { return o.does(name) }):
		return true
	default:
		l.pastless(countMissing, at, "no "+name+" is done in an earlier "+turns.noun, "say what is done in an earlier one, or write how much or how heavy here")
	}
	return false
}

// pastless reports a line that has no earlier work to take from: in the session as written, and in a
// version that leaves out what the line takes from.
func (l *lowerer) pastless(rule string, at source.Place, message, help string) {
	if l.swaps == nil {
		l.report(rule, at, message, help, nil)
		return
	}
	known := func(d diag.Diagnostic) bool { return d.Rule == rule && d.At == at }
	if to := l.swaps.l; !slices.ContainsFunc(*to.diags, known) {
		to.report(rule, at, "in the version "+l.swaps.name+", "+message, help, nil)
	}
}

// earlierTurn says whether the line itself has been done in an earlier turn of what comes round.
func earlierTurn(w *Work, around []*Group) bool {
	return Repeating(around) != nil && w.Past == nil && !slices.ContainsFunc(w.Loads, func(ld Load) bool {
		return ld.Past != nil || ld.Base != nil && ld.Base.Kind.IsPast()
	})
}

// does says whether a line is of one movement, by its name.
func (w *Work) does(name string) bool {
	return len(w.Moves) == 1 && book.Key(w.Moves[0].Name) == book.Key(name)
}

// lineTurns are the turns in which a line is done.
type lineTurns struct {
	group       *Group // what comes round
	slots       bool   // its turns are its slots, of which the line stands in one
	first, last int    // from 1; last is 0 where it goes on
	noun        string
}

// turnsOf are the turns in which a line with some groups around it is done; nil where nothing comes
// round.
func turnsOf(around []*Group) *lineTurns {
	group := Repeating(around)
	if group == nil {
		return nil
	}
	out := &lineTurns{group: group, first: 1, noun: "round"}
	if n, ok := group.Repeat.Count.One(); ok && group.Slots() == 0 {
		out.last = int(n)
	}
	for i, g := range slices.Backward(around) {
		switch {
		case g == group:
			return out
		case g.Kind == RoundOf:
			out.first, out.last = g.Number, g.Last
			return out
		case g.IsSlot() && i > 0 && around[i-1] == group:
			out.slots, out.first, out.last, out.noun = true, g.Number, g.Number, string(g.Kind)
			return out
		}
	}
	return out
}

// before are the lines that are done in turns before one, in the order of the text.
func (t *lineTurns) before(turn int) []*Work {
	var out []*Work
	for n := 1; n < turn; n++ {
		out = append(out, t.in(n)...)
	}
	return out
}

// in are the lines that are done in a turn.
func (t *lineTurns) in(turn int) []*Work {
	var out []*Work
	for w, around := range t.group.Lines(OnlySteps) {
		inner := around[slices.Index(around, t.group)+1:]
		done := !slices.ContainsFunc(inner, func(g *Group) bool {
			return g.Kind == RoundOf && (turn < g.Number || turn > g.Last) || g.IsSlot() && g.Number != turn || g.ComesRound()
		})
		if done && !(t.slots && len(inner) == 0) {
			out = append(out, w)
		}
	}
	return out
}

// maxPast is how many turns are worked out one from the other.
const maxPast = 200

// fromTurns is what a line takes from an earlier turn, for each turn in which it is done; nil where the
// text does not tell it. Of says what an earlier line has of it.
func fromTurns(w *Work, p *Past, around []*Group, of func(*Work) *Quantity) *Quantity {
	turns := turnsOf(around)
	if p.Of == OfToday || turns == nil || turns.last < turns.first || turns.last > maxPast {
		return nil
	}
	var terms [][]float64
	var unit *Quantity
	earlier := func(turn int) []float64 { // the latest before it, or the first
		lines := turns.before(turn)
		if p.Of == OfLast {
			slices.Reverse(lines)
		}
		i := slices.IndexFunc(lines, func(o *Work) bool { return o != w && o.does(w.Moves[0].Name) })
		if i < 0 || Depends(lines[i]) {
			return nil
		}
		q := of(lines[i])
		if q == nil || q.Form != syntax.One || q.Max || q.Bound != Unbounded || q.More || len(q.Terms) != 1 {
			return nil
		}
		unit = q
		return q.Terms[0]
	}
	for turn := turns.first; turn <= turns.last; turn++ {
		var base []float64
		if p.Of == OfLast && len(terms) > 0 { // the line itself, one turn before
			base = terms[len(terms)-1]
		} else {
			base = earlier(turn)
		}
		row := added(base, p.Offset)
		if row == nil {
			return nil
		}
		terms = append(terms, row)
	}
	out := &Quantity{Unit: unit.Unit, Written: unit.Written, Form: syntax.One, Terms: terms[:1], At: p.At}
	if p.Offset != nil {
		if p.Offset.Unit != unit.Unit {
			return nil
		}
		out.Written = p.Offset.Written
	}
	if slices.ContainsFunc(terms, func(r []float64) bool { return !slices.Equal(r, terms[0]) }) {
		out.Form, out.Terms = syntax.Series, terms
	}
	return out
}

// added is a row of values with an offset added; nil where that makes no sense.
func added(base []float64, offset *Quantity) []float64 {
	if base == nil {
		return nil
	}
	if offset == nil || len(offset.Terms) == 0 {
		return base
	}
	by := offset.Terms[0]
	out := make([]float64, max(len(base), len(by)))
	for i := range out {
		out[i] = base[min(i, len(base)-1)] + by[min(i, len(by)-1)]
		if out[i] < 0 || math.IsNaN(out[i]) {
			return nil
		}
	}
	return out
}

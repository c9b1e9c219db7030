package model

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A Quantity is an amount with its unit, which may move with the turn and differ by
// tier. At is the one place that knows series, ranges, steps and tiers.
type Quantity struct {
	// Unit is "rep", or a base unit: "s", "m", "kg", "cal", "breath", "%", "RPE", "RIR", "C".
	Unit string `json:"unit"`
	// Written is the unit as it stands in the text, where that is another: "lb", "mile".
	Written string      `json:"written,omitempty"`
	Form    syntax.Form `json:"form"`
	// Terms are the values, in Unit: a row a term, a column a tier. A row has one column
	// where all tiers share it. A range and a from-to have two terms; the steps that dots
	// stand for are filled in.
	Terms [][]float64 `json:"terms,omitempty"`
	// Open says that the last step goes on without end.
	Open bool `json:"open,omitempty"`
	// Bound says that each of the terms is the least or the most.
	Bound Bound `json:"bound,omitempty"`
	// More says that some number of a series is the least, and more will do: 5-3-1+.
	More bool `json:"orMore,omitempty"`
	// Max says that the athlete does as many or as much as possible; there are no terms.
	Max bool         `json:"max,omitempty"`
	At  source.Place `json:"at"`

	// counts says that it is how much or how often something is done, of which the most may be less;
	// the most of a load or a duration that is stated is what to go by.
	counts bool
	moved  bool // a cycle has moved it, so that its words have other numbers
	uneven bool // the steps that dots stand for do not land on the next term
}

// Uneven says that dots stand in the series for steps that do not land on its next
// term, as in 2-4-...-11.
func (q *Quantity) Uneven() bool { return q != nil && q.uneven }

// Turns is how many terms a series has, so how many turns it is for; 0 where the
// quantity holds for any number.
func (q *Quantity) Turns() int {
	if q == nil || q.Form != syntax.Series || q.Open {
		return 0
	}
	return len(q.Terms)
}

// Tiers is how many tiers the quantity tells apart: 1 where it is the same for all.
func (q *Quantity) Tiers() int {
	if q == nil {
		return 1
	}
	n := 1
	for _, t := range q.Terms {
		n = max(n, len(t))
	}
	return n
}

// OrMore says whether more than the quantity will do: at least 5, 5+.
func (q *Quantity) OrMore() bool { return q != nil && (q.Bound == AtLeast || q.More) }

// IsMost says whether the quantity is the most, and less will do: at most 10.
func (q *Quantity) IsMost() bool { return q != nil && q.Bound == AtMost }

// IsBound says whether the quantity is the least or the most, and no value.
func (q *Quantity) IsBound() bool { return q != nil && q.Bound != Unbounded }

// Text is the quantity as it stands in the text; of one that a cycle has moved, what it has become.
func (q *Quantity) Text() string {
	if !q.moved {
		return q.At.Text()
	}
	terms := make([]string, len(q.Terms))
	unit := ""
	for i, row := range q.Terms {
		tiers := make([]string, len(row))
		for j, v := range row {
			tiers[j], unit = units.FormatAs(v, q.Unit, q.Written)
		}
		terms[i] = strings.Join(tiers, "/")
	}
	hyphen := "-"
	if q.Form == syntax.FromTo {
		hyphen = " to "
	}
	if unit != "%" {
		unit = " " + unit
	}
	return strings.Join(terms, hyphen) + unit
}

// counted marks a quantity as how much or how often something is done.
func (q *Quantity) counted() *Quantity {
	if q != nil {
		q.counts = true
	}
	return q
}

// Value is the quantity at a turn (from 0) of so many, for a tier (from 0): its least
// and greatest. Known is false where the text does not say, as with max, or for a turn
// behind the last of a series. Of at most so many repetitions the least is 0, and of so many turns
// 1; that more than at least so many will do, OrMore says.
func (q *Quantity) Value(turn, turns, tier int) (lo, hi float64, known bool) {
	if lo, hi, known = q.stated(turn, turns, tier); known && q.counts && q.Bound == AtMost {
		switch lo = 0; q.Unit {
		case "turn", "lap", "set":
			lo = min(1, hi)
		}
	}
	return lo, hi, known
}

// stated is Value by the numbers alone, whatever they bound.
func (q *Quantity) stated(turn, turns, tier int) (lo, hi float64, known bool) {
	if q == nil || q.Max || len(q.Terms) == 0 {
		return 0, 0, false
	}
	at := func(i int) float64 {
		row := q.Terms[i]
		return row[min(max(tier, 0), len(row)-1)]
	}
	last := len(q.Terms) - 1
	switch q.Form {
	case syntax.Range:
		return at(0), at(1), true
	case syntax.FromTo:
		if turns <= 1 {
			return at(0), at(1), turns == 1 && at(0) == at(1)
		}
		v := at(0) + (at(1)-at(0))*float64(turn)/float64(turns-1)
		return v, v, true
	case syntax.Series:
		switch {
		case turn <= last:
			return at(turn), at(turn), true
		case q.Open && last > 0:
			v := at(last) + (at(last)-at(last-1))*float64(turn-last)
			return v, v, true
		}
		return 0, 0, false
	}
	return at(0), at(0), true
}

// One is the value of a quantity that is a single number, the same for all, and no bound.
func (q *Quantity) One() (float64, bool) {
	if q == nil || q.Bound != "" || q.Form != syntax.One || len(q.Terms) != 1 || len(q.Terms[0]) != 1 {
		return 0, false
	}
	return q.Terms[0][0], true
}

// maxFilled bounds the steps that dots may stand for, so that 1-2-...-1000000000 is
// a mistake and not a heap of memory.
const maxFilled = 1000

// quantity lowers an amount. A bare number has the unit given.
func (l *lowerer) quantity(line *syntax.Line, q *syntax.Quantity, bare string) *Quantity {
	if q == nil {
		return nil
	}
	unit := q.Unit
	if unit == "" {
		unit = bare
		if q.Clocked() {
			unit = "s"
		}
	}
	return l.amount(line, &q.Amount, q.Span, unit)
}

func (l *lowerer) amount(line *syntax.Line, a *syntax.Amount, span source.Span, unit string) *Quantity {
	if a == nil {
		return nil
	}
	if a.Bound != "" {
		span.Start = a.Steps[0].Start // the number, for whoever writes another in its place
	}
	out := &Quantity{Unit: unit, Form: a.Form, Bound: Bound(a.Bound), At: l.place(line, span)}
	factor := units.None
	if u, ok := units.Lookup(unit); ok {
		base := baseUnit(u)
		if base != unit {
			out.Unit, out.Written = base, unit
		}
		factor = u
	}
	dots := -1
	for _, s := range a.Steps {
		if s.Dots {
			dots = len(out.Terms)
			continue
		}
		row := make([]float64, len(s.Tiers))
		for _, n := range s.Tiers {
			out.More = out.More || n.More
		}
		for i, n := range s.Tiers {
			row[i] = n.Value
			if !n.Clock {
				row[i] = factor.ToBase(n.Value) // one rounding, so that 35 cm is 0.35 m
			}
		}
		if dots >= 0 {
			out.fill(row)
			dots = -1
		}
		out.Terms = append(out.Terms, row)
	}
	if dots >= 0 {
		out.Open = true
		if len(out.Terms) < 2 {
			out.uneven = true // nothing says how large a step is
		}
	}
	if out.Form == syntax.Series && len(out.Terms) == 1 && !out.Open {
		out.Form = syntax.One
	}
	return out
}

// byOne is the series of every whole number from one to the other: what a ladder means by 1 to 9,
// since nothing else says how many rungs it has.
func (q *Quantity) byOne() *Quantity {
	if q.Form != syntax.FromTo || q.Unit != "rep" || len(q.Terms) != 2 {
		return q
	}
	first, last := q.Terms[0], q.Terms[1]
	q.Form, q.Terms = syntax.Series, [][]float64{first}
	step := 1.0
	if last[0] < first[0] {
		step = -1
	}
	q.fillBy(step, last)
	if !slices.Equal(first, last) {
		q.Terms = append(q.Terms, last)
	}
	return q
}

// fill puts in the terms between the last one and next, in steps as large as the one
// before the dots.
func (q *Quantity) fill(next []float64) {
	n := len(q.Terms)
	if n == 0 || slices.Equal(q.Terms[n-1], next) {
		q.uneven = true
		return
	}
	step := 1.0
	if n >= 2 {
		step = q.Terms[n-1][0] - q.Terms[n-2][0]
	} else if next[0] < q.Terms[0][0] {
		step = -1
	}
	// After a turning point (2-4-...-10-8-...-2) the step is the one behind it.
	q.fillBy(step, next)
}

func (q *Quantity) fillBy(step float64, next []float64) {
	last := q.Terms[len(q.Terms)-1]
	if len(last) != len(next) || step == 0 {
		q.uneven = true
		return
	}
	count := (next[0] - last[0]) / step
	whole := math.Round(count)
	if whole < 1 || math.Abs(count-whole) > 1e-9 || whole > maxFilled {
		q.uneven = !slices.Equal(last, next) || whole > maxFilled
		return
	}
	for i := 1.0; i < whole; i++ {
		row := make([]float64, len(last))
		for t := range row {
			row[t] = last[t] + (next[t]-last[t])*i/whole
		}
		q.Terms = append(q.Terms, row)
	}
}

func baseUnit(u units.Unit) string {
	switch u.Dimension() {
	case units.Time:
		return "s"
	case units.Length:
		return "m"
	case units.Mass:
		return "kg"
	case units.Energy:
		return "cal"
	}
	return u.String()
}

package model

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/syntax"
)

func (l *lowerer) rest(line *syntax.Line, r *syntax.Rest, place RestPlace) *Rest {
	out := &Rest{At: l.place(line, r.Span), Amount: l.quantity(line, r.Amount, ""), Bound: Bound(r.Bound), Needed: r.Needed, Place: place}
	if out.Amount != nil {
		out.Amount.Bound = "" // it is the rest's
	}
	if place != RestBetweenSets {
		out.Notes = appendNote(nil, line)
	}
	if it, ok := r.Inline.(*syntax.Item); ok && l.env != nil {
		inner := &Group{}
		l.itemStep(inner, &syntax.Block{Line: line}, it, scope{clock: true}, false)
		out.Steps, out.Notes = inner.Steps, nil
	}
	if r.After {
		out.Place = RestAfterPart
	}
	if r.Bound != "" && r.Inline != nil {
		l.report(restMisplaced, out.At, "rest "+r.Bound+" asks for a rest and adds none, so nothing can be done in it", "write the rest itself, such as rest 4:00: bike @ easy, or rest as needed: bike @ easy", nil)
	}
	if r.Work != nil {
		out.Work = l.amount(line, &syntax.Amount{Span: r.Work.Span, Form: syntax.One, Steps: []syntax.Step{{Value: *r.Work}}}, r.Work.Span, "x")
	}
	if r.Between.Text != "" {
		out.Of = Turns(strings.ToLower(r.Between.Text))
		if !slices.Contains([]Turns{OfRounds, OfLaps, OfSets, OfParts, OfTurns, OfRungs, OfWindows, OfStations, OfSlots}, out.Of) {
			l.report(book.WordUnknown, l.place(line, r.Between.Span), fmt.Sprintf("%q is nothing that a rest can stand between", r.Between.Text),
				"write between rounds, laps, sets, rungs, stations or parts", nil)
		}
		if out.Of != OfParts && place != RestBetweenParts {
			out.Place = RestBetweenTurns
		}
	}
	if out.Amount == nil && !out.Needed && out.Work == nil && place != RestInInterval && r.Bound != "" {
		l.report(countMissing, out.At, "it is not said how much rest", "write rest "+r.Bound+" 1:30", nil)
	}
	return out
}

// restPlaces settles when the rests of a group are taken: the last line of what comes
// round again is taken between its turns; the last line of a part that does not, after
// the part; any other where it stands. On a clock what is left of a turn is rest by
// itself, so a rest line there has no place.
//
// A label is a name and no more: what stands under one counts as if it stood alone.
func (l *lowerer) restPlaces(g *Group, sc scope) { l.restsIn(g, g.Steps, true, sc) }

// restsIn settles the rests among some steps of a group, which may be its last.
func (l *lowerer) restsIn(g *Group, steps []Step, end bool, sc scope) {
	n := len(steps)
	for n > 0 && afterAll(steps[n-1]) { // it follows the turns, and so is no line of them
		n--
	}
	for i, st := range steps {
		last := end && i == n-1
		if k, ok := st.(*Group); ok && k.Kind == Label {
			l.restsIn(g, k.Steps, last, sc)
			continue
		}
		r, ok := st.(*Rest)
		if ok && r.Place == RestBetweenTurns && r.Of == "" { // a clause of the head
			l.restClause(g, r)
		}
		if !ok || r.Place != RestHere {
			continue
		}
		switch {
		case g.IsSlot():
			r.Place = RestInInterval
		case g.Repeat.Clocked() && g.Slots() == 0:
			l.report(restMisplaced, r.At, "on a clock, what is left of each interval is the rest; a rest line has no place in it",
				"take it out, or say between which turns: rest 1:00 between laps", nil)
		case last && g.Repeat.Kind == Sets && g.Repeat.Series == nil && !r.behind:
			r.Place = RestBetweenSets // of all lines of the block
		case last && g.ComesRound():
			r.Place = RestBetweenTurns
		case last && sc.part:
			r.Place = RestAfterPart
		}
	}
}

func afterAll(s Step) bool {
	r, ok := s.(*Rest)
	return ok && r.Place == RestAfterPart
}

// restClause reports a rest between turns on a head that has none, or whose clock says
// how much there is.
func (l *lowerer) restClause(g *Group, r *Rest) {
	switch {
	case g.Repeat.Clocked() && g.Slots() == 0:
		l.report(restMisplaced, r.At, "on a clock, what is left of each interval is the rest; a rest on the head has no place",
			"take it out, or say between which turns: rest 1:00 between laps", nil)
	case !g.ComesRound():
		l.report(restMisplaced, r.At, "a rest on a head stands between its turns, and this is done once",
			"say how often: 3 rounds, rest 1:00; or put the rest on a line of its own", nil)
	}
}

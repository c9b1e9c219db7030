package model

import (
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/syntax"
)

// OfTurns says whether the end is looked at when a turn is over, so that no turn is cut short by it;
// any other ends the work at hand.
func (e *End) OfTurns() bool { return e != nil && (e.Kind == UntilMissed || e.Kind == UntilPast) }

// Untold says whether nothing in the text can say when the end comes.
func (e *End) Untold() bool { return e != nil && e.Kind != UntilClock && e.Kind != UntilDone }

// HoldsLeast says whether the least of an amount is done whatever ends the rest: a range and at least
// say how much that is. Of any other amount an end may leave less.
func (q *Quantity) HoldsLeast() bool {
	return q != nil && (q.Bound == AtLeast || q.Bound == Unbounded && q.Form == syntax.Range)
}

// HasCount says whether a line says itself, or by its head, how much of it is done.
func (w *Work) HasCount() bool { return w.Dose != nil && !w.Dose.Max && w.From != FromClock }

// ToFailure says whether a line is sets of as many as somebody can: each ends when no more goes, and not
// when its time is over. Without a number of sets, max takes all of the time that there is.
func (w *Work) ToFailure() bool {
	return w.Dose != nil && w.Dose.Max && w.Window == nil && w.Until == nil && (w.Sets != nil || w.Unbroken)
}

func (l *lowerer) until(line *syntax.Line, e *syntax.End) *End {
	if e == nil {
		return nil
	}
	out := &End{Kind: EndKind(e.Kind), At: l.place(line, e.Span)}
	switch e.Kind {
	case syntax.EndClock:
		out.Clock = l.quantity(line, e.Amount, "s")
	case syntax.EndReading:
		out.Reading = l.tiers(l.quantity(line, e.Amount, ""))
	case syntax.EndPast:
		out.Past = l.past(line, e.Past)
		if q := out.Past.Offset; q != nil && q.Unit != "s" {
			l.report(unitUnfit, q.At, "behind until the time of a turn is compared with an earlier one, and this is no time",
				"write how much slower or faster, such as until "+string(out.Past.Of)+" +0:08", nil)
		}
	case syntax.EndNote:
		out.Note = e.Note
	case syntax.EndMissed, syntax.EndDone:
	}
	return out
}

// lineEnd reports an end of turns on a line that has none: work is done again only where that is said.
func (l *lowerer) lineEnd(line *syntax.Line, it *syntax.Item, w *Work) {
	if !w.Until.OfTurns() || w.Sets != nil || l.env == nil {
		return
	}
	var fix *diag.Fix
	if it.Dose != nil && it.Dose.Amount != nil && !it.Dose.Max {
		at := l.place(line, it.Dose.Span)
		at.End = at.Start
		fix = &diag.Fix{Title: "write 1+ x before it, for so many sets as it takes", Edits: []diag.Edit{{At: at, New: "1+ x "}}}
	}
	l.report(wordMisplaced, w.Until.At, "this line is done once, and what ends so is looked at from one turn to the next",
		"say that it is done in sets, such as at most 7 x, or put it behind the rounds or the clock that it ends", fix)
}

// negate turns the sign of each number round.
func (q *Quantity) negate() {
	for _, row := range q.Terms {
		for i := range row {
			row[i] = -row[i]
		}
	}
}

package model

import (
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/syntax"
)

// namesRest says whether the left side of a swap is a rest.
func namesRest(from, r *syntax.Rest) bool {
	a, b := *from, *r
	if a.Until != nil && a.Until.Names(b.Until) {
		a.Until, b.Until = nil, nil
	}
	return syntax.Same(&a, &b)
}

// names says whether a rest on the left of a swap names another.
func (from *Rest) names(r *Rest) bool {
	return sameQuantity(from.Amount, r.Amount) && from.Needed == r.Needed && from.Until.names(r.Until)
}

func samePast(a, b *Past) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Of == b.Of && a.Bound == b.Bound && sameQuantity(a.Offset, b.Offset)
}

// names says whether an end on the left of a swap names another: the same, or with until alone any that
// a note says.
func (from *End) names(e *End) bool {
	if from == nil || e == nil {
		return from == e
	}
	if from.Kind == UntilNote && from.Note == "" {
		return e.Kind == UntilNote
	}
	return from.Kind == e.Kind && sameQuantity(from.Clock, e.Clock) && sameQuantity(from.Reading, e.Reading) &&
		samePast(from.Past, e.Past) && from.Note == e.Note
}

// matches says whether a line is one that the left side of a swap means: it has its
// movements and all else that the left side says.
func (from *Work) matches(w *Work) bool {
	if len(from.Moves) != len(w.Moves) || len(w.Moves) > 1 && from.Choice != w.Choice {
		return false
	}
	for i, m := range from.Moves {
		if book.Key(m.Name) != book.Key(w.Moves[i].Name) || m.Count != nil && !sameQuantity(m.Count, w.Moves[i].Count) {
			return false
		}
	}
	if from.Dose != nil && (!samePast(from.Past, w.Past) || from.Past == nil && !sameQuantity(from.Dose, w.Dose) || from.Side != w.Side) {
		return false
	}
	if from.Sets != nil && !sameQuantity(from.Sets, w.Sets) {
		return false
	}
	if from.Until != nil && !from.Until.names(w.Until) {
		return false
	}
	for _, ld := range from.Loads {
		if !slices.ContainsFunc(w.Loads, func(o Load) bool { return sameLoad(ld, o) }) {
			return false
		}
	}
	return true
}

func sameLoad(a, b Load) bool {
	if a.Past != nil || b.Past != nil {
		return samePast(a.Past, b.Past)
	}
	return a.Kind == b.Kind && a.Word == b.Word && sameQuantity(a.Amount, b.Amount) && sameQuantity(a.Count, b.Count) &&
		(a.Per == b.Per && a.Unit == b.Unit || a.Offset != nil && a.Unit == "") && sameQuantity(a.Offset, b.Offset)
}

func sameQuantity(a, b *Quantity) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Unit == b.Unit && a.Form == b.Form && a.Bound == b.Bound && a.Max == b.Max && a.Open == b.Open && slices.EqualFunc(a.Terms, b.Terms, slices.Equal[[]float64])
}

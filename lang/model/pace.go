package model

import (
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// paceOffset lowers how much slower or faster than a race some work is. On rowers and ski machines that
// is for 500 m, as their monitors show it; of all else, coaches mean the kilometre or the mile.
func (l *lowerer) paceOffset(line *syntax.Line, s *syntax.Load, out *Load, of *Move) {
	out.Offset = l.tiers(l.quantity(line, s.Offset, "s"))
	if s.Minus {
		out.Offset.negate()
		if out.Offset.Form == syntax.Range {
			slices.Reverse(out.Offset.Terms)
		}
	}
	switch {
	case of == nil || of.Movement == nil || out.offsetOn(of.Movement):
	default:
		end := line.Span(s.Span).End
		at := l.file.Src.At(source.Span{Start: end, End: end})
		d := diag.Diagnostic{Rule: unitUnfit, Severity: diag.Error, At: out.Offset.At,
			Message: "it is not said for what distance this is slower or faster",
			Help:    "write per km, per mile or the like; only on rowers and ski machines it is per 500 m by itself"}
		for _, per := range []string{" per km", " per mile"} {
			d.Fixes = append(d.Fixes, diag.Fix{Title: "write" + per, Edits: []diag.Edit{{At: at, New: per}}})
		}
		*l.diags = append(*l.diags, d)
	}
}

// offsetOn says whether it is known for what distance an offset is, on a movement.
func (ld *Load) offsetOn(m *book.Movement) bool {
	if ld.Unit == "" && slices.Contains([]book.Pattern{book.Row, book.Ski}, m.Main()) {
		ld.Per, ld.Unit = 500, "m"
	}
	return ld.Unit != ""
}

// OffsetPerMetre is how many seconds a metre takes more than in the race of a pace, in a turn (from 0) of
// so many, for a tier: the least and the most. It is less than nothing where it is faster, and not known
// where the text does not say it.
func (ld Load) OffsetPerMetre(turn, turns, tier int) (lo, hi float64, known bool) {
	u, ok := units.Lookup(ld.Unit)
	lo, hi, known = ld.Offset.Value(turn, turns, tier)
	if !ok || !known || u.Dimension() != units.Length || ld.Per <= 0 {
		return 0, 0, false
	}
	metres := u.ToBase(ld.Per)
	return lo / metres, hi / metres, true
}

// Slower is the offset of a pace without its sign, and whether it is taken off: faster.
func (ld Load) Slower() (offset *Quantity, faster bool) {
	q := *ld.Offset
	q.Terms = make([][]float64, len(ld.Offset.Terms))
	for i, row := range ld.Offset.Terms {
		q.Terms[i] = slices.Clone(row)
		faster = faster || slices.Min(row) < 0
	}
	if faster {
		q.negate()
		if q.Form == syntax.Range {
			slices.Reverse(q.Terms)
		}
	}
	return &q, faster
}

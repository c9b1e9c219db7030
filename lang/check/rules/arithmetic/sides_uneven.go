package arithmetic

import (
	"fmt"
	"math"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var SidesUneven = check.Rule{Name: "sides-uneven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "an odd count on alternating sides, or pieces of a count, so that one side does more",
	Session: func(p *check.Pass, s *model.Session) {
		for w, around := range s.Lines(model.Everything) {
			unevenPieces(p, w)
			if !w.Alternating || w.Side {
				continue // a count for each side is even by itself
			}
			eachDose(w, around, len(p.Env.House.Tiers), func(n float64, q *model.Quantity) bool {
				if q.Unit != "rep" || !units.IsWhole(n) || math.Mod(n, 2) == 0 {
					return false
				}
				more, less := units.FormatNumber((n+1)/2), units.FormatNumber((n-1)/2)
				d := diag.Diagnostic{At: w.At, Label: more + " and " + less,
					Message: fmt.Sprintf("%s alternates, and %s does not halve: one side does %s, the other %s",
						w.MoveNames(), units.FormatNumber(n), more, less),
					Help: fmt.Sprintf("write %s, or a count for each side: %s/side", evens(n), more)}
				if n == 1 {
					d.Message = fmt.Sprintf("%s alternates, and 1 does not halve: the other side does none",
						w.MoveNames())
				}
				// A count that a version carries over stands on another line.
				if q.Form == syntax.One && q.Tiers() == 1 && q.At.Within(w.At) {
					d.Fixes = []diag.Fix{{Title: "write " + units.FormatNumber(n+1),
						Edits: []diag.Edit{{At: q.At, New: units.FormatNumber(n + 1)}}}}
				}
				p.Report(d)
				return true
			})
		}
	}}

// unevenPieces reports pieces left and right that differ. A piece for one side alone is meant so.
func unevenPieces(p *check.Pass, w *model.Work) {
	var sides [2]*model.Term
	if w.Side || !piecesFit(p, w) {
		return // split-wrong says so
	}
	for i := range w.Terms {
		for j, label := range []string{"left", "right"} {
			if w.Terms[i].Label == label {
				if sides[j] != nil {
					return // several for one side
				}
				sides[j] = &w.Terms[i]
			}
		}
	}
	if sides[0] == nil || sides[1] == nil {
		return
	}
	for tier := range len(p.Env.House.Tiers) {
		left, _, _ := sides[0].Count.Value(0, 1, tier)
		right, _, _ := sides[1].Count.Value(0, 1, tier)
		if units.Same(left, right) {
			continue
		}
		l, r := inUnit(left, w.Dose), inUnit(right, w.Dose)
		d := diag.Diagnostic{At: w.At, Label: l + " and " + r,
			Message: fmt.Sprintf("%s: %s are for the left and %s for the right, so one side does more", w.MoveNames(), l, r),
			Help:    "write as many for each side, or let it stand with the reason"}
		half := (left + right) / 2
		if w.Dose.Tiers() == 1 && sides[0].Count.Tiers() == 1 && sides[1].Count.Tiers() == 1 && (w.Dose.Unit != "rep" || units.IsWhole(half)) {
			text := units.FormatAmount(half, w.Dose.Unit, w.Dose.Written)
			if number, _, ok := strings.Cut(text, " "); ok {
				text = number // the pieces have the dose's unit
			}
			d.Fixes = []diag.Fix{{Title: fmt.Sprintf("write %s left + %s right", text, text), Edits: []diag.Edit{
				{At: sides[0].Count.At, New: text}, {At: sides[1].Count.At, New: text}}}}
		}
		p.Report(d)
		return
	}
}

// piecesFit says whether the pieces of a count add up to it.
func piecesFit(p *check.Pass, w *model.Work) bool {
	for tier := range len(p.Env.House.Tiers) {
		_, want, _ := w.Dose.Value(0, 1, tier)
		for _, t := range w.Terms {
			v, _, _ := t.Count.Value(0, 1, tier)
			want -= v
		}
		if !units.Same(want, 0) {
			return false
		}
	}
	return true
}

// evens are the even counts beside an odd one.
func evens(n float64) string {
	if n == 1 {
		return "2"
	}
	return units.FormatNumber(n-1) + " or " + units.FormatNumber(n+1)
}

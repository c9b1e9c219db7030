package arithmetic

import (
	"fmt"
	"math"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var SidesUneven = check.Rule{Name: "sides-uneven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "an odd count on alternating sides, so that one side does more",
	Session: func(p *check.Pass, s *model.Session) {
		for w, around := range s.Lines(model.Everything) {
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

// evens are the even counts beside an odd one.
func evens(n float64) string {
	if n == 1 {
		return "2"
	}
	return units.FormatNumber(n-1) + " or " + units.FormatNumber(n+1)
}

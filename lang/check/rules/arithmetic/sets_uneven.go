package arithmetic

import (
	"fmt"
	"math"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var SetsUneven = check.Rule{Name: "sets-uneven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a count to be done in sets of a size that it does not divide by",
	Session: func(p *check.Pass, s *model.Session) {
		for w, around := range s.Lines(model.Everything) {
			if w.SetsOf == nil {
				continue
			}
			size, ok := w.SetsOf.One()
			if !ok || size <= 0 {
				continue
			}
			eachDose(w, around, len(p.Env.House.Tiers), func(n float64, q *model.Quantity) bool {
				full := math.Floor(n/size + 1e-9)
				left := n - full*size
				if units.Same(left, 0) {
					return false
				}
				d := diag.Diagnostic{At: w.SetsOf.At, Label: units.FormatNumber(left) + " over",
					Message: fmt.Sprintf("%s does not come out in sets of %s: %s full and %s over", inUnit(n, q),
						units.FormatNumber(size), units.FormatNumber(full), units.FormatNumber(left)),
					Help: fmt.Sprintf("write a count of %s, or another size of set; any sets leaves it to the athlete",
						around2(full, size, q))}
				if full == 0 {
					d.Message = fmt.Sprintf("%s does not fill one set of %s", inUnit(n, q), units.FormatNumber(size))
				}
				p.Report(d)
				return true
			})
		}
	}}

package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var setsUneven = Rule{Name: "sets-uneven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a count to be done in sets of a size that it does not divide by",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, around []*program.Group) {
			w, ok := step.(*program.Work)
			if !ok || w.SetsOf == nil {
				return
			}
			size, ok := w.SetsOf.One()
			if !ok || size <= 0 {
				return
			}
			eachDose(w, around, len(p.Env.House.Tiers), func(n float64) bool {
				left := math.Mod(n, size)
				if left == 0 {
					return false
				}
				full := math.Floor(n / size)
				p.report(diag.Diagnostic{At: w.SetsOf.At, Message: fmt.Sprintf("%s does not come out in sets of %s: %s full sets and %s over",
					show(n, w.Dose.Unit), units.FormatNumber(size), units.FormatNumber(full), units.FormatNumber(left)),
					Help: fmt.Sprintf("write %s or %s, or another size of set", units.FormatNumber(full*size), units.FormatNumber((full+1)*size))})
				return true
			})
		})
	}}

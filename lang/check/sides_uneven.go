package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var sidesUneven = Rule{Name: "sides-uneven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "an odd count on alternating sides, so that one side does more",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, around []*program.Group) {
			w, ok := step.(*program.Work)
			if !ok || !w.Alternating || w.Dose == nil || w.Dose.Unit != "rep" {
				return
			}
			eachDose(w, around, len(p.Env.House.Tiers), func(n float64) bool {
				if !isWhole(n) || math.Mod(n, 2) == 0 {
					return false
				}
				d := diag.Diagnostic{At: w.At, Message: fmt.Sprintf("%s alternates, but %s does not halve: one side does one more", movesOf(w), units.FormatNumber(n)),
					Label: fmt.Sprintf("%s and %s", units.FormatNumber((n+1)/2), units.FormatNumber((n-1)/2)),
					Help:  fmt.Sprintf("write %s or %s, or a count for each side: %s/side", units.FormatNumber(n-1), units.FormatNumber(n+1), units.FormatNumber((n+1)/2))}
				if w.Dose.Form == "one" && w.Dose.Tiers() == 1 && w.From == "line" {
					d.Fixes = []diag.Fix{{Title: "write " + units.FormatNumber(n+1), Edits: []diag.Edit{{At: w.Dose.At, New: units.FormatNumber(n + 1)}}}}
				}
				p.report(d)
				return true
			})
		})
	}}

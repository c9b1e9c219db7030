package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var partnersUneven = Rule{Name: "partners-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "a count that is split evenly and does not divide between the partners, or a split without partners",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, around []*program.Group) {
			w, ok := step.(*program.Work)
			if !ok || w.Share == "" {
				return
			}
			team := teamOf(around)
			if team == nil {
				p.report(diag.Diagnostic{At: w.ShareAt(), Message: fmt.Sprintf("%s is for partners, but nobody has one here", w.Share),
					Help: "say on the part who works together: in pairs, in threes or in teams of 4"})
				return
			}
			size, ok := team.Size.One()
			if !ok || size < 2 || w.Share != "split evenly" {
				return
			}
			eachDose(w, around, len(p.Env.House.Tiers), func(n float64) bool {
				each := n / size
				if isWhole(each) {
					return false
				}
				low, high := math.Floor(each)*size, math.Ceil(each)*size
				p.report(diag.Diagnostic{At: w.At, Message: fmt.Sprintf("%s does not divide evenly between %s: %s each", show(n, w.Dose.Unit), units.FormatNumber(size), units.FormatNumber(each)),
					Label:   fmt.Sprintf("%s between %s", units.FormatNumber(n), units.FormatNumber(size)),
					Help:    fmt.Sprintf("write %s or %s, or split without evenly", units.FormatNumber(low), units.FormatNumber(high)),
					Related: []diag.Related{{At: team.At, Message: "so many share it"}}})
				return true
			})
		})
	}}

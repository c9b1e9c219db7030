package arithmetic

import (
	"fmt"
	"math"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var ClassUneven = check.Rule{Name: "class-uneven", Family: "arithmetic", Severity: diag.Suggestion,
	Summary: "pairs or teams that a full class does not divide into",
	Session: func(p *check.Pass, s *model.Session) {
		class := float64(p.Env.House.Class)
		for g := range s.Groups(model.Everything) {
			if g.People == nil || class == 0 {
				continue
			}
			size, ok := g.People.Size.One()
			if !ok || size < 1 || !units.IsWhole(size) || math.Mod(class, size) == 0 {
				continue
			}
			people := string(g.People.Kind)
			if g.People.Kind == model.Teams {
				people = fmt.Sprintf("teams of %g", size)
			}
			n, left := math.Floor(class/size), math.Mod(class, size)
			d := diag.Diagnostic{At: g.People.At, Label: fmt.Sprintf("%g over", left),
				Message: fmt.Sprintf("a full class of %g makes %g %s and leaves %g over", class, n, people, left),
				Help:    "say in a note what those do who are left over, and waive this with it as the reason"}
			if n == 0 {
				d.Message, d.Label = fmt.Sprintf("a full class of %g is smaller than one team of %g", class, size), ""
				d.Help = "write a smaller team"
			}
			p.Report(d)
		}
	}}

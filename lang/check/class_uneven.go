package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
)

var classUneven = Rule{Name: "class-uneven", Family: "arithmetic", Severity: diag.Suggestion,
	Summary: "pairs, threes or teams that a full class does not divide into",
	session: func(p *pass, s *program.Session) {
		class := float64(p.Env.House.Class)
		walk(s, func(step program.Step, _ []*program.Group) {
			g, ok := step.(*program.Group)
			if !ok || g.People == nil || g.People.Kind == "heats" || class == 0 {
				return
			}
			size, ok := g.People.Size.One()
			if !ok || size < 1 || math.Mod(class, size) == 0 {
				return
			}
			p.report(diag.Diagnostic{At: g.People.At, Message: fmt.Sprintf("a full class of %g makes %g times %g and leaves %g over", class, math.Floor(class/size), size, math.Mod(class, size)),
				Help: "say in a note what those do who are left over, or waive it with that as the reason"})
		})
	}}

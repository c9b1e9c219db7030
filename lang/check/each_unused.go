package check

import (
	"cmp"
	"fmt"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
)

var eachUnused = Rule{Name: "each-unused", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a load that is to go up each turn, where no load inside is in that unit or nothing comes round",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, around []*program.Group) {
			g, ok := step.(*program.Group)
			if !ok {
				return
			}
			for _, q := range g.Each {
				if !g.ComesRound() {
					p.report(diag.Diagnostic{At: q.At, Message: "what changes each turn needs turns, and this is done once",
						Help: "say how often on the same head: 3 rounds, each +5 kg, or sets 5-5-5, each +5 kg"})
					continue
				}
				if !anyLoad(g, q.Unit) {
					p.report(diag.Diagnostic{At: q.At, Message: fmt.Sprintf("no load inside is in %s, so nothing changes", cmp.Or(q.Written, q.Unit)),
						Help: "write the first turn's load on the line that it is for, in the same unit: 5 front squat @ 60 kg"})
				}
			}
		})
	}}

func anyLoad(g *program.Group, unit string) bool {
	found := false
	walkStep(g, nil, func(s program.Step, _ []*program.Group) {
		if w, ok := s.(*program.Work); ok {
			for _, ld := range w.Loads {
				found = found || ld.Amount != nil && ld.Amount.Unit == unit || ld.Kind == "rising"
			}
		}
	})
	return found
}

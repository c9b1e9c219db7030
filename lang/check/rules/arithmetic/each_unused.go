package arithmetic

import (
	"cmp"
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/syntax"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var EachUnused = check.Rule{Name: "each-unused", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a load that is to go up each turn, where no load inside is in that unit or nothing comes round",
	Session: func(p *check.Pass, s *model.Session) {
		for g := range s.Groups(model.Everything) {
			for _, q := range g.Each {
				if !g.ComesRound() {
					p.Report(diag.Diagnostic{At: q.At,
						Message: "what changes each turn needs turns, and this is done once",
						Help:    "say how often on the same head: 3 rounds, each +5 kg, or sets 5-5-5, each +5 kg"})
					continue
				}
				if !anyLoad(g, q.Unit) {
					p.Report(diag.Diagnostic{At: q.At,
						Message: fmt.Sprintf("no load inside is in %s, so nothing changes", cmp.Or(q.Written, q.Unit)),
						Help:    "write the first turn's load on the line that it is for, in the same unit: 5 front squat @ 60 kg"})
				}
			}
		}
	}}

func anyLoad(g *model.Group, unit string) bool {
	found := false
	for w := range g.Lines(model.Everything) {
		for _, ld := range w.Loads {
			found = found || ld.Amount != nil && ld.Amount.Unit == unit || ld.Kind == syntax.Rising
		}
	}
	return found
}

package arithmetic

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var SplitWrong = check.Rule{Name: "split-wrong", Family: "arithmetic", Severity: diag.Error,
	Summary: "the pieces behind = do not add up to the count before it",
	Session: func(p *check.Pass, s *model.Session) {
		for w := range s.Lines(model.Everything) {
			if len(w.Terms) == 0 || w.Dose == nil {
				continue
			}
			if w.Dose.Form != syntax.One || w.Dose.Max {
				p.Report(diag.Diagnostic{At: w.At, Message: fmt.Sprintf("%s: pieces are spelled out behind =, but the count is not one number", w.MoveNames()),
					Help: "write one count on this line, or leave the pieces out"})
				continue
			}
			for tier := range len(p.Env.House.Tiers) {
				_, want, _ := w.Dose.Value(0, 1, tier)
				sum, sides := 0.0, map[string]float64{}
				for _, t := range w.Terms {
					v, _, _ := t.Count.Value(0, 1, tier)
					sum += v
					sides[t.Label] += v
				}
				// 10/side = 10 left + 10 right spells out both sides; other pieces, one of them.
				if _, left := sides["left"]; left && w.Side {
					if l, r := sides["left"], sides["right"]; !units.Same(l, want) || !units.Same(r, want) {
						p.Report(diag.Diagnostic{At: w.At, Message: fmt.Sprintf("%s: %s are asked for on each side, the pieces are %s left and %s right",
							w.MoveNames(), inUnit(want, w.Dose), inUnit(l, w.Dose), inUnit(r, w.Dose)),
							Help: "mend the count or one of the pieces"})
						break
					}
					continue
				}
				if units.Same(sum, want) {
					continue
				}
				p.Report(wrongPieces(w, want, sum))
				break
			}
		}
	}}

func wrongPieces(w *model.Work, want, sum float64) diag.Diagnostic {
	text := inUnit(sum, w.Dose)
	over := "more"
	if sum < want {
		over = "fewer"
	}
	if w.Dose.Unit != "rep" && w.Dose.Unit != "breath" {
		over = strings.Replace(over, "fewer", "less", 1)
	}
	diff := sum - want
	d := diag.Diagnostic{At: w.At, Label: "the pieces come to " + text,
		Message: fmt.Sprintf("%s: the count says %s, the pieces come to %s, %s %s", w.MoveNames(), inUnit(want, w.Dose), text, inUnit(max(diff, -diff), w.Dose), over),
		Help:    "mend the count or one of the pieces"}
	if w.Dose.Tiers() == 1 && w.Dose.At.Within(w.At) {
		d.Fixes = []diag.Fix{{Title: "write the count as " + text, Edits: []diag.Edit{{At: w.Dose.At, New: text}}}}
	}
	return d
}

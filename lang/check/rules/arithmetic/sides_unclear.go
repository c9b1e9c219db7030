package arithmetic

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var SidesUnclear = check.Rule{Name: "sides-unclear", Family: "arithmetic", Severity: diag.Suggestion,
	Summary: "a count of a movement for one arm or one leg, of which it is not said whether it is for each side",
	Session: func(p *check.Pass, s *model.Session) {
		for w, around := range s.Lines(model.Everything) {
			if sidesSaid(w, around) || !slices.ContainsFunc(w.Moves, func(m model.Move) bool { return oneSided(m.Movement) }) {
				continue
			}
			d := diag.Diagnostic{At: w.At,
				Message: fmt.Sprintf("%s is done with one side at a time, and it is not said whether the count is for each", w.MoveNames()),
				Help:    "write /side behind the count for each side, alternating for both together, or = 14 right for one of them"}
			d.Fixes = sideFixes(w)
			p.Report(d)
		}
	}}

// sidesSaid says whether a line says which side its count is for, or has none.
func sidesSaid(w *model.Work, around []*model.Group) bool {
	return w.Side || w.Alternating || len(w.Terms) > 0 || w.Dose == nil || w.Dose.Unit != "rep" || w.Dose.Max || w.RM > 0 ||
		slices.ContainsFunc(around, func(g *model.Group) bool { return g.Side })
}

// oneSided says whether a movement, by its name, is for one arm or one leg.
func oneSided(m *book.Movement) bool {
	if m == nil {
		return false
	}
	first, _, _ := strings.Cut(strings.ToLower(m.Name), " ")
	return slices.Contains([]string{"single-arm", "single-leg", "one-arm", "one-leg"}, first)
}

// sideFixes write each of the readings, where the count stands on the line.
func sideFixes(w *model.Work) []diag.Fix {
	if !w.Dose.At.Within(w.At) || w.From != model.FromLine {
		return nil
	}
	insert := func(at int, text string) []diag.Edit {
		return []diag.Edit{{At: w.At.File.At(source.Span{Start: at, End: at}), New: text}}
	}
	fixes := []diag.Fix{{Title: "write " + w.Dose.At.Text() + "/side", Edits: insert(w.Dose.At.End, "/side")}}
	n, one := w.Dose.One()
	if even := math.Mod(n, 2) == 0; one && even && w.If == "" {
		fixes = append(fixes, diag.Fix{Title: "write alternating", Edits: insert(w.At.End, ", alternating")})
	}
	if one && w.Dose.Form == syntax.One && len(w.Moves) == 1 {
		text := " = " + units.FormatNumber(n) + " right"
		fixes = append(fixes, diag.Fix{Title: "write" + text, Edits: insert(w.Moves[0].At.End, text)})
	}
	return fixes
}

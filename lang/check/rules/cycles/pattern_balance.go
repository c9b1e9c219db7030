package cycles

import (
	"fmt"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var (
	patternBalancePush = &check.Threshold{Name: "push", Unit: "%", Default: 125,
		Source: "common practice, no source: pull at least as much as you push; the quarter is leeway, no source"}
	patternBalanceLower = &check.Threshold{Name: "lower", Unit: "%", Default: 300, Source: "no source"}
	patternBalanceLeast = &check.Threshold{Name: "least", Unit: "rep", Default: 100,
		Source: "no source: of fewer in a week, a balance says little"}
)

var PatternBalance = check.Rule{Name: "pattern-balance", Family: "cycle", Severity: diag.Suggestion,
	Summary:    "a week with far more pushing than pulling, or with far more of squats or hinges than of the other",
	Thresholds: []*check.Threshold{patternBalancePush, patternBalanceLower, patternBalanceLeast},
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		for _, w := range c.Weeks {
			if w.Repeat || len(w.Days) < 2 || !w.Known() {
				continue
			}
			s := w.Sums()
			of := func(is func(book.Pattern) bool) cycle.Volume { return s.Of(is) }
			balance(p, w, "pushes", "pulls", of(cycle.Push), of(cycle.Pull), p.Value(patternBalancePush))
			balance(p, w, "squats", "hinges", of(cycle.Squat), of(cycle.Hinge), p.Value(patternBalanceLower))
			balance(p, w, "hinges", "squats", of(cycle.Hinge), of(cycle.Squat), p.Value(patternBalanceLower))
		}
	}}

// balance reports a week that has more of one thing than so many per cent of the other.
func balance(p *check.Pass, w *cycle.WeekAnalysis, much, little string, a, b cycle.Volume, most float64) {
	if a.Reps+b.Reps < p.Value(patternBalanceLeast) || a.Reps <= b.Reps*most/100 {
		return
	}
	p.Report(diag.Diagnostic{At: w.At,
		Message: fmt.Sprintf("week %d has %s repetitions of %s and %s of %s", w.Number, about(a.Reps, a.Estimate), much,
			about(b.Reps, b.Estimate), little),
		Label: fmt.Sprintf("up to %s as many %s as %s", phrase.Percent(most), much, little),
		Help: fmt.Sprintf("put %s in the place of some %s, or let another week make up for it and waive this", little,
			much)})
}

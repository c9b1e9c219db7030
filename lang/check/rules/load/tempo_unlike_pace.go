package load

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var TempoUnlikePace = check.Rule{Name: "tempo-unlike-pace", Family: "load", Severity: diag.Error,
	Summary: "a tempo whose phases do not come to the seconds per repetition that stand beside it",
	Session: func(p *check.Pass, s *model.Session) {
		for w := range s.Lines(model.Everything) {
			seconds, asFast, ok := model.TempoSeconds(w.Tempo)
			if w.Tempo == "" || !ok {
				continue
			}
			for _, ld := range w.Loads {
				if ld.Kind == syntax.Cadence && ld.Unit == "rep" && !takes(ld.Amount, ld.Per*seconds, asFast > 0) {
					p.Report(tempoUnlike(w, ld, seconds, asFast))
				}
			}
		}
	}}

// takes says whether a pace leaves so many seconds: just as many, or more where some of it is as fast
// as can be.
func takes(pace *model.Quantity, seconds float64, more bool) bool {
	fits := func(lo, hi float64) bool {
		return (seconds <= hi || units.Same(seconds, hi)) && (more || seconds >= lo || units.Same(seconds, lo))
	}
	if pace.Form == syntax.Range {
		return fits(slices.Min(pace.Terms[0]), slices.Max(pace.Terms[1]))
	}
	return !slices.ContainsFunc(pace.Terms, func(row []float64) bool {
		return slices.ContainsFunc(row, func(v float64) bool { return !fits(v, v) })
	})
}

func tempoUnlike(w *model.Work, ld model.Load, seconds float64, asFast int) diag.Diagnostic {
	takes := units.FormatNumber(seconds) + " s"
	if asFast > 0 {
		takes = "more than " + takes
	}
	d := diag.Diagnostic{At: ld.At, Label: fmt.Sprintf("a repetition in tempo %s takes %s", w.Tempo, takes),
		Message: fmt.Sprintf("the pace gives a repetition %s, and its tempo takes %s", ld.Amount.At.Text(), takes),
		Help:    "write one of the two, or both alike"}
	line := w.At.Text()
	if !ld.At.Within(w.At) || !strings.Contains(strings.ToUpper(line), strings.ToUpper(w.Tempo)) {
		d.Help += "; in a version the pace of the line stays, so write the right pace behind the arrow"
		return d
	}
	if asFast == 0 && ld.Per == 1 && ld.Amount.Form == syntax.One && ld.Amount.Tiers() == 1 && ld.Amount.Bound == model.Unbounded {
		to := units.FormatNumber(seconds) + " s"
		d.Fixes = append(d.Fixes, diag.Fix{Title: "write @ " + to + " per rep", Edits: []diag.Edit{{At: ld.Amount.At, New: to}}})
	}
	at := ld.At
	for at.Start > w.At.Start && at.File.Text[at.Start-1] == ' ' {
		at.Start--
	}
	d.Fixes = append(d.Fixes, diag.Fix{Title: "take the pace out", Edits: []diag.Edit{{At: at}}})
	return d
}

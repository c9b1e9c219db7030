package cycles

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var (
	testTiredHours  = &check.Threshold{Name: "hours", Default: 48, Source: "common practice, no source"}
	testTiredEffort = &check.Threshold{Name: "effort", Unit: "%", Default: 90, Source: "no source: what is very hard"}
	testTiredRPE    = &check.Threshold{Name: "rpe", Default: 9,
		Source: "no source: of the whole session, what is very hard"}
)

var TestTired = check.Rule{Name: "test-tired", Family: "cycle", Severity: diag.Suggestion,
	Summary:    "a lift built up to the heaviest in a test week, soon after a very hard mixed piece",
	Thresholds: []*check.Threshold{testTiredHours, testTiredEffort, testTiredRPE},
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		for _, d := range c.Days() {
			if d.Week.Kind != cycle.Test || d.Of == nil {
				continue
			}
			lines := d.Of.Lines
			j := slices.IndexFunc(lines, func(l *cycle.Line) bool { return l.UpTo })
			if j < 0 {
				continue
			}
			for _, o := range slices.Backward(c.Until(d)) {
				h := cycle.Hours(o, d)
				if h >= p.Value(testTiredHours) {
					break
				}
				why, line := veryHard(p, o)
				if why == "" {
					continue
				}
				related := []diag.Related{{At: lines[j].Work.At, Message: "tested here"},
					{At: o.At, Message: "the day that it comes after"}}
				if line != nil {
					related = append(related, diag.Related{At: line.Work.At, Message: "very hard here"})
				}
				p.Report(diag.Diagnostic{At: d.At,
					Message: fmt.Sprintf("%s is tested %s after %s, which is very hard (%s)",
						lines[j].Work.Moves[0].Name, hoursText(h), o.Session, why),
					Label: fmt.Sprintf("nobody is at their best within %s h of that",
						units.FormatTenth(p.Value(testTiredHours))),
					Help: "move the test, or make the session before it easier", Related: related}, check.OncePerPlace)
				break
			}
		}
	}}

// veryHard says why a day is, with the line that makes it so.
func veryHard(p *check.Pass, d *cycle.DayAnalysis) (why string, line *cycle.Line) {
	if d.Of == nil {
		return "", nil
	}
	if r, ok := d.Of.Rating(); ok && r >= p.Value(testTiredRPE) {
		return "RPE " + units.FormatTenth(r) + " as a whole", nil
	}
	for _, l := range d.Of.Lines {
		if l.Effort >= p.Value(testTiredEffort) && l.Mixed {
			return l.EffortText(), l
		}
	}
	return "", nil
}

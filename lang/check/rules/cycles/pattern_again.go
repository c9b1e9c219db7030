package cycles

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var patternAgainHours = &check.Threshold{Name: "hours", Default: 48, Source: acsm48}

var PatternAgain = check.Rule{Name: "pattern-again", Family: "cycle", Severity: diag.Warning,
	Summary:    "one pattern trained hard on two days that leave it less than two days of rest",
	Thresholds: []*check.Threshold{patternAgainHours, percentHard},
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		days := c.Days()
		for j, now := range days {
			for i := j - 1; i >= 0 && cycle.Hours(days[i], now) < p.Value(patternAgainHours); i-- {
				if days[i].Of != nil && now.Of != nil && reportAgain(p, days[i], now) {
					break
				}
			}
		}
	}}

// reportAgain reports what two days close together both train hard: a pattern or, as a
// suggestion, two pushes or two pulls.
func reportAgain(p *check.Pass, before, now *cycle.DayAnalysis) bool {
	a, b := before.Of.Hard(hardThresholds(p)), now.Of.Hard(hardThresholds(p))
	var shared []string
	var first, second *cycle.Line
	severity := p.Severity()
	note := func(pattern string, x, y cycle.Hard) {
		shared = append(shared, pattern)
		if first == nil {
			first, second = x.Lines[0], y.Lines[0]
		}
	}
	for _, y := range b {
		if i := slices.IndexFunc(a, func(x cycle.Hard) bool { return x.Pattern == y.Pattern }); i >= 0 {
			note(string(y.Pattern), a[i], y)
		}
	}
	if len(shared) == 0 {
		severity = diag.Suggestion
		for _, y := range b {
			coarse := y.Pattern.Coarse()
			i := slices.IndexFunc(a, func(x cycle.Hard) bool { return x.Pattern.Coarse() == coarse })
			if i >= 0 && (cycle.Push(y.Pattern) || cycle.Pull(y.Pattern)) && !slices.Contains(shared, coarse) {
				note(coarse, a[i], y)
			}
		}
	}
	if len(shared) == 0 {
		return false
	}
	m := hardThresholds(p)
	gap := cycle.Hours(before, now)
	when := hoursText(gap) + " after " + whenIs(before, now)
	if gap == 0 {
		when = "on the same day"
	}
	p.Report(diag.Diagnostic{At: now.At, Severity: severity,
		Message: fmt.Sprintf("%s %s again, %s: %s there, %s here", phrase.And(shared...), areHard(shared), when,
			first.Text(m), second.Text(m)),
		Label: fmt.Sprintf("muscles are given %s h between hard days", units.FormatTenth(p.Value(patternAgainHours))),
		Help:  "move one of the days, or make one of them lighter; where it is meant, waive this and say why",
		Related: []diag.Related{{At: before.At, Message: "the day that it comes after"},
			{At: first.Work.At, Message: "hard there"}, {At: second.Work.At, Message: "hard here"}}},
		check.OncePerPlace)
	return true
}

func areHard(patterns []string) string {
	if len(patterns) > 1 {
		return "are hard"
	}
	return "is hard"
}

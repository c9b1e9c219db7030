package check

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

// percentHard and rpeHard are from where on a line is hard; several rules ask.
var (
	percentHard = Setting{Name: "percent", Unit: "%", Default: cycle.HardMarks.Percent,
		Source: "of a maximum: American College of Sports Medicine, experienced lifters at 80 % and up; of an effort: no source"}
	rpeHard = Setting{Name: "rpe", Default: cycle.HardMarks.RPE, Source: "C. Foster and others, J. Strength Cond. Res. 2001;15(1):109-115: 7 is very hard"}
)

// marks are from where on a line is hard, as the house sets it.
func (p *pass) marks() cycle.Marks {
	return cycle.Marks{Percent: p.setting("percent"), RPE: p.setting("rpe")}
}

var patternAgain = Rule{Name: "pattern-again", Family: "cycle", Severity: diag.Warning,
	Summary:  "one pattern trained hard on two days that leave it less than two days of rest",
	Settings: []Setting{{Name: "hours", Default: 48, Source: acsm48}, percentHard, rpeHard},
	cycle: func(p *pass, of *model.Cycle) {
		c := p.plan(of)
		days := c.Days()
		for j, now := range days {
			for i := j - 1; i >= 0 && cycle.Hours(days[i], now) < p.setting("hours"); i-- {
				if days[i].Of != nil && now.Of != nil && p.again(days[i], now) {
					break
				}
			}
		}
	}}

// again reports what two days close together both train hard: a pattern or, as a
// suggestion, two pushes or two pulls.
func (p *pass) again(before, now *cycle.DayAnalysis) bool {
	a, b := before.Of.Hard(p.marks()), now.Of.Hard(p.marks())
	var shared []string
	var first, second *cycle.Line
	severity := p.rule.Severity
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
	m := p.marks()
	gap := cycle.Hours(before, now)
	when := hoursText(gap) + " after " + whenIs(before, now)
	if gap == 0 {
		when = "on the same day"
	}
	p.once(diag.Diagnostic{At: now.At, Severity: severity,
		Message: fmt.Sprintf("%s %s again, %s: %s there, %s here", and(shared...), areHard(shared), when, first.Says(m), second.Says(m)),
		Label:   fmt.Sprintf("muscles are given %s h between hard days", tenth(p.setting("hours"))),
		Help:    "move one of the days, or make one of them lighter; where it is meant, waive this and say why",
		Related: []diag.Related{{At: before.At, Message: "the day that it comes after"}, {At: first.Work.At, Message: "hard there"}, {At: second.Work.At, Message: "hard here"}}})
	return true
}

func areHard(patterns []string) string {
	if len(patterns) > 1 {
		return "are hard"
	}
	return "is hard"
}

package cycles

import (
	"fmt"
	"math"
	"slices"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var (
	retestUnlikeHours = &check.Threshold{Name: "hours", Default: 3,
		Source: "no source: a time of day that is so far off is another one"}
	retestUnlikeRPE = &check.Threshold{Name: "rpe", Default: 7,
		Source: "of the whole session: C. Foster and others, J. Strength Cond. Res. 2001;15(1):109-115: 7 is very hard"}
)

var RetestUnlike = check.Rule{Name: "retest-unlike", Family: "cycle", Severity: diag.Warning,
	Summary:    "a test that is repeated on another weekday, at another time, in another version, or with another day before it",
	Thresholds: []*check.Threshold{retestUnlikeHours, percentHard, retestUnlikeRPE},
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		marked := slices.ContainsFunc(c.Weeks, func(w *cycle.WeekAnalysis) bool { return w.Kind == cycle.Test })
		first := map[string][]*cycle.DayAnalysis{} // where a session was tested first, by its key
		for _, d := range c.Days() {
			k := book.Key(d.Session)
			if d.Of == nil || marked && d.Week.Kind != cycle.Test {
				continue
			}
			switch before := first[k]; {
			case len(before) == 0 || before[0].Week == d.Week:
				first[k] = append(before, d)
			case marked:
				compareTests(p, c, before, d, p.Severity())
			case len(before) == 1 && before[0].Of == d.Of && inTwo(c, before[0], d): // and no progress moves it
				compareTests(p, c, before, d, diag.Suggestion)
			}
		}
	}}

// inTwo says whether a session stands in two weeks of a cycle in one version, and in no
// other: where a cycle has no week of tests, that is a test that comes back.
func inTwo(c *cycle.Analysis, a, b *cycle.DayAnalysis) bool {
	return book.Key(a.Version) == book.Key(b.Version) &&
		!slices.ContainsFunc(c.Days(), func(o *cycle.DayAnalysis) bool {
			return o != a && o != b && book.Key(o.Session) == book.Key(a.Session)
		})
}

// compareTests holds a test against the first that it repeats: the nearest, where that week has
// several.
func compareTests(p *check.Pass, c *cycle.Analysis, before []*cycle.DayAnalysis, now *cycle.DayAnalysis,
	severity diag.Severity) {
	var least []string
	var to *cycle.DayAnalysis
	for i, b := range before {
		if diff := differences(p, c, b, now); i == 0 || len(diff) < len(least) {
			least, to = diff, b
		}
	}
	if len(least) == 0 {
		return
	}
	p.Report(diag.Diagnostic{At: now.At, Severity: severity,
		Message: fmt.Sprintf("the test %s comes back in week %d under other conditions than in week %d: %s",
			now.Session, now.Week.Number, to.Week.Number, phrase.And(least...)),
		Label:   "a test shows a change only where nothing else has changed",
		Help:    "put it on the same day, at the same time, in the same version and as long after hard work",
		Related: []diag.Related{{At: to.At, Message: "the first test"}}}, check.OncePerPlace)
}

// differences is what is not the same about two tests.
func differences(p *check.Pass, c *cycle.Analysis, a, b *cycle.DayAnalysis) []string {
	var out []string
	if a.Weekday != b.Weekday {
		out = append(out, fmt.Sprintf("on a %s after a %s", dayNames[b.Weekday], dayNames[a.Weekday]))
	}
	if a.Minute >= 0 && b.Minute >= 0 && math.Abs(float64(a.Minute-b.Minute)) >= 60*p.Value(retestUnlikeHours) {
		out = append(out, fmt.Sprintf("at %s after %s", b.Clock, a.Clock))
	}
	if book.Key(a.Version) != book.Key(b.Version) {
		name := func(d *cycle.DayAnalysis) string {
			if d.Version == "" {
				return "as written"
			}
			return "in the version " + d.Version
		}
		out = append(out, name(b)+" after "+name(a))
	}
	if x, y := hardBefore(p, c, a), hardBefore(p, c, b); (x == nil) != (y == nil) {
		if y != nil {
			out = append(out,
				fmt.Sprintf("the day after %s, which is hard, where the first had an easier day before it", y.Session))
		} else {
			out = append(out, fmt.Sprintf("rested, where the first came the day after %s, which is hard", x.Session))
		}
	}
	return out
}

// hardBefore is a hard session on the day before one, or on the same day before it.
func hardBefore(p *check.Pass, c *cycle.Analysis, d *cycle.DayAnalysis) *cycle.DayAnalysis {
	for _, o := range slices.Backward(c.Until(d)) {
		if d.Index-o.Index > 1 {
			break
		}
		if o.Of == nil {
			continue
		}
		if rating, ok := o.Of.Rating(); ok && rating >= p.Value(retestUnlikeRPE) || len(o.Of.Hard(hardThresholds(p))) > 0 {
			return o
		}
	}
	return nil
}

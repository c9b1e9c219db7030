package cycles

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var (
	volumeJumpReps = &check.Threshold{Name: "reps", Unit: "%", Default: 100,
		Source: "no source: twice as many repetitions of a pattern, or twice the load moved, as in any week before"}
	volumeJumpLoad = &check.Threshold{Name: "load", Unit: "%", Default: 30,
		Source: "no source; for the load of sessions the folk rule is 10 % a week, and the evidence for it is weak"}
	volumeJumpLeast = &check.Threshold{Name: "least", Unit: "rep", Default: 150,
		Source: "no source: fewer of a pattern in a week are no jump"}
	volumeJumpWeeks = &check.Threshold{Name: "weeks", Default: 4, Source: "no source: as long as a week is remembered"}
)

var VolumeJump = check.Rule{Name: "volume-jump", Family: "cycle", Severity: diag.Suggestion,
	Summary:    "a week that has far more of a pattern, moves far more or is far harder than any of the month before it",
	Thresholds: []*check.Threshold{volumeJumpReps, volumeJumpLoad, volumeJumpLeast, volumeJumpWeeks},
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		for i, w := range c.Weeks {
			if w.Repeat || w.Kind != "" || len(w.Days) == 0 || !w.Known() {
				continue
			}
			var before []*cycle.WeekAnalysis
			full := false // there is a week to hold it against that is neither easy nor a test
			for _, o := range slices.Backward(c.Weeks[:i]) {
				if float64(w.Number-o.Number) > p.Value(volumeJumpWeeks) {
					break
				}
				if len(o.Days) > 0 && !o.Known() {
					before = nil
					break
				}
				if len(o.Days) > 0 {
					before = append(before, o)
					full = full || o.Kind == ""
				}
			}
			if len(before) > 0 && full {
				jumps(p, w, before)
			}
		}
	}}

func jumps(p *check.Pass, w *cycle.WeekAnalysis, before []*cycle.WeekAnalysis) {
	now := w.Sums()
	for _, v := range now.Volume {
		if !cycle.Strength(v.Pattern) || v.Reps < p.Value(volumeJumpLeast) {
			continue
		}
		was, at := most(before, func(s *cycle.WeekSums) (float64, bool) {
			return s.Of(func(o book.Pattern) bool { return o == v.Pattern }).Reps, true
		})
		jump(p, w, string(v.Pattern)+" repetitions", was, v.Reps, at, p.Value(volumeJumpReps), true)
	}
	if len(now.Moved.Without) == 0 {
		was, at := most(before, func(s *cycle.WeekSums) (float64, bool) {
			return s.Moved.Kg, len(s.Moved.Without) == 0
		})
		jump(p, w, "kg moved", was, now.Moved.Kg, at, p.Value(volumeJumpReps), now.Moved.Estimate)
	}
	if now.Rated {
		was, at := most(before, func(s *cycle.WeekSums) (float64, bool) { return s.Load.Load, s.Rated })
		jump(p, w, "of session load", was, now.Load.Load, at, p.Value(volumeJumpLoad), true)
	}
}

// most is the greatest of a figure in some weeks, and the week that has it; 0 where it is
// not known of all.
func most(weeks []*cycle.WeekAnalysis, of func(*cycle.WeekSums) (float64, bool)) (v float64, at *cycle.WeekAnalysis) {
	for _, w := range weeks {
		n, ok := of(w.Sums())
		if !ok {
			return 0, nil
		}
		if n > v {
			v, at = n, w
		}
	}
	return v, at
}

func jump(p *check.Pass, w *cycle.WeekAnalysis, what string, was, now float64, at *cycle.WeekAnalysis, over float64,
	estimate bool) {
	if was <= 0 || now <= was*(1+over/100)+1e-9 {
		return
	}
	p.Report(diag.Diagnostic{At: w.At,
		Message: fmt.Sprintf("week %d has %s %s, %s more than any week of the month before it (%s in week %d)",
			w.Number, about(now, estimate), what, rounded(percentRise(was, now))+"%", rounded(was), at.Number),
		Label:   fmt.Sprintf("a jump is over %s", phrase.Percent(over)),
		Help:    "take some of it out, or build up to it over the weeks before",
		Related: []diag.Related{{At: at.At, Message: "the most before it"}}})
}

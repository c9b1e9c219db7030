package cycles

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var (
	intensityJumpMost = &check.Threshold{Name: "most", Unit: "%", Default: strength.StepMost,
		Source: "American College of Sports Medicine: 2 to 10 % (N. A. Ratamess and others, Med. Sci. Sports Exerc. 2009;41(3):687-708)"}
	intensityJumpDisc = &check.Threshold{Name: "disc", Unit: "kg", Default: 2.5,
		Source: "common practice, no source: the smallest pair of discs, which is over 10 % of a light bar"}
)

var IntensityJump = check.Rule{Name: "intensity-jump", Family: "cycle", Severity: diag.Warning,
	Summary:    "a lift whose heaviest load goes up by more from one week to the next than loads are raised by",
	Thresholds: []*check.Threshold{intensityJumpMost, intensityJumpDisc},
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		for i, w := range c.Weeks {
			if !w.Known() {
				continue
			}
			for _, l := range w.Sums().Lifts {
				// Since the last week that was not easy and has the lift, in the same kind of load.
				for _, o := range slices.Backward(c.Weeks[:i]) {
					if w.Number-o.Number > halfYear {
						break
					}
					if o.Kind == cycle.Easy || !o.Known() {
						continue
					}
					was, ok := liftIn(o, l.Movement)
					more := fewer(was.Top, l.Top)
					if ok && (raised(p, w, o, l, was.Share.Top, l.Share.Top, "%", 0, more) ||
						raised(p, w, o, l, was.Mass.Top, l.Mass.Top, " kg", p.Value(intensityJumpDisc), more)) {
						break
					}
				}
			}
		}
	}}

// halfYear is for how many weeks a lift is looked back for: no source.
const halfYear = 26

func liftIn(w *cycle.WeekAnalysis, m *book.Movement) (cycle.Lift, bool) {
	ls := w.Sums().Lifts
	i := slices.IndexFunc(ls, func(l cycle.Lift) bool { return l.Movement == m })
	if i < 0 {
		return cycle.Lift{}, false
	}
	return ls[i], true
}

// fewer is by how many per cent a load may be heavier because it is lifted for fewer
// repetitions, by the table of what can just be done.
func fewer(was, now *cycle.Line) float64 {
	if was == nil || now == nil {
		return 0
	}
	a, _, ok := was.Work.Dose.Value(0, 1, 0)
	b, _, ok2 := now.Work.Dose.Value(0, 1, 0)
	of, err := strength.Share(a)
	to, err2 := strength.Share(b)
	if !ok || !ok2 || err != nil || err2 != nil || to <= of {
		return 0
	}
	return 100 * (to/of - 1)
}

// raised looks at the heaviest of a lift in two weeks, and says whether they can be held
// against each other.
func raised(p *check.Pass, w, before *cycle.WeekAnalysis, l cycle.Lift, was, now float64, unit string,
	least, more float64) bool {
	rise, err := strength.Rise(was, now)
	if err != nil || now == 0 {
		return false
	}
	allowed := p.Value(intensityJumpMost) + more
	if rise > allowed+1e-6 && now-was > least+1e-6 {
		label := fmt.Sprintf("loads are raised by up to %s at a time", phrase.Percent(p.Value(intensityJumpMost)))
		if more > 0 {
			label += fmt.Sprintf(", and by %s for fewer repetitions", units.FormatTenth(more)+"%")
		}
		p.Report(diag.Diagnostic{At: l.Day.At,
			Message: fmt.Sprintf("%s goes from %s in week %d to %s in week %d, %s more", l.Movement.Name,
				units.FormatTenth(was)+unit, before.Number, units.FormatTenth(now)+unit, w.Number,
				units.FormatTenth(rise)+"%"),
			Label: label,
			Help: fmt.Sprintf("go up to %s at most, or put a step between",
				units.FormatTenth(was*(1+allowed/100))+unit),
			Related: []diag.Related{{At: l.Top.Work.At, Message: "lifted here"}}}, check.OncePerPlace)
	}
	return true
}

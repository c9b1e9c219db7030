package check

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var warmupShort = Rule{Name: "warmup-short", Family: "warm-up", Severity: diag.Warning,
	Summary: "a warm-up of less time than bodies take to warm",
	Settings: []Setting{{Name: "least", Unit: "s", Default: 300,
		Source: "American College of Sports Medicine, Guidelines for Exercise Testing and Prescription, 9th to 11th ed.: 5 to 10 minutes or more"}},
	session: func(p *pass, s *model.Session) {
		least := p.setting("least")
		p.warmUpTime(s, func(v float64) bool { return v < least-second }, func(v float64, said string) diag.Diagnostic {
			return diag.Diagnostic{Message: fmt.Sprintf("the warm-up takes %s%s, and %s is the least that is advised", units.FormatClock(v), said, units.FormatClock(least)),
				Help: "give it more time; where the hour is short, take it from the middle and leave its ends"}
		})
	}}

var warmupLong = Rule{Name: "warmup-long", Family: "warm-up", Severity: diag.Suggestion,
	Summary: "a warm-up that takes more time than its phases ask for",
	Settings: []Setting{{Name: "most", Unit: "s", Default: 1500,
		Source: "the upper ends of the minutes that later authors give the phases of " + ramp + ": 10, about 5, and 10"}},
	session: func(p *pass, s *model.Session) {
		most := p.setting("most")
		p.warmUpTime(s, func(v float64) bool { return v > most+second }, func(v float64, said string) diag.Diagnostic {
			return diag.Diagnostic{Message: fmt.Sprintf("the warm-up takes %s%s, more than the %s that its phases come to at most", units.FormatClock(v), said, units.FormatClock(most)),
				Help: "shorten it, or make a part of what is more than a warm-up"}
		})
	}}

// warmUpTime reports what f says of the time of a session's warm-up, where it is wrong and the
// same is not wrong as written.
func (p *pass) warmUpTime(s *model.Session, wrong func(float64) bool, f func(v float64, said string) diag.Diagnostic) {
	find := func(s *model.Session) []bool {
		if v, _, ok := p.warmUpTakes(s); ok && wrong(v) {
			return []bool{true}
		}
		return nil
	}
	if !p.judged(s) || find(s) == nil || drawnAsWritten(p, find) != nil {
		return
	}
	v, said, _ := p.warmUpTakes(s)
	d := f(v, said)
	g := warmUps(s)[0]
	d.At = g.At
	if g.Lasts != nil {
		d.At = g.Lasts.At
	}
	p.report(d)
}

// warmUpTakes is how long the warm-up takes: as it says, or a typical member by the estimate.
func (p *pass) warmUpTakes(s *model.Session) (sum float64, said string, ok bool) {
	for _, g := range warmUps(s) {
		if v, is := g.Lasts.One(); is {
			sum, ok = sum+v, true
			continue
		}
		i := slices.IndexFunc(p.timeline(s).Parts, func(t *estimate.PartTime) bool { return t.Group == g })
		if i < 0 || !p.timeline(s).Parts[i].Proven() {
			return 0, "", false
		}
		work := p.timeline(s).Parts[i].Work
		if sum, ok = sum+work.Typical, true; !same(work.Fast, work.Slow) {
			said = " by the estimate"
		}
	}
	return sum, said, ok
}

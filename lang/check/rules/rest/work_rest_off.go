package rest

import (
	"fmt"
	"math"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var workRestOffOff = &check.Threshold{Name: "off", Unit: "%", Default: 25,
	Source: "no source: paces that are 10 % off move such a ratio by up to 20 %"}

var WorkRestOff = check.Rule{Name: "work-rest-off", Family: "rest", Severity: diag.Warning,
	Summary:    "rest between turns that is far from what the author aims at, such as twice the work",
	Thresholds: []*check.Threshold{workRestOffOff},
	Session: func(p *check.Pass, s *model.Session) {
		t := p.Timeline(s)
		for g, around := range s.Groups(model.Everything) {
			for _, a := range g.Aims {
				if a.Rest != nil && model.TeamOf(append(around[:len(around):len(around)], g)) == nil {
					restAim(p, t, g, a)
				}
			}
		}
	}}

func restAim(p *check.Pass, t *estimate.Timeline, g *model.Group, a *model.Aim) {
	work, rest, ok := workAndRest(t, turning(g))
	if !ok || work.Typical <= 0 {
		return
	}
	times := estimate.Times{Fast: rest.Fast / work.Fast, Typical: rest.Typical / work.Typical,
		Slow: rest.Slow / work.Slow}
	want, of := 0.0, ""
	got := times.Typical
	if n, ok := a.Rest.Work.One(); ok && n > 0 {
		want, of = n, fmt.Sprintf("%s x work", units.FormatNumber(n))
	} else if v, ok := a.Rest.Amount.One(); ok && v > 0 {
		want, got, of = v, rest.Typical, units.FormatClock(v)
	} else {
		return
	}
	off := p.Value(workRestOffOff) / 100
	low, high := got < want*(1-off), got > want*(1+off)
	if !low && !high || low && a.Rest.Bound == model.AtMost || high && a.Rest.Bound == model.AtLeast {
		return
	}
	d := diag.Diagnostic{At: a.At,
		Message: fmt.Sprintf("the rest between turns is %s to %s of work, %s x, and the aim is %s",
			units.FormatClock(rest.Typical), units.FormatClock(work.Typical), units.FormatTenth(times.Typical), of),
		Label: fmt.Sprintf("typical %s x work", units.FormatTenth(times.Typical))}
	if !units.Same(times.Fast, times.Slow) {
		d.Label += fmt.Sprintf(" (%s fast, %s slow), an estimate", units.FormatTenth(times.Fast),
			units.FormatTenth(times.Slow))
	}
	if low {
		d.Help = "write more rest or a longer interval, ask for less work, or aim at less"
	} else {
		d.Help = "write less rest or a shorter interval, ask for more work, or aim at more"
	}
	p.Report(d)
}

// turning is a group that comes round: the group itself, or the only one in it.
func turning(g *model.Group) *model.Group {
	if g.ComesRound() {
		return g
	}
	var only *model.Group
	for _, st := range g.Steps {
		k, ok := st.(*model.Group)
		if !ok {
			continue
		}
		if only != nil {
			return nil
		}
		only = k
	}
	if only != nil && only.ComesRound() {
		return only
	}
	return nil
}

// workAndRest is how long the work of one turn takes, and the rest behind it.
func workAndRest(t *estimate.Timeline, g *model.Group) (work, rest estimate.Times, ok bool) {
	if g == nil {
		return work, rest, false
	}
	part, of := groupIn(t, g)
	if of == nil || !of.Proven || part.Outlasts {
		return work, rest, false
	}
	if g.Repeat.Clocked() {
		off, _ := g.Repeat.Off.One()
		tr := of.Turns
		if g.CarryOn || tr[0].Number == 0 || tr[1].Number == 0 || tr[2].Number == 0 ||
			g.Slots() > 0 && g.Repeat.Kind == model.Every {
			return work, rest, false
		}
		work = estimate.Times{Fast: tr[0].Took, Typical: tr[1].Took, Slow: tr[2].Took}
		left := func(o estimate.Turn) float64 { return max(0, o.Interval-o.Took) + off }
		return work, estimate.Times{Fast: left(tr[0]), Typical: left(tr[1]), Slow: left(tr[2])}, true
	}
	n, r := float64(totals.GroupTurns(g)), restBetweenTurns(g)
	if n < 2 || r == nil || !part.Proven() {
		return work, rest, false
	}
	sum := 0.0
	for i := range int(min(n-1, intensity.MaxTurns)) {
		v, _, ok := r.Amount.Value(i, int(n-1), part.Tier)
		if !ok {
			return work, rest, false
		}
		sum += v
	}
	each := func(took float64) float64 { return math.Max(0, took-sum) / n }
	mean := sum / (n - 1)
	work = estimate.Times{Fast: each(of.Took.Fast), Typical: each(of.Took.Typical), Slow: each(of.Took.Slow)}
	return work, estimate.Times{Fast: mean, Typical: mean, Slow: mean}, true
}

package rest

import (
	"fmt"
	"math"
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

var (
	effortRestShortEffort = &check.Threshold{Name: "effort", Unit: "%", Default: 85,
		Source: "common practice, no source"}
	effortRestShortLeast = &check.Threshold{Name: "least", Unit: "s", Default: 60,
		Source: "common practice, no source: a minute between efforts at 85-90 %"}
	effortRestShortWork = &check.Threshold{Name: "work", Unit: "s", Default: 15,
		Source: "no source: what is shorter is a set, and no effort"}
	effortRestShortSprint = &check.Threshold{Name: "sprint", Unit: "s", Default: 10,
		Source: strength.Handbook + ", table 3.6: 5 to 10 s at 90 % of power and up"}
	effortRestShortTimes = &check.Threshold{Name: "times", Default: 12,
		Source: strength.Handbook + ", table 3.6: 12 to 20 times the work after such a sprint"}
)

var EffortRestShort = check.Rule{Name: "effort-rest-short", Family: "rest", Severity: diag.Suggestion,
	Summary: "hard efforts, as the text calls them, that follow each other with little rest",
	Thresholds: []*check.Threshold{effortRestShortEffort, effortRestShortLeast, effortRestShortWork,
		effortRestShortSprint, effortRestShortTimes},
	Session: func(p *check.Pass, s *model.Session) {
		t := p.Timeline(s)
		s.Walk(model.Everything, func(step model.Step, around []*model.Group) bool {
			switch st := step.(type) {
			case *model.Work:
				if len(around) > 0 && around[0].Kind == model.Part && st.Sets != nil && model.TeamOf(around) == nil {
					lineEfforts(p, t, s, st, around)
				}
			case *model.Group:
				in := append(around[:len(around):len(around)], st)
				if in[0].Kind == model.Part && model.TeamOf(in) == nil && st.ComesRound() {
					groupEfforts(p, t, s, st, in)
				}
			}
			return true
		})
		for _, g := range t.Gaps() {
			partEfforts(p, s, g)
		}
	}}

// leastRest is the least rest between efforts of so much, each so many s long, 0 where they may
// follow each other as they like.
func leastRest(p *check.Pass, effort, work float64) float64 {
	switch {
	case effort >= 95 && work >= 5-estimate.Tolerance && work <= p.Value(effortRestShortSprint)+estimate.Tolerance:
		return p.Value(effortRestShortTimes) * work
	case effort >= p.Value(effortRestShortEffort) && work >= p.Value(effortRestShortWork)-estimate.Tolerance:
		return p.Value(effortRestShortLeast)
	}
	return 0
}

func lineEfforts(p *check.Pass, t *estimate.Timeline, s *model.Session, w *model.Work, around []*model.Group) {
	e, ok := intensity.EffortOf(s, w, around)
	if n, one := w.Sets.One(); !ok || !one || n < 2 {
		return
	}
	effort := e.Middle()
	work, ok := setTime(t, w)
	if !ok {
		return
	}
	if v, ok := w.Every.One(); ok {
		reportTooShort(p, effort, work, v-work, w.Every.At)
	} else if w.Rest != nil && w.Rest.Bound == "" {
		if v, ok := w.Rest.Amount.One(); ok {
			reportTooShort(p, effort, work, v, w.Rest.At)
		} else if n, ok := w.Rest.Work.One(); ok {
			reportTooShort(p, effort, work, n*work, w.Rest.At)
		}
	}
}

// groupEfforts looks at the turns of a head, where there is rest between them.
func groupEfforts(p *check.Pass, t *estimate.Timeline, s *model.Session, g *model.Group, around []*model.Group) {
	effort, ok := effortIn(s, g, around[:len(around)-1])
	if !ok || g.Slots() > 0 || g.Repeat.Until != nil || totals.GroupTurns(g) == 1 {
		return
	}
	part, of := groupIn(t, g)
	if of == nil || !of.Proven {
		return
	}
	if turn := of.Turns[1]; g.Repeat.Clocked() && turn.Number > 0 {
		off, _ := g.Repeat.Off.One()
		if g.Repeat.Kind == model.On && off <= 0 || g.CarryOn {
			return
		}
		reportTooShort(p, effort, turn.Took, max(0, turn.LeastRest)+off, g.Repeat.At)
		return
	}
	n := float64(totals.GroupTurns(g))
	if n == 0 || !part.Proven() {
		return
	}
	if r := restBetweenTurns(g); r != nil {
		if v, ok := r.Amount.One(); ok {
			reportTooShort(p, effort, (of.Took.Typical-(n-1)*v)/n, v, r.At)
		}
	}
}

// effortIn is how hard all the work of a group is meant to be, the least of it.
func effortIn(s *model.Session, g *model.Group, around []*model.Group) (least float64, ok bool) {
	least = math.Inf(1)
	for w, in := range g.Lines(model.Everything) {
		e, said := intensity.EffortOf(s, w, slices.Concat(around, in))
		if !said {
			return 0, false
		}
		least = min(least, e.Middle())
	}
	return least, !math.IsInf(least, 1)
}

// partEfforts looks at parts that follow each other.
func partEfforts(p *check.Pass, s *model.Session, g estimate.Gap) {
	a, b := g.Part.Group, g.Next.Group
	if a.Kind != model.Part || b.Kind != model.Part || g.Backwards() || !g.Known() ||
		!g.Next.Pinned && g.Part.RestBehind.Slow == 0 || g.Asked().Rest >= p.Value(effortRestShortLeast) {
		return
	}
	before, ok := effortIn(s, a, nil)
	after, ok2 := effortIn(s, b, nil)
	left := g.Left()
	if !ok || !ok2 || left < 0 {
		return
	}
	at := b.At
	if b.Start != nil {
		at = b.Start.At
	}
	reportTooShort(p, min(before, after), g.Part.Work.Typical, left, at)
}

// reportTooShort reports a rest that is too little between efforts.
func reportTooShort(p *check.Pass, effort, work, rest float64, at source.Place) {
	least := leastRest(p, effort, work)
	if least == 0 || rest >= least-estimate.Tolerance {
		return
	}
	d := diag.Diagnostic{At: at,
		Message: fmt.Sprintf("%s of rest is little between efforts of %s at %s", units.FormatClock(rest),
			units.FormatClock(work), units.FormatTenth(effort)+"%"),
		Label: fmt.Sprintf("a minute at least from %s up is common practice",
			phrase.Percent(p.Value(effortRestShortEffort))),
		Help: fmt.Sprintf("leave %s or more, or say a lower effort", units.FormatClock(least))}
	if work <= p.Value(effortRestShortSprint)+estimate.Tolerance {
		d.Label = fmt.Sprintf("handbooks ask for %s times the work after a sprint",
			units.FormatNumber(p.Value(effortRestShortTimes)))
	} else if v := p.Value(effortRestShortLeast); v != effortRestShortLeast.Default {
		d.Label = fmt.Sprintf("the house asks for %s from %s up", units.FormatClock(v),
			phrase.Percent(p.Value(effortRestShortEffort)))
	}
	p.Report(d)
}

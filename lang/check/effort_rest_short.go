package check

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var effortRestShort = Rule{Name: "effort-rest-short", Family: "rest", Severity: diag.Suggestion,
	Summary: "hard efforts, as the text calls them, that follow each other with little rest",
	Settings: []Setting{
		{Name: "effort", Unit: "%", Default: 85, Source: "common practice, no source"},
		{Name: "least", Unit: "s", Default: 60, Source: "common practice, no source: a minute between efforts at 85-90 %"},
		{Name: "work", Unit: "s", Default: 15, Source: "no source: what is shorter is a set, and no effort"},
		{Name: "sprint", Unit: "s", Default: 10, Source: handbook + ", table 3.6: 5 to 10 s at 90 % of power and up"},
		{Name: "times", Default: 12, Source: handbook + ", table 3.6: 12 to 20 times the work after such a sprint"},
	},
	session: func(p *pass, s *model.Session) {
		t := p.timeline(s)
		walk(s, func(step model.Step, around []*model.Group) {
			switch st := step.(type) {
			case *model.Work:
				if len(around) > 0 && around[0].Kind == model.Part && st.Sets != nil && teamOf(around) == nil {
					p.lineEfforts(t, s, st, around)
				}
			case *model.Group:
				in := append(around[:len(around):len(around)], st)
				if in[0].Kind == model.Part && teamOf(in) == nil && st.ComesRound() {
					p.groupEfforts(t, s, st, in)
				}
			}
		})
		for _, g := range gaps(t) {
			p.partEfforts(s, g)
		}
	}}

// effortOf is how hard a line or a head is meant to be: the middle of what it says itself,
// or what the nearest head, the part or the session says. It is not ok where nobody says.
func effortOf(s *model.Session, w *model.Work, around []*model.Group) (percent float64, ok bool) {
	var q *model.Quantity
	if w != nil {
		q = w.Effort
		for _, ld := range w.Loads {
			if ld.Kind == syntax.Effort || ld.Kind == syntax.Named && ld.Amount != nil {
				q = ld.Amount
			}
		}
	}
	for i := len(around) - 1; i >= 0 && q == nil; i-- {
		q = around[i].Effort
	}
	if q == nil {
		q = s.Effort
	}
	if q == nil || q.Unit != "%" {
		return 0, false
	}
	lo, hi, known := q.Value(0, 1, 0)
	if !known && len(q.Terms) > 0 && q.Form != syntax.One {
		lo, hi, known = q.Terms[0][0], q.Terms[0][0], true // the first turn's
	}
	return (lo + hi) / 2, known
}

// hard is the least rest between efforts of so much, each so many s long, 0 where they may
// follow each other as they like.
func (p *pass) hard(effort, work float64) float64 {
	switch {
	case effort >= 95 && work >= 5-second && work <= p.setting("sprint")+second:
		return p.setting("times") * work
	case effort >= p.setting("effort") && work >= p.setting("work")-second:
		return p.setting("least")
	}
	return 0
}

func (p *pass) lineEfforts(t *estimate.Timeline, s *model.Session, w *model.Work, around []*model.Group) {
	effort, ok := effortOf(s, w, around)
	if n, one := w.Sets.One(); !ok || !one || n < 2 {
		return
	}
	work, ok := setTime(t, w)
	if !ok {
		return
	}
	if v, ok := w.Every.One(); ok {
		p.tooSoon(effort, work, v-work, w.Every.At)
	} else if w.Rest != nil && w.Rest.Bound == "" {
		if v, ok := w.Rest.Amount.One(); ok {
			p.tooSoon(effort, work, v, w.Rest.At)
		} else if n, ok := w.Rest.Work.One(); ok {
			p.tooSoon(effort, work, n*work, w.Rest.At)
		}
	}
}

// groupEfforts looks at the turns of a head, where there is rest between them.
func (p *pass) groupEfforts(t *estimate.Timeline, s *model.Session, g *model.Group, around []*model.Group) {
	effort, ok := effortIn(s, g, around[:len(around)-1])
	if !ok || g.Slots() > 0 || g.Repeat.Until != nil || ownTurns(g) == 1 {
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
		p.tooSoon(effort, turn.Took, max(0, turn.LeastRest)+off, g.Repeat.At)
		return
	}
	n := float64(ownTurns(g))
	if n == 0 || !part.Proven() {
		return
	}
	if r := between(g); r != nil {
		if v, ok := r.Amount.One(); ok {
			p.tooSoon(effort, (of.Took.Typical-(n-1)*v)/n, v, r.At)
		}
	}
}

// effortIn is how hard all the work of a group is meant to be, the least of it.
func effortIn(s *model.Session, g *model.Group, around []*model.Group) (least float64, ok bool) {
	ok, least = true, 1000
	walkStep(g, around, func(st model.Step, in []*model.Group) {
		if w, is := st.(*model.Work); is {
			e, said := effortOf(s, w, in)
			ok, least = ok && said, min(least, e)
		}
	})
	return least, ok && least < 1000
}

func groupIn(t *estimate.Timeline, g *model.Group) (*estimate.PartTime, *estimate.GroupTime) {
	for _, part := range t.Parts {
		if of, ok := part.GroupOf(g); ok {
			return part, of
		}
	}
	return nil, nil
}

// between is the rest between the turns of a group, nil where there is none.
func between(g *model.Group) *model.Rest {
	for _, st := range g.Steps {
		if r, ok := st.(*model.Rest); ok && r.Place == model.RestBetweenTurns && r.Of == "" && r.Bound == "" {
			return r
		}
	}
	return nil
}

// partEfforts looks at parts that follow each other.
func (p *pass) partEfforts(s *model.Session, g gap) {
	a, b := g.part.Group, g.next.Group
	if a.Kind != model.Part || b.Kind != model.Part || g.backwards() || !g.known() || !g.next.Pinned && g.part.RestBehind.Slow == 0 || g.asked().rest >= p.setting("least") {
		return
	}
	before, ok := effortIn(s, a, nil)
	after, ok2 := effortIn(s, b, nil)
	left := g.window - g.took(g.part.Work.Typical)
	if !ok || !ok2 || left < 0 {
		return
	}
	at := b.At
	if b.Start != nil {
		at = b.Start.At
	}
	p.tooSoon(min(before, after), g.part.Work.Typical, left, at)
}

// tooSoon reports a rest that is too little between efforts.
func (p *pass) tooSoon(effort, work, rest float64, at source.Place) {
	least := p.hard(effort, work)
	if least == 0 || rest >= least-second {
		return
	}
	d := diag.Diagnostic{At: at,
		Message: fmt.Sprintf("%s of rest is little between efforts of %s at %s", units.FormatClock(rest), units.FormatClock(work), tenth(effort)+"%"),
		Label:   fmt.Sprintf("a minute at least from %s up is common practice", percent(p.setting("effort"))),
		Help:    fmt.Sprintf("leave %s or more, or say a lower effort", units.FormatClock(least))}
	if work <= p.setting("sprint")+second {
		d.Label = fmt.Sprintf("handbooks ask for %s times the work after a sprint", units.FormatNumber(p.setting("times")))
	} else if v := p.setting("least"); v != 60 {
		d.Label = fmt.Sprintf("the house asks for %s from %s up", units.FormatClock(v), percent(p.setting("effort")))
	}
	p.report(d)
}

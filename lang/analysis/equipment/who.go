package equipment

import (
	"math"
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// A classWalk goes through a part with the class.
type classWalk struct {
	book  *book.Book
	stock stock
	class int
	tiers int
	time  *estimate.PartTime      // nil where nobody asks when
	paces map[*model.Work]float64 // s that a unit of a line takes a typical member
	// settled says that everybody is at the same point, whatever their pace.
	settled bool
}

// A crowd is who is at a point of a part at once.
type crowd struct {
	people float64 // a fraction where they are spread over stations
	team   float64
	solo   bool // one of each team works
	heats  *model.Group
	with   []model.Kit
	moving []string     // the units in which loads go up by themselves
	spread bool         // some start with it and some with other things
	rest   *model.Rest  // what is taken between the sets, or the turns, that a head holds
	turn   []model.Step // what is done in one of them; none where each line is a set
}

// group is what a group asks, moment by moment.
func (w *classWalk) group(g *model.Group, c crowd) []moment {
	c.with = append(slices.Clip(c.with), g.With...)
	for _, e := range g.Each {
		c.moving = append(slices.Clip(c.moving), e.Unit)
	}
	if p := g.People; p != nil {
		c.team = 2
		if v, ok := p.Size.One(); ok && v >= 1 {
			c.team = math.Floor(v)
		}
	}
	c.solo = c.solo || g.Solo || meanwhile(g) != nil
	if h := g.Heats; h != nil {
		if size, ok := h.Size.One(); ok && size >= 1 {
			c.people = min(c.people, math.Floor(size))
			c.heats = g
		}
	}
	c.rest, c.turn = setRest(g, c)
	var out []moment
	began := w.settled
	switch {
	case stations(g):
		out = w.stations(g, c)
	case g.Repeat.Kind == model.AnyOrder:
		out = w.spread(model.WorkSteps(g.Steps), c)
	case g.Chooses():
		out = w.chooseOne(g, c)
	case c.team > 1 && slices.ContainsFunc(g.Steps, model.IsTag):
		out = w.relay(g, c)
	default:
		out = w.steps(g, c)
	}
	end := w.settled
	for _, e := range g.Events {
		w.settled = began && (e.Kind == model.AtTime || e.Kind == model.AtEach && e.When != nil && e.When.Unit == "s") && clocked(g)
		if e.Kind == model.Meanwhile {
			rest := c
			rest.people, rest.team, rest.solo = c.people*(c.team-1)/max(1, c.team), 1, false
			w.settled = began
			out = w.beside(out, w.list(e.Steps, rest))
			continue
		}
		out = append(out, w.list(e.Steps, c)...)
	}
	// Windows and clocks bring everybody back together.
	w.settled = end || began && clocked(g) && (g.Cap == nil || g.Lasts != nil)
	return out
}

// clocked says whether a clock, and not the athletes, ends a group.
func clocked(g *model.Group) bool {
	return g.Lasts != nil || g.Mode == model.AMRAP || g.Repeat.Clocked() && g.Repeat.Until == nil
}

func meanwhile(g *model.Group) *model.Event {
	if i := slices.IndexFunc(g.Events, func(e *model.Event) bool { return e.Kind == model.Meanwhile }); i >= 0 {
		return g.Events[i]
	}
	return nil
}

func stations(g *model.Group) bool {
	return slices.ContainsFunc(g.Steps, func(s model.Step) bool {
		k, ok := s.(*model.Group)
		return ok && k.Kind == model.Station
	})
}

// steps is what a group asks that is done in order.
func (w *classWalk) steps(g *model.Group, c crowd) []moment {
	began := w.settled
	var out []moment
	for i, s := range g.Steps {
		c := c
		if leisurely(g) && i+1 < len(g.Steps) { // a rest of its own behind a set
			if r, ok := g.Steps[i+1].(*model.Rest); ok && r.Place == model.RestHere && r.Bound == "" {
				c.rest, c.turn = r, nil
			}
		}
		if g.Repeat.Clocked() { // each slot starts with the clock
			if k, ok := s.(*model.Group); ok && k.IsSlot() {
				w.settled = began
			}
		}
		out = append(out, w.list([]model.Step{s}, c)...)
	}
	return out
}

// list is what steps ask that are done one after the other.
func (w *classWalk) list(steps []model.Step, c crowd) []moment {
	var out []moment
	for _, s := range steps {
		switch s := s.(type) {
		case *model.Group:
			out = append(out, w.group(s, c)...)
		case *model.Work:
			out = append(out, w.line(s, c)...)
		case *model.Rest:
			out = append(out, w.list(s.Steps, c)...)
			if s.Work != nil || s.Needed {
				w.settled = false
			}
		}
	}
	return out
}

// stations is what a class asks that is spread over stations: as many at each as can be,
// and all stations at once.
func (w *classWalk) stations(g *model.Group, c crowd) []moment {
	at := c
	at.spread = true
	at.people /= float64(g.Slots())
	began := w.settled
	var all, others []moment
	for _, s := range g.Steps {
		w.settled = began
		if k, ok := s.(*model.Group); ok && k.IsSlot() {
			all = w.beside(all, w.list([]model.Step{s}, at))
		} else {
			others = append(others, w.list([]model.Step{s}, c)...)
		}
	}
	w.settled = began
	return append(all, others...)
}

// spread is what people ask who are spread over steps in whatever order they like.
func (w *classWalk) spread(steps []model.Step, c crowd) []moment {
	c.people /= float64(max(1, len(steps)))
	c.spread = true
	var all []moment
	for _, s := range steps {
		w.settled = false
		all = w.beside(all, w.list([]model.Step{s}, c))
	}
	w.settled = false
	return all
}

// relay is what a team asks of which one works until the tag, and hands on before the rest:
// the next is at work then.
func (w *classWalk) relay(g *model.Group, c crowd) []moment {
	tag := slices.IndexFunc(g.Steps, model.IsTag)
	c.solo = true
	above := w.list(g.Steps[:tag], c)
	w.settled = false
	return w.beside(above, w.list(g.Steps[tag+1:], c))
}

// chooseOne is what people ask of whom each does one of several things: nothing where one
// of them needs no kit.
func (w *classWalk) chooseOne(g *model.Group, c crowd) []moment {
	var a ask
	for _, s := range model.WorkSteps(g.Steps) {
		ms := w.list([]model.Step{s}, c)
		if len(ms) == 0 {
			w.settled = false
			return nil
		}
		var one way
		for _, m := range ms {
			for _, b := range m.asks {
				if len(b.ways) > 1 {
					w.settled = false
					return nil // a choice of choices
				}
				if a.line == nil {
					a = ask{line: b.line, people: b.people, each: 1, settled: b.settled, spread: b.spread, ways: a.ways}
				}
				if !slices.ContainsFunc(one.needs, func(n need) bool { return n.kit == m.kit }) {
					one.needs, one.stock = append(one.needs, b.ways[0].needs[0]), w.stock
				}
			}
		}
		a.ways = append(a.ways, one)
	}
	w.settled = false
	return a.moments()
}

// line is what a line asks.
func (w *classWalk) line(s *model.Work, c crowd) []moment {
	a := ask{line: s, people: c.people, settled: w.settled, spread: c.spread, each: 1}
	if c.team > 1 && s.Share != model.Together && (c.solo || s.Share != "") {
		a.people /= c.team // one of them at a time
	}
	if c.solo && c.team <= 1 {
		a.people = min(a.people, 1) // one of all
	}
	if c.team <= 1 && w.inTurn(s, c) {
		a.people, a.inTurn, a.settled = a.people/2, true, false
	}
	timed := s.From == model.FromClock || s.Window != nil || s.Dose != nil && s.Dose.Unit == "s" && !s.Dose.Max
	w.settled = w.settled && timed && s.Share == ""
	if !s.Choice {
		var out []moment
		for _, n := range w.needs(s, s.Moves, c) {
			one := a
			for _, standIn := range n {
				one.ways = append(one.ways, way{[]need{standIn}, w.stock})
			}
			out = append(out, w.overlapping(one, c)...)
		}
		return out
	}
	for i := range s.Moves {
		ns := w.needs(s, s.Moves[i:i+1], c)
		if len(ns) == 0 {
			return nil // somebody who finds nothing free does this
		}
		a.ways = append(a.ways, way{w.plenty(ns), w.stock})
	}
	return w.overlapping(a, c)
}

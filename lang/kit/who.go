package kit

import (
	"math"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/syntax"
)

// A walk goes through a part with the class.
type walk struct {
	book  *book.Book
	stock stock
	class int
	tiers int
	time  *clock.PartTime           // nil where nobody asks when
	paces map[*program.Work]float64 // s that a unit of a line takes a typical member
	// settled says that everybody is at the same point, whatever their pace.
	settled bool
}

// A crowd is who is at a point of a part at once.
type crowd struct {
	people float64 // a fraction where they are spread over stations
	team   float64
	solo   bool // one of each team works
	heats  *program.Group
	with   []program.Kit
	moving []string       // the units in which loads go up by themselves
	spread bool           // some start with it and some with other things
	rest   *program.Rest  // what is taken between the sets, or the turns, that a head holds
	turn   []program.Step // what is done in one of them; none where each line is a set
}

// An ask is what people on one line need of one kind of kit, or of several that will do
// instead of one another.
type ask struct {
	line    *program.Work
	people  float64
	each    int
	settled bool
	spread  bool
	inTurn  bool // two to an implement: one does a set while the other rests
	ways    []way
}

// A way is kit that will do: all of it is needed.
type way struct {
	needs []need
	stock stock
}

// A moment is all that is asked of one kind of kit at once.
type moment struct {
	kit  string
	asks []ask
}

// has is how many implements will do, each counted once, in as many as one person needs.
func (m moment) has(each int) int {
	if len(m.asks) == 1 && len(m.asks[0].ways) > 1 {
		return m.asks[0].choices()
	}
	n := 0
	for _, it := range m.asks[0].ways[0].stock[m.kit] {
		if slices.ContainsFunc(m.asks, func(a ask) bool { return a.ways[0].needs[0].does(it) }) {
			n += whole(it.count, each)
		}
	}
	return n
}

func whole(count, each int) int {
	if each > 1 {
		return count / each * each
	}
	return count
}

// choices is how many people find something to do of a choice. Ways that share kit are
// counted once.
func (a *ask) choices() int {
	n := 0
	var done []string
	for _, w := range a.ways {
		fits, shared := math.MaxInt, false
		for _, d := range w.needs {
			has := 0
			for _, it := range w.stock[d.kit] {
				if d.does(it) {
					has += it.count / d.each
				}
			}
			fits, shared = min(fits, has), shared || slices.Contains(done, d.kit)
			done = append(done, d.kit)
		}
		if !shared {
			n += fits
		}
	}
	return n
}

// group is what a group asks, moment by moment.
func (w *walk) group(g *program.Group, c crowd) []moment {
	c.with = append(slices.Clip(c.with), g.With...)
	for _, e := range g.Each {
		c.moving = append(slices.Clip(c.moving), e.Unit)
	}
	if p := g.People; p != nil {
		c.team = 2 // of halves
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
	case g.Repeat.Kind == "any order":
		out = w.spread(works(g.Steps), c)
	case g.Repeat.Kind == "choose one":
		out = w.chooseOne(g, c)
	case c.team > 1 && slices.ContainsFunc(g.Steps, isTag):
		out = w.relay(g, c)
	default:
		out = w.steps(g, c)
	}
	end := w.settled
	for _, e := range g.Events {
		w.settled = began && (e.Kind == "at" || e.Kind == "at each" && e.When != nil && e.When.Unit == "s") && clocked(g)
		if e.Kind == "meanwhile" {
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

// setRest is the rest between the sets that a group holds on a free clock, or between its
// turns, and what is done in one turn. What is built up to a heavy set is rested for as
// needed.
func setRest(g *program.Group, c crowd) (*program.Rest, []program.Step) {
	switch {
	case g.Mode == "for time" || g.Mode == "amrap" || g.Repeat.Clocked():
		return nil, nil
	case g.Mode == "for load" && g.Lasts != nil:
		return &program.Rest{Needed: true}, nil
	case !g.ComesRound() && g.Repeat.Kind != "sets":
		return c.rest, c.turn
	}
	for _, s := range g.Steps {
		r, ok := s.(*program.Rest)
		switch {
		case !ok || r.Bound != "":
		case r.Place == "between sets":
			return r, nil
		case r.Place == "between turns" && r.Of == "":
			return r, works(g.Steps)
		}
	}
	return nil, nil
}

// inTurn says whether two can share an implement, one at work while the other rests: where
// the rest is as long as a typical member's set, or turn. One bar for one or two people is
// common practice, no source; three to a bar is not reckoned with.
func (w *walk) inTurn(s *program.Work, c crowd) bool {
	r, turn := c.rest, c.turn
	if s.Sets != nil && s.Rest != nil || len(turn) == 0 {
		turn = []program.Step{s}
	}
	if s.Sets != nil && s.Rest != nil {
		r = s.Rest
	}
	if r == nil {
		return false
	}
	if r.Needed {
		return true
	}
	if v, ok := r.Work.One(); ok {
		return v >= 1
	}
	rest, _, ok := r.Amount.Value(0, max(1, r.Amount.Turns()), 0)
	takes := 0.0
	for _, t := range turn {
		line, plain := t.(*program.Work)
		if !plain {
			return false
		}
		takes += w.setTakes(line)
	}
	return ok && rest > 0 && rest >= takes
}

// setTakes is how long a set of a line takes a typical member, in s; for ever where nobody
// knows.
func (w *walk) setTakes(s *program.Work) float64 {
	least, n, known := s.Dose.Value(0, max(1, s.Dose.Turns()), 0)
	pace := 1.0
	if known && s.Dose.Unit != "s" {
		n, pace = max(n, least), w.paces[s]
	}
	if !known || pace <= 0 {
		return math.Inf(1)
	}
	if s.Side {
		n *= 2
	}
	return n * pace
}

// clocked says whether a clock, and not the athletes, ends a group.
func clocked(g *program.Group) bool {
	return g.Lasts != nil || g.Mode == "amrap" || g.Repeat.Clocked() && g.Repeat.Until == nil
}

func meanwhile(g *program.Group) *program.Event {
	if i := slices.IndexFunc(g.Events, func(e *program.Event) bool { return e.Kind == "meanwhile" }); i >= 0 {
		return g.Events[i]
	}
	return nil
}

func isTag(s program.Step) bool {
	_, ok := s.(*program.Tag)
	return ok
}

func stations(g *program.Group) bool {
	return slices.ContainsFunc(g.Steps, func(s program.Step) bool {
		k, ok := s.(*program.Group)
		return ok && k.Kind == "station"
	})
}

// works are the steps that are work.
func works(steps []program.Step) []program.Step {
	var out []program.Step
	for _, s := range steps {
		switch s.(type) {
		case *program.Group, *program.Work:
			out = append(out, s)
		}
	}
	return out
}

// steps is what a group asks that is done in order.
func (w *walk) steps(g *program.Group, c crowd) []moment {
	began := w.settled
	var out []moment
	for i, s := range g.Steps {
		c := c
		if g.Repeat.Kind == "sets" && i+1 < len(g.Steps) { // a rest of its own behind a set
			if r, ok := g.Steps[i+1].(*program.Rest); ok && r.Place == "here" && r.Bound == "" {
				c.rest, c.turn = r, nil
			}
		}
		if g.Repeat.Clocked() { // each slot starts with the clock
			if k, ok := s.(*program.Group); ok && k.IsSlot() {
				w.settled = began
			}
		}
		out = append(out, w.list([]program.Step{s}, c)...)
	}
	return out
}

// list is what steps ask that are done one after the other.
func (w *walk) list(steps []program.Step, c crowd) []moment {
	var out []moment
	for _, s := range steps {
		switch s := s.(type) {
		case *program.Group:
			out = append(out, w.group(s, c)...)
		case *program.Work:
			out = append(out, w.line(s, c)...)
		case *program.Rest:
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
func (w *walk) stations(g *program.Group, c crowd) []moment {
	at := c
	at.spread = true
	at.people /= float64(g.Slots())
	began := w.settled
	var all, others []moment
	for _, s := range g.Steps {
		w.settled = began
		if k, ok := s.(*program.Group); ok && k.IsSlot() {
			all = w.beside(all, w.list([]program.Step{s}, at))
		} else {
			others = append(others, w.list([]program.Step{s}, c)...)
		}
	}
	w.settled = began
	return append(all, others...)
}

// spread is what people ask who are spread over steps in whatever order they like.
func (w *walk) spread(steps []program.Step, c crowd) []moment {
	c.people /= float64(max(1, len(steps)))
	c.spread = true
	var all []moment
	for _, s := range steps {
		w.settled = false
		all = w.beside(all, w.list([]program.Step{s}, c))
	}
	w.settled = false
	return all
}

// relay is what a team asks of which one works until the tag, and hands on before the rest:
// the next is at work then.
func (w *walk) relay(g *program.Group, c crowd) []moment {
	tag := slices.IndexFunc(g.Steps, isTag)
	c.solo = true
	above := w.list(g.Steps[:tag], c)
	w.settled = false
	return w.beside(above, w.list(g.Steps[tag+1:], c))
}

// chooseOne is what people ask of whom each does one of several things: nothing where one
// of them needs no kit.
func (w *walk) chooseOne(g *program.Group, c crowd) []moment {
	var a ask
	for _, s := range works(g.Steps) {
		ms := w.list([]program.Step{s}, c)
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

// moments is what one line asks: of a choice one thing, and otherwise of each kind of kit.
func (a ask) moments() []moment {
	if len(a.ways) == 0 {
		return nil
	}
	if len(a.ways) > 1 {
		var of []string
		for _, w := range a.ways {
			of = append(of, w.needs[0].kit)
		}
		return []moment{{names(of), []ask{a}}}
	}
	var out []moment
	for _, n := range a.ways[0].needs {
		one := a
		one.each, one.ways = n.each, []way{{[]need{n}, a.ways[0].stock}}
		out = append(out, moment{n.kit, []ask{one}})
	}
	return out
}

// beside puts together what is asked at once: of each kind of kit the worst moment of both.
func (w *walk) beside(a, b []moment) []moment {
	out := w.worst(a)
	for _, m := range w.worst(b) {
		i := slices.IndexFunc(out, func(o moment) bool { return o.kit == m.kit && !slices.ContainsFunc(o.asks, choice) })
		if i < 0 || slices.ContainsFunc(m.asks, choice) {
			out = append(out, m)
			continue
		}
		out[i].asks = slices.Concat(out[i].asks, m.asks)
	}
	return out
}

func choice(a ask) bool { return len(a.ways) > 1 }

// line is what a line asks.
func (w *walk) line(s *program.Work, c crowd) []moment {
	a := ask{line: s, people: c.people, settled: w.settled, spread: c.spread, each: 1}
	if c.team > 1 && s.Share != "together" && s.Share != "synchronised" && (c.solo || s.Share != "") {
		a.people /= c.team // one of them at a time
	}
	if c.solo && c.team <= 1 {
		a.people = min(a.people, 1) // one of all
	}
	if c.team <= 1 && w.inTurn(s, c) {
		a.people, a.inTurn, a.settled = a.people/2, true, false
	}
	timed := s.From == "clock" || s.Window != nil || s.Dose != nil && s.Dose.Unit == "s" && !s.Dose.Max
	w.settled = w.settled && timed && s.Share == ""
	if !s.Choice {
		n := w.needs(s, s.Moves, c)
		if len(n) > 0 {
			a.ways = []way{{n, w.stock}}
		}
		return w.overlapping(a, c)
	}
	for i := range s.Moves {
		n := w.needs(s, s.Moves[i:i+1], c)
		if len(n) == 0 {
			return nil // somebody who finds nothing free does this
		}
		a.ways = append(a.ways, way{n, w.stock})
	}
	return w.overlapping(a, c)
}

// overlapping adds the moment at which more than one heat is at a line.
func (w *walk) overlapping(a ask, c crowd) []moment {
	out := a.moments()
	if c.heats == nil || w.time == nil || !w.time.Proven() {
		return out
	}
	every, ok := c.heats.Heats.Every.One()
	if !ok || every <= 0 {
		return out
	}
	size, _ := c.heats.Heats.Size.One()
	heats := int(math.Ceil(float64(w.class) / math.Floor(size)))
	n := w.atOnce(c, a.line, every, heats)
	if n <= 1 {
		return out
	}
	factor := min(float64(n), float64(w.class)/math.Floor(size))
	a.people, a.settled = a.people*factor, false
	return append(out, a.moments()...)
}

// atOnce is how many heats may be at a line at once, by the estimate of how long it takes.
func (w *walk) atOnce(c crowd, line *program.Work, every float64, heats int) int {
	g := c.heats
	if g.Repeat.Kind == "every" && g.Slots() == 0 { // each heat has its own turns on the clock
		if t, ok := w.time.GroupOf(g); ok {
			if interval, ok := g.Repeat.Interval.One(); ok {
				took := min(max(t.Turns[0].Took, t.Turns[2].Took), interval)
				return busiest(every, interval, took, heats)
			}
		}
	}
	from, to := 0.0, max(w.time.Cut.Slow, w.time.Cut.Fast)
	if c.team <= 1 && g == w.time.Group {
		for i := range w.time.Lines {
			if l := &w.time.Lines[i]; l.Work == line {
				from, to = min(l.From.Fast, l.From.Slow), max(l.To.Fast, l.To.Slow)
				break
			}
		}
	} else if t, ok := w.time.GroupOf(g); ok && c.team <= 1 {
		to = max(t.Took.Fast, t.Took.Slow)
	}
	n := int(math.Ceil((to-from)/every - 1e-6))
	return max(1, min(n, heats))
}

// busiest is how many of so many heats are at work at once, of which each starts so long
// after the one before and works for the first part of every interval.
func busiest(every, interval, took float64, heats int) int {
	most := 1
	for i := range heats {
		at, n := math.Mod(float64(i)*every, interval), 0
		for j := range heats {
			if since := math.Mod(at-math.Mod(float64(j)*every, interval)+interval, interval); since < took-1e-6 {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

// needs is what one person needs for moves that are done as one.
func (w *walk) needs(s *program.Work, moves []program.Move, c crowd) []need {
	var out []need
	put := func(word string, loads []program.Load, own bool) {
		kit := Name(w.book, word)
		if len(w.stock[kit]) == 0 || slices.Contains(places, kit) || slices.ContainsFunc(out, func(n need) bool { return n.kit == kit }) {
			return
		}
		out = append(out, w.need(kit, loads, c, own))
	}
	for _, m := range moves {
		if m.Movement == nil {
			return nil
		}
		for _, k := range m.Movement.Needs {
			put(k, s.Loads, false)
		}
	}
	for _, k := range slices.Concat(c.with, s.With) {
		put(k.Name, k.Loads, true)
	}
	return out
}

// most bounds how many of one thing a person takes, so that a slip of the keyboard ends in a
// number.
const most = 1000

// need is what one person needs of one kind of kit at the loads that stand behind it.
func (w *walk) need(kit string, loads []program.Load, c crowd, own bool) need {
	n := need{kit: kit, each: 1}
	inHand := own || slices.Contains(held, kit)
	for _, l := range loads {
		weight := inHand && (l.Kind == syntax.Mass || l.Kind == syntax.Share)
		if v, _, ok := l.Count.Value(0, 1, 0); ok && weight && v >= 1 {
			n.each = int(min(v, most))
		}
		if l.Amount == nil || l.Kind != syntax.Height && !(weight && l.Kind == syntax.Mass) || slices.Contains(c.moving, l.Amount.Unit) {
			continue
		}
		if l.Kind == syntax.Height && kit != "box" {
			continue
		}
		n = w.scarcest(n, l)
	}
	return n
}

// scarcest is a need at the turn whose weights the house has least of. Members choose which
// of a turn's weights they take, so any of them will do.
func (w *walk) scarcest(n need, l program.Load) need {
	turns := max(1, l.Amount.Turns())
	best, least := n, math.MaxInt
	for t := range turns {
		now := n
		now.wanted, now.to, now.high, now.text = nil, nil, l.Kind == syntax.Height, l.Amount.At.Text()
		for tier := range w.tiers {
			lo, hi, ok := l.Amount.Value(t, turns, tier)
			if !ok {
				return n
			}
			now.wanted, now.to = append(now.wanted, value{lo, l.Amount.Written}), append(now.to, hi)
		}
		if !now.in(w.stock) {
			return n
		}
		has := 0
		for _, it := range w.stock[n.kit] {
			if now.does(it) {
				has += whole(it.count, n.each)
			}
		}
		if has < least {
			best, least = now, has
		}
	}
	return best
}

// Package equipment says who needs which kit when: for every part of a session, the most people
// that are at one kind of it at once, and how many the house has.
//
// The model promises no more than the text does. People who start together are at the first
// line together, whatever their pace; later on all of them could be at the same line, which
// is what a coach has to expect, and no more than that. Where work can be shared out,
// the least is counted that is surely needed: a split dose is done at one implement, any
// order spreads people over the lines, and of a choice and of tiers whichever is free is
// taken.
package equipment

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
)

// A Use is the most people that need one kind of kit at once in a part.
type Use struct {
	Part  *model.Group
	Lines []*model.Work // where that is: more than one where several are done at once
	Kit   string        // as the book has it; of a choice "rower or ski machine"

	Of string // the weight or height, as written; empty where any will do

	People int // who need it at once
	Each   int // implements that one of them needs; 0 where that differs from line to line
	Needed int // implements
	Has    int // of those that will do, so many as people can be served with

	// InTurn says that two share each implement, of whom People is one: one does a set while
	// the other rests.
	InTurn bool

	// Settled says that it is so whatever anybody's pace is; otherwise they could all be
	// there at once.
	Settled bool
	// When is the earliest that this may be, in s on the wall clock, where Timed.
	When  float64
	Timed bool
}

// Short says whether the house has less than that.
func (u *Use) Short() bool { return u.Needed > u.Has }

// Fits is how many people can be at it at once.
func (u *Use) Fits() int {
	if u.Each == 0 {
		return 0
	}
	return u.Has / u.Each
}

// Of says what a session asks of the kit that the house lists, part by part: of each kind
// the moment at which most is lacking, or else the busiest. Nothing is said where the house
// does not say how many come. The timeline says when, and how far heats overlap; where it is
// nil, heats that overlap are taken for one.
func Of(s *model.Session, env *model.Env, t *estimate.Timeline) []Use {
	if env.House.Class <= 0 {
		return nil
	}
	stock := stockOf(env)
	var out []Use
	for i, g := range s.Parts {
		w := &classWalk{book: env.Book, stock: stock, class: env.House.Class, tiers: max(1, len(env.House.Tiers))}
		if t != nil && i < len(t.Parts) {
			w.time = t.Parts[i]
		}
		w.pace()
		w.settled = true
		ms := w.group(g, crowd{people: float64(env.House.Class), team: 1})
		out = append(out, w.most(g, ms)...)
	}
	return out
}

// pace works out how long a unit of each line takes.
func (w *classWalk) pace() {
	if w.time == nil {
		return
	}
	w.paces = map[*model.Work]float64{}
	for _, l := range w.time.Lines {
		if l.N.Typical > 0 {
			sp := l.Spent[1]
			w.paces[l.Work] += (sp.Moving + sp.Drift + sp.Breaks + sp.Fixed) / l.N.Typical
		}
	}
}

// most is the moment of each kind of kit at which most is lacking.
func (w *classWalk) most(part *model.Group, ms []moment) []Use {
	var out []Use
	for _, m := range w.worst(ms) {
		u := w.use(m)
		u.Part = part
		out = append(out, u)
	}
	return out
}

// worst keeps one moment of each kind of kit: that at which most is lacking.
func (w *classWalk) worst(ms []moment) []moment {
	var out []moment
	for _, m := range ms {
		i := slices.IndexFunc(out, func(o moment) bool { return o.kit == m.kit })
		if i < 0 {
			out = append(out, m)
			continue
		}
		if a, b := w.use(m), w.use(out[i]); worse(&a, &b) {
			out[i] = m
		}
	}
	return out
}

// worse says whether one use is more of a problem than another: what is settled before what
// is not, and then what lacks more, or is busier.
func worse(a, b *Use) bool {
	if a.Short() != b.Short() {
		return a.Short()
	}
	if a.Short() && a.Settled != b.Settled {
		return a.Settled
	}
	if a.Short() && a.Needed-a.Has != b.Needed-b.Has {
		return a.Needed-a.Has > b.Needed-b.Has
	}
	return a.Needed > b.Needed
}

// use adds up a moment.
func (w *classWalk) use(m moment) Use {
	u := Use{Kit: m.kit, Settled: true, Each: m.asks[0].each}
	people, needed := 0.0, 0.0
	alike := true
	for _, a := range m.asks {
		u.Lines = append(u.Lines, a.line)
		u.Settled = u.Settled && a.settled
		u.InTurn = u.InTurn || a.inTurn
		people += a.people
		needed += a.people * float64(a.each)
		alike = alike && a.each == u.Each
		if !a.spread {
			w.when(&u, a.line)
		}
	}
	if len(m.asks) == 1 && len(m.asks[0].ways) == 1 {
		u.Of = m.asks[0].ways[0].needs[0].text
	}
	u.People = ceil(people)
	if alike {
		u.Needed = u.People * u.Each
	} else {
		u.Each, u.Needed = 0, ceil(needed)
	}
	u.Has = m.has(u.Each)
	for _, a := range m.asks { // one of them alone may lack more than all together
		one := moment{m.kit, []ask{a}}
		n := ceil(a.people) * a.each
		if has := one.has(a.each); len(m.asks) > 1 && n-has > max(0, u.Needed-u.Has) {
			u.Lines, u.People, u.Each, u.Needed, u.Has, u.Settled = []*model.Work{a.line}, ceil(a.people), a.each, n, has, a.settled
			u.Of = a.ways[0].needs[0].text
		}
	}
	return u
}

// when says when somebody first reaches a line.
func (w *classWalk) when(u *Use, line *model.Work) {
	t := w.time
	if t == nil || !t.Settled || !t.Proven() {
		return
	}
	for i := range t.Lines {
		if l := &t.Lines[i]; l.Work == line {
			if when := t.Start + l.From.Fast; !u.Timed || when < u.When {
				u.When, u.Timed = when, true
			}
		}
	}
}

// ceil rounds people up, thirds of a class that do not quite add up forgiven.
func ceil(n float64) int { return int(math.Ceil(n - 1e-6)) }

// names joins the names of kit that will do instead of one another.
func names(of []string) string {
	var out []string
	for _, n := range of {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return strings.Join(out, " or ")
}

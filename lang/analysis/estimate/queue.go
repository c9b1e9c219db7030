package estimate

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// A Wait is a line that more people come to than there is kit for, so that some of them wait.
type Wait struct {
	Part   *model.Group
	Line   *model.Work
	Kit    string
	People int
	Pieces int // so many can be at it at once; at least 1
	// Queued says that everybody goes through the part alone, in one list and on no clock, so that how
	// long they wait can be bounded.
	Queued bool
}

// groups is in how many groups people come to the kit.
func (w Wait) groups() int { return teams(w.People, w.Pieces) }

// A Queue is what is known of a part in which people wait for kit. With T one's own time, t the time at the kit
// a visit (the change to it not counted, as the wait covers it), V visits, N people, m pieces and R one's own round,
// all in s, the g-th group is done at about
//
//	T + (g - 1) · t + (V - 1) · max(0, t · N/m - R)
//
// which proves nothing. What is proven is that nobody takes less than T or more than
// T + V · (ceil(N/m) - 1) · (t and a change of the slow). No source: it is arithmetic of the model, exact to 1-2 %
// for people who are alike.
type Queue struct {
	Waits  []Wait
	Groups []Times // s from the start of the part until a group is done, first to last; none for several kinds of kit
	Most   Times   // s from the start of the part, after which nobody is still at it; of all queues together
}

// Waiting works out how long a session takes, as Of does, where people wait for kit.
func Waiting(s *model.Session, env *model.Env, waits []Wait) *Timeline { return of(s, env, waits) }

// queue says what is known of a part in which some wait.
func (t *Timeline) queue(p *PartTime, waits []Wait) {
	if len(waits) == 0 {
		return
	}
	bounded := true
	most := p.Work
	for _, w := range waits {
		held := !w.Queued && inWindow(p.Group, w.Line, p.Tier)
		p.Missing = append(p.Missing, Missing{At: w.Line.At, Held: held, Waits: true, Add: "write heats or stations",
			Why: fmt.Sprintf("%d people come to %d of %s, and how long they wait for it is not known", w.People, w.Pieces, w.Kit)})
		for _, g := range p.Groups {
			if holds(g.Group, w.Line) {
				g.Proven = false
			}
		}
		v, ok := p.visits(&t.Figures, w)
		if bounded = bounded && ok && w.Queued; !bounded {
			continue
		}
		for l := range Standings {
			most.set(l, most.At(l)+float64(v.visits)*float64(w.groups()-1)*(v.took[2]+t.Figures.Change.Slow))
		}
		if len(waits) == 1 {
			p.Queue = &Queue{Waits: waits, Groups: v.groups(p, &t.Figures, w)}
		}
	}
	slices.SortStableFunc(p.Missing, func(a, b Missing) int { return a.At.Start - b.At.Start })
	if !bounded {
		return
	}
	if p.Queue == nil {
		p.Queue = &Queue{Waits: waits}
	}
	p.Queue.Most = most
}

// inWindow says whether a window, or a clock, that a head around a line states bounds it.
func inWindow(part *model.Group, line *model.Work, tier int) bool {
	for g := range part.Groups(model.Everything) {
		if _, whole := totals.Whole(g, tier); whole && holds(g, line) {
			return true
		}
	}
	return false
}

// holds says whether a line stands in a group.
func holds(g *model.Group, line *model.Work) bool {
	for w := range g.Lines(model.Everything) {
		if w == line {
			return true
		}
	}
	return false
}

// visits are those of everybody to a line: how many, and how long one takes a fast, a typical and a slow
// member who comes to it fresh, in s, the change to it not counted.
type visits struct {
	visits int
	took   [3]float64
}

func (p *PartTime) visits(f *Figures, w Wait) (v visits, ok bool) {
	for _, l := range p.Lines {
		if l.Work != w.Line {
			continue
		}
		v.visits = max(v.visits, l.Goes[0], l.Goes[1], l.Goes[2])
		for i, s := range l.Spent {
			if l.Goes[i] == 0 {
				return v, false
			}
			n := float64(l.Goes[i])
			v.took[i] += (s.Moving+s.Breaks+s.Fixed)/n + f.drift(s.Moving/n)
		}
	}
	return v, v.visits > 0
}

// groups are when each group is done, by the formula of Queue.
func (v visits) groups(p *PartTime, f *Figures, w Wait) []Times {
	out := make([]Times, w.groups())
	n := float64(v.visits)
	for l := range Standings {
		round := (p.Work.At(l) + [3]float64{f.Change.Fast, f.Change.Typical, f.Change.Slow}[l]) / n
		wait := max(0, v.took[l]*float64(w.People)/float64(w.Pieces)-round)
		for g := range out {
			out[g].set(l, p.Work.At(l)+float64(g)*v.took[l]+(n-1)*wait)
		}
	}
	return out
}

// SurelyWithin says whether nobody is over a limit, in s, whoever waits for whom: by the most time that
// the queues of the part can take the slow, where nothing else is missing.
func (p *PartTime) SurelyWithin(limit float64) bool {
	if p.Queue == nil || p.Queue.Most == (Times{}) {
		return false
	}
	open := slices.ContainsFunc(p.Missing, func(m Missing) bool {
		return !m.Held && !slices.ContainsFunc(p.Queue.Waits, func(w Wait) bool { return w.Line.At == m.At })
	})
	return !open && p.Queue.Most.Slow <= limit+Tolerance
}

// waitsOf are those in one part.
func waitsOf(waits []Wait, part *model.Group) []Wait {
	return slices.DeleteFunc(slices.Clone(waits), func(w Wait) bool { return w.Part != part })
}

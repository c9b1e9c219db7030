// Package estimate works out how long sessions take: a model of time for a fast, a typical and
// a slow member, part by part, with the rest that is left and the share of a class that would
// miss a cap. Its figures and their sources are in spec/estimates.md.
package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/model"
)

// A Timeline is how long a session takes, part by part. It is an estimate, and a planning
// aid: its figures may well be off by their margin.
type Timeline struct {
	Session *model.Session
	Figures Figures // those that it reckoned with
	Class   int     // people; 0 where the house does not say
	Parts   []*PartTime
	// Length is how long the room is taken, in s: warm-up, clock and cool-down. It counts
	// windows as they are written, and otherwise the slow athlete or the cap.
	Length  float64
	Settled bool // nothing that Length hangs on is missing

	env  *model.Env
	plan *plan
}

// Of works out how long a session takes, as it is written or in one version.
//
// The model is that of spec/estimates.md: an athlete has one standing among the house's
// members, the same at everything, so that percentiles of a sum are sums of percentiles,
// and a part takes moving, drift, breaks, changes and what is fixed.
func Of(s *model.Session, env *model.Env) *Timeline {
	t := &Timeline{Session: s, Figures: figuresOf(env.House), Class: env.House.Class, env: env, plan: planOf(s.Parts), Settled: true}
	tiers := max(1, len(env.House.Tiers))
	walks := make([][3]*walk, 1, tiers)
	walks[0] = t.walks(0)
	logs := make([][3][]entry, tiers)
	wall := wallClock{settled: true}
	for i, g := range s.Parts {
		p := &PartTime{Group: g, index: i}
		wall.start(p, t.Parts)
		runs := make([][3]one, 0, len(walks)) // seldom more: see below
		for tier := 0; tier < len(walks); tier++ {
			var of [3]one
			for l, w := range walks[tier] {
				w.log = logs[tier][l]      // of the part before, which nobody looks at any more
				if l > 0 && w.log == nil { // as many goes as the athlete before needed, or about so many
					w.log = make([]entry, 0, len(of[l-1].log))
				}
				of[l] = w.next(t, i, p.Began)
				logs[tier][l] = of[l].log
			}
			runs = append(runs, of)
			// Other tiers are walked only from where one differs.
			if tier == 0 && len(walks) == 1 && of[1].tiered && tiers > 1 {
				for other := 1; other < tiers; other++ {
					walks = append(walks, t.walksFrom(other, i))
				}
			}
		}
		p.Tier = slowest(runs)
		if len(runs) > 1 {
			for _, of := range runs {
				v := Times{of[0].work, of[1].work, of[2].work}
				v.ordered()
				p.Tiers = append(p.Tiers, v)
			}
			if !slices.ContainsFunc(p.Tiers, func(o Times) bool { return o != p.Tiers[0] }) {
				p.Tiers = nil
			}
		}
		p.levels(runs[p.Tier])
		var all known
		for _, of := range runs {
			for i := range of {
				all.add(&of[i].known)
			}
		}
		all.sort()
		p.Missing, p.Notes = all.missing, all.notes
		slow := runs[p.Tier][2]
		p.Room = max(p.Cut.Fast, p.Cut.Typical, p.Cut.Slow, slow.fills) + slow.extra
		p.End = Times{p.Start + p.Cut.Fast, p.Start + p.Cut.Typical, p.Start + p.Cut.Slow}
		wall.end(p, slow.afterOpen)
		t.Parts = append(t.Parts, p)
	}
	for i := 1; i < len(t.Parts); i++ {
		p, next := t.Parts[i-1], t.Parts[i]
		for l := range Standings {
			p.Left.set(l, next.Began-p.Began-p.Cut.At(l))
		}
	}
	t.Length, t.Settled = wall.longest, wall.settled
	return t
}

func (t *Timeline) walks(tier int) (out [3]*walk) {
	for l, q := range Standings {
		out[l] = t.walk(zOf(q), tier)
		out[l].keep = true
	}
	return out
}

// walksFrom is the walks of another tier, which have done the parts before one that
// differs just as the first tier did.
func (t *Timeline) walksFrom(tier, part int) (out [3]*walk) {
	out = t.walks(tier)
	for _, w := range out {
		for i := range part {
			w.next(t, i, t.Parts[i].Began)
		}
	}
	return out
}

func (t *Timeline) walk(z float64, tier int) *walk {
	w := newWalk(&t.Figures, t.plan, t.env, z, tier)
	if e := t.Session.Effort; e != nil && e.Unit != "RPE" {
		w.effort = e // an RPE is of the whole session, and says nothing of the pace in one line
	}
	return w
}

// next does a part that begins at a time of the session. What is still in the legs from
// the part before counts, less what the time between clears; a warm-up tires nobody.
func (w *walk) next(t *Timeline, i int, began float64) one {
	g := t.Session.Parts[i]
	gap := began - w.ended
	if i == 0 || g.Kind != model.Part || t.Session.Parts[i-1].Kind != model.Part {
		w.moved, w.resting, gap = 0, 0, 0
	}
	o := w.part(g, gap)
	w.ended = began + o.cut
	return o
}

// slowest is the tier whose slow athlete takes longest, the first among equals.
func slowest(runs [][3]one) int {
	best := 0
	for i := range runs {
		if runs[i][2].cut > runs[best][2].cut+tiny || math.Abs(runs[i][2].cut-runs[best][2].cut) <= tiny && runs[i][2].work > runs[best][2].work+tiny {
			best = i
		}
	}
	return best
}

// The wall clock goes through a session with the room.
type wallClock struct {
	now     float64 // s since the session began
	zero    float64 // when the clock that runs now was started
	pinned  bool    // whether a part is pinned to it
	first   int     // the first part on it
	longest float64
	settled bool
}

// start says when a part starts.
func (c *wallClock) start(p *PartTime, before []*PartTime) {
	at, ok := p.Group.Start.One()
	switch {
	case ok && at == 0: // it starts the clock, and what stands before it was before
		c.zero = c.now
		if !c.pinned {
			for _, o := range before[c.first:] {
				o.Start = o.Began - c.zero
				o.End = Times{o.Start + o.Cut.Fast, o.Start + o.Cut.Typical, o.Start + o.Cut.Slow}
			}
		}
		c.first, c.pinned = len(before), true
	case ok:
		c.pinned = true
		c.now = c.zero + at
		c.settled = true
	}
	p.Pinned = ok
	p.Began, p.Start = c.now, c.now-c.zero
	p.Settled = c.settled
}

// end says when the room is free again.
func (c *wallClock) end(p *PartTime, open bool) {
	c.now = p.Began + p.Room + p.After.Slow
	c.longest = max(c.longest, p.Began+p.Room)
	c.settled = c.settled && proven(p.Missing) && !open
}

// Package estimate works out how long sessions take: a model of time for a fast, a typical and
// a slow member, part by part, with the rest that is left and the share of a class that would
// miss a cap. Its figures and their sources are in spec/estimates.md.
package estimate

import (
	"math"

	"stint.example/stint/lang/model"
)

// A Timeline is how long a session takes, part by part. It is an estimate, and a planning
// aid: its figures may well be off by their margin.
type Timeline struct {
	Session *model.Session
	Figures Figures // the constants that it was worked out with
	Class   int     // people; 0 where the house does not say
	Parts   []*PartTime
	// Length is how long the room is taken, in s: warm-up, clock and cool-down. It counts
	// windows as they are written, and otherwise the slow athlete or the cap. Where it is not settled
	// it is the least, with no more than the text asks for.
	Length       float64
	Settled      bool // nothing that Length depends on is missing
	LengthBeyond bool // where it is not settled: only as some part is beyond the range of the model, so that Length is no least

	Waits bool // people wait for kit in some part

	env  *model.Env
	plan *restPlan
}

// Of works out how long a session takes, as it is written or in one version.
//
// The model is that of spec/estimates.md: an athlete has one standing among the house's
// members, the same at everything, so that percentiles of a sum are sums of percentiles,
// and a part takes moving, drift, breaks, changes and what is fixed. Nobody waits for kit: Waiting
// counts that too.
func Of(s *model.Session, env *model.Env) *Timeline { return of(s, env, nil) }

func of(s *model.Session, env *model.Env, waits []Wait) *Timeline {
	t := &Timeline{Session: s, Figures: figuresOf(env.House), Class: env.House.Class, env: env, plan: restPlanOf(s.Parts), Settled: true, Waits: len(waits) > 0}
	class := classSimulation{timeline: t, tiers: [][3]*simulation{t.simulations(0)},
		logs: make([][3][]logEntry, max(1, len(env.House.Tiers)))}
	wall := wallClock{settled: true, zeroSettled: true}
	for i, g := range s.Parts {
		p := &PartTime{Group: g, Team: teamOf(g), index: i}
		wall.start(p, t.Parts)
		runs := class.performPart(i, p.Began)
		t.aggregate(p, runs)
		t.queue(p, waitsOf(waits, g))
		wall.end(p, runs[p.Tier][2].restBehindOpen)
		t.Parts = append(t.Parts, p)
	}
	for i := 1; i < len(t.Parts); i++ {
		p, next := t.Parts[i-1], t.Parts[i]
		for l := range Standings {
			p.RestBeforeNext.set(l, next.Began-p.Began-p.WorkEnd.At(l)+p.LastStart()-p.lastHeat(next.Group))
		}
	}
	t.Length = wall.longest
	t.Settled, t.LengthBeyond = wall.sinceBegan()
	if !t.Settled && !t.LengthBeyond {
		t.Length = wall.least.longest
	}
	return t
}

// A classSimulation simulates three athletes in each tier of the house. While nothing differs
// from tier to tier, it has only those of the first.
type classSimulation struct {
	timeline *Timeline
	tiers    [][3]*simulation
	logs     [][3][]logEntry // by tier of the house: those of the part before, to be written over
}

// performPart performs a part that begins at a time of the session, in s, by tier.
func (c *classSimulation) performPart(part int, began float64) [][3]athleteRun {
	runs := make([][3]athleteRun, 0, len(c.tiers))
	for tier := 0; tier < len(c.tiers); tier++ {
		var of [3]athleteRun
		for l, sim := range c.tiers[tier] {
			sim.log = c.logs[tier][l]
			if l > 0 && sim.log == nil { // about as many goes as the athlete before needed
				sim.log = make([]logEntry, 0, len(of[l-1].log))
			}
			of[l] = sim.nextPart(c.timeline, part, began)
			c.logs[tier][l] = of[l].log
		}
		runs = append(runs, of)
		if tier == 0 && len(c.tiers) == 1 && of[1].differsByTier {
			for other := 1; other < len(c.logs); other++ {
				c.tiers = append(c.tiers, c.timeline.simulationsFrom(other, part))
			}
		}
	}
	return runs
}

// simulations are those of the three standings in a tier.
func (t *Timeline) simulations(tier int) (out [3]*simulation) {
	for l, q := range Standings {
		out[l] = t.simulation(zScore(q), tier)
		out[l].logging = true
	}
	return out
}

// simulationsFrom are those of another tier, which have performed the parts before one that
// differs just as the first tier did.
func (t *Timeline) simulationsFrom(tier, part int) (out [3]*simulation) {
	out = t.simulations(tier)
	for _, sim := range out {
		for i := range part {
			sim.nextPart(t, i, t.Parts[i].Began)
		}
	}
	return out
}

func (t *Timeline) simulation(z float64, tier int) *simulation {
	sim := newSimulation(&t.Figures, t.plan, t.env, z, tier)
	sim.session = t.Session
	return sim
}

// nextPart performs a part that begins at a time of the session, in s. The fatigue of the part
// before counts, less what the time between clears; a warm-up tires nobody.
func (sim *simulation) nextPart(t *Timeline, i int, began float64) athleteRun {
	g := t.Session.Parts[i]
	var inherited []body
	if i > 0 && g.Kind == model.Part && t.Session.Parts[i-1].Kind == model.Part {
		inherited = carryOver(sim.bodies, began-sim.previousBegan-t.Parts[i-1].lastHeat(g))
	}
	run := sim.performPart(g, inherited)
	sim.previousBegan = began
	return run
}

// slowestTier is the tier whose slow athlete takes longest. Where a clock gives them all the same time,
// it is the one with the longest turn, then the one of which the slow, the typical and the fast do
// least, then the first.
func slowestTier(runs [][3]athleteRun) int {
	best := 0
	for i := range runs {
		if harder(&runs[i], &runs[best]) {
			best = i
		}
	}
	return best
}

func harder(is, was *[3]athleteRun) bool {
	for _, figure := range []func(*athleteRun) float64{
		func(r *athleteRun) float64 { return r.cappedWork },
		func(r *athleteRun) float64 { return r.work },
		func(r *athleteRun) float64 { return r.longestTurn() },
	} {
		if a, b := figure(&is[2]), figure(&was[2]); math.Abs(a-b) > epsilon {
			return a > b
		}
	}
	for l := 2; l >= 0; l-- {
		if a, b := is[l].done(), was[l].done(); math.Abs(a-b) > epsilon {
			return a < b
		}
	}
	return false
}

// A wallClock is the time of the room as it goes through a session.
type wallClock struct {
	now     float64 // s since the session began
	zero    float64 // s since the session began, when the clock that runs now was started
	pinned  bool    // whether a part is pinned to it
	first   int     // the first part on it
	longest float64 // s since the session began, until when a part takes the room
	settled bool    // nothing is missing that now on the clock that runs depends on
	beyond  bool    // it is not settled, and only as some part is beyond the range of the model

	// zeroSettled and zeroBeyond say the same of when the clock that runs now was started.
	zeroSettled, zeroBeyond bool

	least struct{ now, zero, longest float64 } // the same with no more than the text asks for
}

// start says when a part starts.
func (c *wallClock) start(p *PartTime, before []*PartTime) {
	at, ok := p.Group.Start.One()
	switch {
	case ok && at == 0: // it starts the clock, whatever was before, and how long that took no time on it depends on
		c.zeroSettled, c.zeroBeyond = c.sinceBegan()
		c.settled, c.beyond = true, false
		c.zero, c.least.zero = c.now, c.least.now
		if !c.pinned {
			for _, o := range before[c.first:] {
				o.Start = o.Began - c.zero
				o.setEnd()
			}
		}
		c.first, c.pinned = len(before), true
	case ok:
		c.pinned = true
		c.now, c.least.now = c.zero+at, c.least.zero+at
		c.settled, c.beyond = true, false
	}
	p.Pinned = ok
	p.Began, p.Start = c.now, c.now-c.zero
	p.Early = max(0, c.now-c.least.now)
	p.Settled, p.StartBeyond = c.settled, c.beyond
	p.BeganSettled, _ = c.sinceBegan()
}

// sinceBegan says of now since the session began what settled and beyond say of it on the clock that runs.
func (c *wallClock) sinceBegan() (settled, beyond bool) {
	settled = c.settled && c.zeroSettled
	return settled, !settled && (c.settled || c.beyond) && (c.zeroSettled || c.zeroBeyond)
}

// end says when the room is free again.
func (c *wallClock) end(p *PartTime, open bool) {
	c.longest = max(c.longest, p.Began+p.Room)
	c.least.longest = max(c.least.longest, c.least.now+p.leastRoom)
	c.now = p.Began + p.Room + p.RestBehind.Slow
	c.least.now += p.leastRoom + p.leastBehind
	sure := proven(p.Missing) && !open
	c.beyond = (c.settled || c.beyond) && !open && (sure && c.beyond || beyond(p.Missing))
	if c.settled = c.settled && sure; !c.settled && !c.beyond { // what follows starts no sooner
		c.now = c.least.now
	}
}

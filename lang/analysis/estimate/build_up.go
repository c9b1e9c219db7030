package estimate

import (
	"math"

	"stint.example/stint/lang/model"
)

// How somebody builds up to the heaviest set of so many repetitions that they can do: in at least eight lifts, at
// these shares of it, with a rest behind each but the last, in s. Practice, no source.
var (
	buildUpShares = [8]float64{0.50, 0.60, 0.70, 0.80, 0.85, 0.90, 0.95, 1}
	buildUpRests  = [7]float64{60, 60, 60, 120, 120, 120, 120}
)

// buildsUpTo says whether a line is built up to, in as many sets as there is time for: to the heaviest of so many
// repetitions, or under a head for load. It is not where sets are written, or a clock or rounds say how often.
func (sim *simulation) buildsUpTo(s *model.Work) bool {
	if s.Sets != nil || sim.clockDepth > 0 || len(sim.frames) == 0 {
		return false
	}
	for _, f := range sim.frames {
		if f.round && f.turns != 1 {
			return false
		}
	}
	g := sim.frames[len(sim.frames)-1].group
	return s.RM > 0 || g != nil && g.Mode == model.ForLoad && !g.ComesRound()
}

// performBuildUp performs the lifts that it takes to build up to n repetitions: moving
// n · pace · heavySlowdown(share) each, with a set-up where the bar is in a rack. More of them may be done in a
// window, which then says how long it takes; without one nothing does.
func (sim *simulation) performBuildUp(d lineTurn, moves []model.Move, n float64) (cut bool) {
	if math.IsInf(sim.maxUntil, 1) && !sim.unbounded {
		at := d.work.At
		if d.work.RM > 0 {
			at = d.work.Dose.At
		}
		sim.reportMissing(at, "nobody knows how many sets it takes to build up to this", "write lasts 15:00 on its head, or how many sets")
	}
	lift := func(share float64) (unitCost, bool) {
		c, ok := sim.costOf(d, moves, "rep")
		c.moving *= sim.figures.heavySlowdown(share)
		c.neverBroken, c.rested = true, true
		return c, ok
	}
	if _, ok := lift(1); !ok {
		return false
	}
	need := 0.0
	for i, share := range buildUpShares {
		c, _ := lift(share)
		need += n * (c.moving + c.fixed)
		if c.fromRack && c.moving > 0 {
			need += sim.body().setUp
		}
		if i < len(buildUpRests) {
			need += buildUpRests[i]
		}
	}
	for _, r := range sim.openRecords {
		r.buildUp += need
	}
	for i, share := range buildUpShares {
		if sim.performShared(d.work, n, func() (unitCost, bool) { return lift(share) }) {
			return true
		}
		if i < len(buildUpRests) && sim.restFor(buildUpRests[i]) {
			return true
		}
	}
	return false
}

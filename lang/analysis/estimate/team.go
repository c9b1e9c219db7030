package estimate

import (
	"math"

	"stint.example/stint/lang/model"
)

// A team is how the people of a part are divided. The formulas are those of spec/estimates.md,
// section 4.
type team struct {
	size   float64 // people, 1 where nobody works together
	solo   bool    // one works at a time
	inTurn bool    // the work at hand is one person's turn
}

func worksTogether(share model.Sharing) bool {
	return share == model.Together
}

// formTeam divides people as the head of a group says.
func (sim *simulation) formTeam(g *model.Group) {
	if p := g.People; p != nil {
		sim.team = team{size: 2, solo: sim.team.solo}
		if v, ok := sim.value(p.Size, 0, 1); ok {
			sim.team.size = max(1, math.Floor(v))
		}
	}
	sim.team.solo = sim.team.solo || g.Solo
}

// teamAverage is the average athlete of the team.
func (sim *simulation) teamAverage() person {
	return sim.figures.person(zOfAverage(sim.athlete.z, sim.team.size))
}

// performShared performs a dose as the people of a team share it.
func (sim *simulation) performShared(d lineTurn, moves []model.Move, unit string, n float64) (cut bool) {
	k, share := sim.team.size, d.work.Share
	who := sim.worker
	defer func() { sim.worker = who }()
	split := share != "" && !worksTogether(share)
	switch {
	case k <= 1:
	case worksTogether(share):
		sim.worker = sim.figures.person(zOfSlowest(sim.athlete.z, k))
	case split:
		sim.worker = sim.teamAverage()
	case sim.team.solo && !sim.team.inTurn: // each in turn
		return sim.performInTurn(false, func() bool { return sim.performShared(d, moves, unit, n) })
	}
	c, ok := sim.costOf(d, moves, unit)
	if !ok {
		return false
	}
	if d.work.Unbroken && n > c.unbroken+epsilon {
		sim.reportMissing(d.work.At,
			"at some standing nobody does so many unbroken", "let it be broken up, or ask for fewer")
	}
	if k > 1 && split && !sim.team.inTurn {
		if sim.team.solo {
			c.sharers = k
			return sim.performUnits(&c, n)
		}
		c.wholeUnits = false // all work at once, the same for each on average
		return sim.performUnits(&c, n/k) || sim.handOver()
	}
	return sim.performUnits(&c, n)
}

// handOver takes the time of one handover.
func (sim *simulation) handOver() (cut bool) {
	h := sim.teamAverage().handover
	if h > sim.limit-sim.now {
		sim.restUntil(sim.limit)
		return true
	}
	sim.now += h
	sim.spent.Handovers += h
	return false
}

// isOneTurn says whether steps are a turn that the people of a team take one after the other: plain
// lines of which none is shared.
func (sim *simulation) isOneTurn(steps []model.Step) bool {
	if sim.team.size <= 1 || !sim.team.solo || sim.team.inTurn {
		return false
	}
	lines := false
	for _, s := range steps {
		switch s := s.(type) {
		case *model.Work:
			if s.Share != "" {
				return false
			}
			lines = true
		case *model.Group:
			if s.Kind != model.Label && s.Kind != model.RoundOf && !model.Depends(s) {
				return false
			}
		}
	}
	return lines
}

// performInTurn performs one athlete's turn, and then lets as much time pass for each of the others,
// which is rest for the first. Dealt says that the turns are dealt out among the team, so that
// nobody follows in this one.
func (sim *simulation) performInTurn(dealt bool, turn func() bool) (cut bool) {
	k := sim.team.size
	who, was := sim.worker, sim.team
	sim.worker, sim.team.inTurn = sim.teamAverage(), true
	defer func() { sim.worker, sim.team.inTurn = who, was.inTurn }()
	if sim.handedOver && sim.handOver() {
		return true
	}
	sim.handedOver = true
	start, spent, moved, total := sim.now, sim.spent, sim.unrecovered, sim.moving
	if turn() {
		return true
	}
	if dealt { // each athlete has only a part of what tires
		sim.unrecovered, sim.moving = moved+(sim.unrecovered-moved)/k, total+(sim.moving-total)/k
		return false
	}
	took := sim.now - start
	others := (k - 1) * (took + sim.worker.handover)
	if others > sim.limit-sim.now {
		sim.restUntil(sim.limit)
		return true
	}
	sim.spent = spent.plus(sim.spent.minus(spent).times(k))
	sim.spent.Handovers += (k - 1) * sim.worker.handover
	sim.now += others
	sim.restTaken += others
	return false
}

// performRelay performs what stands above a tag, one of the team after the other, and what stands
// below it while the next one is at work.
func (sim *simulation) performRelay(g *model.Group, tag, turn int) (cut bool) {
	k := sim.team.size
	who, was := sim.worker, sim.team
	sim.worker, sim.team.inTurn = sim.teamAverage(), true
	defer func() { sim.worker, sim.team.inTurn = who, was.inTurn }()
	if sim.handedOver && sim.handOver() {
		return true
	}
	sim.handedOver = true
	h := sim.worker.handover
	start, spent := sim.now, sim.spent
	if sim.performSteps(g.Steps[:tag]) {
		return true
	}
	above, aboveSpent := sim.now-start, sim.spent.minus(spent)
	if sim.performSteps(g.Steps[tag+1:]) {
		return true
	}
	below, belowSpent := sim.now-start-above, sim.spent.minus(spent).minus(aboveSpent)
	f := sim.frames[len(sim.frames)-1]
	final := f.turns > 0 && turn == f.turns-1
	// Each has to be there again when the tag comes round, and the last goes to the end.
	whole := max(k*above+(k-1)*h, above+below)
	if final {
		whole = k*above + (k-1)*h + below
	}
	if whole > sim.limit-start {
		sim.now = start
		sim.spent = spent
		sim.restUntil(sim.limit)
		return true
	}
	rest := whole - above - below
	sim.spent = spent.plus(aboveSpent.times(k))
	sim.spent.Handovers += (k - 1) * h
	if final {
		sim.spent = sim.spent.plus(belowSpent)
	}
	sim.now = start + whole
	sim.spent.Rest += max(0, whole-sim.spent.minus(spent).Total()) // waiting for the tag
	sim.restTaken += max(0, rest)
	return false
}

// addHeats adds the time that the room needs beyond one heat's own where a class starts in heats.
func (sim *simulation) addHeats(g *model.Group, took float64) {
	h := g.Heats
	if h == nil {
		return
	}
	size, ok := sim.value(h.Size, 0, 1)
	if !ok || size < 1 || sim.class <= 0 {
		sim.reportMissing(h.At, "nobody knows how many heats there are", "add a line to the house, such as class 16")
		return
	}
	more := math.Ceil(float64(sim.class)/size) - 1
	if every, ok := sim.value(h.Every, 0, 1); ok {
		sim.heatsExtra += more * every
		return
	}
	sim.heatsExtra += more * (took + sim.athlete.change)
}

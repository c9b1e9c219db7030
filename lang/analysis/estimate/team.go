package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/model"
)

// How the people of a team do what stands under its head, by the rules of spec/estimates.md, section 4.

// performShared performs n units of a line as the people of a team share it. The cost is that of the
// body at work.
func (sim *simulation) performShared(line *model.Work, n float64, costOf func() (unitCost, bool)) (cut bool) {
	k, share := sim.team.size, line.Share
	perform := func(n float64) bool {
		c, ok := costOf()
		if !ok {
			return false
		}
		if line.Unbroken && n > c.unbroken+epsilon && n < maxAmount {
			sim.reportMissing(line.At, "at some standing nobody does so many unbroken", "let it be broken up, or ask for fewer")
		}
		c.again = costOf
		if c.unit == "s" && sim.body().byClock { // back to back, the text gives the clock its length
			n = max(0, n-sim.leadOf(&c).Changes)
		}
		return sim.performUnits(&c, n)
	}
	switch {
	case k <= 1 || sim.team.inTurn:
		return perform(n)
	case share == model.Together || share == "" && !sim.team.solo:
		return sim.performTogether(func() bool { return perform(n) })
	case share == "":
		return sim.performInTurn(func() bool { return perform(n) })
	case sim.team.solo:
		return sim.performSplit(n, share == model.SplitEvenly, costOf)
	}
	c, ok := costOf()
	if !ok {
		return false
	}
	if share == model.SplitEvenly || c.moving == 0 || c.rest != nil || len(sim.triggers) > 0 {
		return sim.performTogether(func() bool { return perform(n / float64(k)) }) || sim.handOver()
	}
	return sim.performPooled(n, costOf) || sim.handOver()
}

// handOver takes the time of one handover.
func (sim *simulation) handOver() (cut bool) {
	h := sim.teamHandover()
	if h > sim.limit-sim.now {
		sim.restUntil(sim.limit)
		return true
	}
	sim.now += h
	sim.spent.Handovers += h
	return false
}

// takeover is the handover that a member's turn starts with, in s.
func (sim *simulation) takeover(member int) float64 {
	if sim.before == nobody || sim.before == member {
		return 0
	}
	return sim.teamHandover()
}

// performAlone performs one member's turn.
func (sim *simulation) performAlone(member int, turn func() bool) (cut bool) {
	was := sim.team.inTurn
	sim.who, sim.team.inTurn, sim.handover = member, true, sim.takeover(member)
	cut = turn()
	sim.team.inTurn, sim.handover, sim.before = was, 0, member
	return cut
}

// performInTurn performs a turn of each member, one after the other.
func (sim *simulation) performInTurn(turn func() bool) (cut bool) {
	more := sim.moreToCome
	defer func() { sim.moreToCome = more }()
	for i := range sim.team.size {
		sim.moreToCome = more || i+1 < sim.team.size
		if sim.performAlone(i, turn) {
			return true
		}
	}
	return false
}

// aside performs work of a body whose time the team does not wait for, and keeps nothing but the body.
func (sim *simulation) aside(member int, perform func() bool) {
	before, logging, steps := sim.snapshot(), sim.logging, sim.stepsRemaining
	sim.logging, sim.triggers, sim.who = false, nil, member
	perform()
	b := sim.bodies[member]
	sim.rollBack(before)
	sim.logging, sim.stepsRemaining = logging, steps
	sim.bodies[member] = b
}

// performTogether performs work that everybody does all of, and that is over when the slowest is done:
// the last member, who stands where the slowest of such a team does.
func (sim *simulation) performTogether(perform func() bool) (cut bool) {
	was := sim.team.inTurn
	sim.team.inTurn = true
	last := len(sim.bodies) - 1
	for i := range last {
		sim.aside(i, perform)
	}
	own := sim.bodies[last].person
	sim.who = last
	sim.bodies[last].person = sim.figures.person(zOfSlowest(sim.athlete.z, float64(sim.team.size)))
	cut = perform()
	sim.bodies[last].person = own
	for i := range sim.bodies {
		sim.bodies[i].free = min(sim.bodies[i].free, sim.now)
	}
	sim.team.inTurn, sim.before = was, nobody
	return cut
}

// performSplit performs units that the members take turns at: each an unbroken run, or, evenly, until
// everybody has done the same.
func (sim *simulation) performSplit(n float64, evenly bool, costOf func() (unitCost, bool)) (cut bool) {
	k := sim.team.size
	share, left := n/float64(k), n
	done := make([]float64, k)
	for i := 0; left > epsilon && !cut; i = (i + 1) % k {
		sim.who = i
		c, ok := costOf()
		if !ok {
			return false
		}
		some := min(sim.figures.turnAt(&c), share, left)
		if evenly {
			if some = min(some, share-done[i]); some <= epsilon {
				continue
			}
		}
		c.neverBroken, c.setSize, c.rest, c.again = true, 0, nil, costOf
		cut = sim.performAlone(i, func() bool { return sim.performUnits(&c, some) })
		done[i] += some
		left -= some
	}
	return cut
}

// turnAt is how many units of a line that is split somebody does at a time.
func (f *Figures) turnAt(c *unitCost) float64 {
	switch {
	case c.setSize > 0:
		return c.setSize
	case c.moving == 0:
		return math.Inf(1)
	case !math.IsInf(c.unbroken, 1):
		return c.unbroken
	}
	return f.LongestTurn / c.moving
}

// performPooled performs units that everybody does at once until the counts of all add up.
func (sim *simulation) performPooled(n float64, costOf func() (unitCost, bool)) (cut bool) {
	k := len(sim.bodies)
	costs, leads := make([]unitCost, k), make([]Spent, k)
	start := sim.now
	for i := range k {
		sim.who = i
		c, ok := costOf()
		if !ok {
			return false
		}
		sim.recover()
		c.wholeUnits = false
		costs[i], leads[i] = c, sim.leadOf(&c)
	}
	each := make([]float64, k)
	by := func(t float64) (sum float64) { // what is done in so many seconds
		for i := range k {
			sim.who, sim.now = i, start+leads[i].Total()
			each[i] = sim.amountWithin(&costs[i], n, t-leads[i].Total())
			sum += each[i]
		}
		sim.now = start
		return sum
	}
	room := min(sim.limit-start, maxAmount)
	took := room
	if cut = by(room) < n-epsilon; !cut {
		low := 0.0
		for range 45 {
			if mid := (low + took) / 2; by(mid) < n {
				low = mid
			} else {
				took = mid
			}
		}
		by(took)
	}
	spent, logging, sum := sim.spent, sim.logging, 0.0
	sim.logging = false
	for i := k - 1; i >= 0; i-- {
		sim.who, sim.now, sim.spent = i, start+leads[i].Total(), spent.plus(leads[i])
		sim.bodies[i].movement = costs[i].name
		sim.advance(&costs[i], each[i])
		b := &sim.bodies[i]
		if b.free = start + took; costs[i].pattern >= 0 {
			b.unbroken[costs[i].pattern].since = b.free // also of who had not come to it by then
		}
		sum += each[i]
	}
	sim.spent.Rest += max(0, took-sim.spent.minus(spent).Total())
	sim.now, sim.before, sim.logging = start+took, nobody, logging
	sim.logWork(&costs[0], sum, sim.spent.minus(spent))
	return cut
}

// runOf is how many steps at the front of a list are one member's turn: plain lines, of which none is
// shared, holds and stated times too. It is 0 where nobody takes turns.
func (sim *simulation) runOf(steps []model.Step) int {
	if sim.team.size <= 1 || !sim.team.solo || sim.team.inTurn {
		return 0
	}
	for i, s := range steps {
		if !plain(s) {
			return i
		}
	}
	return len(steps)
}

// oneRun says whether all the steps of a list are one turn, so that each member's may be counted.
func (sim *simulation) oneRun(steps []model.Step) bool {
	if sim.team.size <= 1 || !sim.team.solo || sim.team.inTurn {
		return false
	}
	work := false
	for _, s := range steps {
		r, rest := s.(*model.Rest)
		if rest && r.Place != model.RestHere && r.Place != "" {
			continue // between the turns
		}
		if !plain(s) {
			return false
		}
		work = true
	}
	return work
}

// plain says whether a step is work that everybody does alone: a line without a word of sharing, or a
// label or a round of such lines.
func plain(s model.Step) bool {
	switch s := s.(type) {
	case *model.Work:
		return s.Share == ""
	case *model.Group:
		return (s.Kind == model.Label || s.Kind == model.RoundOf) && !slices.ContainsFunc(s.Steps, func(s model.Step) bool { return !plain(s) })
	}
	return false
}

// dealsOut says whether the turns of a group are dealt out among a team of which one works.
func (sim *simulation) dealsOut(g *model.Group) bool {
	return g.Share != "" && sim.team.size > 1 && sim.team.solo && !sim.team.inTurn
}

// reportIdle says who of a team never works.
func (sim *simulation) reportIdle(g *model.Group) {
	if g.People == nil || !sim.team.solo || sim.athlete.z != 0 || sim.team.size < 2 {
		return
	}
	idle := 0
	for i := range sim.bodies {
		if !sim.bodies[i].worked {
			idle++
		}
	}
	why, at := "the time is up before their turn", "at the typical pace "
	if math.IsInf(sim.limit, 1) {
		why, at = "there are fewer turns than people", ""
		if sim.openRecords[len(sim.openRecords)-1].unproven { // of what is not known there may be more
			return
		}
	}
	switch k := sim.team.size; {
	case idle == k || idle == 0:
	case idle == 1:
		sim.addNote(g.People.At, at, "the last of each ", num(float64(k)), " never works: ", why)
	default:
		sim.addNote(g.People.At, at, num(float64(idle)), " of each ", num(float64(k)), " never work: ", why)
	}
}

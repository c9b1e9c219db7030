package estimate

import (
	"math"

	"stint.example/stint/lang/model"
)

// workTime is how much of the part's time so far was no rest, in s.
func (sim *simulation) workTime() float64 { return sim.now - sim.spent.Rest }

// performRest takes a rest, written in one of so many turns. Since is the workTime at which the work
// began that a rest in times of work is a multiple of.
func (sim *simulation) performRest(r *model.Rest, turn, turns int, since float64) (cut bool) {
	if r.Bound != "" {
		return false // it asks for a rest, and adds none
	}
	defer func() { sim.workMark = sim.workTime() }()
	if r.Until != nil {
		return sim.performRestUntil(r, turn, turns)
	}
	var s float64 // how long it is
	switch {
	case r.Needed:
		add := "write how long, such as rest 2:00"
		if math.IsInf(sim.limit, 1) && sim.clockDepth == 0 { // nothing bounds it yet
			add += ", or lasts 15:00 on the head"
		}
		sim.reportMissing(r.At, "rest as needed has no length", add)
		return false
	case r.AsLongAsItTakes():
		sim.reportMissing(r.At, "nobody knows how long this rest is", "write how long, such as rest 0:30: walk, or how much is done in it, such as rest: 100 m walk")
		return false
	case r.Work != nil:
		n, ok := sim.value(r.Work, 0, 1)
		if !ok {
			return false
		}
		s = min(maxAmount, n*max(0, sim.workTime()-since))
	case r.Amount != nil:
		v, ok := sim.value(r.Amount, turn, turns)
		if !ok && len(r.Amount.Terms) > 0 && turns == 0 { // over turns that nobody can count
			row := r.Amount.Terms[len(r.Amount.Terms)-1]
			v, ok = min(maxAmount, max(0, row[min(sim.tier, len(row)-1)])), true
		}
		if !ok {
			sim.reportMissing(r.At, "this rest has no number for every turn", "")
			return false
		}
		s = v
	case len(r.Steps) > 0: // as long as what is done in it takes
		before := sim.snapshot()
		sim.triggers = nil // no event drops into a rest
		cut := sim.performSteps(r.Steps)
		s = sim.now - before.now
		sim.rollBack(before)
		if cut {
			sim.restUntil(sim.limit)
			return true
		}
	}
	if r.Amount.OrMore() || r.Work.OrMore() {
		sim.reportMissing(r.At, "more rest than this may be taken", "")
	}
	return sim.restFor(s)
}

// performRestUntil takes a rest that ends when something comes, within the length that it may have.
func (sim *simulation) performRestUntil(r *model.Rest, turn, turns int) (cut bool) {
	s, bounded := sim.value(r.Amount, turn, turns)
	if r.Until.Clock != nil {
		v, _ := sim.value(r.Until.Clock, 0, 1)
		left := max(0, sim.clockZero+v-sim.now)
		switch {
		case bounded && r.Amount.OrMore():
			left = max(left, s)
		case bounded && left > 0:
			left = min(left, s)
		}
		return sim.restFor(left)
	}
	if !bounded || r.Amount.OrMore() {
		sim.reportMissing(r.Until.At, "nobody knows when this rest ends", "write at most how long, such as rest at most 2:00 "+r.Until.At.Text())
	}
	return sim.restFor(s)
}

// A restPlan says which rests stand between the turns of which group. It is the same for every
// athlete.
type restPlan struct {
	between map[*model.Group][]*model.Rest
}

func restPlanOf(parts []*model.Group) *restPlan {
	p := &restPlan{between: map[*model.Group][]*model.Rest{}}
	for _, g := range parts {
		model.Walk(g, model.InsideEvents, func(s model.Step, around []*model.Group) bool {
			if r, ok := s.(*model.Rest); ok && r.Bound == "" {
				switch of := r.Between(around); r.Place {
				case model.RestBetweenTurns:
					p.between[of] = append(p.between[of], r)
				default: // taken where it stands, or only asked for
				}
			}
			return true
		})
	}
	return p
}

// restBetweenTurns takes the rests between a turn (from 0) and the next, of so many.
func (sim *simulation) restBetweenTurns(g *model.Group, turn, turns int, since float64) (cut bool) {
	return sim.restBetween(g, false, turn, turns, since)
}

// restBetweenSlots takes the rests between a slot, or station, (from 0) and the next, of so many.
func (sim *simulation) restBetweenSlots(g *model.Group, slot, slots int) (cut bool) {
	return sim.restBetween(g, true, slot, slots, sim.workMark)
}

func (sim *simulation) restBetween(g *model.Group, betweenSlots bool, turn, turns int, since float64) (cut bool) {
	for _, r := range sim.plan.between[g] {
		if r.BetweenSlots() == betweenSlots && sim.performRest(r, turn, max(0, turns-1), since) {
			return true
		}
	}
	return false
}

// restAfterTurns takes the rests of a group inside a part that stand behind all its turns.
func (sim *simulation) restAfterTurns(g *model.Group, since float64) (cut bool) {
	if len(sim.openRecords) <= 1 || g.Kind == model.Label {
		return false // a part's own stand between it and the next; those under a label belong to the group around it
	}
	for s := range model.Flat(g.Steps) {
		if r, ok := s.(*model.Rest); ok && r.Place == model.RestAfterPart && sim.performRest(r, 0, 1, since) {
			return true
		}
	}
	return false
}

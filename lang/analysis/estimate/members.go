package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/model"
)

// A team is how the people of a part are divided.
type team struct {
	size   int  // people, 1 where nobody works together
	solo   bool // one works at a time
	inTurn bool // the work at hand is one person's turn
	busy   bool // those who do not work do something else meanwhile, and do not recover
	onward bool // behind a tag the next goes on where the last one stopped
}

// formTeam divides people as the head of a group says.
func (sim *simulation) formTeam(g *model.Group) {
	if p := g.People; p != nil {
		size := sizeOf(sim.value(p.Size, 0, 1))
		sim.team = team{size: size, solo: sim.team.solo, busy: sim.team.busy, onward: sim.team.onward}
		sim.divide(size)
	}
	sim.team.solo = sim.team.solo || g.Solo
	sim.team.onward = sim.team.onward || g.CarryOn
	sim.team.busy = sim.team.busy || slices.ContainsFunc(g.Events, func(e *model.Event) bool {
		return e.Kind == model.Meanwhile && !handsOn(e)
	})
}

// teamOf is how many people work together in a part, 1 where everybody works for themselves.
func teamOf(g *model.Group) int {
	size := 1
	model.Walk(g, 0, func(s model.Step, _ []*model.Group) bool {
		if g, ok := s.(*model.Group); ok && g.People != nil && size == 1 {
			size = sizeOf(g.People.Size.One())
		}
		return size == 1
	})
	return size
}

// sizeOf is the size of a team that is said to be so large; pairs say nothing.
func sizeOf(v float64, said bool) int {
	if !said {
		return 2
	}
	return int(max(1, min(v, mostPeople)))
}

// mostPeople bounds a team, so that a slip of the keyboard ends in a number.
const mostPeople = 100

// divide puts so many people in the place of those who work now. They start as the same people did
// before, or else as the one who was free last.
func (sim *simulation) divide(size int) {
	from, worked := sim.bodies, slices.ContainsFunc(sim.bodies, func(b body) bool { return b.worked })
	if !worked && len(sim.inherited) > 0 {
		from = sim.inherited
	}
	sim.bodies = make([]body, size)
	for i, z := range members(size, sim.athlete.z) {
		switch {
		case len(from) == 0:
			sim.bodies[i] = newBody(person{})
		case len(from) == size:
			sim.bodies[i] = from[i]
		default:
			sim.bodies[i] = lastFree(from)
		}
		sim.bodies[i].person = sim.figures.person(z)
	}
	sim.who, sim.before, sim.handover = 0, nobody, 0
}

// members are the z of the people of a team, the quickest first, whose team is at z among teams. They
// are what so many independent draws are, given their sum: about its mean, z/√k, they spread by
// (k − 1)/k of the variance of people.
func members(k int, z float64) []float64 {
	out := make([]float64, k)
	if k == 1 {
		out[0] = z
		return out
	}
	square := 0.0
	for i := range out {
		out[i] = zScore((float64(i) + 0.5) / float64(k))
		square += out[i] * out[i] / float64(k)
	}
	spread := math.Sqrt(float64(k-1) / float64(k) / square)
	for i := range out {
		out[i] = held(zOfAverage(z, float64(k)) + spread*out[i])
	}
	return out
}

// teamHandover is how long the team takes to hand over, in s: as its average member does.
func (sim *simulation) teamHandover() float64 {
	return levelAt(sim.figures.Handover, held(zOfAverage(sim.athlete.z, float64(sim.team.size))))
}

// handsOn says whether what is done meanwhile hands on when it is done, and so says how long a turn is.
func handsOn(e *model.Event) bool { return slices.ContainsFunc(e.Steps, model.IsTag) }

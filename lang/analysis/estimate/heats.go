package estimate

import (
	"math"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// Heats are how the people of a part, or its teams, start one after the other. What is shown of
// the part is of the last heat: its start, and when those in it are done.
type Heats struct {
	Starts []float64 // s since the part began, by heat
	Sizes  []int     // people, or teams
	spaced bool      // the text says how far apart they start
}

// LastStart is when the last heat of a part starts, in s since the part began; 0 without heats.
func (p *PartTime) LastStart() float64 {
	if p.Heats == nil {
		return 0
	}
	return p.Heats.Starts[len(p.Heats.Starts)-1]
}

// heatsOf are the heats that a part is started in, of whom a slow one takes so long, in s; nil where all
// start at once, or nobody knows how many there are.
func (t *Timeline) heatsOf(p *PartTime, took float64) *Heats {
	h := p.Group.Heats
	size, every, ok := heatSize(h, p.Tier)
	if !ok || t.Class <= 0 {
		return nil
	}
	if every == 0 {
		every = took + t.Figures.Change.Slow
	}
	out := &Heats{spaced: h.Every != nil}
	for left, start := teams(t.Class, p.Team), 0.0; left > 0; left, start = left-size, start+every {
		out.Starts = append(out.Starts, start)
		out.Sizes = append(out.Sizes, min(size, left))
	}
	return out
}

// heatSize is how many start in a heat, and how long after the one before, in s; 0 where nothing says.
func heatSize(h *model.People, tier int) (size int, every float64, ok bool) {
	if h == nil {
		return 0, 0, false
	}
	_, n, ok := h.Size.Value(0, 1, tier)
	if h.Every != nil {
		_, every, _ = h.Every.Value(0, 1, tier)
	}
	return int(n), max(0, every), ok && n >= 1
}

// teams is how many teams of a size hold so many people, the last perhaps smaller.
func teams(people, size int) int { return (people + size - 1) / size }

// sameHeats says whether a part starts in the same heats as the one before it, so that each heat's rest
// is to its own start.
func sameHeats(a, b *model.Group) bool {
	size, every, ok := heatSize(a.Heats, 0)
	size2, every2, ok2 := heatSize(b.Heats, 0)
	return ok && ok2 && size == size2 && every > 0 && units.Same(every, every2)
}

// lastHeat is when the last heat of a part starts, in s since the part began, as far as the next part
// has to wait for it.
func (p *PartTime) lastHeat(next *model.Group) float64 {
	if sameHeats(p.Group, next) {
		return 0
	}
	return p.LastStart()
}

// shareOfHeats is a share of the class, by what is the share of those who have so many s from their own
// start to a limit, in s since the part began. Everybody starts at once without heats.
func (p *PartTime) shareOfHeats(limit float64, share func(within float64) float64) float64 {
	if p.Heats == nil {
		return share(limit)
	}
	sum, n := 0.0, 0.0
	for i, start := range p.Heats.Starts {
		size := float64(p.Heats.Sizes[i])
		n += size
		switch v := share(limit - start); {
		case v >= Slowest-epsilon:
			sum += size
		case v > Quickest+epsilon:
			sum += size * v
		}
	}
	return math.Min(Slowest, math.Max(Quickest, sum/n))
}

// reportHeats says what is missing where a head inside a part, or one of a class that nobody has
// counted, divides people into heats, and adds the time that the room needs for those.
func (sim *simulation) reportHeats(g *model.Group, took float64) {
	size, every, ok := heatSize(g.Heats, sim.tier)
	switch {
	case g.Heats == nil:
	case !ok || sim.class <= 0:
		sim.reportMissing(g.Heats.At, "nobody knows how many heats there are", "add a line to the house, such as class 16")
	case len(sim.openRecords) == 1: // the part's own, which its figures are of
	default:
		if every == 0 {
			every = took + sim.athlete.change
		}
		sim.heatsExtra += float64(teams(teams(sim.class, sim.team.size), size)-1) * every
	}
}

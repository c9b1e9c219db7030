package estimate

import (
	"math"

	"stint.example/stint/lang/model"
)

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

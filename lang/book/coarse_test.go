package book

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The patterns are a pure coarsening onto the five of the American Council on Exercise
// (bend and lift, single leg, push, pull, rotation): what a movement trains decides alone
// which of them it belongs to, and every built-in movement that trains anything is of
// patterns in the list, so of one of the five or plainly of none. The table is written out
// again here, so that nothing moves unseen.
func TestEveryMovementCoarsens(t *testing.T) {
	five := map[string][]Pattern{
		"bend and lift": {Squat, Hinge}, "single leg": {Lunge}, "push": {HorizontalPush, VerticalPush},
		"pull": {HorizontalPull, VerticalPull}, "rotation": {Rotation},
		"": {Carry, Trunk, Jump, Run, Row, Bike, Ski, Swim, Crawl, Mobility},
	}
	of := map[Pattern]string{}
	for coarse, ps := range five {
		for _, p := range ps {
			of[p] = coarse
		}
	}
	assert.Len(t, of, len(Patterns))
	for _, p := range Patterns {
		coarse, ok := of[p]
		assert.True(t, ok, p)
		assert.Equal(t, coarse, p.Coarse(), p)
	}
	movements := Builtin().Movements()
	assert.Greater(t, len(movements), 300)
	for _, m := range movements {
		for _, p := range m.Trains {
			assert.True(t, slices.Contains(Patterns, p), "%s: %s", m.Name, p)
			assert.Equal(t, of[p], p.Coarse(), m.Name)
		}
	}
}

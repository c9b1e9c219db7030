package book

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Mobility is of no joint by itself, so that each of its movements says which it moves.
func TestMobilitySaysWhatItMoves(t *testing.T) {
	still := []string{"belly breathing", "box breathing", "foam roll"}
	for _, m := range Builtin().Movements() {
		if slices.Contains(m.Trains, Mobility) {
			assert.NotNil(t, m.Joints, "%s does not say what it moves", m.Name)
			assert.Equal(t, slices.Contains(still, m.Name), len(m.Moves()) == 0, m.Name)
		}
		assert.Len(t, slices.Compact(slices.Sorted(slices.Values(m.Joints))), len(m.Joints), "%s says a joint twice", m.Name)
	}
}

// Each joint is one that some pattern works, and can be moved with no kit.
func TestEveryPatternWorksJoints(t *testing.T) {
	for _, p := range Patterns {
		assert.Equal(t, p == Mobility, len(p.Joints()) == 0, p)
		for _, j := range p.Joints() {
			assert.Contains(t, Joints, j, p)
		}
	}
	assert.Len(t, jointsOf, len(Patterns)-1)
	for _, j := range Joints {
		assert.True(t, slices.ContainsFunc(Builtin().Movements(), func(m *Movement) bool {
			return len(m.Needs) == 0 && slices.Contains(m.Moves(), j)
		}), j)
	}
}

func TestMoves(t *testing.T) {
	for name, want := range map[string][]Joint{
		"thruster":        {Ankle, Knee, Hip, Shoulder, Elbow}, // of two patterns, each once
		"windmill":        {Hip, Spine, Shoulder},              // and of its own
		"arm circle":      {Shoulder},
		"belly breathing": nil,
		"judge":           nil,
	} {
		m, _ := Builtin().Lookup(name)
		require.NotNil(t, m, name)
		assert.Equal(t, want, m.Moves(), name)
	}
	ms, ds := read(t, "movement a\n  trains mobility\n  moves Hip, sholder, spine\n\nmovement b\n  trains mobility\n  moves nothing\n\nmovement c\n  moves nothing, hip\n")
	assert.Equal(t, []string{`word-unknown: "sholder" is no joint`, `word-unknown: "nothing" is no joint`}, ds)
	assert.Equal(t, []Joint{Hip, Spine}, ms[0].Moves())
	assert.Equal(t, []Joint{}, ms[1].Joints)
}

// A workspace's own entry keeps what the book says a movement moves, unless it says otherwise.
func TestOwnMovementsMove(t *testing.T) {
	ms, _ := read(t, "movement arm circle\n  pace 1 / 2 / 3 s per rep > no source\n\nmovement leg swing\n  moves nothing\n\nmovement cobra\n  moves hip\n")
	b, _ := Builtin().With(ms)
	for name, want := range map[string][]Joint{"arm circle": {Shoulder}, "leg swing": nil, "cobra": {Hip}} {
		m, _ := b.Lookup(name)
		assert.Equal(t, want, m.Moves(), name)
	}
}

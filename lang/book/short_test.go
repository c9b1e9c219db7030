package book

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Kit in short before a movement is a rule, not a name of each.
func TestLookupSpellsKitOut(t *testing.T) {
	b := Builtin()
	for name, want := range map[string]string{
		"DB press":             "dumbbell press",
		"DB thrusters":         "dumbbell thruster",
		"KB swing":             "kettlebell swing",
		"kb front squat":       "kettlebell front squat",
		"single-arm DB snatch": "dumbbell snatch",
		"BB back squat":        "back squat",
		"BB thruster":          "thruster",
		"KB goblet squat":      "goblet squat",
		"KB burpee":            "",
	} {
		m, _ := b.Lookup(name)
		got := ""
		if m != nil {
			got = m.Name
		}
		assert.Equal(t, want, got, name)
	}
	for _, m := range b.Movements() {
		for _, a := range m.Also {
			long, kit, short := spelledOut(a)
			called := func(name string) bool { return name != "" && (name == m.Name || slices.Contains(m.Also, name)) }
			assert.False(t, called(long) || called(short) && slices.Contains(m.Needs, kit), "%s is called %s by the rule", m.Name, a)
		}
	}
}

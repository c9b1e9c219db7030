package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// nested is a part with a rest that holds a jog and an event that holds a plank.
func nested() (part *Group, lines map[string]*Work) {
	line := func(name string) *Work { return &Work{Moves: []Move{{Name: name}}} }
	lines = map[string]*Work{"squat": line("squat"), "jog": line("jog"), "plank": line("plank")}
	rounds := &Group{Kind: Plain, Steps: []Step{lines["squat"], &Rest{Steps: []Step{lines["jog"]}}},
		Events: []*Event{{Kind: AtEachBreak, Steps: []Step{lines["plank"]}}}}
	return &Group{Kind: Part, Steps: []Step{rounds, &Tag{}}}, lines
}

func TestLinesGoIntoWhatIsAskedFor(t *testing.T) {
	part, _ := nested()
	for inside, want := range map[Inside][]string{
		OnlySteps:    {"squat"},
		InsideEvents: {"squat", "plank"},
		InsideRests:  {"squat", "jog"},
		Everything:   {"squat", "jog", "plank"},
	} {
		var got []string
		for w, around := range part.Lines(inside) {
			got = append(got, w.Moves[0].Name)
			assert.Len(t, around, 2, "the part and the rounds are around %s", w.Moves[0].Name)
		}
		assert.Equal(t, want, got)
	}
}

func TestWalkPassesOverWhatIsRefused(t *testing.T) {
	part, _ := nested()
	n := 0
	Walk(part, Everything, func(s Step, around []*Group) bool { n++; return len(around) == 0 })
	assert.Equal(t, 3, n, "the part, its rounds and its tag")
}

func TestLinesStop(t *testing.T) {
	part, lines := nested()
	s := &Session{Parts: []*Group{part, part}}
	for w := range s.Lines(Everything) {
		assert.Same(t, lines["squat"], w)
		break
	}
}

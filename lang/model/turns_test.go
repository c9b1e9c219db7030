package model

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/syntax"
)

func TestFlatReadsThroughLabels(t *testing.T) {
	a, b, c := &Work{}, &Rest{}, &Work{}
	rounds := &Group{Kind: Plain, Steps: []Step{c}}
	steps := []Step{&Group{Kind: Label, Steps: []Step{a, &Group{Kind: Label, Steps: []Step{b}}}}, rounds}
	assert.Equal(t, []Step{a, b, rounds}, slices.Collect(Flat(steps)))
	for s := range Flat(steps) {
		assert.Same(t, a, s)
		break
	}
	assert.Equal(t, []Step{steps[0], rounds}, WorkSteps(append(steps, b)))
}

func TestARestStandsBetweenTheTurnsThatItNames(t *testing.T) {
	part := &Group{Kind: Part, Repeat: Repeat{Kind: Rounds}}
	stations := &Group{Kind: Plain, Repeat: Repeat{Kind: On}, Steps: []Step{&Group{Kind: Station}}}
	ladder := &Group{Kind: Plain, Repeat: Repeat{Kind: Ladder}}
	label := &Group{Kind: Label, Repeat: Repeat{Kind: Once}}
	around := []*Group{part, stations, ladder, label}
	for of, want := range map[Turns]*Group{
		NearestTurns: ladder, OfRounds: stations, OfRungs: ladder, OfStations: stations, OfSlots: stations,
		OfParts: ladder, // nothing here has such turns
	} {
		assert.Same(t, want, (&Rest{Of: of}).Between(around), "between %s", of)
	}
	assert.Same(t, label, (&Rest{}).Between([]*Group{label}))
	assert.Nil(t, (&Rest{}).Between(nil))
}

func TestWhatIsDoneOverAndOverInAWindow(t *testing.T) {
	reps := &Quantity{Unit: "rep", Form: syntax.One, Terms: [][]float64{{10}}}
	counted, most := &Work{From: FromLine, Dose: reps}, &Work{Dose: &Quantity{Unit: "rep", Max: true}}
	for _, c := range []struct {
		why   string
		steps []Step
		want  bool
	}{
		{"a counted line", []Step{counted, &Rest{}}, true},
		{"a counted line under a label", []Step{&Group{Kind: Label, Steps: []Step{counted}}}, true},
		{"a head of its own", []Step{&Group{Kind: Plain}}, true},
		{"as much as possible", []Step{counted, most}, false},
		{"as much as possible, and then more", []Step{most, counted}, true},
		{"a line without a dose", []Step{counted, &Work{From: FromClock}}, false},
		{"a line without a dose that says its end", []Step{&Work{From: FromClock, Until: &End{}}}, true},
	} {
		held := &Group{Steps: c.steps}
		amrap := &Group{Repeat: Repeat{Kind: On}, Mode: AMRAP}
		assert.Equal(t, c.want, amrap.RepeatsInWindow(held), c.why)
		assert.False(t, (&Group{Repeat: Repeat{Kind: On}}).RepeatsInWindow(held), c.why)
		assert.False(t, (&Group{Repeat: Repeat{Kind: Every}, Mode: AMRAP}).RepeatsInWindow(held), c.why)
	}
}

func TestTheLongestRestThatIsAskedFor(t *testing.T) {
	asks := func(place RestPlace, bound Bound, tiers ...float64) *Rest {
		return &Rest{Place: place, Bound: bound, Amount: &Quantity{Unit: "s", Form: syntax.One, Terms: [][]float64{tiers}}}
	}
	rests := []*Rest{asks(RestAfterPart, AtLeast, 60, 120), asks(RestAfterPart, AtLeast, 90), asks(RestAfterPart, AtMost, 300),
		asks(RestInInterval, AtLeast, 20), {Place: RestAfterPart, Bound: AtLeast}}
	by, s := LongestAsked(rests, RestAfterPart, 0)
	assert.Same(t, rests[1], by)
	assert.Equal(t, 90.0, s)
	by, s = LongestAsked(rests, RestAfterPart, 1)
	assert.Same(t, rests[0], by)
	assert.Equal(t, 120.0, s)
	by, s = LongestAsked(rests, RestBetweenParts, 0)
	assert.Nil(t, by)
	assert.Zero(t, s)
}

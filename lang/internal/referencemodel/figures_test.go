package referencemodel

import (
	"fmt"
	"maps"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// first has the figures that the model began with, before breaks were made longer.
var first = House{
	Change:   Three{5, 8, 12},
	Break:    Three{6, 10, 15},
	Handover: Three{2, 3, 5},
}

// firstBook has the movements whose figures have changed since as they were.
var firstBook = func() map[string]Movement {
	book := maps.Clone(Book)
	set := func(name string, pace, unbroken Three) {
		m := book[name]
		m.Pace, m.Unbroken = pace, unbroken
		book[name] = m
	}
	set("burpee", Three{2.6, 3.4, 5.0}, Three{18, 10, 6})
	set("thruster", Three{2.1, 2.8, 3.7}, Three{18, 9, 5})
	set("strict pull-up", Three{2.0, 2.8, 4.0}, Three{8, 4, 2})
	set("swinging pull-up", Three{1.3, 1.7, 2.4}, Three{16, 7, 3})
	return book
}()

// do is a line of the book, and old one with the first figures.
func do(name string, count float64) Work  { return Work{Move: lookUp(Book, name), Count: count} }
func old(name string, count float64) Work { return Work{Move: lookUp(firstBook, name), Count: count} }

func lookUp(book map[string]Movement, name string) Movement {
	m, ok := book[name]
	if !ok {
		panic("the book of the tests has no " + name)
	}
	return m
}

func (w Work) shared(s Sharing) Work {
	w.Sharing = s
	return w
}

func rounds(n int, steps ...Step) Group { return Group{Rounds: n, Steps: steps} }

func dealt(n int, steps ...Step) Group { return Group{Rounds: n, Steps: steps, Dealt: true} }

func free(steps ...Step) Part { return Part{Steps: steps} }

// clock prints seconds as they are shown: rounded half up.
func clock(seconds float64) string {
	n := int(math.Floor(seconds + 0.5 + small))
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}

// levels is a figure at the three levels, as it is shown.
func levels(f func(z float64) string) string {
	return f(Fast) + " / " + f(Typical) + " / " + f(Slow)
}

func times(h House, p Part) string {
	return levels(func(z float64) string { return clock(h.Walk(p, z).Time) })
}

// percent is a share as it is shown.
func percent(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }

func TestFiguresAtAStanding(t *testing.T) {
	burpee := firstBook["burpee"].Pace
	for q, want := range map[float64]float64{
		0.02: 2.21, 0.05: 2.41, 0.10: 2.60, 0.25: 2.95, 0.50: 3.40, 0.75: 4.17, 0.90: 5.00, 0.95: 5.58, 0.98: 6.31, 0.999: 6.31,
	} {
		assert.InDelta(t, want, burpee.At(Z(q)), 0.005, "%v", q)
	}
	assert.InDelta(t, 0.958, Standing(Last(16)), 0.0005)
	assert.InDelta(t, 0.944, Standing(Last(12)), 0.0005)
}

func TestFactors(t *testing.T) {
	assert.InDelta(t, 1.12, Work{Effort: 0.85}.factor(), small)
	assert.InDelta(t, 1.32, Work{Effort: 0.40}.factor(), small, "below 60 % counts as 60 %")
	assert.InDelta(t, 1.15, Work{OfMax: 0.75}.factor(), small)
	assert.InDelta(t, 1.00, Work{OfMax: 0.50}.factor(), small)

	swing := do("kettlebell swing", 1)
	swing.Load = 1.5
	assert.InDelta(t, 1.88, swing.pace(Typical), 0.005)
	assert.InDelta(t, 8.2, swing.run(Typical), 0.05)

	squat := Work{Move: Book["back squat"], OfMax: 0.90, Straight: true}
	assert.InDelta(t, 30*(1/0.9-1), squat.run(Typical), small)
	squat.Straight = false
	assert.InDelta(t, 30*(1/0.9-1)/2, squat.run(Typical), small)
	squat.OfMax = 1
	assert.Equal(t, 1.0, squat.run(Slow), "nobody does less than one")
}

func TestDriftAndRest(t *testing.T) {
	assert.InDelta(t, 9.39, Drift(335.6), 0.005)
	assert.InDelta(t, 120, Drift(1200), small)
	assert.InDelta(t, 170, Drift(1450), small)
	assert.InDelta(t, 0.864, Keep(50.40), small)
	for rest, want := range map[float64]float64{0: 1, 30: 1, 105: 0.5, 180: 0, 600: 0} {
		assert.InDelta(t, want, Keep(rest), small, "%v", rest)
	}
	assert.Equal(t, 1000.0, rested(1000, 0))
	assert.Equal(t, 1200.0, rested(2000, 30))
	run := Standard.Walk(free(do("run", 5000)), Typical)
	assert.InDelta(t, 1.117, run.Time/(5000*0.29), 0.0005)
}

func TestRower(t *testing.T) {
	assert.InDelta(t, 179.2, Watts(125.0/500), 0.05)
	assert.InDelta(t, 3.93, CaloriePace(125.0/500), 0.005)
	for pace, want := range map[float64]float64{150: 103.704, 135: 142.255, 120: 202.546, 105: 302.343} {
		assert.InDelta(t, want, Watts(pace/500), 0.0005, "%v", pace)
	}
}

func TestMembers(t *testing.T) {
	for k, want := range map[int][]float64{
		1: {0},
		2: {-0.7071, 0.7071},
		3: {-1, 0, 1},
		4: {-1.1803, -0.3269, 0.3269, 1.1803},
		5: {-1.309, -0.536, 0, 0.536, 1.309},
	} {
		assert.InDeltaSlice(t, want, Members(k, 0), 0.0005)
		for i, z := range Members(k, 1) {
			assert.InDelta(t, min(zMax, 1/math.Sqrt(float64(k))+want[i]), z, 0.0005)
		}
	}
}

func TestBreaks(t *testing.T) {
	assert.Equal(t, 13.0, Standard.breakAfter(3, Typical))
	assert.InDelta(t, 13*(0.5+2.0/6), Standard.breakAfter(2, Typical), small)
	assert.InDelta(t, 16*(0.5+1.0/6), Standard.breakAfter(1, Slow), small)
	assert.Equal(t, 10.0, first.breakAfter(1, Typical))
}

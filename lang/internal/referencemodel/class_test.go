package referencemodel

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestHeats(t *testing.T) {
	p := Part{Cap: 480, Steps: []Step{do("row", 500), do("burpee", 30)}}
	assert.Equal(t, "3:27 / 4:25 / 6:24", times(Standard, p))
	time := func(z float64) float64 { return Standard.Walk(p, z).Time }
	x := Heats{People: 16, Size: 6, Every: 540, Cap: 480}
	starts := x.Starts(Standard, time(Slow))
	assert.Equal(t, []float64{0, 540, 1080}, starts)
	assert.Equal(t, []int{6, 6, 4}, []int{x.SizeOf(0), x.SizeOf(1), x.SizeOf(2)})
	assert.Equal(t, "21:27 / 22:25 / 24:24", levels(func(z float64) string { return clock(x.Ends(starts, time(z))[2]) }))

	next, need := 24*60+30.0, 120.0
	assert.Equal(t, "1.9", fmt.Sprintf("%.1f", x.Short(time, starts, next, need)))
	band := func(f float64) string {
		return fmt.Sprintf("%.1f", x.Short(func(z float64) float64 { return f * time(z) }, starts, next, need))
	}
	assert.Equal(t, "1.3 to 2.6", band(0.9)+" to "+band(1.1))
	assert.InDelta(t, 0.475, Share(time, next-need-starts[2]), 0.003, "which was read from a table of 21 standings")
	assert.InDelta(t, 7.6, 16*Share(time, next-need-starts[2]), 0.05)

	x.Every = 0
	assert.InDelta(t, time(Slow)+12, x.Starts(Standard, time(Slow))[1], small)
	assert.InDelta(t, 480+12, x.Starts(Standard, 600)[1], small)
}

func TestQueue(t *testing.T) {
	steps := []Step{do("burpee", 10), do("row", 250), do("air squat", 15)}
	own := Standard.Walk(free(rounds(3, steps...)), Typical).Time
	q := Queue{
		People: 12, Pieces: 4, Visits: 3,
		Own:       own,
		Round:     (own + Standard.Change.At(Typical)) / 3,
		Visit:     Standard.Walk(free(do("row", 250)), Typical).Time,
		SlowVisit: Standard.Change.At(Slow) + Standard.Walk(free(do("row", 250)), Slow).Time,
	}
	assert.InDelta(t, 436.4, q.Own, 0.05)
	assert.InDelta(t, 148.1, q.Round, 0.05)
	assert.InDelta(t, 62.8, q.Visit, 0.05)
	assert.Equal(t, "8:37 9:40 10:43", fmt.Sprint(clock(q.Group(1)), " ", clock(q.Group(2)), " ", clock(q.Group(3))))
	least, most := q.Bounds()
	assert.Equal(t, "7:16 16:01", clock(least)+" "+clock(most))
	assert.Equal(t, Missed, Judge(least, most, 400))
	assert.Equal(t, NotProven, Judge(least, most, 600))
	assert.Equal(t, Met, Judge(least, most, 962))
}

func TestLeastTimesAreOneSided(t *testing.T) {
	assert.Equal(t, Missed, Judge(250, math.Inf(1), 240))
	assert.Equal(t, NotProven, Judge(250, math.Inf(1), 300))
	assert.Equal(t, Met, Judge(250, 250, 250), "what is equal is met")
}

func TestHardest(t *testing.T) {
	assert.Equal(t, 1, Hardest([]Tier{{Worst: 50}, {Worst: 60}}))
	assert.Equal(t, 1, Hardest([]Tier{{60, [3]float64{20, 15, 9}}, {60, [3]float64{18, 16, 8}}}), "fewest of the slow")
	assert.Equal(t, 1, Hardest([]Tier{{60, [3]float64{20, 15, 9}}, {60, [3]float64{22, 14, 9}}}), "then of the typical")
	assert.Equal(t, 0, Hardest([]Tier{{60, [3]float64{20, 15, 9}}, {60, [3]float64{20, 15, 9}}}), "then the first")
}

func TestAble(t *testing.T) {
	assert.InDelta(t, 4.8, Able(16, 0.30), small)
	assert.InDelta(t, 11, 16-Able(16, 0.30), 0.5, "about 11 need another version")
	assert.InDelta(t, 4.8, Able(16, 0.5, 0.3, 1), small)
	assert.Equal(t, 16.0, Able(16))
}

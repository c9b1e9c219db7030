package referencemodel

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

func pair(steps ...Step) Part  { return Part{Team: 2, OneWorks: true, Steps: steps} }
func three(steps ...Step) Part { return Part{Team: 3, OneWorks: true, Steps: steps} }

// teamTable has the pieces whose times are written down, each at three levels.
var teamTable = []struct {
	name, want string
	part       Part
}{
	{"in turn", "5:22 / 6:44 / 9:08", pair(rounds(3, do("burpee", 10), do("kettlebell swing", 10)))},
	{"dealt", "5:22 / 6:44 / 9:08", pair(dealt(6, do("burpee", 10), do("kettlebell swing", 10)))},
	{"ten dealt", "13:58 / 16:55 / 21:16", pair(dealt(10, do("row", 200), do("burpee", 10)))},
	{"split", "5:07 / 6:20 / 8:12", pair(do("burpee", 100).shared(Split))},
	{"split evenly", "5:17 / 6:29 / 8:33", pair(do("burpee", 100).shared(SplitEvenly))},
	{"four lines split", "13:14 / 15:37 / 19:03", pair(do("row", 1600).shared(Split), do("step-up", 60).shared(Split),
		do("kettlebell swing", 80).shared(Split), do("burpee", 60).shared(Split))},
	{"split, then together", "4:14 / 5:31 / 6:57",
		pair(do("thruster", 60).shared(Split), do("run", 400).shared(Together))},
	{"threes in turn", "13:41 / 15:56 / 18:56", three(rounds(2, do("run", 400), do("kettlebell swing", 15)))},
	{"threes split", "5:12 / 6:04 / 7:11", three(do("wall ball", 150).shared(Split))},
	{"pooled", "1:41 / 2:05 / 2:36", Part{Team: 4, Steps: []Step{do("sit-up", 200).shared(Split)}}},
	{"a quarter each", "2:14 / 3:04 / 4:33", Part{Team: 4, Steps: []Step{do("sit-up", 200).shared(SplitEvenly)}}},
	{"together", "3:37 / 4:24 / 5:30", Part{Team: 2, Steps: []Step{do("run", 800).shared(Together)}}},
}

func TestTeams(t *testing.T) {
	for _, c := range teamTable {
		assert.Equal(t, c.want, times(Standard, c.part), c.name)
	}
}

func TestPairInTurn(t *testing.T) {
	p := teamTable[0].part
	quick, slow := Members(2, 0)[0], Members(2, 0)[1]
	for z, want := range map[float64][]float64{quick: {3.05, 1.59, 10.61, 6.17, 12.51}, slow: {4.21, 1.91, 14.58, 10.01, 7.54}} {
		burpee := do("burpee", 1)
		assert.InDeltaSlice(t, want, []float64{
			burpee.pace(z), do("kettlebell swing", 1).pace(z), Standard.Break.At(z), Standard.Change.At(z), burpee.run(z),
		}, 0.006)
	}
	r := Standard.Walk(p, Typical)
	var ends []float64
	for n := 1; n < len(r.Bouts); n += 2 {
		ends = append(ends, r.Bouts[n].End)
	}
	assert.InDeltaSlice(t, []float64{52.76, 131.99, 188.00, 267.74, 323.91, 404.07}, ends, 0.005)
	for _, n := range []int{2, 4, 6, 8, 10} {
		assert.InDelta(t, 3, r.Bouts[n].Lead, small, "the partner's turn covers the change")
	}

	time := func(z float64) float64 { return Standard.Walk(p, z).Time }
	low, high := Band(time, 540)
	assert.Equal(t, "11 (6 to 19)", people(100, Share(time, 540), low, high))
	assert.Equal(t, "1 (0 to 2)", people(float64(Groups(16, 2)), Share(time, 540), low, high))
	assert.Equal(t, "5:00 / 6:12 / 10:02", levels(func(z float64) string {
		return clock(Standard.WalkDrawn(p, []float64{z, z}).Time)
	}), "matched partners")
}

func TestPairSplits(t *testing.T) {
	turns := func(p Part) (lengths, counts []float64) {
		for _, b := range Standard.Walk(p, Typical).Bouts {
			lengths = append(lengths, b.End-b.From)
			counts = append(counts, b.Count)
		}
		return lengths, counts
	}
	lengths, counts := turns(pair(do("burpee", 100).shared(Split)))
	assert.Len(t, counts, 10)
	assert.InDeltaSlice(t, []float64{38.33, 34.82, 41.56, 34.97, 41.79}, lengths[:5], 0.006)
	assert.InDelta(t, 12.51, counts[0], 0.005)
	assert.InDelta(t, 7.54, counts[1], 0.005)
	assert.InDelta(t, 380.31, Standard.Walk(pair(do("burpee", 100).shared(Split)), Typical).Time, 0.005)
	assert.InDelta(t, 389.27, Standard.Walk(pair(do("burpee", 100).shared(SplitEvenly)), Typical).Time, 0.005)

	plank := Work{Move: Movement{Name: "plank"}, Fixed: 60}
	lengths, _ = turns(pair(do("burpee", 20).shared(Split), plank))
	assert.InDeltaSlice(t, []float64{30.6, 34.8, 10.5, 66.17, 63}, lengths, 0.06)
	assert.InDelta(t, 205.16, Standard.Walk(pair(do("burpee", 20).shared(Split), plank), Typical).Time, 0.005)
}

func TestTeamAMRAP(t *testing.T) {
	score := func(p Part) string {
		p.Mode, p.Time = AMRAP, 720
		return levels(func(z float64) string {
			s := Standard.Walk(p, z).Score
			return fmt.Sprint(s.Rounds, s.Over)
		})
	}
	assert.Equal(t, "13 [5] / 10 [10 1] / 7 [10 6]", score(pair(do("burpee", 10), do("kettlebell swing", 10))))

	p := three(do("burpee", 60), do("kettlebell swing", 60))
	p.Mode, p.Time = AMRAP, 720
	r := Standard.Walk(p, Typical)
	assert.Equal(t, "1 [60 47]", fmt.Sprint(r.Score.Rounds, r.Score.Over))
	assert.Equal(t, "5:25", clock(r.Bouts[1].End))
	for _, b := range r.Bouts {
		assert.NotEqual(t, 2, b.Member, "the third never works")
	}
}

func TestHandoverOnlyFromSomebodyAlone(t *testing.T) {
	together := do("run", 20).shared(Together)
	r := Standard.Walk(pair(together, do("burpee", 5)), Typical)
	waited := r.Bouts[1].End - r.Bouts[0].End
	change := Standard.Change.At(Members(2, 0)[0])
	assert.InDelta(t, change-waited, r.Bouts[2].Lead, small, "a change, as far as no wait covers it")
	// The first to work after the last turn of the line before takes over from its partner.
	r = Standard.Walk(pair(do("burpee", 5), rounds(1, do("burpee", 5))), Typical)
	assert.InDeltaSlice(t, []float64{0, 3, 3, 3}, leads(r), small)
	// The same member goes on: nothing is handed over.
	r = Standard.Walk(pair(dealt(1, do("burpee", 5)), dealt(1, do("burpee", 5))), Typical)
	assert.InDeltaSlice(t, []float64{0, 0}, leads(r), small)
}

func leads(r Result) []float64 {
	var out []float64
	for _, b := range r.Bouts {
		out = append(out, b.Lead)
	}
	return out
}

func TestRelay(t *testing.T) {
	p := Part{Team: 2, Steps: []Step{rounds(2, do("run", 100), Tag{}, do("air squat", 10))}}
	r := Standard.Walk(p, Typical)
	quick, slow := Members(2, 0)[0], Members(2, 0)[1]
	run := func(z float64) float64 { return 100 * Book["run"].Pace.At(z) }
	first := run(quick) + Drift(run(quick))
	assert.InDelta(t, first, r.Bouts[0].End, small)
	assert.InDelta(t, first+3+run(slow)+Drift(run(slow)), r.Bouts[2].End, small, "three seconds after the tag")
	assert.InDelta(t, r.Bouts[2].End, r.Bouts[4].From, small, "the second leg of the first waits for the tag")
	assert.Equal(t, r.Bouts[7].End, r.WorkEnd, "the last to end ends it")

	// Work below the tag that is longer than the others' legs: one waits for oneself.
	p = Part{Team: 2, Steps: []Step{rounds(2, do("burpee", 1), Tag{}, do("air squat", 30))}}
	r = Standard.Walk(p, Typical)
	assert.Equal(t, r.Bouts[1].End, r.Bouts[4].From)
	assert.InDelta(t, Standard.Change.At(quick), r.Bouts[4].Lead, small)
}

func TestPacer(t *testing.T) {
	p := Part{
		Mode: AMRAP, Time: 960, Team: 2, OneWorks: true, CarryOn: true,
		Steps: []Step{do("thruster", 30), do("goblet squat", 30)},
		Pacer: []Step{do("row", 200)},
	}
	r := Standard.Walk(p, Typical)
	var row Bout
	for _, b := range r.Bouts {
		if b.Line == "row" {
			row = b
			assert.LessOrEqual(t, b.End, 960.0)
			continue
		}
		assert.NotEqual(t, row.Member, b.Member)
		assert.GreaterOrEqual(t, b.From, row.From)
		assert.LessOrEqual(t, b.End, row.End, "a leg is as long as the row takes")
	}
	change := Standard.Change.At(Members(2, 0)[1])
	assert.InDelta(t, change, r.Bouts[3].Lead, 1, "both change over")
	p.CarryOn = false
	assert.LessOrEqual(t, Standard.Walk(p, Typical).Score.Rounds, r.Score.Rounds)
}

func TestMeanwhile(t *testing.T) {
	p := pair(rounds(3, do("run", 400)))
	alone := Standard.Walk(p, Typical).Time
	p.Meanwhile = true
	busy := Standard.Walk(p, Typical).Time
	assert.Greater(t, busy, alone, "who does something meanwhile does not rest")
	var work float64
	for _, z := range Members(2, 0) {
		m := 3 * 400 * Book["run"].Pace.At(z)
		work += m + Drift(m)
	}
	assert.InDelta(t, work+5*3, busy, small)
}

func TestOtherDivisions(t *testing.T) {
	lines := []Step{do("burpee", 10), do("kettlebell swing", 10)}
	once := Part{Team: 2, Steps: []Step{dealt(5, lines...)}}
	each := Part{Team: 2, Steps: []Step{rounds(3, lines...)}}
	assert.Equal(t, Standard.Walk(each, Typical).Time, Standard.Walk(once, Typical).Time, "half of five rounds is three")

	plank := Work{Move: Movement{Name: "plank"}, Fixed: 180}.shared(Split)
	assert.Equal(t, "1:03", clock(Standard.Walk(Part{Team: 3, Steps: []Step{plank}}, Typical).Time))
	assert.Equal(t, "3:06", clock(Standard.Walk(three(plank), Typical).Time))

	r := Standard.Walk(pair(rounds(3, lines...)), Typical)
	assert.Equal(t, []int{3, 3}, []int{r.TurnsOf(0), r.TurnsOf(1)})
	assert.Equal(t, 60.0, r.Total("burpee"))
}

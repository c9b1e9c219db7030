package referencemodel

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The worked examples of one athlete, with the figures that the model began with.

var anchorBend = func(do func(string, float64) Work) Part {
	return free(do("run", 400), rounds(3, do("kettlebell swing", 12), do("burpee", 8), do("air squat", 16)))
}

func TestAnchorBend(t *testing.T) {
	p := anchorBend(old)
	time := func(z float64) float64 { return first.Walk(p, z).Time }
	for z, want := range map[float64]float64{Fast: 316.90, Typical: 416.99, Slow: 606.17} {
		assert.InDelta(t, want, time(z), 0.005)
	}
	assert.Equal(t, "5:22 / 6:57 / 10:08", times(Standard, anchorBend(do)))

	assert.Equal(t, "17.6 %", percent(Share(time, 540)))
	low, high := Band(time, 540)
	assert.Equal(t, "3 (2 to 4)", people(16, Share(time, 540), low, high))
	assert.Equal(t, "28.7 %", percent(Share(time, 480)))
	low, high = Band(time, 480)
	assert.Equal(t, "5 (3 to 7)", people(16, Share(time, 480), low, high))

	rest := func(next float64) string {
		return levels(func(z float64) string { return clock(max(0, first.Walk(p, z).RestBefore(next))) })
	}
	assert.Equal(t, "5:43 / 4:03 / 0:54", rest(660))
	assert.Equal(t, "4:43 / 3:03 / 0:00", rest(600))
	assert.Equal(t, "13.6 %", percent(Share(time, 660-90)))
	assert.Equal(t, "22.6 %", percent(Share(time, 600-90)))
	assert.InDelta(t, -6, first.Walk(p, Slow).RestBefore(600), 0.5)
	assert.Equal(t, "11:49", clock(time(Last(16))))
}

func people(class float64, share, low, high float64) string {
	return fmt.Sprintf("%.0f (%.0f to %.0f)", class*share, class*low, class*high)
}

func TestStopper(t *testing.T) {
	stopper := func(thrusters, calories float64) Part {
		thruster, row := old("thruster", thrusters), old("row", calories)
		row.Calories = true
		thruster.Effort, row.Effort = 0.85, 0.85
		return Part{Mode: Every, Time: 150, Turns: 5, Steps: []Step{thruster, row}}
	}
	p := stopper(10, 12)
	turns := func(z float64) []float64 { return first.Walk(p, z).Turns }
	longest := func(p Part) TimeAt {
		return func(z float64) float64 {
			worst := 0.0
			for _, turn := range first.Walk(p, z).Turns {
				worst = max(worst, turn)
			}
			return worst
		}
	}
	typical := turns(Typical)
	assert.InDelta(t, 99.60, typical[0], 0.005)
	assert.InDelta(t, 100.76, typical[1], 0.005)
	assert.InDelta(t, 103.54, typical[4], 0.005)
	assert.Equal(t, []string{"1:11", "1:12"}, []string{clock(turns(Fast)[0]), clock(turns(Fast)[4])})
	assert.InDelta(t, 147.60, turns(Slow)[0], 0.005)
	assert.InDelta(t, 152.35, turns(Slow)[2], 0.005)
	assert.Equal(t, 2, first.Walk(p, Slow).Done)
	assert.Equal(t, 5, first.Walk(p, Typical).Done)

	assert.Equal(t, "12.8 %", percent(Share(longest(p), 150)))
	low, high := Band(longest(p), 150)
	assert.Equal(t, "2 (1 to 3)", people(16, Share(longest(p), 150), low, high))
	assert.InDelta(t, 0.33, Share(longest(p), 120), 0.005)
	lighter := longest(stopper(8, 10))
	assert.Equal(t, "1:00 / 1:24 / 2:06", levels(func(z float64) string { return clock(lighter(z)) }))
	assert.Equal(t, "3.6 %", percent(Share(lighter, 150)))
}

func TestHalfHitch(t *testing.T) {
	p := Part{Mode: AMRAP, Time: 720, Steps: []Step{
		old("row", 200), old("push-up", 10), old("step-up", 12), old("ring row", 8),
	}}
	score := func(h House, z float64) string {
		s := h.Walk(p, z).Score
		return fmt.Sprint(s.Rounds, s.Over)
	}
	assert.Equal(t, "6 [200 10 1]", score(first, Fast))
	assert.Equal(t, "5 [0]", score(first, Typical))
	assert.Equal(t, "3 [184]", score(first, Slow))
	assert.Equal(t, "3 [169]", score(Standard, Slow), "with longer breaks")
	var fifth float64
	for n, b := range first.Walk(p, Typical).Bouts {
		if n < 20 {
			fifth = b.End
		}
	}
	assert.InDelta(t, 718.48, fifth, 0.005)
	time := func(z float64) float64 {
		five := p
		five.Mode, five.Steps = ForTime, []Step{rounds(5, p.Steps...)}
		return first.Walk(five, z).Time
	}
	low, high := Band(time, 720)
	assert.Equal(t, "36 to 65 %", fmt.Sprintf("%.0f to %.0f %%", 100*low, 100*high))
}

func TestBowlineAndRoundTurn(t *testing.T) {
	easier := func(name string, count float64) Work {
		w := old(name, count)
		w.Effort = 0.825
		return w
	}
	bowline := free(easier("row", 400),
		rounds(3, easier("ring row", 8), easier("kettlebell swing", 10), easier("step-up", 12)))
	for z, want := range map[float64]float64{Fast: 305.08, Typical: 397.53, Slow: 541.67} {
		assert.InDelta(t, want, first.Walk(bowline, z).Time, 0.005)
	}
	for z, want := range map[float64]float64{Fast: 438.98, Typical: 520.83, Slow: 630.00} {
		assert.InDelta(t, want, first.Walk(free(old("row", 2000)), z).Time, 0.005)
	}
}

func TestFirstPieces(t *testing.T) {
	for want, p := range map[string]Part{
		"3:11 / 5:19 / 10:16":  free(Ladder([]float64{18, 14, 10}, old("thruster", 0), old("toes to bar", 0))),
		"8:39 / 11:24 / 18:17": free(rounds(10, old("burpee", 10), old("kettlebell swing", 10))),
		"9:05 / 12:16 / 18:12": free(rounds(3, old("row", 500), old("goblet squat", 21), old("strict pull-up", 8))),
		"4:53 / 7:20 / 12:36":  free(old("burpee", 100)),
		"1:33 / 1:57 / 2:32":   free(old("run", 400)),
		"0:53 / 1:03 / 1:15":   free(old("row", 250)),
	} {
		assert.Equal(t, want, times(first, p))
	}
}

// counts is how much of a line is done in so many seconds, slow, typical and fast.
func counts(h House, w Work, seconds float64) string {
	w.Count = 10000
	p := Part{Mode: AMRAP, Time: seconds, Steps: []Step{w}}
	return levels(func(z float64) string { return fmt.Sprint(h.Walk(p, z).Score.Count) })
}

func TestCountsInATime(t *testing.T) {
	assert.Equal(t, "62 / 42 / 25", counts(first, old("burpee", 0), 180))
	assert.Equal(t, "408 / 299 / 191", counts(first, old("kettlebell swing", 0), 720))
	assert.Equal(t, "37 / 26 / 17", counts(first, old("sit-up", 0), 60))
	assert.Equal(t, "46 / 26 / 12", counts(first, old("push-up", 0), 60))
	assert.Equal(t, "123 / 90 / 56", counts(Standard, do("burpee", 0), 420))
	assert.Equal(t, "55 / 40 / 25", counts(Standard, do("burpee", 0), 180))
	assert.Equal(t, "389 / 278 / 186", counts(Standard, do("kettlebell swing", 0), 720))
}

// Cadences, with changes left out: published protocols whose lengths are exact.
func TestCadences(t *testing.T) {
	at := func(name string, n, perMinute float64) Work {
		w := do(name, n)
		w.Cadence = 60 / perMinute
		return w
	}
	for _, c := range []struct {
		work Work
		want string
	}{
		{at("push-up", 30, 20), "1:30"},
		{at("push-up", 30, 40), "0:45"},
		{at("sit-up", 75, 20), "3:45"},
		{at("strict pull-up", 16, 15), "1:04"},
		{at("air squat", 30, 40), "0:45"},
		{at("burpee", 10, 80.0/4), "0:30"}, // four counts a repetition
		{at("burpee", 10, 50.0/4), "0:48"},
		{at("step-up", 180, 60), "3:00"},
		{at("back squat", 10, 60.0/(3+1+1+1)), "1:00"}, // a tempo: no set-up either
		{at("back squat", 8, 60.0/(2+0+2+0)), "0:32"},
	} {
		assert.Equal(t, c.want+" / "+c.want+" / "+c.want, times(Standard, free(c.work)))
	}
	rounds := func(pushUps float64) string {
		p := Part{Mode: AMRAP, Time: 1200, Steps: []Step{
			at("strict pull-up", 6, 15), at("push-up", 12, pushUps), at("air squat", 18, 40),
		}}
		s := House{}.Walk(p, Slow).Score
		return fmt.Sprint(s.Rounds, " + ", s.OverCount())
	}
	assert.Equal(t, "13 + 24", rounds(20))
	assert.Equal(t, "17 + 8", rounds(40))
}

func TestCapsOfAHundredBurpees(t *testing.T) {
	miss := func(h House, w Work, cap float64) string {
		time := func(z float64) float64 { return h.Walk(free(w), z).Time }
		low, high := Band(time, cap)
		return fmt.Sprintf("%.0f (%.0f to %.0f)", 100*Share(time, cap), 100*low, 100*high)
	}
	assert.Equal(t, "72 (61 to 82)", miss(first, old("burpee", 100), 360))
	assert.Equal(t, "84 (72 to 92)", miss(Standard, do("burpee", 100), 360))
	assert.Greater(t, Share(func(z float64) float64 { return first.Walk(free(old("burpee", 100)), z).Time }, 240), 0.975)
}

// Shapes of session as they are timed today; those whose content is written out in full.
func TestShapes(t *testing.T) {
	heavy := do("clean and jerk", 30)
	heavy.OfMax = 0.70
	set := do("back squat", 5)
	set.OfMax, set.Straight = 0.75, true
	for _, c := range []struct {
		want string
		part Part
	}{
		{"10:45 / 13:41 / 18:57", free(rounds(5, do("run", 400), do("kettlebell swing", 15)))},
		{"3:38 / 6:22 / 11:05", free(Ladder([]float64{21, 15, 9}, do("thruster", 0), do("swinging pull-up", 0)))},
		{"0:20 / 0:26 / 0:34", free(set)},
		{"7:19 / 8:41 / 10:30", free(do("row", 2000))},
		{"5:38 / 7:47 / 12:52", free(do("burpee", 100))},
		{"6:07 / 8:51 / 16:20", free(Ladder([]float64{50, 40, 30, 20, 10}, do("double-under", 0), do("sit-up", 0)))},
		{"2:45 / 5:05 / 9:05", free(heavy)},
		{"8:05 / 11:13 / 16:50", free(rounds(3, do("run", 400), do("kettlebell swing", 21), do("swinging pull-up", 12)))},
		{"21:00 / 27:00 / 35:30", free(do("run", 5000))},
		{"3:48 / 4:03 / 4:59", free(Sets(3, do("dumbbell press", 10), 90))},
		{"3:59 / 5:47 / 8:30", free(do("farmer carry", 400))},
		{"2:46 / 4:15 / 8:14", free(rounds(5, do("rope climb", 1), do("push-up", 10)))},
	} {
		assert.Equal(t, c.want, times(Standard, c.part))
	}
	// A rest as long as the work before it.
	assert.Equal(t, "27:21 / 34:39 / 45:07", levels(func(z float64) string {
		run := do("run", 1000)
		work := Standard.Walk(free(run), z).Time
		return clock(Standard.Walk(free(Sets(4, run, work)), z).Time)
	}))

	cycle := Part{Mode: AMRAP, Time: 1200, Steps: []Step{do("swinging pull-up", 5), do("push-up", 10), do("air squat", 15)}}
	assert.Equal(t, "22.7 / 15.9 / 8.3", levels(func(z float64) string {
		s := Standard.Walk(cycle, z).Score
		return fmt.Sprintf("%.1f", float64(s.Rounds)+s.OverCount()/30)
	}))
	squats := Part{Mode: Windows, Time: 20, Off: 10, Turns: 8, Steps: []Step{do("air squat", Max)}}
	assert.Equal(t, "128 / 96 / 67", levels(func(z float64) string {
		return fmt.Sprint(Standard.Walk(squats, z).Score.Count)
	}))
}

package referencemodel

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWindowsFromTheTop(t *testing.T) {
	p := Part{Mode: Repeats, Time: 180, Off: 60, Turns: 6, Steps: []Step{do("push-up", 10), do("sit-up", 10)}}
	r := Standard.Walk(p, Typical)
	for n, want := range []float64{16.02, 46.12, 70.24, 100.48, 124.71, 155.08, 179.41} {
		assert.InDelta(t, want, r.Bouts[n].End, 0.005)
	}
	var windows []string
	for _, s := range r.Windows {
		windows = append(windows, fmt.Sprintf("%d+%.0f", s.Rounds, s.OverCount()))
	}
	assert.Equal(t, "3+10, 3+9, 3+7, 3+7, 3+6, 3+6", strings.Join(windows, ", "))
	assert.Equal(t, "24 and 96 / 18 and 45 / 6 and 87", levels(func(z float64) string {
		r := Standard.Walk(p, z)
		over := 0.0
		for _, s := range r.Windows {
			over += s.OverCount()
		}
		return fmt.Sprint(r.Score.Rounds, " and ", over)
	}))
	p.CarryOn = true
	assert.Equal(t, "28+9 / 19+14 / 10+14", levels(func(z float64) string {
		s := Standard.Walk(p, z).Score
		return fmt.Sprintf("%d+%.0f", s.Rounds, s.OverCount())
	}))
}

func TestWindowsWithCounts(t *testing.T) {
	p := Part{Mode: Windows, Time: 40, Off: 20, Turns: 3, Steps: []Step{do("burpee", 10)}}
	assert.Equal(t, 3, Standard.Walk(p, Typical).Done)
	assert.Equal(t, 0, Standard.Walk(p, Slow).Done)
}

func TestWorkEnd(t *testing.T) {
	p := Part{Mode: Every, Time: 120, Turns: 3, Steps: []Step{do("burpee", 5)}}
	assert.Equal(t, "4:14 / 4:17 / 4:25", levels(func(z float64) string { return clock(Standard.Walk(p, z).WorkEnd) }))
	assert.Equal(t, "2:16 / 2:13 / 2:05", levels(func(z float64) string { return clock(Standard.Walk(p, z).RestBefore(390)) }))
	assert.Equal(t, 360.0, Standard.Walk(p, Slow).ClockEnd)

	p.Turn = func(n int) []Step {
		if n == 2 {
			return []Step{Rest{120}} // a slot of rest is no work
		}
		return p.Steps
	}
	assert.Equal(t, "2:17", clock(Standard.Walk(p, Typical).WorkEnd))

	amrap := Part{Mode: AMRAP, Time: 200, Steps: []Step{do("burpee", 5), do("air squat", 5)}}
	assert.Equal(t, 200.0, Standard.Walk(amrap, Typical).WorkEnd)
}

func TestCapAndDrift(t *testing.T) {
	p := Part{Cap: 120, Steps: []Step{do("burpee", 40)}}
	var legs, carried []string
	for _, z := range Levels {
		r := Standard.Walk(p, z)
		legs = append(legs, fmt.Sprintf("%.1f", r.Moved()[0]))
		carried = append(carried, fmt.Sprintf("%.1f", rested(r.Moved()[0], r.RestBefore(180))))
		assert.Equal(t, 120.0, r.WorkEnd)
		assert.Greater(t, r.Time, 120.0, "the time against the cap is that of all the work")
	}
	assert.Equal(t, []string{"105.0", "92.4", "81.6"}, legs)
	assert.Equal(t, []string{"84.0", "74.0", "65.3"}, carried)

	next := free(do("air squat", 20))
	after := Standard.After(Standard.Walk(p, Typical), next, 180, Typical)
	assert.InDelta(t, 32+Drift(73.954+32)-Drift(73.954), after.Time, 0.001, "the rest covers the change")
}

func TestWhenDone(t *testing.T) {
	p := Part{Cap: 120, Steps: []Step{do("burpee", 20)}, WhenDone: []Step{do("air squat", Max)}}
	typical, slow := Standard.Walk(p, Typical), Standard.Walk(p, Slow)
	work := 68 + 13 + Drift(68)
	assert.InDelta(t, work, typical.Time, small, "what is done after is no part of the time")
	// (120 - 81.39 - 8) seconds at 1.6, slower by what is in the legs.
	assert.Equal(t, 18.0, typical.WhenDone)
	assert.Equal(t, 120.0, typical.WorkEnd)
	assert.InDelta(t, 68+18*1.6, typical.Moved()[0], small)
	assert.Zero(t, slow.WhenDone, "who misses the cap does none")
	assert.Equal(t, 120.0, slow.WorkEnd)
}

func TestUntilMissed(t *testing.T) {
	ends := func(h House, p Part) string {
		return levels(func(z float64) string {
			r := h.Walk(p, z)
			if r.Open {
				return "open"
			}
			return fmt.Sprint(r.Done)
		})
	}
	every := func(n float64) Part { return Part{Mode: Every, Time: 60, Steps: []Step{do("burpee", n)}} }
	assert.Equal(t, "open / open / 0", ends(Standard, every(10)))
	assert.Equal(t, "open / 6 / 0", ends(Standard, every(15)))
	capped := every(10)
	capped.Cap = 630
	assert.Equal(t, 10, Standard.Walk(capped, Typical).Done, "all turns under the cap")
	assert.True(t, Standard.Walk(capped, Typical).Open)
	rising := func(do func(string, float64) Work) Part {
		return Part{Mode: Every, Time: 60, Turn: func(n int) []Step { return []Step{do("burpee", float64(n+1))} }}
	}
	assert.Equal(t, "19 / 14 / 9", ends(Standard, rising(do)))
	assert.Equal(t, "20 / 15 / 9", ends(first, rising(old)))
}

func TestLinesByTheClock(t *testing.T) {
	minute := func(name string) Work { return Work{Move: Book[name], For: 60} }
	p := free(minute("burpee"), minute("kettlebell swing"), minute("box jump"))
	assert.Equal(t, "3:00 / 3:00 / 3:00", times(Standard, p))
	got := func(z float64) string {
		r := Standard.Walk(p, z)
		return fmt.Sprintf("%v %.0f", r.Score.Over, r.Moved()[0])
	}
	assert.Equal(t, "[20 35 22] 161 / [15 25 15] 143 / [9 16 9] 118", levels(got))

	plank := Work{Move: Movement{Name: "plank"}, Fixed: 60}
	assert.Equal(t, "2:00", clock(Standard.Walk(free(plank, minute("burpee")), Typical).Time))
	assert.Equal(t, "2:00", clock(Standard.Walk(free(minute("burpee"), plank), Typical).Time))
	five := Standard.Walk(free(do("burpee", 5), minute("box jump")), Typical).Time
	assert.Equal(t, "1:25", clock(five), "after work by count: a change")
}

func TestBuildUp(t *testing.T) {
	least := func(r float64) string {
		return levels(func(z float64) string {
			seconds, _ := BuildUp(Book["back squat"], r, z)
			return clock(seconds)
		})
	}
	assert.Equal(t, "12:11 / 12:34 / 13:00", least(1))
	assert.Equal(t, "12:57 / 13:33 / 14:21", least(3))
	_, moving := BuildUp(Book["back squat"], 1, Typical)
	assert.InDelta(t, 9.6*3.1, moving, small)
}

func TestSetUp(t *testing.T) {
	squat := do("back squat", 5)
	work := 5*3.1 + Drift(15.5)
	assert.InDelta(t, 8+work, Standard.Walk(free(squat), Typical).Time, small, "at the start")
	three := Standard.Walk(free(Sets(3, squat, 180)), Typical).Time
	assert.InDelta(t, 3*(8+work)+360, three, small, "after any rest, which does not cover it")
	cut := Standard.Walk(free(squat, squat), Typical).Time
	assert.InDelta(t, 8+31+Drift(31), cut, small, "not within a set")
	push := Standard.Walk(free(do("push-up", 5), squat), Typical)
	assert.InDelta(t, 8, push.Bouts[1].Lead, small, "not on top of a change")
}

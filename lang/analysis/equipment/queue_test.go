package equipment_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/units"
)

const queued = "part A at 0:00 3 rounds for time%s\n  10 burpee\n  250 m row\n  15 air squat\n"

func clocks(ts ...float64) (out []string) {
	for _, t := range ts {
		out = append(out, units.FormatClock(math.Floor(t+0.5)))
	}
	return out
}

// Twelve people and four rowers, by hand: T = 436.4, a round with its change 148.1, a visit 62.8; so the groups are done
// after 436.4 + 2 · (188.5 - 148.1) = 517.1 and 62.8 later each, and nobody after 436.4 + 3 · 2 · (75.5 + 12).
func TestQueue(t *testing.T) {
	s, env := hall(t, 12, "4 rower", fmt.Sprintf(queued, ""))
	p := equipment.Timeline(s, env).Parts[0]
	require.NotNil(t, p.Queue)
	assert.InDelta(t, 436.4, p.Work.Typical, 0.05)
	var groups []float64
	for _, g := range p.Queue.Groups {
		groups = append(groups, g.Typical)
	}
	assert.Equal(t, []string{"8:37", "9:40", "10:43"}, clocks(groups...))
	assert.Equal(t, []string{"7:16", "16:01"}, clocks(p.Work.Typical, p.Queue.Most.Typical))
	assert.False(t, p.Proven())
	assert.Equal(t, "write heats or stations", p.Missing[0].Add)

	for limit, want := range map[float64][2]bool{420: {true, false}, 600: {false, false}, 1140: {false, false}, 1150: {false, true}} {
		assert.Equal(t, want, [2]bool{p.SurelyOver(limit), p.SurelyWithin(limit)}, "%v", limit)
	}

	// Kit enough, heats, or kit that two share in turn: nobody waits.
	for _, c := range []struct{ kit, head string }{{"12 rower", ""}, {"4 rower", ", in heats of 4"}} {
		s, env := hall(t, 12, c.kit, fmt.Sprintf(queued, c.head))
		l := equipment.Timeline(s, env)
		assert.True(t, l.Parts[0].Proven(), c)
		assert.Equal(t, estimate.Of(s, env).Parts[0].Work, l.Parts[0].Work)
	}

	// Of two queues only the most is known: both waits.
	s, env = hall(t, 12, "4 rower\n    6 box", "part A 2 rounds for time\n  250 m row\n  10 box jump\n  10 burpee\n")
	p = equipment.Timeline(s, env).Parts[0]
	require.NotNil(t, p.Queue)
	assert.Empty(t, p.Queue.Groups)
	row, jump := 75+75*75/12000.0, 44+44*44/12000.0+4 // the slow jump 8 before a break: a quarter of 16 s
	assert.InDelta(t, p.Work.Typical+2*2*(row+12)+2*1*(jump+12), p.Queue.Most.Typical, 0.1)

	// In a window the end is known, and what is done is not.
	s, env = hall(t, 12, "4 rower", "part A amrap 10:00\n  250 m row\n  10 burpee\n")
	p = equipment.Timeline(s, env).Parts[0]
	assert.True(t, p.Proven())
	assert.False(t, p.Groups[0].Proven)
	assert.Nil(t, p.Queue)
}

// More kit is never later.
func TestMoreKitIsNeverLater(t *testing.T) {
	last := math.Inf(1)
	for n := 1; n < 12; n++ {
		s, env := hall(t, 12, fmt.Sprint(n, " rower"), fmt.Sprintf(queued, ""))
		p := equipment.Timeline(s, env).Parts[0]
		require.NotNil(t, p.Queue)
		now := p.Queue.Groups[len(p.Queue.Groups)-1].Typical
		assert.LessOrEqual(t, now, last+1e-9)
		assert.LessOrEqual(t, now, p.Queue.Most.Typical)
		last = now
	}
}

// Classes that are drawn, one line at the rowers, first come first served: everybody is done within the bounds of
// somebody of their standing. A visit takes what it takes alone, and a round what is left of one's own.
func TestQueueByDrawing(t *testing.T) {
	const people, pieces, rounds, classes = 12, 4, 3, 40
	s, env := hall(t, people, "4 rower", fmt.Sprintf(queued, ""))
	l := equipment.Timeline(s, env)
	p := l.Parts[0]
	extra := p.Queue.Most.Typical - p.Work.Typical
	alone, soloEnv := hall(t, people, "12 rower", "part A for time\n  250 m row\n")
	row := equipment.Timeline(alone, soloEnv)
	before, beforeEnv := hall(t, people, "12 rower", "part A for time\n  10 burpee\n")
	burpees := equipment.Timeline(before, beforeEnv)
	rng := rand.New(rand.NewPCG(5, 2024))
	for range classes {
		at, visits, own := make([]float64, people), make([]float64, people), make([]float64, people)
		first, round := make([]float64, people), make([]float64, people)
		for i := range people {
			q := 0.02 + 0.96*rng.Float64()
			own[i], visits[i], first[i] = l.At(p, q), row.At(row.Parts[0], q), burpees.At(burpees.Parts[0], q)
			round[i] = own[i] / rounds
			at[i] = first[i]
		}
		idle := make([]float64, pieces)
		done := make([]int, people)
		for range people * rounds {
			next := -1
			for i := range at {
				if done[i] < rounds && (next < 0 || at[i] < at[next]) {
					next = i
				}
			}
			piece := slices.Index(idle, slices.Min(idle))
			end := max(at[next], idle[piece]) + visits[next]
			idle[piece] = end
			if done[next]++; done[next] < rounds {
				at[next] = end + round[next] - visits[next]
			} else {
				at[next] = end + round[next] - visits[next] - first[next]
			}
		}
		for i := range at {
			assert.GreaterOrEqual(t, at[i], own[i]-1e-6)
			assert.LessOrEqual(t, at[i], own[i]+extra+1e-6)
		}
	}
}

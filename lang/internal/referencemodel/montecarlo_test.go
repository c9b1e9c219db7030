package referencemodel

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The members of a team are drawn one by one here, and their turns walked, to see how well the
// members that stand for a standing do. A team costs little to walk, except where the time has to
// be searched for: fewer are drawn there.
const teams, pooledTeams = 2500, 400

// found is the range of the share of drawn teams that are over a limit, for the share that the
// model gives.
var found = map[float64][2]float64{
	0.90: {0.89, 0.94}, 0.75: {0.72, 0.81}, 0.50: {0.48, 0.54}, 0.25: {0.24, 0.30}, 0.10: {0.08, 0.13},
}

// draw is people of any standing, within the range in which anything is said.
func draw(rng *rand.Rand, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = hold(rng.NormFloat64())
	}
	return out
}

func TestPartnersAreIndependent(t *testing.T) {
	const timeOff = 0.05 // at the 10th, 50th and 90th percentile
	for n, c := range teamTable {
		if n == 1 {
			continue // the same as in turn
		}
		t.Run(c.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(uint64(n), 2024))
			size, cases := c.part.Team, teams
			if c.name == "pooled" {
				cases = pooledTeams
			}
			times := make([]float64, cases)
			for i := range times {
				times[i] = Standard.WalkDrawn(c.part, draw(rng, size)).Time
			}
			slices.Sort(times)
			model := func(z float64) float64 { return Standard.Walk(c.part, z).Time }
			for _, z := range Levels {
				drawn := times[int(Standing(z)*float64(cases))]
				assert.InDelta(t, 1, model(z)/drawn, timeOff, "%.0f %%", 100*Standing(z))
			}
			for share, within := range found {
				limit := model(Z(1 - share))
				over := 0.0
				for _, time := range times {
					if time > limit {
						over += 1 / float64(cases)
					}
				}
				sampling := 2 * math.Sqrt(share*(1-share)/float64(cases))
				assert.GreaterOrEqual(t, over, within[0]-sampling, "%v over %s", share, clock(limit))
				assert.LessOrEqual(t, over, within[1]+sampling, "%v over %s", share, clock(limit))
			}
		})
	}
}

func TestHeatsByDrawing(t *testing.T) {
	p := Part{Cap: 480, Steps: []Step{do("row", 500), do("burpee", 30)}}
	time := func(z float64) float64 { return Standard.Walk(p, z).Time }
	x := Heats{People: 16, Size: 6, Every: 540, Cap: 480}
	starts := x.Starts(Standard, time(Slow))
	rng := rand.New(rand.NewPCG(3, 2024))
	const classes = 400
	for _, next := range []float64{1300, 1440, 1470, 1500, 1530} {
		var sum, squares float64
		for range classes {
			n := 0.0
			for i, z := range draw(rng, x.People) {
				if end := starts[i/x.Size] + min(time(z), x.Cap); next-end < 120 {
					n++
				}
			}
			sum += n
			squares += n * n
		}
		mean := sum / classes
		spread := math.Sqrt(max(0, squares/classes-mean*mean) / classes)
		assert.InDelta(t, mean, x.Short(time, starts, next, 120), 4*spread+0.001, "next at %v", next)
	}
}

// Everybody in a queue for kit is done within the bounds: one line, first come first served.
func TestQueueByDrawing(t *testing.T) {
	before, kit, after := do("burpee", 10), do("row", 250), do("air squat", 15)
	const visits, people, pieces = 3, 12, 4
	slowly := Standard.Change.At(Slow) + Standard.Walk(free(kit), Slow).Time
	rng := rand.New(rand.NewPCG(5, 2024))
	for range 300 {
		standings := draw(rng, people)
		k := &team{House: Standard, limit: math.Inf(1), window: math.Inf(1), before: nobody}
		for _, z := range standings {
			k.bodies = append(k.bodies, newBody(z))
		}
		at := make([]float64, people)
		for i := range at {
			at[i], _ = k.bout(i, before, before.Count, 0, 0, math.Inf(1))
		}
		visited := make([]int, people)
		idle := make([]float64, pieces)
		for range people * visits {
			next := -1
			for i := range at {
				if visited[i] < visits && (next < 0 || at[i] < at[next]) {
					next = i
				}
			}
			piece := slices.Index(idle, slices.Min(idle))
			end, _ := k.bout(next, kit, kit.Count, max(at[next], idle[piece]), 0, math.Inf(1))
			idle[piece] = end
			at[next], _ = k.bout(next, after, after.Count, end, 0, math.Inf(1))
			if visited[next]++; visited[next] < visits {
				at[next], _ = k.bout(next, before, before.Count, at[next], 0, math.Inf(1))
			}
		}
		for i, z := range standings {
			q := Queue{People: people, Pieces: pieces, Visits: visits, SlowVisit: slowly}
			q.Own = Standard.Walk(free(rounds(visits, before, kit, after)), z).Time
			least, most := q.Bounds()
			assert.GreaterOrEqual(t, at[i], least-small)
			assert.LessOrEqual(t, at[i], most+small)
		}
	}
}

// After a cap the legs of the slower are never fresher than they can be, so what follows is never
// shorter for them.
func TestAfterACapTheSlowerIsNotQuicker(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 2024))
	p := Part{Cap: 120, Steps: []Step{do("burpee", 40)}}
	next := free(do("kettlebell swing", 30), do("run", 200))
	for range 1000 {
		pair := draw(rng, 2)
		slices.Sort(pair)
		time := func(z float64) float64 {
			return Standard.After(Standard.Walk(p, z), next, 180, z).Time
		}
		assert.LessOrEqual(t, time(pair[0]), time(pair[1])+small)
	}
}

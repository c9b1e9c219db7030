package strength

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The vectors' numbers are those of the references that the project was built from. Their
// status: V2, two independent printings agree; V1, one printing was read; REC, worked out
// again; second-hand, as another publication quotes it.

// L03. V2.
func TestTableOfRepetitions(t *testing.T) {
	for i, want := range []float64{100, 95, 93, 90, 87, 85, 83, 80, 77, 75} {
		got, err := Share(float64(i + 1))
		require.NoError(t, err)
		assert.Equal(t, want, got)
		back, err := Reps(want)
		require.NoError(t, err)
		assert.Equal(t, float64(i+1), back)
	}
	for _, c := range []struct{ reps, least, most float64 }{{11, 70, 73}, {12, 67, 70}, {15, 65, 65}} { // where copies disagree, a band
		got, err := Share(c.reps)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, got, c.least)
		assert.LessOrEqual(t, got, c.most)
	}
	for _, r := range []float64{0, 0.5, 15.5, math.NaN()} {
		_, err := Share(r)
		assert.Error(t, err)
	}
	for _, p := range []float64{0, 64.9, 100.1, math.NaN(), math.Inf(1)} {
		_, err := Reps(p)
		assert.Error(t, err)
	}
}

// L04. Cells of the association's load chart, V1.
func TestLoadChart(t *testing.T) {
	for _, c := range []struct{ load, reps, want float64 }{{200, 6, 170}, {260, 5, 226.2}, {150, 3, 139.5}} {
		share, err := Share(c.reps)
		require.NoError(t, err)
		assert.InDelta(t, c.want, c.load*share/100, 0.05)
	}
}

// L05. V2.
func TestEightAt85IsOverTheTable(t *testing.T) {
	reps, err := Reps(85)
	require.NoError(t, err)
	assert.Equal(t, 6.0, reps)
	assert.Less(t, reps, 8.0)
}

// L06. Means V2, the spread between people V1, both second-hand.
func TestTwelveAt80IsOverTheSpread(t *testing.T) {
	mean, sd, err := Spread("bench press", 80)
	require.NoError(t, err)
	assert.InDelta(t, 11.3, mean+sd, 0.05)
	assert.Greater(t, mean+sd, 10.0, "ten is hard but possible")
	assert.InDelta(t, 6.3, mean-sd, 0.05)
	mean, sd, err = Spread("leg press", 70)
	require.NoError(t, err)
	assert.InDelta(t, 19.0, mean, 1e-9)
	assert.InDelta(t, (2.51+4.36)/2, sd, 1e-9)
	_, sd, err = Spread("back squat", 60)
	require.NoError(t, err)
	assert.InDelta(t, 4.36, sd, 1e-9)
	for _, p := range []float64{59, 81, math.NaN()} {
		_, _, err = Spread("back squat", p)
		assert.Error(t, err)
	}
}

// L07. V1 for the scale.
func TestFiveAtRPE8(t *testing.T) {
	least, most, err := InReserve(8)
	require.NoError(t, err)
	assert.Equal(t, []float64{2, 2}, []float64{least, most})
	share, err := ShareWith(5, least)
	require.NoError(t, err)
	assert.InDelta(t, 83, share, 3)
	assert.Equal(t, 83.0, share)
	nine, err := ShareWith(5, 1)
	require.NoError(t, err)
	ten, err := ShareWith(6, 0)
	require.NoError(t, err)
	assert.Equal(t, ten, nine, "one left of five is a set of six")
	_, err = ShareWith(5, -1)
	assert.Error(t, err)
}

func TestScaleOfEffort(t *testing.T) {
	for rpe, want := range map[float64][2]float64{10: {0, 0}, 9.5: {0, 0}, 9: {1, 1}, 8.5: {1, 2}, 8: {2, 2}, 7.5: {2, 3}, 7: {3, 3}, 6: {4, 6}, 5: {4, 6}} {
		least, most, err := InReserve(rpe)
		require.NoError(t, err)
		assert.Equal(t, want, [2]float64{least, most}, "RPE %v", rpe)
	}
	for _, rpe := range []float64{0, 4, 5.5, 6.5, 8.2, 10.5, 14, math.NaN()} {
		_, _, err := InReserve(rpe)
		assert.Error(t, err, "RPE %v", rpe)
	}
}

// L09. V2.
func TestZones(t *testing.T) {
	z, err := ZoneAt(75)
	require.NoError(t, err)
	assert.Equal(t, 6*3, z.Middle)
	assert.Equal(t, 8*3, z.Most)
	z, err = ZoneAt(90)
	require.NoError(t, err)
	assert.Greater(t, 5*5, z.Most)
	assert.Equal(t, 10, z.Most)
	assert.Greater(t, 5, z.MostSet)
	z, err = ZoneAt(82)
	require.NoError(t, err)
	assert.Equal(t, 5*3, z.Middle)
	for _, p := range []float64{54, 105, math.NaN()} {
		_, err = ZoneAt(p)
		assert.Error(t, err)
	}
	for i, z := range Zones {
		assert.True(t, z.LeastSet < z.MostSet && z.Least < z.Middle && z.Middle < z.Most)
		if i > 0 {
			assert.Equal(t, Zones[i-1].Below, z.From)
		}
	}
}

// L10. V2.
func TestRise(t *testing.T) {
	r, err := Rise(80, 85)
	require.NoError(t, err)
	assert.InDelta(t, 6.25, r, 0.01)
	assert.LessOrEqual(t, r, float64(StepMost))
	r, err = Rise(80, 90)
	require.NoError(t, err)
	assert.InDelta(t, 12.5, r, 0.01)
	assert.Greater(t, r, float64(StepMost))
	_, err = Rise(0, 20)
	assert.Error(t, err)
}

// More repetitions are never possible with more load; and the table read one way and back is where
// it began.
func TestMoreRepetitionsNeverAHigherShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(1, 15).Draw(t, "a")
		b := rapid.Float64Range(a, 15).Draw(t, "b")
		pa, err := Share(a)
		require.NoError(t, err)
		pb, err := Share(b)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, pa, pb)
		back, err := Reps(pa)
		require.NoError(t, err)
		assert.InDelta(t, a, back, 1e-9)
	})
}

func TestSpreadFallsWithTheShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(60, 80).Draw(t, "a")
		b := rapid.Float64Range(a, 80).Draw(t, "b")
		lift := rapid.SampledFrom([]string{"bench press", "leg press"}).Draw(t, "lift")
		ma, sa, err := Spread(lift, a)
		require.NoError(t, err)
		mb, sb, err := Spread(lift, b)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, ma+sa+1e-9, mb+sb)
	})
}

package strength

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// Foster and others, J. Strength Cond. Res. 2001;15(1):109-115, table 5: the loads as they
// are printed, session by session. Printed there: 3400, 1.26 and 4284, which is 3400 times
// the rounded 1.26.
func TestThePublishedWeek(t *testing.T) {
	printed := []float64{940, 50, 840, 280, 180, 390, 50, 390, 280}
	got := SumLoads(printed)
	assert.Equal(t, 3400.0, got.Load)
	assert.InDelta(t, 1.26, got.Monotony, 0.005)
	assert.InEpsilon(t, 4284, got.Strain, 0.005)

	// The same by day: 1.2116, and 1.1217 with the SD of a sample. Neither is what is printed.
	days := []float64{940, 50, 1120, 180, 390, 50, 670}
	assert.InDelta(t, 1.2116, SumLoads(days).Monotony, 0.0005)
	mean, sd := stat.MeanStdDev(days, nil)
	sample, ok := Monotony(mean, sd)
	assert.True(t, ok)
	assert.InDelta(t, 1.1217, sample, 0.0005)

	// Three of the printed loads are not rating times minutes.
	rated := []struct{ rating, minutes float64 }{{5, 180}, {2, 25}, {7, 120}, {7, 40}, {3, 60}, {8, 75}, {2, 25}, {8, 75}, {7, 40}}
	var off []float64
	for i, r := range rated {
		l, err := Session(r.rating, r.minutes)
		require.NoError(t, err)
		if l != printed[i] {
			off = append(off, l)
		}
	}
	assert.Equal(t, []float64{900, 600, 600}, off)
}

// Other figures that are printed: a table in BMJ Military Health, and a diary of which
// strain is printed from the rounded monotony, so to one percent.
func TestPublishedMonotony(t *testing.T) {
	m, ok := Monotony(790, 897)
	assert.True(t, ok)
	assert.InDelta(t, 0.88, m, 0.005)
	for _, w := range []struct{ load, monotony, strain float64 }{{1592, 1.63, 2595}, {1298, 1.79, 2324}, {555, 0.55, 307}, {1307, 0.90, 1173}, {1390, 1.07, 1494}} {
		assert.InEpsilon(t, w.strain, w.load*w.monotony, 0.01)
	}
}

// Made up, and worked out with gonum, a statistics package in another language and one in a
// third: 1.1168, and 1.0340 with the SD of a sample.
func TestAWeekWithDaysOfRest(t *testing.T) {
	week := []float64{420, 0, 360, 0, 480, 300, 0}
	got := SumLoads(week)
	assert.Equal(t, 1560.0, got.Load)
	assert.InDelta(t, 222.857, got.Mean, 0.0005)
	assert.InDelta(t, 199.551, got.SD, 0.0005)
	assert.InDelta(t, 1.1168, got.Monotony, 0.0005)
	assert.InDelta(t, 1742.2, got.Strain, 0.05)
	sample, _ := Monotony(stat.MeanStdDev(week, nil))
	assert.InDelta(t, 1.0340, sample, 0.0005)
}

func TestSevenEqualDaysHaveNoMonotony(t *testing.T) {
	for _, l := range []float64{0, 0.1, 300, 412.7} {
		got := SumLoads([]float64{l, l, l, l, l, l, l})
		assert.False(t, got.Varied, l)
		assert.Zero(t, got.Monotony)
		assert.Zero(t, got.Strain)
	}
	assert.False(t, SumLoads(nil).Varied)
	rapid.Check(t, func(t *rapid.T) {
		loads := rapid.SliceOfN(rapid.Float64Range(0, 5000), 0, 9).Draw(t, "loads")
		got := SumLoads(loads)
		if len(loads) > 0 {
			mean, sd := stat.PopMeanStdDev(loads, nil)
			assert.InDelta(t, mean, got.Mean, 1e-9)
			assert.InDelta(t, sd, got.SD, 1e-9)
		}
		for _, v := range []float64{got.Load, got.Mean, got.SD, got.Monotony, got.Strain} {
			assert.False(t, math.IsInf(v, 0) || math.IsNaN(v) || v < 0)
		}
	})
}

// The scale goes from 0 to 10: 14 is of the older one, from 6 to 20.
func TestARatingOffTheScaleHasNoLoad(t *testing.T) {
	for _, rating := range []float64{14, 10.5, -1, math.NaN()} {
		_, err := Session(rating, 60)
		var off *RangeError
		require.ErrorAs(t, err, &off)
	}
	_, err := Session(5, -1)
	require.Error(t, err)
	l, err := Session(10, 60)
	require.NoError(t, err)
	assert.Equal(t, 600.0, l)
}

func TestWeightedMinutes(t *testing.T) {
	// US HHS 2018: 3 x 20 min vigorous and 2 x 30 min moderate are 180 min, and 150 are asked for.
	assert.Equal(t, 180.0, Equivalent(2*30, 3*20))
	// Edwards 1993, as Foster and others 2001 use it: ten minutes in each of five zones.
	assert.Equal(t, 150.0, weighted([]float64{10, 10, 10, 10, 10}, []float64{1, 2, 3, 4, 5}))
}

package units

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFormatNumber(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {24, "24"}, {22.5, "22.5"}, {100, "100"}, {-2.5, "-2.5"}, {10.10, "10.1"},
		{1609.344, "1609.344"},
		{Pound.ToBase(1), "0.4536"},   // 0.45359237, NIST SP 811
		{Pound.ToBase(53), "24.0404"}, // test vector U01
		{Pound.FromBase(24), "52.9109"},
		{0.00004, "0"}, {-0.00004, "0"}, {0.99996, "1"}, {math.Copysign(0, -1), "0"},
		{math.NaN(), "?"}, {math.Inf(-1), "?"},
	} {
		assert.Equal(t, c.want, FormatNumber(c.v), "%v", c.v)
	}
}

func TestFormatNumberReadsBack(t *testing.T) {
	shape := regexp.MustCompile(`^-?[0-9]+(\.[0-9]{0,3}[1-9])?$`)
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "v")
		s := FormatNumber(v)
		assert.Regexp(t, shape, s)
		back, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		assert.InDelta(t, v, back, 0.00005+1e-9)
	})
}

func TestReduce(t *testing.T) {
	for _, c := range [][4]int{
		{30, 60, 1, 2},  // test vector T08
		{40, 20, 2, 1},  // notation-conventions N5
		{180, 90, 2, 1}, // N5, 3:00 to 1:30
		{10, 50, 1, 5},  // test vector W02
		{30, 120, 1, 4}, // test vector W03
		{7, 5, 7, 5},
		{0, 45, 0, 1}, {45, 0, 1, 0}, {0, 0, 0, 0},
	} {
		a, b := Reduce(c[0], c[1])
		assert.Equal(t, [2]int{c[2], c[3]}, [2]int{a, b}, "%d to %d", c[0], c[1])
	}
}

func TestReduceKeepsTheRatio(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.IntRange(0, 100_000).Draw(t, "a")
		b := rapid.IntRange(0, 100_000).Draw(t, "b")
		x, y := Reduce(a, b)
		assert.Equal(t, a*y, b*x)
		x2, y2 := Reduce(x, y)
		assert.Equal(t, [2]int{x, y}, [2]int{x2, y2}, "once is enough")
		for d := 2; d <= min(x, y) && d < 100; d++ {
			assert.False(t, x%d == 0 && y%d == 0, "%d divides both", d)
		}
	})
}

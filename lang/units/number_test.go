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

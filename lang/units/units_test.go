package units

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLookup(t *testing.T) {
	for word, want := range map[string]Unit{
		"s": Second, "sec": Second, "Secs": Second, "SECONDS": Second,
		"min": Minute, "mins": Minute, "minutes": Minute,
		"h": Hour, "hr": Hour, "hours": Hour,
		"m": Metre, "M": Metre, "metres": Metre, "meters": Metre,
		"km": Kilometre, "KM": Kilometre, "kilometers": Kilometre,
		"cm": Centimetre,
		"ft": Foot, "feet": Foot,
		"yd": Yard, "yards": Yard, "yds": Yard,
		"mile": Mile, "mi": Mile, "Miles": Mile,
		"in": Inch, "inch": Inch, "inches": Inch,
		"kg": Kilogram, "Kgs": Kilogram, "kilo": Kilogram, "kilos": Kilogram,
		"lb": Pound, "lbs": Pound, "pound": Pound, "Pounds": Pound,
		"cal": Calorie, "cals": Calorie, "calories": Calorie, "kcal": Calorie,
		"rep": Rep, "reps": Rep,
		"breath": Breath, "breaths": Breath,
	} {
		u, ok := Lookup(word)
		assert.True(t, ok, word)
		assert.Equal(t, want, u, word)
	}
	for _, word := range []string{"", " ", "mm", "k", "stone", "metress", "kg ", "rounds", "%"} {
		u, ok := Lookup(word)
		assert.False(t, ok, word)
		assert.Equal(t, None, u, word)
	}
}

func TestEverySpellingIsOneUnits(t *testing.T) {
	claimed := map[string]Unit{}
	for _, u := range All() {
		require.NotEmpty(t, u.Spellings())
		assert.Equal(t, u.String(), u.Spellings()[0], "the printed spelling comes first")
		for _, s := range u.Spellings() {
			other, taken := claimed[s]
			assert.False(t, taken, "%q is both %v and %v", s, u, other)
			claimed[s] = u
			for _, form := range []string{s, strings.ToUpper(s)} {
				got, ok := Lookup(form)
				assert.True(t, ok && got == u, form)
			}
		}
	}
	assert.Empty(t, None.Spellings())
}

func TestPrintSpellings(t *testing.T) {
	var got []string
	for _, u := range All() {
		got = append(got, u.String())
	}
	assert.Equal(t, "s min h m km cm ft yd mile in kg lb cal rep breath", strings.Join(got, " "))
	assert.Empty(t, None.String())
}

// The literals of NIST SP 811 (2008), appendix B.8, all exact; GNU Units 2.22 gives
// the same (test vector U01).
func TestFactorsAreThoseOfNIST(t *testing.T) {
	for u, want := range map[Unit]float64{
		Foot: 0.3048, Inch: 0.0254, Yard: 0.9144, Mile: 1609.344,
		Pound:  0.45359237,
		Minute: 60, Hour: 3600,
		Kilometre: 1000, Centimetre: 0.01,
		Second: 1, Metre: 1, Kilogram: 1, Calorie: 1, Rep: 1, Breath: 1, None: 1,
	} {
		assert.Equal(t, want, u.ToBase(1), "one %v", u)
		assert.Equal(t, 1.0, u.FromBase(want), "one %v back", u)
	}
}

// Numbers computed with GNU Units 2.22 from the NIST factors, to the three decimals
// given (units-equipment, U1; test vector U01).
func TestConvertAgainstGNUUnits(t *testing.T) {
	for _, c := range []struct {
		value    float64
		from, to Unit
		want     float64
	}{
		{35, Pound, Kilogram, 15.876},
		{45, Pound, Kilogram, 20.412},
		{53, Pound, Kilogram, 24.040},
		{95, Pound, Kilogram, 43.091},
		{135, Pound, Kilogram, 61.235},
		{160, Pound, Kilogram, 72.575},
		{225, Pound, Kilogram, 102.058},
		{8, Kilogram, Pound, 17.637},
		{16, Kilogram, Pound, 35.274},
		{20, Kilogram, Pound, 44.092},
		{24, Kilogram, Pound, 52.911},
		{1, Mile, Metre, 1609.344},
		{400, Metre, Yard, 437.445},
		{12, Inch, Centimetre, 30.48}, // boxes, units-equipment U4
		{20, Inch, Centimetre, 50.8},
		{30, Inch, Centimetre, 76.2},
	} {
		got, err := Convert(c.value, c.from, c.to)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 0.0005, "%v %v in %v", c.value, c.from, c.to)
	}
}

// Test vector T05, ISO 8601-1:2019: PT1H30M, PT0.5M and P1W in seconds.
func TestConvertTime(t *testing.T) {
	for _, c := range []struct {
		value float64
		from  Unit
		want  float64
	}{{1.5, Hour, 5400}, {0.5, Minute, 30}, {7 * 24, Hour, 604_800}} {
		got, err := Convert(c.value, c.from, Second)
		require.NoError(t, err)
		assert.Equal(t, c.want, got)
	}
}

// Whole ratios (5280 ft in a mile, 3 ft in a yard, 12 in in a foot) come out whole,
// which factors held as decimals would not give.
func TestConvertIsExactWhereTheRatioIs(t *testing.T) {
	for _, c := range []struct {
		value    float64
		from, to Unit
		want     float64
	}{
		{1, Mile, Foot, 5280}, {1, Mile, Yard, 1760}, {63_360, Inch, Mile, 1},
		{3, Foot, Yard, 1}, {7, Foot, Inch, 84}, {90, Minute, Hour, 1.5},
		{0.1, Kilometre, Metre, 100}, {55, Centimetre, Metre, 0.55},
	} {
		got, err := Convert(c.value, c.from, c.to)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v %v in %v", c.value, c.from, c.to)
	}
}

func TestConvertRefuses(t *testing.T) {
	for _, c := range []struct {
		from, to Unit
		message  string
	}{
		{Kilogram, Metre, "kg (mass) cannot be turned into m (length)"},
		{Calorie, Second, "cal (energy) cannot be turned into s (time)"},
		{None, Metre, "a bare number cannot be turned into m (length)"},
		{Rep, Breath, "rep (count) cannot be turned into breath (count)"},
	} {
		_, err := Convert(1, c.from, c.to)
		var wrong *ConversionError
		require.ErrorAs(t, err, &wrong)
		assert.Equal(t, ConversionError{c.from, c.to}, *wrong)
		assert.EqualError(t, err, c.message)
	}
	for _, u := range append(All(), None) {
		got, err := Convert(12.5, u, u)
		require.NoError(t, err)
		assert.Equal(t, 12.5, got)
	}
}

// A conversion of a whole value rounds once: it is the float64 nearest to the true
// quotient, worked out here in fractions of unbounded size.
func TestConvertRoundsOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := drawPair(t)
		value := rapid.IntRange(-10_000, 10_000).Draw(t, "value")
		got, err := Convert(float64(value), from, to)
		require.NoError(t, err)

		exact := big.NewRat(int64(value), 1)
		exact.Mul(exact, big.NewRat(facts[from].num, facts[from].den))
		exact.Quo(exact, big.NewRat(facts[to].num, facts[to].den))
		want, _ := exact.Float64()
		assert.Equal(t, want, got)
	})
}

func TestConvertRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := drawPair(t)
		value := rapid.Float64Range(-1e6, 1e6).Draw(t, "value")
		there, err := Convert(value, from, to)
		require.NoError(t, err)
		back, err := Convert(there, to, from)
		require.NoError(t, err)
		assert.InDelta(t, value, back, 1e-9)
		assert.InDelta(t, value, from.FromBase(from.ToBase(value)), 1e-9)
		assert.InDelta(t, to.FromBase(from.ToBase(value)), there, 1e-12*max(1, there, -there),
			"straight, or by way of the base unit")
	})
}

// drawPair draws two units that can be turned into each other.
func drawPair(t *rapid.T) (from, to Unit) {
	from = rapid.SampledFrom(All()).Draw(t, "from")
	var kin []Unit
	for _, u := range All() {
		if _, err := Convert(1, from, u); err == nil {
			kin = append(kin, u)
		}
	}
	return from, rapid.SampledFrom(kin).Draw(t, "to")
}

// The trade's pairs, up to 2.1 % apart (units-equipment U1; test vector U02).
func TestSameByName(t *testing.T) {
	for kg, lb := range map[float64]float64{20: 45, 24: 53, 16: 35, 43: 95, 61: 135} {
		assert.True(t, SameByName(kg, Pound.ToBase(lb)), "%v kg and %v lb", kg, lb)
		assert.True(t, SameByName(Pound.ToBase(lb), kg), "%v lb and %v kg", lb, kg)
	}
	assert.False(t, SameByName(24, Pound.ToBase(50)), "5.8 % apart")
	assert.False(t, SameByName(20, 20.51), "just over")
	assert.True(t, SameByName(20, 20.49), "just under")
	assert.True(t, SameByName(0, 0))
	assert.False(t, SameByName(0, 1))
}

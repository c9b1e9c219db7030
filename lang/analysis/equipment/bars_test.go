package equipment

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// mens is the bar, collars and discs of the IWF's rules (V2 for the masses; worked
// examples REC).
var mens = Bars{Bars: []Mass{Kg(20)}, Discs: discs(25, 20, 15, 10, 5, 2.5, 2, 1.5, 1, 0.5), Collar: Kg(2.5)}

func discs(kg ...float64) []Disc {
	out := make([]Disc, len(kg))
	for i, m := range kg {
		out[i] = Disc{Kg(m), 8}
	}
	return out
}

func side(b *Build) []float64 {
	out := []float64{}
	for _, m := range b.Side {
		out = append(out, m.Kg())
	}
	return out
}

func fit(t testing.TB, b Bars, kg float64) Fit {
	f, err := b.Fit(Kg(kg))
	require.NoError(t, err)
	return f
}

// U03, U04 and the other worked loads of that reference: masses V2, loads REC.
func TestLoadsOfCompetitionBars(t *testing.T) {
	bare := mens
	bare.Collar = 0
	womens := mens
	womens.Bars = []Mass{Kg(15)}
	for _, c := range []struct {
		bars Bars
		kg   float64
		want []float64
	}{
		{mens, 100, []float64{25, 10, 2.5}},
		{bare, 60, []float64{20}},
		{womens, 45, []float64{10, 2.5}},
		{mens, 140, []float64{25, 25, 5, 2.5}},
		{mens, 61, []float64{15, 2.5, 0.5}},
		{mens, 25, []float64{}},
	} {
		f := fit(t, c.bars, c.kg)
		require.NotNil(t, f.Exact, "%v kg", c.kg)
		assert.Equal(t, c.want, side(f.Exact), "%v kg", c.kg)
		assert.Nil(t, f.Below)
		assert.Nil(t, f.Above)
	}
	f := fit(t, bare, 182.5) // 0.25 kg are left over on each side
	assert.Nil(t, f.Exact)
	assert.InDelta(t, 182, f.Below.Total().Kg(), 1e-9)
	assert.InDelta(t, 183, f.Above.Total().Kg(), 1e-9)
}

func TestNearestLoads(t *testing.T) {
	hall := Bars{Bars: []Mass{Kg(20), Kg(15)}, Discs: discs(20, 15, 10, 5, 2.5)}
	f := fit(t, hall, 77.5) // U2's check, REC: no disc under 2.5
	assert.Nil(t, f.Exact)
	assert.Equal(t, []float64{75, 80}, []float64{f.Below.Total().Kg(), f.Above.Total().Kg()})
	f = fit(t, hall, 12)
	assert.Nil(t, f.Below, "less than a bar")
	assert.InDelta(t, 15, f.Above.Total().Kg(), 1e-9)
	few := Bars{Bars: []Mass{Kg(20)}, Discs: []Disc{{Kg(15), 1}, {Kg(10), 2}}}
	f = fit(t, few, 60) // the largest first would not come out
	require.NotNil(t, f.Exact)
	assert.Equal(t, []float64{10, 10}, side(f.Exact))
	f = fit(t, few, 300)
	assert.Nil(t, f.Above)
	assert.InDelta(t, 90, f.Below.Total().Kg(), 1e-9)
	f = fit(t, hall, 65) // either bar would do
	assert.Equal(t, Kg(20), f.Exact.Bar)
	f = fit(t, hall, 55)
	assert.Equal(t, Kg(15), f.Exact.Bar, "20 a side is one disc, 17.5 would be two")
}

func TestTooManyLoads(t *testing.T) {
	b := Bars{Bars: []Mass{Kg(20)}}
	for i := range 12 {
		b.Discs = append(b.Discs, Disc{Kg(math.Sqrt(float64(100 + 17*i))), 8})
	}
	_, err := b.Fit(Kg(300))
	assert.ErrorIs(t, err, ErrTooMany)
}

// A quarter of a pound is a whole number of steps, so discs in pounds are exact too.
func TestPoundsAreExact(t *testing.T) {
	lb := func(v float64) Mass { return Kg(v * 0.45359237) }
	b := Bars{Bars: []Mass{lb(45)}, Discs: []Disc{{lb(45), 4}, {lb(25), 2}, {lb(10), 4}, {lb(5), 2}, {lb(2.5), 2}}}
	for _, v := range []float64{45, 95, 135, 225, 230, 305} {
		f, err := b.Fit(lb(v))
		require.NoError(t, err)
		require.NotNil(t, f.Exact, "%v lb", v)
		assert.Equal(t, lb(v), f.Exact.Total())
	}
	f, err := b.Fit(lb(137))
	require.NoError(t, err)
	assert.Nil(t, f.Exact)
}

// U02. Trade pairs, within 2.5 %: REC.
func TestNamedPairs(t *testing.T) {
	lb := func(v float64) float64 { return v * 0.45359237 }
	for kg, pounds := range map[float64]float64{24: 53, 20: 45, 16: 35, 43: 95, 61: 135} {
		assert.True(t, SameByName(lb(pounds), "lb", kg, ""), "%v kg", kg)
		assert.True(t, SameByName(kg, "", lb(pounds), "lb"), "%v kg", kg)
	}
	assert.False(t, SameByName(lb(50), "lb", 24, ""))
	assert.False(t, SameByName(23.8, "", 24, ""), "in one unit they are two weights")
	assert.True(t, SameByName(24, "", 24, ""))
	assert.True(t, SameByName(24*0.0254, "in", 0.60, "cm"))
	assert.False(t, SameByName(0.61, "cm", 0.60, ""))
}

func TestKg(t *testing.T) {
	assert.Equal(t, Mass(500_000_000), Kg(1.25))
	assert.InDelta(t, 1.25, Kg(1.25).Kg(), 0)
	assert.Equal(t, Mass(45_359_237), Kg(0.45359237/4))
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		assert.Zero(t, Kg(v))
	}
	assert.Equal(t, Kg(math.Inf(1)), Kg(1e12))
}

func env(t *testing.T, text string) *model.Env {
	t.Helper()
	d := model.Declare(syntax.Parse(source.New("house.stint", text)))
	e, ds := model.NewEnv([]*model.Decls{d}, nil)
	require.Empty(t, append(d.Diags, ds...))
	return e
}

func TestBarsOfAHouse(t *testing.T) {
	e := env(t, `stint 1

house Quayside Hall
  tiers full, lesser
  kit
    8 barbell @ 20/15 kg
    4 barbell @ 20 kg
    32 disc @ 10 kg
    3 disc @ 2.5 kg
    1 disc @ 50 kg
    24 collar @ 0.5 kg
    16 kettlebell @ 24/16 kg
    16 kettlebell @ 26 lb
    16 box @ 60 cm
    4 sled
`)
	b, ok := BarsOf(e.Book, e.House, "barbell")
	require.True(t, ok)
	assert.Equal(t, []Mass{Kg(20), Kg(15)}, b.Bars)
	assert.Equal(t, []Disc{{Kg(10), sleeve}, {Kg(2.5), 1}}, b.Discs, "a lone disc loads no bar")
	assert.Equal(t, Kg(0.5), b.Collar)
	assert.NotNil(t, fit(t, b, 46).Exact)
	_, ok = BarsOf(e.Book, e.House, "trap bar")
	assert.False(t, ok)

	ks := Owned(e.Book, e.House, "kettlebell", syntax.Mass)
	require.Len(t, ks, 3)
	assert.Equal(t, []string{"lb", "", ""}, []string{ks[0].Written, ks[1].Written, ks[2].Written})
	assert.Equal(t, 16, ks[0].Count)
	below, above, isBelow, isAbove := Nearest(ks, 20)
	assert.True(t, isBelow && isAbove)
	assert.Equal(t, []float64{16, 24}, []float64{below.Value, above.Value})
	_, _, isBelow, isAbove = Nearest(ks, 40)
	assert.True(t, isBelow)
	assert.False(t, isAbove)
	below, above, _, _ = Nearest(ks, 24)
	assert.Equal(t, below, above)
	assert.Empty(t, Owned(e.Book, e.House, "box", syntax.Mass))
	assert.Len(t, Owned(e.Book, e.House, "box", syntax.Height), 1)
	assert.Empty(t, Owned(e.Book, e.House, "sled", syntax.Mass))
	_, ok = BarsOf(book.Builtin(), model.Defaults(), "barbell")
	assert.False(t, ok)
}

// What is built weighs what was asked for, to the last step, uses no more
// discs than there are, and has the heaviest inside; and where nothing is exact, nothing
// that the house can build lies between what is offered and what was asked for.
func TestBuildingIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Bars{Collar: Kg(rapid.SampledFrom([]float64{0, 0, 0.5, 2.5}).Draw(t, "collar"))}
		b.Bars = rapid.SampledFrom([][]Mass{{Kg(20)}, {Kg(20), Kg(15)}, {Kg(20.411_656_65)}}).Draw(t, "bars")
		for _, kg := range []float64{25, 20, 15, 10, 5, 2.5, 1.25, 0.453_592_37} {
			if n := rapid.IntRange(0, 3).Draw(t, "pairs"); n > 0 {
				b.Discs = append(b.Discs, Disc{Kg(kg), n})
			}
		}
		// A load that can be built is found.
		made := Build{Bar: rapid.SampledFrom(b.Bars).Draw(t, "bar"), Collars: 2 * b.Collar}
		for _, d := range b.Discs {
			for range rapid.IntRange(0, d.Pairs).Draw(t, "on") {
				made.Side = append(made.Side, d.Mass)
			}
		}
		f, err := b.Fit(made.Total())
		require.NoError(t, err)
		require.NotNil(t, f.Exact)
		assert.Equal(t, made.Total(), f.Exact.Total())
		assert.LessOrEqual(t, len(f.Exact.Side), len(made.Side))
		holds(t, b, f.Exact)

		asked := made.Total() + Kg(rapid.Float64Range(0, 3).Draw(t, "over"))
		f, err = b.Fit(asked)
		require.NoError(t, err)
		if f.Exact != nil {
			assert.Equal(t, asked, f.Exact.Total())
			return
		}
		require.NotNil(t, f.Below)
		assert.GreaterOrEqual(t, f.Below.Total(), made.Total())
		assert.Less(t, f.Below.Total(), asked)
		holds(t, b, f.Below)
		if f.Above != nil {
			assert.Greater(t, f.Above.Total(), asked)
			holds(t, b, f.Above)
		}
	})
}

func holds(t *rapid.T, b Bars, build *Build) {
	assert.True(t, slices.IsSortedFunc(build.Side, func(a, b Mass) int { return cmp.Compare(b, a) }))
	for _, d := range b.Discs {
		n := 0
		for _, m := range build.Side {
			if m == d.Mass {
				n++
			}
		}
		assert.LessOrEqual(t, n, d.Pairs)
	}
	assert.Contains(t, b.Bars, build.Bar)
}

package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// quantityOf is the count of the one line of a ladder, read and resolved.
func quantityOf(t *testing.T, count string) *Quantity {
	t.Helper()
	f := syntax.Parse(source.New("x.stint", "session X\npart A ladder "+count+"\n  burpee\n"))
	require.Empty(t, f.Diags, count)
	env, _ := NewEnv(nil, nil)
	p := Resolve(f, env)
	require.Empty(t, p.Diags, count)
	return p.Sessions[0].Parts[0].Repeat.Series
}

func TestSeriesAreFilledIn(t *testing.T) {
	for count, want := range map[string][]float64{
		"21-15-9":              {21, 15, 9},
		"2-4-...-12":           {2, 4, 6, 8, 10, 12},
		"10-9-...-1":           {10, 9, 8, 7, 6, 5, 4, 3, 2, 1},
		"10-...-1":             {10, 9, 8, 7, 6, 5, 4, 3, 2, 1},
		"1 to 4":               {1, 2, 3, 4},
		"4 to 1":               {4, 3, 2, 1},
		"2-4-...-10-8-...-2":   {2, 4, 6, 8, 10, 8, 6, 4, 2},
		"1-2-...-4-3-...-1":    {1, 2, 3, 4, 3, 2, 1},
		"2-4":                  {2, 4},
		"5-10-15-...-30-20-10": {5, 10, 15, 20, 25, 30, 20, 10},
	} {
		q := quantityOf(t, count)
		var got []float64
		for _, row := range q.Terms {
			got = append(got, row[0])
		}
		assert.Equal(t, want, got, count)
		assert.False(t, q.Uneven(), count)
		assert.Equal(t, len(want), q.Turns(), count)
	}
}

func TestStepsThatDoNotLand(t *testing.T) {
	for _, count := range []string{"2-4-...-11", "5-5-...-9", "1-3-...-2"} {
		assert.True(t, quantityOf(t, count).Uneven(), count)
	}
	// A slip in a number is no heap of memory.
	q := quantityOf(t, "1-2-...-999999999")
	assert.True(t, q.Uneven())
	assert.Less(t, len(q.Terms), 10)
}

func TestValues(t *testing.T) {
	q := func(form syntax.Form, terms ...[]float64) *Quantity { return &Quantity{Form: form, Terms: terms} }
	open := q(syntax.Series, []float64{2}, []float64{4})
	open.Open = true
	for _, row := range []struct {
		name              string
		q                 *Quantity
		turn, turns, tier int
		lo, hi            float64
		known             bool
	}{
		{"one", q(syntax.One, []float64{7}), 3, 5, 0, 7, 7, true},
		{"one, second tier", q(syntax.One, []float64{24, 16}), 0, 1, 1, 16, 16, true},
		{"one for all tiers", q(syntax.One, []float64{24}), 0, 1, 1, 24, 24, true},
		{"range, any turn", q(syntax.Range, []float64{8}, []float64{12}), 4, 5, 0, 8, 12, true},
		{"series", q(syntax.Series, []float64{9}, []float64{6}, []float64{3}), 1, 3, 0, 6, 6, true},
		{"behind a series", q(syntax.Series, []float64{9}, []float64{6}), 2, 3, 0, 0, 0, false},
		{"behind an open series", open, 4, 9, 0, 10, 10, true},
		{"from-to, first", q(syntax.FromTo, []float64{50}, []float64{70}), 0, 5, 0, 50, 50, true},
		{"from-to, middle", q(syntax.FromTo, []float64{50}, []float64{70}), 2, 5, 0, 60, 60, true},
		{"from-to, last", q(syntax.FromTo, []float64{50}, []float64{70}), 4, 5, 0, 70, 70, true},
		{"from-to without turns", q(syntax.FromTo, []float64{50}, []float64{70}), 0, 1, 0, 50, 70, false},
		{"max", &Quantity{Max: true}, 0, 1, 0, 0, 0, false},
		{"nothing", nil, 0, 1, 0, 0, 0, false},
	} {
		lo, hi, known := row.q.Value(row.turn, row.turns, row.tier)
		assert.Equal(t, []any{row.lo, row.hi, row.known}, []any{lo, hi, known}, row.name)
	}
}

// NIST SP 811 (2008), appendix B.8: the pound is exactly 0.45359237 kg, the mile
// 1609.344 m, the yard 0.9144 m.
func TestUnitsAreTheirBase(t *testing.T) {
	f := syntax.Parse(source.New("x.stint", "session X\npart A\n  1 mile run\n  100 yd run\n  5 deadlift @ 225 lb\n  2 min plank\n"))
	env, _ := NewEnv(nil, nil)
	p := Resolve(f, env)
	require.Empty(t, p.Diags)
	var works []*Work
	for _, s := range p.Sessions[0].Parts[0].Steps {
		works = append(works, s.(*Work))
	}
	assert.Equal(t, [][]float64{{1609.344}}, works[0].Dose.Terms)
	assert.Equal(t, "m", works[0].Dose.Unit)
	assert.Equal(t, "mile", works[0].Dose.Written)
	assert.InDelta(t, 91.44, works[1].Dose.Terms[0][0], 1e-9)
	assert.InDelta(t, 102.05828325, works[2].Loads[0].Amount.Terms[0][0], 1e-9)
	assert.Equal(t, [][]float64{{120}}, works[3].Dose.Terms)
	assert.Equal(t, "s", works[3].Dose.Unit)
}

package diag

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/source"
)

func TestSeverities(t *testing.T) {
	assert.Equal(t, "warning", Warning.String())
	assert.Less(t, Warning, Error, "an error weighs more")
}

func TestSortIsByPlace(t *testing.T) {
	a, b := source.New("a", "0123456789"), source.New("b", "0123456789")
	ds := []Diagnostic{
		{Rule: "z", At: b.At(source.Span{Start: 0, End: 1})},
		{Rule: "y", At: a.At(source.Span{Start: 5, End: 6}), Severity: Warning},
		{Rule: "x", At: a.At(source.Span{Start: 5, End: 6}), Severity: Error},
		{Rule: "w", At: a.At(source.Span{Start: 2, End: 9})},
	}
	Sort(ds)
	var got []string
	for _, d := range ds {
		got = append(got, d.Rule)
	}
	assert.Equal(t, []string{"w", "x", "y", "z"}, got)
}

func TestApply(t *testing.T) {
	f, other := source.New("a", "12 burpee\n"), source.New("b", "")
	edit := func(start, end int, text string) Edit { return Edit{f.At(source.Span{Start: start, End: end}), text} }

	text, all := Apply(f, []Edit{edit(3, 9, "lunge"), edit(0, 2, "10"), {other.At(source.Span{}), "no"}})
	assert.Equal(t, "10 lunge\n", text)
	assert.True(t, all)

	text, all = Apply(f, []Edit{edit(0, 5, "A"), edit(4, 9, "B")})
	assert.Equal(t, "Arpee\n", text, "the first of two that overlap")
	assert.False(t, all)

	text, all = Apply(f, []Edit{edit(2, 2, ","), edit(2, 2, ";")})
	assert.Equal(t, "12, burpee\n", text, "the order of two insertions at one place would be a guess")
	assert.False(t, all)

	text, _ = Apply(f, []Edit{edit(2, 2, ","), edit(2, 3, "_")})
	assert.Equal(t, "12,_burpee\n", text, "an insertion before a change")
}

package layout_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"stint.example/stint/lang/render/layout"
)

func TestCells(t *testing.T) {
	for text, want := range map[string]int{
		"": 0, "row": 3, "潮汐": 4, "e\u0301": 1, "👍🏽": 2, "🇳🇴": 2, "❤️": 2, "❤": 1, "Ça": 2,
	} {
		assert.Equal(t, want, layout.Cells(text), "%q", text)
	}
}

func TestWrapCells(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  []string
	}{
		{"", 5, nil},
		{" one  two ", 7, []string{"one two"}},
		{"one two", 6, []string{"one", "two"}},
		{"a bcdefg h", 4, []string{"a", "bcde", "fg h"}},
		{"潮汐表", 4, []string{"潮汐", "表"}},
		{"潮汐", 1, []string{"潮", "汐"}},
		{"e\u0301e\u0301", 1, []string{"e\u0301", "e\u0301"}},
	} {
		assert.Equal(t, c.want, layout.WrapCells(c.text, c.width), "%q in %d", c.text, c.width)
	}
}

// Whatever is wrapped keeps its letters, and a line is too wide only where it is one cluster.
func TestWrapKeepsText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune("ab 潮é\u0301👍\n")), 0, 40, -1).Draw(t, "text")
		width := rapid.IntRange(0, 12).Draw(t, "width")
		lines := layout.WrapCells(text, width)
		letters := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got := letters(strings.Join(lines, " ")); got != letters(text) {
			t.Fatalf("%q in %d is %q", text, width, lines)
		}
		for _, l := range lines {
			if layout.Cells(l) > max(width, 2) {
				t.Fatalf("%q in %d: %q is too wide", text, width, l)
			}
		}
	})
}

func TestTable(t *testing.T) {
	assert.Equal(t, ""+
		"week  mon     tue\n"+
		"\n"+
		"1     潮汐    Ebb\n"+
		"      28 min\n"+
		"2     Neap\n",
		layout.Table([][]string{{"week", "mon", "tue"}, {}, {"1", "潮汐\n28 min", "Ebb"}, {"2", "Neap"}}))
	assert.Equal(t, "a       b\n", layout.Table([][]string{{"a", "b"}}, 6))
	assert.Empty(t, layout.Table(nil))
}

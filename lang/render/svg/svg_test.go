package svg_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/internal/svgtest"
	"stint.example/stint/lang/render/svg"
)

func TestWrap(t *testing.T) {
	const size = 10
	for _, c := range []struct {
		text  string
		width float64
		want  []string
	}{
		{"", 100, nil},
		{"one two", 100, []string{"one two"}},
		{" one  two ", 30, []string{"one", "two"}},
		{"abcdef gh", 18, []string{"abc", "def", "gh"}},
		{"潮潮潮", 21, []string{"潮潮", "潮"}},
		{"W", 1, []string{"W"}},
	} {
		assert.Equal(t, c.want, svg.Wrap(c.text, c.width, size), "%q in %g", c.text, c.width)
	}
}

// A fill is defined where it is used, and explained in the legend; the others are neither.
func TestFillsAreDefinedWhereUsed(t *testing.T) {
	fills := []svg.Form{svg.Solid, svg.Dense, svg.Light, svg.Mixed, svg.Dots, svg.Open, svg.Dashed}
	for _, used := range fills {
		c := svg.NewCanvas(svg.Options{Width: svg.Phone}, "test")
		c.Title("Ebb & <Flow>")
		c.Used[used] = true
		var entries []svg.Entry
		for _, f := range fills {
			entries = append(entries, svg.Entry{Form: f, Words: string(f)})
		}
		c.Legend(entries)
		c.Y += c.Margin
		var patterns, words []string
		for _, e := range svgtest.Sound(t, string(used), c.Document("Ebb & <Flow>", "nothing"), svg.Phone) {
			switch e.Name {
			case "pattern":
				patterns = append(patterns, e.Attr["id"])
			case "text":
				words = append(words, e.Text)
			}
		}
		assert.Equal(t, []string{"Ebb & <Flow>", string(used)}, words)
		if used == svg.Solid || used == svg.Open || used == svg.Dashed {
			assert.Empty(t, patterns)
		} else {
			assert.Equal(t, []string{"test-" + string(used)}, patterns)
		}
	}
}

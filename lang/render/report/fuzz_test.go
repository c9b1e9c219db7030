package report

import (
	"math"
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// escapes finds what colour adds to a text.
var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// FuzzText takes any text and any place in it. What is written must be valid and
// visible, not too wide, the same with and without colour, and its carets must stand
// within the line or just behind it.
func FuzzText(f *testing.F) {
	f.Add("stint 1\n\nsession Bowline\n", 9, 16, "message")
	f.Add("8 ring row\r\n\t9 d\u00e9velopp\u00e9 > \U0001F4AA\U0001F3FD\n", 2, 30, "tab\tand\nfeed")
	f.Add("\x00\xff\xfe\u202e\u200b\u0301\x1b[2J", 0, 5, "\xff")
	f.Add(strings.Repeat("\u6df1\u8e72", 300), 600, 606, "")
	f.Add(strings.Repeat("\u0301", 300), 300, 301, "")
	f.Add("\u6df1\xe6\u05b1\u8e72", 9, 12, "a mark on a broken byte")
	f.Add("", -3, math.MaxInt, "")
	f.Fuzz(func(t *testing.T, content string, start, end int, message string) {
		file := source.New("a.stint", content)
		at := file.At(source.Span{Start: start, End: end})
		d := diag.Diagnostic{
			Rule: "r", Severity: diag.Warning, At: at, Message: message, Label: message, Help: message,
			Related: []diag.Related{{At: at, Message: message}},
			Fixes:   []diag.Fix{{Title: message}},
		}
		plain := text(t, Options{}, d)
		require.True(t, utf8.ValidString(plain), "%q", plain)
		for _, r := range plain {
			require.False(t, r != '\n' && unicode.In(r, unicode.Cc, unicode.Zl, unicode.Zp, unicode.Bidi_Control), "%q in %q", r, plain)
		}
		assert.Equal(t, plain, escapes.ReplaceAllString(text(t, Options{Color: true}, d), ""))

		e, ok := excerptOf(at)
		require.Equal(t, content != "", ok)
		if !ok {
			return
		}
		width := 0
		for _, c := range clusters(e.text) {
			width += c.width
		}
		assert.LessOrEqual(t, width, maxCells)
		assert.GreaterOrEqual(t, e.carets, 1)
		assert.LessOrEqual(t, e.indent+e.carets, max(width, e.indent+1), "carets end with the line")
		assert.LessOrEqual(t, e.indent, width, "the first stands under the line or just behind it")
	})
}

// FuzzClusters: the clusters of a line are the line, in order, and what they show
// measures the same when read again, so that carets line up with what is printed.
func FuzzClusters(f *testing.F) {
	for _, s := range []string{"8 ring row", "\t\x00\xff", "e\u0301\u0301", "\U0001F1EC\U0001F1E7\u2600\ufe0f", "\u0600a", "\u1161"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		at := 0
		for _, c := range clusters(line) {
			require.Equal(t, at, c.start)
			require.Greater(t, c.end, c.start)
			require.Positive(t, c.width)
			require.LessOrEqual(t, c.width, len("<U+10FFFF>"))
			at = c.end

			again := 0
			for _, d := range clusters(c.shown) {
				again += d.width
			}
			require.Equal(t, c.width, again, "%q", c.shown)
		}
		require.Equal(t, len(line), at)
	})
}

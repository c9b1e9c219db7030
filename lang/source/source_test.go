package source

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLines(t *testing.T) {
	for text, want := range map[string][]string{
		"":                nil,
		"a":               {"a"},
		"a\n":             {"a"},
		"a\n\n":           {"a", ""},
		"a\r\nb":          {"a", "b"},
		"\n":              {""},
		"a\rb\n":          {"a\rb"},
		"\r\n":            {""},
		"é\nsquat 💪\nx\n": {"é", "squat 💪", "x"},
	} {
		f := New("x", text)
		var got []string
		for i := range f.Lines() {
			got = append(got, f.Slice(f.Line(i)))
		}
		assert.Equal(t, want, got, "%q", text)
	}
}

func TestPositionsCountCharacters(t *testing.T) {
	f := New("x", "é💪 a\r\n\xff\xfe b")
	for off, want := range map[int]Position{
		0: {1, 1}, 2: {1, 2}, 6: {1, 3}, 7: {1, 4}, 8: {1, 5},
		10: {2, 1}, 11: {2, 2}, 12: {2, 3}, 13: {2, 4},
		-5: {1, 1}, 999: {2, 5},
	} {
		assert.Equal(t, want, f.Position(off), off)
	}
}

// Every offset is in the line that LineAt says, and lines follow one another without a
// gap but for their line ends.
func TestEveryOffsetHasItsLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("ab é💪\r\n\n "))).Draw(t, "text")
		f := New("x", text)
		for off := range len(text) {
			l := f.Line(f.LineAt(off))
			assert.LessOrEqual(t, l.Start, off)
			if off >= l.End {
				assert.Contains(t, "\r\n", string(text[off]))
			}
		}
		at := 0
		for i := range f.Lines() {
			l := f.Line(i)
			assert.Equal(t, at, l.Start)
			for at = l.End; at < len(text) && text[at] != '\n'; at++ {
				assert.Equal(t, byte('\r'), text[at])
			}
			at++
		}
	})
}

func TestPlaces(t *testing.T) {
	f := New("a.stint", "session Reef\n")
	p := f.At(Span{8, 12})
	assert.Equal(t, "Reef", p.Text())
	out, err := json.Marshal(p)
	require.NoError(t, err)
	assert.JSONEq(t, `{"file":"a.stint","start":{"line":1,"column":9},"end":{"line":1,"column":13}}`, string(out))
	out, err = json.Marshal(Place{})
	require.NoError(t, err)
	assert.Equal(t, "null", string(out))
	assert.Equal(t, "", Place{}.Text())
	assert.Equal(t, "", f.Slice(Span{50, 60}), "outside the text there is nothing")
	assert.Equal(t, Span{2, 9}, Span{2, 4}.Join(Span{3, 9}))
	assert.True(t, Span{2, 4}.Contains(4), "a cursor behind the last letter is on the word")
}

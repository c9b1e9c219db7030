package report

import (
	"strings"
	"testing"

	"github.com/fatih/color"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

func text(t testing.TB, opt Options, ds ...diag.Diagnostic) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, Text(&b, ds, opt))
	return b.String()
}

func TestText(t *testing.T) {
	assert.Equal(t, `sessions/bowline.stint:6:1: error: part A leaves 0:20 of rest before part B; the session asks for 1:30 [rest-gap-short]
   |
 6 | part A at 0:00 for completion
   | ^^^^^^^^^^^^^^ typical work 10:40 (8:10 fast, 13:40 slow), part B starts at 11:00
sessions/bowline.stint:10:8: note: the rest asked for
10 |   rest at least 1:30
   |        -------------
sessions/bowline.stint:12:1: note: part B starts here
12 | part B at 11:00 for completion
   | ---------------
   = help: start part B at 14:00, or drop to 2 rounds
   = fix: start part B at 14:00 (look before you take it)

sessions/bowline.stint:9:5: suggestion: 11 alternating step-up leave one side a repetition short [alternating-odd]
  |
9 |     11 step-up @ 50/40 cm, alternating
  |     ^^^^^^^^^^

sessions/bowline.stint:14:20: warning: the total says 30 burpee, the parts add up to 27 [total-wrong]
   |
14 | total 24 ring row, 30 burpee
   |                    ^^^^^^^^^ 27
   = fix: write 27 burpee

`, text(t, Options{}, findings(t)...))
	assert.Empty(t, text(t, Options{}))
}

// pointed shows a text with the place that «» mark in it, as Text does: the source
// line and the carets, without gutter.
func pointed(t *testing.T, marked string) string {
	t.Helper()
	start := strings.Index(marked, "«")
	end := strings.Index(marked, "»") - len("«")
	require.True(t, start >= 0 && end >= start, marked)
	f := source.New("a.stint", strings.NewReplacer("«", "", "»", "").Replace(marked))
	lines := strings.Split(text(t, Options{}, diag.Diagnostic{
		Severity: diag.Error, At: f.At(source.Span{Start: start, End: end}), Message: "m", Label: "label",
	}), "\n")
	require.Len(t, lines, 6) // header, bar, source, carets, the empty line, and behind it
	under := strings.TrimSuffix(lines[3], " label")
	require.NotEqual(t, lines[3], under)
	return strings.TrimPrefix(strings.TrimPrefix(lines[2], "1 |"), " ") + "\n" + strings.TrimPrefix(under, "  | ")
}

func TestCaretsStandUnderTheWords(t *testing.T) {
	for _, c := range []struct{ name, marked, want string }{
		{"ascii", "8 «ring» row", "8 ring row\n  ^^^^"},
		{"tab, two blanks", "\t8\t«ring»", "  8  ring\n     ^^^^"},
		{"on a tab", "8«\t»ring", "8  ring\n ^^"},
		{"wide letters", "跑步 «深蹲» 10", "跑步 深蹲 10\n     ^^^^"},
		{"precomposed accent", "pliés «x»", "pliés x\n      ^"},
		{"combining accent", "plie\u0301s «x»", "plie\u0301s x\n      ^"},
		{"half of an accented letter", "pli«e»\u0301s x", "plie\u0301s x\n   ^"},
		{"emoji", "💪 «x»", "💪 x\n   ^"},
		{"skin tone", "💪🏽 «x»", "💪🏽 x\n   ^"},
		{"family of one picture", "👨\u200d👩\u200d👧 «x»", "👨\u200d👩\u200d👧 x\n   ^"},
		{"picture by request", "☀\ufe0f «x»", "☀\ufe0f x\n   ^"},
		{"flag", "🇬🇧 «x»", "🇬🇧 x\n   ^"},
		{"on an emoji", "a«💪»b", "a💪b\n ^^"},
		{"NUL", "a\x00«x»", "a␀x\n  ^"},
		{"escape", "\x1b[31m«x»", "␛[31mx\n     ^"},
		{"delete", "a\x7f«x»", "a␡x\n  ^"},
		{"carriage return inside", "a\r«x»", "a␍x\n  ^"},
		{"broken bytes", "a\xff\xe2\x82«x»", "a\ufffd\ufffd\ufffdx\n    ^"},
		{"byte of its own", "a«\xcc»\u0301x", "a\ufffd<U+0301>x\n ^"},
		{"zero-width blank", "a\u200b«x»", "a<U+200B>x\n         ^"},
		{"text turned round", "a«\u202e»x", "a<U+202E>x\n ^^^^^^^^"},
		{"C1 control", "a\u009b«x»", "a<U+009B>x\n         ^"},
		{"accent on nothing", "\u0301«x»", "<U+0301>x\n        ^"},
		{"point after a broken byte", "\xff\u05b1«x»", "\ufffd<U+05B1>x\n         ^"},
		{"point after a tab", "\t\u05b1«x»", "  <U+05B1>x\n          ^"},
		{"point on its letter", "\u05d0\u05b1«x»", "\u05d0\u05b1x\n ^"},
		{"skin tone on a broken byte", "\xff\U0001f3fd«x»", "\ufffd<U+1F3FD>x\n          ^"},
		{"joiner at the line's end", "«x»\u0d4e", "x<U+0D4E>\n^"},
		{"private use", "\ue000«x»", "<U+E000>x\n        ^"},
		{"format control with a width", "\u0600«x»", "<U+0600><U+0078>\n        ^^^^^^^^"},
		{"no character", "\ufffe«x»", "<U+FFFE>x\n        ^"},
		{"byte order mark", "\ufeff«x»", "<U+FEFF>x\n        ^"},
		{"empty place", "8 «»ring", "8 ring\n  ^"},
		{"line's end", "8 ring«»\n", "8 ring\n      ^"},
		{"line feed", "8 ring«\n»9", "8 ring\n      ^"},
		{"in a DOS line end", "8 ring\r«\n»9", "8 ring\n      ^"},
		{"several lines", "8 «ring row\n9 burpee»\n", "8 ring row\n  ^^^^^^^^"},
		{"several DOS lines", "8 «ring row\r\n9 burpee»\r\n", "8 ring row\n  ^^^^^^^^"},
		{"empty line", "«\n»8 ring", "\n^"},
	} {
		assert.Equal(t, c.want, pointed(t, c.marked), c.name)
	}
}

func TestLongLinesAreCut(t *testing.T) {
	digits := strings.Repeat("0123456789", 30)
	blanks := func(n int) string { return strings.Repeat(" ", n) }
	carets := func(n int) string { return strings.Repeat("^", n) }
	for _, c := range []struct{ name, marked, want string }{
		{"160 cells fit", digits[:156] + "«here»", digits[:156] + "here\n" + blanks(156) + "^^^^"},
		{"in front", "«here»" + digits, "here" + digits[:154] + "…\n^^^^"},
		{
			// 158 cells of text, (158-4)/2 = 77 of them in front of the place.
			"in the middle", digits + "«here»" + digits,
			"…" + digits[300-77:] + "here" + digits[:77] + "…\n" + blanks(78) + "^^^^",
		},
		{"behind", digits + "«here»", "…" + digits[300-154:] + "here\n" + blanks(155) + "^^^^"},
		{"the end of a long line", digits + "«»", "…" + digits[300-158:] + "\n" + blanks(159) + "^"},
		{
			"a place too wide", digits + "«" + digits + "»",
			"…" + digits[280:] + digits[:138] + "…\n" + blanks(21) + carets(138),
		},
		{
			// Wide letters: 79 fit into 158 cells, 77 cells in front are 38 of them and a half.
			"wide letters", strings.Repeat("深", 200) + "«ab»" + strings.Repeat("深", 200),
			"…" + strings.Repeat("深", 39) + "ab" + strings.Repeat("深", 39) + "…\n" + blanks(79) + "^^",
		},
	} {
		assert.Equal(t, c.want, pointed(t, c.marked), c.name)
	}
}

// A slip in a rule's arithmetic must not cost the message.
func TestPlacesOutsideTheText(t *testing.T) {
	f := source.New("a.stint", "stint 1\nx\n")
	for span, want := range map[source.Span]string{
		{Start: -5, End: -2}:   "a.stint:1:1: error: m [r]\n  |\n1 | stint 1\n  | ^\n\n",
		{Start: 4, End: 2}:     "a.stint:1:5: error: m [r]\n  |\n1 | stint 1\n  |     ^\n\n",
		{Start: 6, End: 99}:    "a.stint:1:7: error: m [r]\n  |\n1 | stint 1\n  |       ^\n\n",
		{Start: 400, End: 500}: "a.stint:3:1: error: m [r]\n  |\n3 |\n  | ^\n\n",
	} {
		assert.Equal(t, want, text(t, Options{}, diag.Diagnostic{Rule: "r", Severity: diag.Error, At: f.At(span), Message: "m"}))
	}
}

func TestTextWithoutSource(t *testing.T) {
	d := diag.Diagnostic{
		Rule: "file-empty", Severity: diag.Warning, At: source.New("a.stint", "").At(source.Span{}),
		Message: "there is nothing in this file", Label: "0 bytes", Help: "write stint 1",
		Related: []diag.Related{{Message: "asked for on the command line"}},
	}
	const rest = `warning: there is nothing in this file [file-empty]
  = note: 0 bytes
note: asked for on the command line
  = help: write stint 1

`
	assert.Equal(t, "a.stint:1:1: "+rest, text(t, Options{}, d))
	d.At = source.Place{}
	assert.Equal(t, rest, text(t, Options{}, d))
	d.Severity = diag.Off
	assert.Empty(t, text(t, Options{}, d))
}

// Words from the source may stand in any part of a message.
func TestEveryPartIsPrintable(t *testing.T) {
	const bad = "a\nb\x1b\xff\u202e"
	const good = "a␊b␛\ufffd<U+202E>"
	f := source.New(bad, "x")
	got := text(t, Options{}, diag.Diagnostic{
		Rule: bad, Severity: diag.Error, At: f.At(source.Span{}), Message: bad, Label: bad, Help: bad,
		Related: []diag.Related{{Message: bad}}, Fixes: []diag.Fix{{Title: bad, Safe: true}},
	})
	assert.Equal(t, strings.ReplaceAll(`G:1:1: error: G [G]
  |
1 | x
  | ^ G
note: G
  = help: G
  = fix: G

`, "G", good), got)
}

func TestGutterFitsTheWidestNumber(t *testing.T) {
	f := source.New("a.stint", strings.Repeat("x\n", 120))
	line := func(n int) source.Place { return f.At(source.Span{Start: 2 * (n - 1), End: 2*n - 1}) }
	assert.Equal(t, `a.stint:7:1: error: m [r]
    |
  7 | x
    | ^
a.stint:99:1: note: n
 99 | x
    | -
a.stint:100:1: note: n
100 | x
    | -
    = help: h

`, text(t, Options{}, diag.Diagnostic{
		Rule: "r", Severity: diag.Error, At: line(7), Message: "m", Help: "h",
		Related: []diag.Related{{At: line(99), Message: "n"}, {At: line(100), Message: "n"}},
	}))
}

// Colour is the caller's choice alone, and adds nothing but colour.
func TestColor(t *testing.T) {
	was := color.NoColor
	t.Cleanup(func() { color.NoColor = was })
	for _, global := range []bool{true, false} {
		color.NoColor = global
		t.Setenv("NO_COLOR", map[bool]string{true: "1", false: ""}[global])
		plain := text(t, Options{}, findings(t)...)
		painted := text(t, Options{Color: true}, findings(t)...)
		assert.NotContains(t, plain, "\x1b")
		assert.Contains(t, painted, "\x1b[1;31merror:", "errors are red")
		assert.Contains(t, painted, "\x1b[1;33mwarning:", "warnings are yellow")
		assert.Contains(t, painted, "\x1b[1;36msuggestion:", "suggestions are cyan")
		assert.Equal(t, plain, escapes.ReplaceAllString(painted, ""))
	}
}

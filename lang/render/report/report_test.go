package report

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// on is the place of the only occurrence of words in f.
func on(t testing.TB, f *source.File, words string) source.Place {
	t.Helper()
	require.Equal(t, 1, strings.Count(f.Text, words), "%q must stand once in the text", words)
	i := strings.Index(f.Text, words)
	return f.At(source.Span{Start: i, End: i + len(words)})
}

// a session with a rest that is too short, a total that is wrong and an odd count.
var session = source.New("sessions/bowline.stint", `stint 1

session Bowline
  length 60:00

part A at 0:00 for completion
  3 rounds
    8 ring row
    11 step-up @ 50/40 cm, alternating
  rest at least 1:30

part B at 11:00 for completion
  27 burpee
total 24 ring row, 30 burpee
`)

func findings(t testing.TB) []diag.Diagnostic {
	return []diag.Diagnostic{
		{
			Rule: "rest-gap-short", Severity: diag.Error, At: on(t, session, "part A at 0:00"),
			Message: "part A leaves 0:20 of rest before part B; the session asks for 1:30",
			Label:   "typical work 10:40 (8:10 fast, 13:40 slow), part B starts at 11:00",
			Help:    "start part B at 14:00, or drop to 2 rounds",
			Related: []diag.Related{
				{At: on(t, session, "at least 1:30"), Message: "the rest asked for"},
				{At: on(t, session, "part B at 11:00"), Message: "part B starts here"},
			},
			Fixes: []diag.Fix{{
				Title: "start part B at 14:00",
				Edits: []diag.Edit{{At: on(t, session, "11:00"), New: "14:00"}},
			}},
		},
		{
			Rule: "alternating-odd", Severity: diag.Suggestion, At: on(t, session, "11 step-up"),
			Message: "11 alternating step-up leave one side a repetition short",
		},
		{
			Rule: "total-wrong", Severity: diag.Warning, At: on(t, session, "30 burpee"),
			Message: "the total says 30 burpee, the parts add up to 27",
			Label:   "27",
			Fixes: []diag.Fix{{
				Title: "write 27 burpee", Safe: true,
				Edits: []diag.Edit{{At: on(t, session, "30 burpee"), New: "27 burpee"}},
			}},
		},
	}
}

func TestSummary(t *testing.T) {
	ds := findings(t)
	assert.Equal(t, "1 error, 1 warning, 1 suggestion in 1 file", Summary(ds))
	assert.Equal(t, Counts{Errors: 1, Warnings: 1, Suggestions: 1}, Count(ds))

	other, third := ds[0], ds[2]
	other.At = source.New("other.stint", "x").At(source.Span{})
	third.At = source.New("third.stint", "x").At(source.Span{})
	assert.Equal(t, "2 errors, 1 warning in 3 files", Summary([]diag.Diagnostic{ds[0], other, third}))
	assert.Equal(t, "2 suggestions in 1 file", Summary([]diag.Diagnostic{ds[1], ds[1]}))

	ds[0].At = source.Place{}
	assert.Equal(t, "1 error", Summary(ds[:1]), "a finding in no file")

	ds[0].Severity = diag.Off
	assert.Equal(t, "no findings", Summary(ds[:1]))
	assert.Equal(t, "no findings", Summary(nil))
}

func TestLines(t *testing.T) {
	var b strings.Builder
	ds := findings(t)
	ds = append(ds,
		diag.Diagnostic{Rule: "file-unreadable", Severity: diag.Error, Message: "this folder cannot be read"},
		diag.Diagnostic{Severity: diag.Error, At: source.New("a\x1b[31m\nb.stint", "").At(source.Span{}), Message: "one\ntwo \xff"},
		diag.Diagnostic{Rule: "quiet", Severity: diag.Off, Message: "not shown"},
	)
	opt := Options{Path: func(name string) string { return strings.TrimPrefix(name, "sessions/") }}
	require.NoError(t, Lines(&b, ds, opt))
	assert.Equal(t, `bowline.stint:6:1: error: part A leaves 0:20 of rest before part B; the session asks for 1:30 [rest-gap-short]
bowline.stint:9:5: suggestion: 11 alternating step-up leave one side a repetition short [alternating-odd]
bowline.stint:14:20: warning: the total says 30 burpee, the parts add up to 27 [total-wrong]
error: this folder cannot be read [file-unreadable]
a␛[31m␊b.stint:1:1: error: one␊two `+"\uFFFD\n", b.String())
}

// full is a disc with no room left.
type full struct{}

var errFull = errors.New("no room")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWriteErrorsComeBack(t *testing.T) {
	require.ErrorIs(t, Text(full{}, findings(t), Options{}), errFull)
	require.ErrorIs(t, Lines(full{}, findings(t), Options{}), errFull)
	require.ErrorIs(t, JSON(full{}, findings(t), Options{}), errFull)
}

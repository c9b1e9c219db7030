package marktest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/source"
)

// A recorder is a test that may fail without failing the one that it is used in.
type recorder struct {
	testing.TB
	errors []string
}

func (r *recorder) Helper()           {}
func (r *recorder) Error(args ...any) { r.errors = append(r.errors, fmt.Sprint(args...)) }
func (r *recorder) Errorf(f string, args ...any) {
	r.errors = append(r.errors, fmt.Sprintf(f, args...))
}

func parse(t *testing.T, text string) *Case {
	t.Helper()
	c, err := Parse("case.txtar", []byte(text))
	require.NoError(t, err)
	return c
}

// on is a diagnostic on words of the case's file, of which the text holds one.
func on(t *testing.T, c *Case, file, rule, words, message string) diag.Diagnostic {
	t.Helper()
	f := c.File(file)
	require.NotNil(t, f)
	i := strings.Index(f.Text, words)
	require.GreaterOrEqual(t, i, 0)
	return diag.Diagnostic{Rule: rule, Message: message, At: f.At(source.Span{Start: i, End: i + len(words)})}
}

const two = `A comment of the archive.
-- a.stint --
part A
  12 burpee #@ diag dose-odd "burpee" /too (many|few)/
  0:45 plank > A note.
  #@^ diag hold-long
  #@^ diag hold-long "plank"; diag name-plain
-- b.stint --
part B #@ diag cap-tight
`

func right(t *testing.T, c *Case) []diag.Diagnostic {
	return []diag.Diagnostic{
		on(t, c, "b.stint", "cap-tight", "part B", "few can"),
		on(t, c, "a.stint", "hold-long", "plank", "long"),
		on(t, c, "a.stint", "hold-long", "0:45", "long"),
		on(t, c, "a.stint", "name-plain", "0:45 plank", "plain"),
		on(t, c, "a.stint", "dose-odd", "burpee", "that is too many"),
	}
}

func failures(c *Case, ds []diag.Diagnostic) []string {
	r := &recorder{}
	c.Check(r, ds)
	return r.errors
}

func TestCheckPasses(t *testing.T) {
	c := parse(t, two)
	assert.Empty(t, failures(c, right(t, c)))
	assert.Len(t, c.Files(), 2)
	assert.Contains(t, c.Files()[0].Text, "#@ diag", "markers stay in the text")
	assert.Equal(t, 3, c.Markers()[1].Line, "#@^ passes over other markers")
}

func TestCheckFails(t *testing.T) {
	c := parse(t, two)
	without := func(i int) []diag.Diagnostic {
		ds := right(t, c)
		return append(ds[:i:i], ds[i+1:]...)
	}
	with := func(ds ...diag.Diagnostic) []diag.Diagnostic { return append(right(t, c), ds...) }
	tests := []struct {
		name string
		ds   []diag.Diagnostic
		want []string // of each failure, words in it
	}{
		{"nothing at all", nil, []string{"a.stint:2", "a.stint:3", "a.stint:3", "a.stint:3", "b.stint:1"}},
		{"one is missing", without(0), []string{"case.txtar:9: b.stint:1: want cap-tight: the line draws nothing"}},
		{"one of two of a rule is missing", without(2), []string{`a.stint:3: want hold-long: the line draws`}},
		{"one too many", with(on(t, c, "a.stint", "hold-long", "12 burpee", "long")),
			[]string{`case.txtar:4: a.stint:2: no marker asks for hold-long "12 burpee" (long)`}},
		{"the same twice", with(on(t, c, "b.stint", "cap-tight", "part B", "few can")),
			[]string{"b.stint:1: no marker asks for cap-tight"}},
		{"on another line", append(without(0), on(t, c, "a.stint", "cap-tight", "part A", "few can")),
			[]string{`b.stint:1: want cap-tight: the line draws nothing, but there is cap-tight "part A" (few can) at a.stint:1`, "a.stint:1: no marker asks for cap-tight"}},
		{"another rule", append(without(0), on(t, c, "b.stint", "cap-loose", "part B", "all can")),
			[]string{`b.stint:1: want cap-tight: the line draws cap-loose "part B"`, "b.stint:1: no marker asks for cap-loose"}},
		{"other words", append(without(4), on(t, c, "a.stint", "dose-odd", "12", "that is too many")),
			[]string{`want dose-odd "burpee" /too (many|few)/: the line draws dose-odd "12"`}},
		{"other message", append(without(4), on(t, c, "a.stint", "dose-odd", "burpee", "that is odd")),
			[]string{`want dose-odd "burpee" /too (many|few)/: the line draws dose-odd "burpee" (that is odd)`}},
		{"in no file", with(diag.Diagnostic{Rule: "kit-short", Message: "nowhere"}), []string{"(no file):0: no marker asks for kit-short"}},
		{"in a file outside the case", with(diag.Diagnostic{Rule: "kit-short", At: source.New("z.stint", "x").At(source.Span{End: 1})}),
			[]string{"z.stint:1: no marker asks for kit-short"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := failures(c, tt.ds)
			require.Len(t, got, len(tt.want), "%q", got)
			for i := range got {
				assert.Contains(t, got[i], tt.want[i])
			}
		})
	}
}

// Markers that could be met in two ways are paired so that all are met, whatever their order.
func TestCheckPairs(t *testing.T) {
	for _, markers := range []string{
		`diag r; diag r "b"; diag r /first/`, `diag r /first/; diag r "b"; diag r`, `diag r "b"; diag r; diag r /first/`,
	} {
		c := parse(t, "-- a.stint --\na b c #@ "+markers+"\n")
		ds := []diag.Diagnostic{
			on(t, c, "a.stint", "r", "b", "first"), on(t, c, "a.stint", "r", "a", "first"),
			on(t, c, "a.stint", "r", "c", "last"),
		}
		assert.Empty(t, failures(c, ds), markers)
		assert.NotEmpty(t, failures(c, ds[:2]), markers)
		assert.NotEmpty(t, failures(c, []diag.Diagnostic{ds[0], ds[2], ds[2]}), markers)
	}
}

func TestMarkers(t *testing.T) {
	c := parse(t, "-- a.stint --\n"+`1 a # 12,5 is a comment
2 a	#@ diag one-two-3 "a\t\"b\";" /c;\/d "e" #@/ ; diag four
3 a #@diag five
`)
	var got []string
	for _, m := range c.Markers() {
		got = append(got, fmt.Sprintf("%d %s", m.Line, m))
	}
	assert.Equal(t, []string{`2 one-two-3 "a\t\"b\";" /c;/d "e" #@/`, "2 four", "3 five"}, got)
}

func TestMarkersRefused(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"12 burpee > Slowly. #@ diag r", "a.stint:1: #@ stands where no comment can start"},
		{"12 burpee#@ diag r", "stands where no comment can start"},
		{"12 burpee # see #@ diag r", "stands where no comment can start"},
		{"#@ diag r", "on a line of its own starts with #@^"},
		{"  #@^ diag r", "no line stands above"},
		{"12 burpee #@^ diag r", "#@^ stands on a line of its own"},
		{"12 burpee #@", "a marker is written"},
		{"12 burpee #@ diagram r", "a marker is written"},
		{"12 burpee #@ diag Rule", "name of a rule"},
		{"12 burpee #@ diag r;", "a marker is written"},
		{"12 burpee #@ diag r s", "cannot follow r"},
		{"12 burpee #@ diag r, diag s", "cannot follow r"},
		{`12 burpee #@ diag r "a`, "do not end"},
		{`12 burpee #@ diag r ""`, "no words"},
		{"12 burpee #@ diag r /a", "does not end"},
		{"12 burpee #@ diag r /(/", "missing closing"},
	} {
		_, err := Parse("case.txtar", []byte("-- a.stint --\n"+tt.text+"\n"))
		assert.ErrorContains(t, err, tt.want, tt.text)
	}
}

func TestParseRefused(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"no section", "no file stands in it"},
		{"-- @json --\n{}\n", "no file stands in it"},
		{"-- a --\n-- a --\n", "two files are called a"},
		{"-- a --\n-- @fmt a --\n-- @fmt  a --\n", "two goldens are called @fmt a"},
		{"-- a --\n-- @fmt b --\n", "the golden @fmt b is of no file"},
	} {
		_, err := Parse("case.txtar", []byte(tt.text))
		assert.ErrorContains(t, err, tt.want, tt.text)
	}
}

const archive = "Why.\n-- a.stint --\npart A #@ diag r\n-- @fmt a.stint --\nold\n-- @json --\n{}\n"

func load(t *testing.T, name, text string) (*Case, func() string) {
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return Load(t, path), func() string {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		return string(data)
	}
}

func TestGoldenCompares(t *testing.T) {
	golden.SetUpdating(t, false)
	c, text := load(t, "a.txtar", archive)
	r := &recorder{}
	c.Golden(r, "fmt", "a.stint", "old\n")
	c.Golden(r, "fmt", "a.stint", "old")
	c.Golden(r, "json", "", "{}")
	assert.Empty(t, r.errors)
	c.Golden(r, "fmt", "a.stint", "new\n")
	c.Golden(r, "fmt", "", "old\n")
	require.Len(t, r.errors, 2)
	assert.Contains(t, r.errors[0], "-old\n+new")
	assert.Contains(t, r.errors[1], "there is no section @fmt; -update adds it")
	assert.Equal(t, archive, text(), "without -update nothing is written")
	assert.True(t, c.HasGolden("json", ""))
	assert.False(t, c.HasGolden("json", "a.stint"))
}

func TestGoldenUpdates(t *testing.T) {
	golden.SetUpdating(t, true)
	c, text := load(t, "a.txtar", archive)
	r := &recorder{}
	c.Golden(r, "fmt", "a.stint", "new")
	c.Golden(r, "tree", "a.stint", "Head\n")
	assert.Empty(t, r.errors)
	assert.Equal(t, "Why.\n-- a.stint --\npart A #@ diag r\n-- @fmt a.stint --\nnew\n"+
		"-- @json --\n{}\n-- @tree a.stint --\nHead\n", text(), "files and markers stay as they are")
	c.Golden(r, "json", "", "-- b --\n")
	parse(t, archive).Golden(r, "json", "", "[]\n")
	require.Len(t, r.errors, 2)
	assert.Contains(t, r.errors[0], "start of a section")
	assert.Contains(t, r.errors[1], "the case comes from no file")
	golden.SetUpdating(t, false)
	c.Golden(r, "fmt", "a.stint", "new")
	assert.Len(t, r.errors, 2, "what was written is what is expected from then on")
}

func TestGlob(t *testing.T) {
	var names []string
	Glob(t, "testdata/*.txtar", func(t *testing.T, c *Case) { names = append(names, t.Name()+" "+c.Name) })
	assert.Equal(t, []string{"TestGlob/example testdata/example.txtar"}, names)
}

func TestOnly(t *testing.T) {
	c, err := Parse("a.txtar", []byte("What it shows.\nonly: sets-uneven\nonly: sides-uneven\n\n-- a.stint --\nsession A #@ diag part-empty\n"))
	require.NoError(t, err)
	assert.Equal(t, []string{"sets-uneven", "sides-uneven"}, c.Only)
	assert.True(t, c.About("sets-uneven"))
	assert.True(t, c.About("part-empty"), "a marker asks for it")
	assert.False(t, c.About("total-wrong"))
	all, err := Parse("a.txtar", []byte("-- a.stint --\nsession A\n"))
	require.NoError(t, err)
	assert.True(t, all.About("total-wrong"))
	_, err = Parse("a.txtar", []byte("only:\n-- a.stint --\n"))
	assert.ErrorContains(t, err, "names of rules")
}

package syntax_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// What editors and file transfers leave in a text, which an archive of test files
// cannot hold.
func TestBytes(t *testing.T) {
	const bom, nbsp, zero = "\ufeff", "\u00a0", "\u200b"
	tests := []struct {
		name, text string
		want       []string // rule and words of each diagnostic
	}{
		{"empty", "", nil},
		{"only a line end", "\n", nil},
		{"no line end", "part A\n  12 burpee", nil},
		{"blank lines", "\n  \n\t\npart A\n \n  12 burpee\n\n", nil},
		{"blanks at the end", "part A  \n  12 burpee   \t\n  12 lunge  # a comment  \n", nil},
		{"byte order mark", bom + "stint 1\n", []string{`characters-plain "` + bom + `"`}},
		{"byte order mark alone", bom, []string{`characters-plain "` + bom + `"`}},
		{"carriage returns", "part A\r\n  12 burpee\r\n\r\n  12 lunge > Slow.\r\n", []string{"characters-plain \"\r\""}},
		{"one carriage return", "part A\n  12 burpee\r\n", []string{"characters-plain \"\r\""}},
		{"no-break spaces", "part A\n" + nbsp + " 12" + nbsp + "burpee\n", []string{`characters-plain "` + nbsp + `"`}},
		{"zero-width space in a word", "part A\n  12 bur" + zero + "pee\n", []string{`characters-plain "` + zero + `"`}},
		{"NUL", "part A\n  12 bur\x00pee\n", []string{`character-odd "` + "\x00" + `"`}},
		{"NULs", "part A\n  12 \x00\x00 burpee \x00\n", []string{`character-odd "` + "\x00\x00" + `"`}},
		{"escape", "part A\n  12 \x1b[1mburpee\n", []string{`character-odd "` + "\x1b[" + `"`}},
		{"broken byte", "part A\n  12 bur\xffpee\n", []string{`character-odd "` + "\xff" + `"`}},
		{"broken bytes", "part A\n  12 \xc3\x28 burpee\n", []string{`character-odd "` + "\xc3(" + `"`}},
		{"broken byte first", "\xffpart A\n  12 burpee\n", []string{`character-odd "` + "\xff" + `"`}},
		{"broken byte in the indent", "part A\n \xff 12 burpee\n", []string{"indent-odd \" \"", `character-odd "` + "\xff" + `"`}},
		{"broken bytes in a note", "part A\n  12 burpee > \xff\x00\n", nil},
		{"broken bytes in a comment", "part A # \xff\n", nil},
		{"other scripts", "movement приседание\npart A\n  12 приседание\n  12 深蹲\n", nil},
		{"a mark of its own", "movement cafe\u0301 squat\n", nil},
		{"vertical tab", "part A\n  12\vburpee\n", []string{"character-odd \"\v\""}},
		{"line separator", "part A\n  12\u2028burpee\n", []string{"character-odd \"\u2028\""}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := syntax.Parse(source.New("a.stint", tt.text))
			var got []string
			for _, d := range f.Diags {
				got = append(got, d.Rule+` "`+d.At.Text()+`"`)
				for _, fix := range d.Fixes {
					text, all := diag.Apply(f.Src, fix.Edits)
					assert.True(t, all)
					assert.Less(t, len(syntax.Parse(source.New("a.stint", text)).Diags), len(f.Diags), "%s", fix.Title)
				}
			}
			assert.Equal(t, tt.want, got, said(f.Diags))
			assert.Equal(t, tt.text, joined(f))
			assert.Empty(t, treeProblems(f))
			checkSpans(t, f, false)
		})
	}
}

// Typographic characters are read as the plain ones.
func TestPlainCharactersMeanTheSame(t *testing.T) {
	a := syntax.Parse(source.New("a", "part A\n  8-10 child's pose @ 70-75%\n  3 x 5 squat\n  2-4-...-10 lunge\n"))
	b := syntax.Parse(source.New("b", "\ufeffpart\u00a0A\r\n  8–10 child’s\u202fpose @ 70−75%\r\n  3 × 5 squ\u00adat\r\n  2–4–…–10 lunge\r\n"))
	require.Len(t, b.Lines, len(a.Lines))
	for i := range a.Lines {
		assert.True(t, syntax.Same(a.Lines[i].Stmt, b.Lines[i].Stmt), "line %d", i+1)
		assert.Equal(t, a.Lines[i].Depth, b.Lines[i].Depth)
	}
}

// quick fails a test that takes longer than anyone waits for a key press, with room for
// slow machines.
func quick(t *testing.T, read func()) {
	t.Helper()
	start := time.Now()
	read()
	assert.Less(t, time.Since(start), 3*time.Second)
}

func TestHugeTextsAreQuick(t *testing.T) {
	tests := []struct {
		name, text string
		diags      int
	}{
		{"a word of 10 MB", strings.Repeat("x", 10<<20), 1},
		{"10 MB of odd characters", "part A\n  12 " + strings.Repeat("(", 10<<20), 1},
		{"10 MB of numbers", "part A\n  " + strings.Repeat("12 ", 3<<20), 1},
		{"10 MB of wide characters", "part A\n  " + strings.Repeat("蹲", 3<<20), 1},
		{"10 MB of broken bytes", "part A\n  " + strings.Repeat("\xff", 10<<20), 1},
		{"10 MB of blanks", "part A\n  12 burpee" + strings.Repeat(" ", 10<<20) + "\n", 0},
		{"an indent of 10 MB", "part A\n" + strings.Repeat(" ", 10<<20) + "12 burpee\n", 1},
		{"a note of 10 MB", "part A > " + strings.Repeat("x ", 5<<20), 1},
		{"the longest line", "part A\n  " + strings.Repeat("1-", syntax.MaxBody/2-4) + "1 squat", 0},
		{"many loads", "part A\n  12 squat" + strings.Repeat(" @ 1 kg", 500), 0},
		{"many clauses that fail late", "part A\n  12 squat" + strings.Repeat(", split", 500) + ", x", 1},
		{"many colons", "part A\n  " + strings.Repeat("2 rounds: ", 400) + "12 squat", 0},
		{"many arrows", "scaling x\n  " + strings.Repeat("row -> ", 500) + "run", 1},
		{"a ladder of 1000 depths", staircase(1000), 1000},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			quick(t, func() {
				f := syntax.Parse(source.New("a.stint", tt.text))
				assert.LessOrEqual(t, len(f.Diags), tt.diags)
				for _, d := range f.Diags {
					assert.Less(t, len(d.Message), 300)
				}
			})
		})
	}
}

// staircase is a text in which each line is one level deeper than the one before it.
func staircase(n int) string {
	var b strings.Builder
	b.WriteString("part A\n")
	for i := 1; i < n; i++ {
		b.WriteString(strings.Repeat("  ", i) + "2 rounds\n")
	}
	return b.String()
}

// 10,000 depths are read without a deep stack, and a tree as deep as any is walked.
func TestDeepIndents(t *testing.T) {
	text := "part A\n" + strings.Repeat(" ", 20_000) + "12 burpee\n" + strings.Repeat("\t", 10_000) + "2 rounds\n"
	quick(t, func() {
		f := syntax.Parse(source.New("a.stint", text))
		assert.Len(t, f.Diags, 2)
		assert.Empty(t, treeProblems(f))
	})
	quick(t, func() {
		f := syntax.Parse(source.New("a.stint", staircase(2000)))
		assert.Empty(t, treeProblems(f))
		depth := 0
		for bs := f.Roots; len(bs) > 0; bs = bs[len(bs)-1].Kids {
			depth++
		}
		assert.LessOrEqual(t, depth, 50)
	})
}

func TestUTF16IsSaidOnce(t *testing.T) {
	text := "\xff\xfes\x00e\x00s\x00s\x00i\x00o\x00n\x00\n\x00\n\x00x\x00"
	f := syntax.Parse(source.New("x.stint", text))
	require.Len(t, f.Diags, 1)
	assert.Contains(t, f.Diags[0].Message, "UTF-16")
	assert.Len(t, f.Lines, f.Src.Lines())
	assert.True(t, f.NotUTF8)
}

package format

import (
	"maps"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// check holds the formatter's promises against a text.
func check(t require.TestingT, text string) {
	before := parse(text)
	out := Source(before)
	if before.NotUTF8 {
		require.Equal(t, text, out, "what cannot be read is left as it is")
		require.Empty(t, Edits(before))
		return
	}
	after := parse(out)
	require.Equal(t, normal(before), normal(after), "the same meaning: %q", out)
	require.Equal(t, texts(before), texts(after), "the same notes and comments: %q", out)
	require.Equal(t, out, Source(after), "a second pass changes nothing")
	require.Empty(t, Edits(after), "nor do edits")
	checkLines(t, before, out)
	checkEdits(t, before, out)
	checkLocal(t, before)
	checkDiagnostics(t, before, after)
}

// checkLines looks at what stands round the lines.
func checkLines(t require.TestingT, f *syntax.File, out string) {
	require.Equal(t, len(f.Lines), strings.Count(out, "\n"), "no line is joined or removed")
	if out != "" {
		require.True(t, strings.HasSuffix(out, "\n"))
	}
	for _, line := range strings.Split(out, "\n") {
		require.Equal(t, trimRight(line), line, "no blanks at the end")
		indent := len(line) - len(strings.TrimLeft(line, " "))
		require.Zero(t, indent%2)
	}
	require.Equal(t, utf8.ValidString(f.Src.Text), utf8.ValidString(out))
}

// checkEdits makes the edits and looks that each keeps to its line.
func checkEdits(t require.TestingT, f *syntax.File, out string) {
	edits := Edits(f)
	got, all := diag.Apply(f.Src, edits)
	require.True(t, all, "no two edits overlap")
	require.Equal(t, out, got, "the edits make what is printed")
	lines := map[int]bool{}
	for _, e := range edits {
		i := f.Src.LineAt(e.At.Start)
		require.False(t, lines[i], "one edit a line")
		lines[i] = true
		require.LessOrEqual(t, strings.Count(f.Src.Slice(e.At.Span), "\n"), 1)
		require.LessOrEqual(t, strings.Count(e.New, "\n"), 1)
		if utf8.ValidString(f.Src.Text) {
			require.True(t, utf8.ValidString(e.New), "no character is cut: %q", e.New)
		}
	}
}

// checkLocal prints each line with nothing but the lines that it stands under.
func checkLocal(t require.TestingT, f *syntax.File) {
	var cache syntax.Cache
	var walk func(above string, b *syntax.Block)
	walk = func(above string, b *syntax.Block) {
		written := strings.Repeat("  ", b.Line.Depth) + b.Line.Text + "\n"
		alone := cache.Parse(source.New("a.stint", above+written))
		require.Equal(t, Line(b.Line), Line(alone.Lines[len(alone.Lines)-1]), "it depends on its neighbours")
		for _, kid := range b.Kids {
			walk(above+written, kid)
		}
	}
	for _, b := range f.Roots {
		walk("", b)
	}
	for _, l := range f.Lines {
		if l.Stmt == nil && l.Note == nil && l.Comment != nil { // stands under nothing
			require.Equal(t, Line(parse(l.Text).Lines[0]), strings.TrimLeft(Line(l), " "))
		}
	}
}

// checkDiagnostics looks that no line draws a rule that it did not draw before.
func checkDiagnostics(t require.TestingT, before, after *syntax.File) {
	old, now := drawn(before), drawn(after)
	for line, rules := range now {
		for rule := range rules {
			require.True(t, old[line][rule] || rule == "characters-plain" && drawsAnywhere(old, rule),
				"line %d draws %s: %q", line+1, rule, Source(before))
		}
	}
}

func drawn(f *syntax.File) map[int]map[string]bool {
	out := map[int]map[string]bool{}
	for _, d := range f.Diags {
		line := f.Src.LineAt(d.At.Start)
		if out[line] == nil {
			out[line] = map[string]bool{}
		}
		out[line][d.Rule] = true
	}
	return out
}

func drawsAnywhere(drawn map[int]map[string]bool, rule string) bool {
	for rules := range maps.Values(drawn) {
		if rules[rule] {
			return true
		}
	}
	return false
}

func TestGuardsOnCorpus(t *testing.T) {
	for path, text := range corpus(t) {
		check(t, text)
		messy := strings.NewReplacer("  ", "\t", " @ ", "@", "->", "→", ", ", "  ,\u00a0", "\n", "  \r\n").Replace(text)
		check(t, messy)
		assert.Equal(t, Source(parse(text)), strings.ReplaceAll(Source(parse(strings.ReplaceAll(text, "\n", "\r\n"))), "\r", ""), path)
	}
}

// FuzzFormat takes any text at all. Of the corpus it starts from pieces: a fuzzer that
// is to change and to shrink texts wants them short.
func FuzzFormat(f *testing.F) {
	for path, text := range corpus(f) {
		pieces := strings.Split(text, "\n\n")
		if strings.Contains(path, "book") {
			pieces = pieces[:2] // of its entries one is like another
		}
		for _, piece := range pieces {
			f.Add(piece)
		}
	}
	for _, text := range sketches {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) { check(t, text) })
}

// sketches are texts that the corpus has nothing like.
var sketches = []string{
	"part A every 2:30 x 5 # strength on a clock\n  3 front squat @ 80 % tempo 31x1\n",
	"part B emom 12 min\r\n  slot 1: 12 cal row\r\n  slot 4 : rest",
	"part A 2 rounds, each +5 kg\n\tsets 4-2-1\n\t\tfront squat @ 50 to 70 % of 5rm\n  rest 1:30 between Laps\n",
	"part C for time, in teams of 4, cap 14:00\n  run 300m\n  tag\n  at each 2 min: 100m run\n  meanwhile: wall sit\n  at each break: 5 burpee\n",
	"part C\n  1 to 9 burpee = 3 left+4 right\n  rounds 5\n  foot drill 10/leg\n  max reps m drill until 2:40 @ 2x15/10 lbs, with vest @ 6 kg\n",
	"scaling shed from no-kit\n  part b: 4 rounds->3 round\n  part C: cap 9:00 → nothing\n  part D:\n    row->run\n  has bag,rope\n",
	"house H\n  rule cap-tight off, gap 90 s > why\n  kit\n    16 kettlebell@24kg\n  rest at least 60 s between parts\n",
	"cycle C\n  from 2027–03–01\n  week 1\n    Monday  Bowline\n  progress front squat @ 70-75%\n",
	"movement x\n  pace 1.50/2/3.10 s per rep @24/16kg>no source\n  unbroken 1:20/0:45/0:20\n  set-up >Do.\n  also a,b’c\n",
	"\ufeffsession A 3×5 … → x\n > note\n # comment\n  aim 5 to 6 rounds\n  20 push-up @ 45 secs per 10 cals\n",
	"part A\n  A1 : 5+ squat\n  raise:\n    2 min MAX cals row or 20 reps row\n  3×Up to 10/leg lunge until  The Last–0:05\n  round 1–3 : 3rm press\n  5x60 % of Max push-up, every 75 s\n",
	"part A\n  rest 2 min : walk\n  90 s rest After\n  lasts 40 s: plank\n  one works, cap 9:00, each leg\n    row @2:05/500m@26 SPM@5km pace\n  at each 3 min from 0 s: run @ Falling\n  when  done\n",
	"scaling x From light,no-kit\n  length 30 min\n  @24kg->@16 kg\n  cap 2 s->nothing\ncycle C\n  week 1–3\n    mon 07:00 Bowline ,light\n    wed rest\n  effort rpe 7\n",
	"part A\n  any order:\n    8 ring row, rest 1 min, each hand, effort 80%\n  at 7:00:\n",
}

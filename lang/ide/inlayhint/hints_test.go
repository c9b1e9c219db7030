package inlayhint_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/ide/inlayhint"
	"stint.example/stint/lang/internal/demotest"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/workspace"
)

var allHints = inlayhint.Kinds{Totals: true, Times: true, Units: true}

// hinted is a text with its hints where they stand, between guillemets, line by line where
// there are any.
func hinted(s *workspace.Snapshot, f *workspace.File, kinds inlayhint.Kinds) string {
	text := f.Src.Text
	hs := inlayhint.Hints(s, f, source.Span{End: len(text)}, kinds)
	for i := len(hs) - 1; i >= 0; i-- {
		text = text[:hs[i].Off] + "«" + hs[i].Text + "»" + text[hs[i].Off:]
	}
	var out []string
	for _, l := range strings.Split(text, "\n") {
		if strings.Contains(l, "«") {
			out = append(out, strings.TrimSpace(l))
		}
	}
	return strings.Join(out, "\n")
}

func TestHints(t *testing.T) {
	s := demotest.Load(t, "quayside")
	for _, c := range []struct{ text, want string }{
		{"part A at 0:00 3 rounds for time\n  15 burpee\n  rest 0:30\n\npart B at 10:00 ladder 12-9-6 for time\n  kettlebell swing @ 24/16 kg\n",
			"part A at 0:00 3 rounds for time«~3:54, rest 6:06; = 45 burpee»\npart B at 10:00 ladder 12-9-6 for time«~0:56; = 27 kettlebell swing»"},
		{"part A at 0:00 for time\n  100 burpee\n\npart B at 3:00 for time\n  burpee or row\n",
			"part A at 0:00 for time«~7:47, over by 4:47»"},
		// What is not proven has no hint.
		{"part A 3 rounds for time\n  15 burpe\n", ""},
		{"part A amrap 9:00\n  15 burpee\n", ""},
		{"part A 3 rounds for time\n  15 burpee\n  max push-up\n", "part A 3 rounds for time«= 45 burpee»"},
		{"part A 3 rounds for time\n  15 burpee or push-up\n", "part A 3 rounds for time«~3:20»"},
		{"part A 3 rounds for time\n  15 burpee\n  ?? nonsense\n", ""},
		// Other units than the house's.
		{"part A for time\n  10 kettlebell swing @ 53/35 lb\n  1 mile run\n  12 step-up @ 24 in, with vest @ 14 lb\n",
			"part A for time«~9:08»\n" +
				"10 kettlebell swing @ 53/35 lb«≈ 24/16 kg»\n1 mile«≈ 1609 m» run\n12 step-up @ 24 in«≈ 61 cm», with vest @ 14 lb«≈ 6.5 kg»"},
		{"part A for completion\n  5 x 8 air squat\n", "5 x 8 air squat«= 40»"},
		// In events and in rests, too.
		{"part A for completion\n  3 rounds\n    10 burpee\n    rest 2:00: 5 step-up @ 24 in\n  at 2:00: 5 kettlebell swing @ 53 lb\n", "part A for completion«~6:00»\n" +
			"3 rounds«= 30 burpee, 10 step-up»\nrest 2:00: 5 step-up @ 24 in«≈ 61 cm»\nat 2:00: 5 kettlebell swing @ 53 lb«≈ 24 kg»"},
		// A version's own lines.
		{"part A 2 rounds for time\n  10 burpee\n\nscaling no-kit\n  burpee -> 8 bag swing @ 44 lb\n  part B ->\n    3 rounds\n      9 burpee\n", "part A 2 rounds for time«~1:21; = 20 burpee»\nburpee -> 8 bag swing @ 44 lb«≈ 20 kg»"},
	} {
		s := s.With("sessions/x.stint", "stint 1\n\nsession Draft\n\n"+c.text)
		assert.Equal(t, c.want, hinted(s, s.File("sessions/x.stint"), allHints), c.text)
		assert.Empty(t, hinted(s, s.File("sessions/x.stint"), inlayhint.Kinds{}))
	}
}

// The demo's hints, as they are shown.
func TestHintsOfTheDemo(t *testing.T) {
	s := demotest.Load(t, "quayside")
	var b strings.Builder
	for _, f := range s.Files {
		fmt.Fprintf(&b, "== %s\n", f.Path)
		if h := hinted(s, f, allHints); h != "" {
			b.WriteString(h + "\n")
		}
	}
	golden.File(t, filepath.Join("testdata", "demo.golden"), b.String())
}

// assertHints checks that each hint stands in the text, behind what it is about, and says
// something.
func assertHints(t testing.TB, s *workspace.Snapshot, f *workspace.File) {
	t.Helper()
	for _, h := range inlayhint.Hints(s, f, source.Span{End: len(f.Src.Text)}, allHints) {
		if h.Off > len(f.Src.Text) || h.Of > h.Off || strings.TrimSpace(h.Text) == "" ||
			strings.Contains(h.Text, "NaN") {
			t.Fatalf("%s: %+v", f.Path, h)
		}
	}
}

func TestHintsOfMistakes(t *testing.T) {
	s := demotest.Load(t, "broken")
	for _, f := range s.Files {
		assertHints(t, s, f)
	}
}

func FuzzHints(f *testing.F) {
	base := demotest.Load(f, "quayside")
	for _, name := range []string{"quayside", "broken"} {
		for _, file := range demotest.Load(f, name).Files {
			f.Add(file.Src.Text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := base.With("sessions/x.stint", text)
		assertHints(t, s, s.File("sessions/x.stint"))
	})
}

// A hint asked for in a range is one of the whole file's, and stands in it.
func TestHintsOfARange(t *testing.T) {
	for _, name := range []string{"quayside", "broken"} {
		s := demotest.Load(t, name)
		for _, f := range s.Files {
			n := len(f.Src.Text)
			all := inlayhint.Hints(s, f, source.Span{End: n}, allHints)
			var parts []inlayhint.Hint
			for from := 0; from <= n; from += 101 {
				in := source.Span{Start: from, End: min(from+100, n)}
				for _, h := range inlayhint.Hints(s, f, in, allHints) {
					assert.True(t, in.Contains(h.Off))
					parts = append(parts, h)
				}
			}
			assert.Equal(t, all, parts, f.Path)
		}
	}
}

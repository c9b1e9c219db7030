package codeaction_test

import (
	"maps"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/ide/codeaction"
	"stint.example/stint/lang/workspace"
)

const house = `stint 1

house Quayside Hall
  length 60:00
  rest between parts at least 1:00
  kit
    8 barbell @ 20 kg
    16 kettlebell @ 24 kg
    16 box @ 60 cm
`

// session is a workspace of a house and a session of these lines.
func session(lines string) map[string]string {
	return map[string]string{"house.stint": house, "sessions/reef.stint": "stint 1\n\nsession Reef\n\n" + lines}
}

func TestUnits(t *testing.T) {
	for _, c := range []struct {
		line string
		want []string // the lines that the actions make
	}{
		{"10 kettlebell swing @ 24/1‸6 kg", []string{"10 kettlebell swing @ 53/35 lb"}},
		{"10 kettlebell swing @ ‸53/35 lb", []string{"10 kettlebell swing @ 24/16 kg"}},
		{"8 deadlift @ 2x45 lb‸", []string{"8 deadlift @ 2x20 kg"}}, // the house has it
		{"8 deadlift @ 9‸5 lb", []string{"8 deadlift @ 43 kg"}},
		{"8 dumbbell press @ 2x22.5/1‸5 kg", []string{"8 dumbbell press @ 2x50/33 lb"}},
		{"10 box jump @ 60/5‸0 cm", []string{"10 box jump @ 24/20 in"}},
		{"10 box jump @ ‸24/20 in", []string{"10 box jump @ 60/51 cm"}},
		{"‸100 m run", []string{"109 yd run", "328 ft run"}},
		{"400 ‸m run", []string{"437 yd run", "1312 ft run", "0.25 mile run"}},
		{"1.5 ‸mile run", []string{"2414 m run"}},
		{"5 ‸km run", []string{"3.1 mile run"}},
		{"50 f‸t sled push @ 40 kg", []string{"15 m sled push @ 40 kg"}},
		{"50 ft sled push @ 4‸0 kg", []string{"50 ft sled push @ 88 lb"}},
		{"9 wall ball @ 9/6 kg @ 3/2.‸7 m", []string{"9 wall ball @ 9/6 kg @ 10/9 ft"}},
		{"9 wall ball @ 9/6 kg @ ‸10/9 ft", []string{"9 wall ball @ 9/6 kg @ 3/2.7 m"}},
		{"3x5 front squat @ 60-6‸5-70 kg", []string{"3x5 front squat @ 132-143-154 lb"}},
		{"5 front squat @ 60-7‸0 kg", []string{"5 front squat @ 132-154 lb"}},
		{"10 bur‸pee", nil},
		{"1:0‸0 plank", nil},
		{"10 kettlebell swing @ 24 k‸", nil}, // a line that cannot be read
	} {
		t.Run(c.line, func(t *testing.T) {
			s, f, off := marked(t, session("part A 3 rounds\n  "+c.line+"\n"))
			was := strings.Replace(c.line, cursor, "", 1)
			var got []string
			for _, a := range codeaction.Units(s, f, off) {
				texts := made(t, s, a.Edits)
				line := strings.Split(texts[f.Path], "\n")[5]
				got = append(got, strings.TrimSpace(line))
				assert.NotEqual(t, was, line)
				assert.Empty(t, workspace.Make(s.Root, texts).File(f.Path).Syntax().Diags, line)
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// Converted and back, what the trade writes is what it was.
func TestUnitsBack(t *testing.T) {
	for _, q := range []string{"24/16 kg", "20 kg", "43 kg", "61 kg", "60 kg", "53/35 lb", "95/65 lb", "24/20 in",
		"60 cm"} {
		text := "part A\n  10 step-up @ " + cursor + q + "\n"
		for range 2 {
			s, f, off := marked(t, session(text))
			as := codeaction.Units(s, f, off)
			require.Len(t, as, 1, text)
			_, line, _ := strings.Cut(made(t, s, as[0].Edits)[f.Path], "@ ")
			text = "part A\n  10 step-up @ " + cursor + line
		}
		assert.Contains(t, text, "@ "+cursor+q)
	}
}

const bowline = `part A at 0:00 2 rounds
  400 m row
  10 kettlebell swing @ 24/16 kg
  12/10 push-up
  0:30 plank
  max burpee

part B at 12:00 ladder 12-9-6 for time, cap 6:00
  kettlebell swing @ 24/16 kg
  1 count for a partner
`

func TestTotal(t *testing.T) {
	at := func(words, text string) string { return strings.Replace(text, words, cursor+words, 1) }
	for _, c := range []struct{ name, text, want string }{
		{"a part", at("part A", bowline),
			"  max burpee\n  total 20 kettlebell swing, 1:00 plank, 24/20 push-up, 800 m row\n\npart B"},
		{"the other", at("part B", bowline), "  1 count for a partner\n  total 27 kettlebell swing\n"},
		{"a part that states one", strings.Replace(bowline, "  max burpee\n",
			"  max burpee\n  total 0.8 km"+cursor+" row, 19 kettlebell swing > All of it.\n", 1),
			"  total 0.8 km row, 20 kettlebell swing, 1:00 plank, 24/20 push-up > All of it.\n\npart B"},
		{"one that states all", strings.Replace(bowline, "  1 count for a partner\n",
			"  1 count for a partner\n  total 27 kettlebell swing"+cursor+"\n", 1), ""},
		{"a line of work", at("400 m row", bowline), ""},
		{"with a line that cannot be read", at("part B", strings.ReplaceAll(bowline, "1 count", "1,5 count")), ""},
		{"with a movement that no book has", at("part B", strings.ReplaceAll(bowline, "count for a partner", "gronk")),
			""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, f, off := marked(t, session(c.text))
			a, ok := codeaction.Total(s, f, off)
			require.Equal(t, c.want != "", ok)
			if ok {
				texts := made(t, s, a.Edits)
				assert.Contains(t, texts[f.Path], c.want)
				holds(t, s, texts)
			}
		})
	}
	text := bowline + "\nscaling light\n  part A: 2 rounds -> 1 round\n"
	s, f, _ := marked(t, session(cursor+text))
	a, ok := codeaction.Total(s, f, strings.Index(f.Src.Text, "Reef"))
	require.True(t, ok)
	texts := made(t, s, a.Edits)
	assert.Contains(t, texts[f.Path],
		"for a partner\n\ntotal 47 kettlebell swing, 1:00 plank, 24/20 push-up, 800 m row\n\nscaling light\n")
	holds(t, s, texts)
}

// holds says that no total that a workspace states is wrong, and that its texts are
// written the one way.
func holds(t *testing.T, s *workspace.Snapshot, texts map[string]string) {
	t.Helper()
	now := workspace.Make(s.Root, texts)
	for _, d := range now.Check() {
		assert.NotEqual(t, "total-wrong", d.Rule, d.Message)
		assert.NotEqual(t, "total-unproven", d.Rule, d.Message)
	}
	for _, f := range now.Files {
		assert.Equal(t, f.Src.Text, format.Source(f.Syntax()))
	}
}

func TestStart(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"too soon", "part A at 0:00 for time, cap 10:00\n  100 burpee\n\npart " + cursor +
			"B at 6:00 for time\n  10 burpee\n\npart C at 20:00\n  10 burpee\n",
			"part B at 11:00 for time\n  10 burpee\n\npart C at 25:00\n"},
		{"not pinned", "part A at 0:00 for time, cap 10:00\n  100 burpee\n\npart " + cursor +
			"B for time\n  10 burpee\n", "part B at 11:00 for time\n"},
		{"late enough", "part A at 0:00 for time, cap 10:00\n  100 burpee\n\npart " + cursor +
			"B at 30:00 for time\n  10 burpee\n", ""},
		{"the first", "part " + cursor + "A for time, cap 10:00\n  100 burpee\n", ""},
		{"behind what has no end", "part A at 0:00\n  max burpee\n\npart " + cursor + "B\n  10 burpee\n", ""},
		{"before what is pinned", "part A at 0:00 for time, cap 10:00\n  100 burpee\n\npart " + cursor +
			"B for time\n  10 burpee\n\npart C at 9:00\n  1 burpee\n", ""},
		{"a line of work", "part A at 0:00\n  10 bur" + cursor + "pee\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, f, off := marked(t, session(c.text))
			a, ok := codeaction.Start(s, f, off)
			require.Equal(t, c.want != "", ok, a.Title)
			if ok {
				assert.Contains(t, made(t, s, a.Edits)[f.Path], c.want)
			}
		})
	}
}

func TestScalings(t *testing.T) {
	texts := func(lines string) map[string]string {
		out := session(lines)
		out["house.stint"] += "  scaling no-kit\n    has loaded bag\n  scaling light\n"
		return out
	}
	const part = "part A\n  10 kettlebell swing @ 24/16 kg\n  10 burpee\n"
	s, f, _ := marked(t, texts(cursor+part))
	as := codeaction.Scalings(s, f, strings.Index(f.Src.Text, "Reef"))
	require.Len(t, as, 1)
	assert.Equal(t, "write the scaling no-kit with swaps from the book", as[0].Title)
	now := made(t, s, as[0].Edits)
	assert.Contains(t, now[f.Path], "\n\nscaling no-kit\n  kettlebell swing -> ")
	holds(t, s, now)
	snap := workspace.Make(s.Root, now)
	assert.Empty(t, codeaction.Scalings(snap, snap.File(f.Path), strings.Index(now[f.Path], "Reef")), "nothing lacks")

	s, f, off := marked(t, texts(part+"\nscaling no-"+cursor+"kit\n  burpee -> air squat\n"))
	as = codeaction.Scalings(s, f, off)
	require.Len(t, as, 1)
	assert.Equal(t, "complete the scaling no-kit with swaps from the book", as[0].Title)
	assert.Contains(t, made(t, s, as[0].Edits)[f.Path], "scaling no-kit\n  burpee -> air squat\n  kettlebell swing -> ")

	for _, text := range []string{part + "\nscaling li" + cursor + "ght\n  10 burpee -> 8 burpee\n",
		strings.Replace(part, "10", cursor+"10", 1), "part A\n  1,5 row\n\nscaling no" + cursor + "-kit\n"} {
		s, f, off := marked(t, texts(text))
		assert.Empty(t, codeaction.Scalings(s, f, off), text)
	}
}

// A waiver with its reason silences the finding that it is for, and nothing else changes.
func TestWaive(t *testing.T) {
	texts := folder(t, "../../../testdata/broken")
	s := workspace.Make(workspace.Root{Dir: "/hall", House: true}, texts)
	waived := 0
	for _, f := range s.Files {
		for _, d := range s.Diagnostics(f) {
			a, ok := codeaction.Waive(s, f, d)
			if r, known := rules.Find(d.Rule); !known || r.Fixed {
				assert.False(t, ok, "%s can be waived", d.Rule)
			}
			if !ok {
				continue
			}
			waived++
			text := made(t, s, a.Edits)[f.Path]
			i := a.Edits[0].At.Start + len(strings.TrimSuffix(a.Edits[0].New, "\n"))
			text = text[:i] + "It may." + text[i:]
			now := s.With(f.Path, text)
			assert.Equal(t, count(s.Diagnostics(f), d.Rule)-1, count(now.Diagnostics(now.File(f.Path)), d.Rule),
				"%s: %s: %s", f.Path, d.Rule, d.Message)
		}
	}
	assert.Greater(t, waived, 20)
}

func count(ds []diag.Diagnostic, rule string) int {
	n := 0
	for _, d := range ds {
		if d.Rule == rule {
			n++
		}
	}
	return n
}

// Of every mistake that has fixes, the first silences it, whatever else is wrong.
func TestFixesSilence(t *testing.T) {
	texts := folder(t, "../../../testdata/broken")
	s := workspace.Make(workspace.Root{Dir: "/hall", House: true}, texts)
	fixed := 0
	for _, f := range s.Files {
		for _, d := range s.Diagnostics(f) {
			for i, x := range d.Fixes {
				fixed++
				next := made(t, s, x.Edits)
				assert.NotEqual(t, texts[f.Path], next[f.Path], "%s: %q changes nothing", d.Rule, x.Title)
				if i > 0 {
					continue
				}
				now := s.With(f.Path, next[f.Path])
				assert.Less(t, count(now.Diagnostics(now.File(f.Path)), d.Rule), count(s.Diagnostics(f), d.Rule),
					"%s: %s: %s", f.Path, d.Message, x.Title)
			}
		}
	}
	assert.Greater(t, fixed, 20)
}

func TestMend(t *testing.T) {
	texts := folder(t, "../../../testdata/broken")
	s := workspace.Make(workspace.Root{Dir: "/hall", House: true}, texts)
	one := func(f *workspace.File) bool { return f.Path == "sessions/bowline.stint" }
	now, n := codeaction.ApplyFixes(s, one, false)
	assert.Positive(t, n)
	got := map[string]string{}
	for _, f := range now.Files {
		got[f.Path] = f.Src.Text
		if !one(f) {
			assert.Equal(t, texts[f.Path], got[f.Path], "%s was not asked for", f.Path)
		}
	}
	assert.NotEqual(t, texts["sessions/bowline.stint"], got["sessions/bowline.stint"])
	for _, d := range now.Diagnostics(now.File("sessions/bowline.stint")) {
		for _, x := range d.Fixes {
			assert.False(t, x.Safe, "%s is left although its fix is safe", d.Rule)
		}
	}
	f := s.File("sessions/bowline.stint")
	assert.True(t, codeaction.HasSafeFixes(s, f))
	assert.Equal(t, got[f.Path], made(t, s, codeaction.FixAll(s, f))[f.Path])
	assert.False(t, codeaction.HasSafeFixes(now, now.File(f.Path)))
	assert.Empty(t, codeaction.FixAll(now, now.File(f.Path)))
	again, n := codeaction.ApplyFixes(now, one, false)
	assert.Zero(t, n)
	assert.Same(t, now, again)
	assert.True(t, maps.Equal(texts, folder(t, "../../../testdata/broken")))
}

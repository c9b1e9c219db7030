package completion_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/ide/completion"
	"stint.example/stint/lang/internal/demotest"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// at completes at the cursor ‸ of a text, as a file of the demo.
func at(t testing.TB, s *workspace.Snapshot, path, text string) (completion.List, string) {
	t.Helper()
	off := strings.Index(text, "‸")
	require.GreaterOrEqual(t, off, 0, text)
	text = strings.Replace(text, "‸", "", 1)
	s = s.With(path, text)
	return completion.At(s, s.File(path), off), text
}

func labels(l completion.List, n int) []string {
	out := []string{}
	for _, it := range l.Items[:min(n, len(l.Items))] {
		out = append(out, it.Label)
	}
	return out
}

const head = "stint 1\n\nsession Draft\n  length 60:00\n\nwarm-up 2 rounds, lasts 12:00\n  1:00 row\n\npart A at 0:00 for time\n  12 kettlebell swing @ 24/16 kg\n"

func TestWhatIsOfferedFirst(t *testing.T) {
	s := demotest.Load(t, "quayside")
	for _, c := range []struct {
		path, text string
		first      string // the first labels
	}{
		// Movements by what is typed of them.
		{"sessions/x.stint", head + "  10 kettlebell sw‸", "kettlebell swing"},
		{"sessions/x.stint", head + "  10 kb sw‸", "kettlebell swing"},
		{"sessions/x.stint", head + "  10 pullup‸", "strict pull-up, pull-up negative"},
		{"sessions/x.stint", head + "  10 ketlebell swing‸", "kettlebell swing"},
		{"sessions/x.stint", head + "  10 brupee‸", "burpee"},
		{"sessions/x.stint", head + "  10 Burp‸", "burpee, burpee pull-up"},
		{"sessions/x.stint", head + "  10 two-hand sw‸", "kettlebell swing"},
		{"sessions/x.stint", head + "  10 burpee or push-u‸", "push-up"},
		{"sessions/x.stint", head + "  1:00 row or sk‸", "ski"},
		{"sessions/x.stint", head + "  3 rounds\n    8 bear c‸", "bear crawl"},
		// What is common here comes first, then what is counted so.
		{"sessions/x.stint", head + "  10 p‸", "prone pull, push-up, pogo hop"},
		{"sessions/x.stint", head + "  200 m ‸", "row, run"},
		{"sessions/x.stint", head + "  400 ‸", "m, cal"},
		{"sessions/x.stint", head + "  on 0:40 off 0:20 x 6\n    ‸", "row, front squat"},
		{"sessions/x.stint", head + "\ncool-down lasts 5:00\n  1:00 ‸", "lat stretch"},
		{"sessions/x.stint", head + "  10 burpee ‸", "burpee pull-up"},
		{"sessions/x.stint", head + "  10 kettlebell swing ‸", ""},
		{"sessions/x.stint", head + "  rest ‸", "1:30, 2:00 after, as needed"},
		{"sessions/x.stint", head + "  3 rounds ‸", "for time"},
		{"sessions/x.stint", head + "  10 burpee until ‸", "missed, done, the first +0:08"},
		{"sessions/x.stint", head + "\nscaling no-kit\n  part A: 3 rounds -> ‸", "3 rounds, nothing"},
		{"sessions/x.stint", head + "\nscaling no-kit\n  part ‸", "A:"},
		{"sessions/x.stint", head + "\nscaling no-kit\n  part A: ‸", "row ->, kettlebell swing ->"},
		// What is done in a rest can be swapped, too.
		{"sessions/x.stint", head + "  rest 2:00: bike @ easy\n\nscaling no-kit\n  bik‸", "bike ->"},
		{"sessions/x.stint", "stint 1\n\nsession X\n  length 60:00\n  ‸", "purpose, effort, date"},
		// A unit behind its number.
		{"sessions/x.stint", head + "  400 ca‸", "cal"},
		{"sessions/x.stint", head + "  3 roun‸", "rounds"},
		// Kit.
		{"sessions/x.stint", head + "  10 squat jump, with ve‸", "vest"},
		{"movements/x.stint", "stint 1\n\nmovement x\n  needs kettle‸", "kettlebell"},
		{"movements/x.stint", "stint 1\n\nmovement x\n  needs box, bar‸", "barbell, bar stand"},
		{"movements/x.stint", "stint 1\n\nmovement x\n  trains hor‸", "horizontal push, horizontal pull"},
		{"movements/x.stint", "stint 1\n\nmovement x\n  moves sho‸", "shoulder"},
		{"movements/x.stint", "stint 1\n\nmovement x\n  easier ring r‸", "ring row"},
		{"movements/x.stint", "stint 1\n\nmovement x\n  st‸", "standard"},
		{"movements/x.stint", "stint 1\n\nmovement x\n  best ‸", "load, reps, time"},
		// Loads.
		{"sessions/x.stint", head + "  10 goblet squat @ ‸", "24/16 kg, 16/12 kg, 24 kg, 16 kg, 12 kg"},
		{"sessions/x.stint", head + "  10 kettlebell swing @ ‸", "24/16 kg"},
		{"sessions/x.stint", head + "  10 step-up @ ‸", "60/50 cm, 50/40 cm, 60 cm, 50 cm, 40 cm"},
		{"sessions/x.stint", head + "  5 front squat @ ‸", "70%, 75%, 80%"},
		{"sessions/x.stint", head + "  5 front squat @ 80% of ‸", "today, bodyweight"},
		{"sessions/x.stint", head + "  5 front squat @ 80% of back s‸", "back squat"},
		{"sessions/x.stint", head + "  400 m row @ ea‸", "easy"},
		{"sessions/x.stint", head + "  400 m row @ very‸", "very easy"},
		// Clauses.
		{"sessions/x.stint", head + "  12 step-up, alt‸", "alternating"},
		{"sessions/x.stint", head + "  12 step-up, t‸", "tempo 31X1, together"},
		{"sessions/x.stint", head + "\npart B 3 rounds, ca‸", "cap 12:00, carry on"},
		{"sessions/x.stint", head + "\npart B for t‸", "for time"},
		{"sessions/x.stint", head + "\npart ‸", "B"},
		{"sessions/x.stint", head + "\npart B ‸", "at 0:00, for time"},
		// The margin.
		{"sessions/x.stint", head + "\n‸", "part, cool-down"},
		{"sessions/x.stint", head + "\nco‸", "cool-down"},
		{"sessions/x.stint", "‸", "stint 1, session"},
		{"sessions/x.stint", "stint 1\n\n‸", "session, movement"},
		// Keywords of a block.
		{"sessions/x.stint", "stint 1\n\nsession Draft\n  pur‸", "purpose"},
		{"sessions/x.stint", head + "  ‸", "rounds, rest"},
		{"sessions/x.stint", head + "  am‸", "amrap"},
		{"sessions/x.stint", head + "  score ‸", "reps, load, time"},
		// Sums.
		{"sessions/x.stint", head + "\ntotal ‸", "12 kettlebell swing"},
		{"sessions/x.stint", head + "\ntotal 12 kettle‸", "12 kettlebell swing"},
		// Versions.
		{"sessions/x.stint", head + "\nscaling ‸", "no-kit, shed, light"},
		{"sessions/x.stint", head + "\nscaling no‸", "no-kit"},
		{"sessions/x.stint", head + "\nscaling shed from ‸", "no-kit"},
		{"sessions/x.stint", head + "\nscaling no-kit\n  ‸", "row ->, kettlebell swing ->"},
		{"sessions/x.stint", head + "\nscaling no-kit\n  kettlebell swing -> ‸", "bag swing"},
		{"sessions/x.stint", head + "\nscaling no-kit\n  1:00 row -> 1:00 ma‸", "march in place"},
		{"sessions/x.stint", head + "\nscaling no-kit\n  part A: kettlebell swing -> no‸", "nothing"},
		{"sessions/x.stint", head + "\nscaling no-kit\n  has ‸", "loaded bag, skipping rope"},
		// Rules.
		{"sessions/x.stint", head + "  allow cap-t‸", "cap-tight"},
		{"house.stint", "stint 1\n\nhouse H\n  rule cap-tight ‸", "error"},
		{"house.stint", "stint 1\n\nhouse H\n  rule ca‸", "cap-tight, cap-generous"},
		{"house.stint", "stint 1\n\nhouse H\n  scaling light\n  needs l‸", "light"},
		{"house.stint", "stint 1\n\nhouse H\n  kit\n    16 kettl‸", "kettlebell"},
		// Cycles.
		{"cycles/x.stint", "stint 1\n\ncycle C\n  week 1\n    mon Bow‸", "Bowline"},
		{"cycles/x.stint", "stint 1\n\ncycle C\n  week 1\n    mon sheet‸", "Sheet Bend"},
		{"cycles/x.stint", "stint 1\n\ncycle C\n  week 1\n    mon Bowline, n‸", "no-kit"},
		{"cycles/x.stint", "stint 1\n\ncycle C\n  week 1\n    t‸", "tue, thu"},
		{"cycles/x.stint", "stint 1\n\ncycle C\n  week 4 ‸", "easy, test"},
		{"cycles/x.stint", "stint 1\n\ncycle C\n  progress front‸", "front squat"},
		{"cycles/x.stint", "stint 1\n\ncycle C\n  progress front squat @ ‸", "70%"},
		// Nothing, where text is free or a number is being written.
		{"sessions/x.stint", head + "  10 burpee > Fast as ‸", ""},
		{"sessions/x.stint", head + "  10 burpee # bur‸", ""},
		{"sessions/x.stint", head + "  10‸", ""},
		{"sessions/x.stint", "stint 1\n\nsession Bow‸", ""},
		{"sessions/x.stint", "stint 1\n\nsession X\n  date ‸", ""},
	} {
		l, _ := at(t, s, c.path, c.text)
		want := strings.Split(c.first, ", ")
		if c.first == "" {
			want = []string{}
		}
		got := labels(l, len(want))
		if c.first == "" {
			got = labels(l, 3)
		}
		assert.Equal(t, want, got, "%q typed %q",
			c.text[strings.LastIndexByte(c.text[:strings.Index(c.text, "‸")], '\n')+1:], l.Typed)
	}
}

// What an item takes the place of is the whole of what is being written.
func TestItemsTakeThePlaceOfWholeNames(t *testing.T) {
	s := demotest.Load(t, "quayside")
	for _, c := range []struct{ line, pick, want string }{
		{"10 kettlebell sw‸", "kettlebell swing", "10 kettlebell swing"},
		{"10 kettle‸ swing @ 24/16 kg", "kettlebell swing", "10 kettlebell swing @ 24/16 kg"},
		{"10 pull-‸, alternating", "strict pull-up", "10 strict pull-up, alternating"},
		{"10 ‸", "burpee", "10 burpee"},
		{"10 burpee or push‸", "push-up", "10 burpee or push-up"},
		{"10 goblet squat @ 2‸, unbroken", "24/16 kg", "10 goblet squat @ 24/16 kg, unbroken"},
		{"10 goblet squat @‸", "24/16 kg", "10 goblet squat @ 24/16 kg"},
		{"12 step-up, al‸ > A note.", "alternating", "12 step-up, alternating > A note."},
		{"400 ca‸ row", "cal", "400 cal"},
		{"1:00 row or s‸ki", "ski", "1:00 row or ski"},
	} {
		l, text := at(t, s, "sessions/x.stint", head+"  "+c.line)
		i := slices.IndexFunc(l.Items, func(it completion.Suggestion) bool { return it.Label == c.pick })
		if !assert.GreaterOrEqual(t, i, 0, "%s: %v", c.line, labels(l, 9)) {
			continue
		}
		now := text[:l.At.Start] + l.Items[i].New + text[l.At.End:]
		assert.Equal(t, c.want, strings.TrimPrefix(now, head+"  "), c.line)
	}
}

// Kit counts: at home a swap leads to what the bag can do, in a session to what the house
// has.
func TestKitComesFirst(t *testing.T) {
	s := demotest.Load(t, "quayside")
	kit := func(l completion.List, n int) map[string]bool {
		out := map[string]bool{}
		for _, it := range l.Items[:n] {
			m, _ := s.Env.Book.Lookup(it.Label)
			if m == nil {
				continue
			}
			for _, k := range m.Needs {
				out[k] = true
			}
		}
		return out
	}
	l, _ := at(t, s, "sessions/x.stint", head+"\nscaling no-kit\n  kettlebell swing -> ‸")
	for k := range kit(l, 30) {
		assert.Equal(t, "loaded bag", k)
	}
	l, _ = at(t, s, "sessions/x.stint", head+"  10 ‸")
	assert.True(t, l.Cut)
	assert.NotContains(t, kit(l, 50), "sandbag")
	assert.NotContains(t, kit(l, 50), "cable machine", "the house has none")
	for _, it := range l.Items[:20] {
		m, _ := s.Env.Book.Lookup(it.Label)
		require.NotNil(t, m)
		assert.NotEqual(t, "hinge", string(m.Main()), "the part has a hinge already")
	}
}

// Every snippet, with its stops filled in as they are, reads without a mistake.
func TestSnippetsRead(t *testing.T) {
	s := demotest.Load(t, "quayside")
	fill := func(snippet string) string {
		var b strings.Builder
		for i := 0; i < len(snippet); i++ {
			if snippet[i] != '$' {
				if snippet[i] != '}' {
					b.WriteByte(snippet[i])
				}
				continue
			}
			if snippet[i+1] == '0' {
				b.WriteString("8 burpee")
				i++
				continue
			}
			i += 3 // ${1:
		}
		return b.String()
	}
	for _, text := range []string{"stint 1\n\n‸", head + "\n‸", head + "  ‸", head + "  10 burpee, ‸",
		head + "\npart B 3 rounds for time, ‸", head + "\npart B ‸"} {
		l, whole := at(t, s, "sessions/x.stint", text)
		found := 0
		for _, it := range l.Items {
			if it.Snippet == "" {
				continue
			}
			found++
			filled := fill(it.Snippet)
			switch it.Label {
			case "slot", "station", "round", "at", "house", "cycle", "movement", "scaling", "with vest @ 6/4 kg":
				filled = strings.Replace(filled, "8 burpee",
					map[string]string{"house": "16 box", "cycle": "rest", "scaling": "length 30:00",
						"movement": ""}[it.Label], 1)
				if !slices.Contains([]string{"house", "cycle", "movement", "scaling"}, it.Label) {
					filled = fill(it.Snippet)
				}
			}
			line := whole[strings.LastIndexByte(whole[:l.At.Start], '\n')+1 : l.At.Start]
			indent := line[:len(line)-len(strings.TrimLeft(line, " "))]
			now := whole[:l.At.Start] + strings.ReplaceAll(filled, "\n", "\n"+indent) + whole[l.At.End:] + "\n"
			for _, d := range syntax.Parse(source.New("x.stint", now)).Diags {
				t.Errorf("%s at %q: %s: %s", it.Label, text[len(text)-20:], d.Message, filled)
			}
		}
		assert.NotZero(t, found, text)
	}
}

// Wherever the cursor is, what an item takes the place of is on its line and around it, and
// every item says what it writes.
func everyPlace(t testing.TB, s *workspace.Snapshot, f *workspace.File, step int) {
	t.Helper()
	src := f.Src
	for off := 0; off <= len(src.Text); off += step {
		if step == 1 && demotest.InsideWord(src.Text, off) {
			continue
		}
		l := completion.At(s, f, off)
		if l.At.File != src || !l.At.Contains(off) || l.At.End > len(src.Text) ||
			strings.ContainsAny(l.At.Text(), "\n") {
			t.Fatalf("%s at %d: items take the place of %d-%d", f.Path, off, l.At.Start, l.At.End)
		}
		seen := map[string]bool{}
		for _, it := range l.Items {
			if it.Label == "" || it.New == "" || seen[it.Label] {
				t.Fatalf("%s at %d: %+v", f.Path, off, it)
			}
			seen[it.Label] = true
		}
	}
}

func TestEveryPlace(t *testing.T) {
	for _, name := range []string{"quayside", "broken"} {
		s := demotest.Load(t, name)
		for _, f := range s.Files {
			everyPlace(t, s, f, 1)
		}
	}
}

func FuzzPlaces(f *testing.F) {
	base := demotest.Load(f, "quayside")
	demotest.AddTexts(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, path := range []string{"sessions/x.stint", "house.stint"} {
			s := base.With(path, text)
			everyPlace(t, s, s.File(path), 11)
		}
	})
}

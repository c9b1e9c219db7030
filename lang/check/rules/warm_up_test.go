package rules_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// mended is a text after the first fix of what a rule finds in it, and what is found in it
// then of the rule's family.
func mended(t *testing.T, rule, text string) (string, []string) {
	t.Helper()
	s := workspace.Make(workspace.Root{}, map[string]string{"a.stint": text})
	r, _ := rules.Find(rule)
	for _, d := range s.Check() {
		if d.Rule != rule {
			continue
		}
		require.NotEmpty(t, d.Fixes, "%s offers nothing", d.Message)
		out, _ := diag.Apply(s.Files[0].Src, d.Fixes[0].Edits)
		assert.Equal(t, format.Source(syntax.Parse(source.New("a.stint", out))), out, "the fix is not canonical")
		var left []string
		for _, d := range s.With("a.stint", out).Check() {
			if o, _ := rules.Find(d.Rule); o.Family == r.Family {
				left = append(left, d.Message)
			}
		}
		return out, left
	}
	t.Fatalf("%s finds nothing", rule)
	return "", nil
}

// What the fixes write is what a coach would, and leaves nothing of its family to find.
func TestWarmUpFixes(t *testing.T) {
	for name, c := range map[string]struct{ rule, text, want string }{
		"a whole warm-up": {"warmup-missing", `session Reef
  length 60:00

# The race.
part A at 0:00 for time
  effort 90%
  12 wall ball @ 9/6 kg
  10 burpee box jump-over
  12 box jump @ 60/50 cm
  8 strict pull-up

part B at 20:00
  3 x 2 back squat @ 92.5%, rest 3:00
  3 x 5 deadlift @ 85%, rest 3:00
`, `session Reef
  length 60:00

warm-up lasts 10:00
  2:00 jog @ easy
  2 rounds
    4 inchworm
    8 air squat
    8 wall slide
    8 scapular push-up
    15 pogo hop
    8 prone pull
    8 hip hinge drill
  5 back squat @ 50%
  3 back squat @ 70%
  2 back squat @ 80%
  5 deadlift @ 50%
  3 deadlift @ 70%
  2 deadlift @ 80%

# The race.
part A at 0:00 for time
  effort 90%
  12 wall ball @ 9/6 kg
  10 burpee box jump-over
  12 box jump @ 60/50 cm
  8 strict pull-up

part B at 20:00
  3 x 2 back squat @ 92.5%, rest 3:00
  3 x 5 deadlift @ 85%, rest 3:00
`},
		"a drill goes to the rounds": {"pattern-cold", `session Reef
  length 60:00

warm-up lasts 10:00
  3:00 jog @ easy
  2 rounds
    8 air squat
    8 wall slide
  5 back squat @ 50%

part A
  effort 85%
  12 kettlebell swing
`, `session Reef
  length 60:00

warm-up lasts 10:00
  3:00 jog @ easy
  2 rounds
    8 air squat
    8 wall slide
    8 hip hinge drill
  5 back squat @ 50%

part A
  effort 85%
  12 kettlebell swing
`},
		"a drill for all the joints": {"joint-cold", `session Reef
  length 60:00

warm-up lasts 10:00
  3:00 jog @ easy
  2 rounds
    8 air squat
    8 hip hinge drill

part A
  effort 85%
  20 m bear crawl
`, `session Reef
  length 60:00

warm-up lasts 10:00
  3:00 jog @ easy
  2 rounds
    8 air squat
    8 hip hinge drill
    6 inchworm

part A
  effort 85%
  20 m bear crawl
`},
		"two drills where none moves all": {"joint-cold", `session Reef
  length 60:00

warm-up lasts 10:00
  3:00 jog @ easy
  8 air squat

part A
  5 x 500 m row @ RPE 8, rest 2:00
`, `session Reef
  length 60:00

warm-up lasts 10:00
  3:00 jog @ easy
  8 air squat
  6 cat-cow
  8 wall slide

part A
  5 x 500 m row @ RPE 8, rest 2:00
`},
		"a warm-up for joints of no cold pattern": {"warmup-missing", `session Reef
  length 60:00

part A
  5 x 500 m row @ RPE 8, rest 2:00
`, `session Reef
  length 60:00

warm-up lasts 10:00
  2:00 jog @ easy
  2 rounds
    4 inchworm
    8 wall slide

part A
  5 x 500 m row @ RPE 8, rest 2:00
`},
		"what lacks of the sets": {"ramp-missing", `session Reef
  length 60:00

warm-up lasts 10:00
  3:00 jog @ easy
  8 air squat
  5 back squat @ 50%

part A
  3 x 1 back squat @ 95%, rest 3:00
`, `session Reef
  length 60:00

warm-up lasts 10:00
  3:00 jog @ easy
  8 air squat
  5 back squat @ 50%
  3 back squat @ 70%
  2 back squat @ 80%

part A
  3 x 1 back squat @ 95%, rest 3:00
`},
		"a warm-up that goes round": {"ramp-missing", `session Reef
  length 60:00

warm-up 2 rounds, lasts 10:00
  2:00 jog @ easy
  8 air squat

part A
  3 x 1 back squat @ 95%, rest 3:00
`, `session Reef
  length 60:00

warm-up 2 rounds, lasts 10:00
  2:00 jog @ easy
  8 air squat

part A
  5 back squat @ 50%
  3 back squat @ 70%
  2 back squat @ 80%
  3 x 1 back squat @ 95%, rest 3:00
`},
		"each phase in its place": {"phases-missing", `session Reef
  length 60:00

warm-up lasts 10:00
  2 rounds
    8 kettlebell deadlift @ 24/16 kg
      allow load-unowned > It is on order.
  > Nobody hurries.

part A
  3 x 3 deadlift @ 87.5%, rest 3:00
`, `session Reef
  length 60:00

warm-up lasts 10:00
  2:00 jog @ easy
  2 rounds
    8 kettlebell deadlift @ 24/16 kg
      allow load-unowned > It is on order.
    6 inchworm
  3 deadlift @ 70%
  > Nobody hurries.

part A
  3 x 3 deadlift @ 87.5%, rest 3:00
`},
	} {
		t.Run(name, func(t *testing.T) {
			got, left := mended(t, c.rule, c.text)
			assert.Equal(t, c.want, got)
			assert.Empty(t, left)
		})
	}
}

// The fix of heat stands among the session's first lines, wherever its heat comes from.
func TestHeatFix(t *testing.T) {
	const house = "stint 1\n\nhouse Quayside Hall\n  heat 31 C\n"
	for text, want := range map[string]string{
		"session Reef\n  heat 29 C\n  purpose > Speed.\n\npart A\n  3 box jump\n": "session Reef\n  heat 29 C\n" +
			"  caution > It is hot: rest as long as you work, drink, and stop at dizziness, headache or feeling sick.\n  purpose > Speed.\n\npart A\n  3 box jump\n",
		"session Reef\n  purpose > Speed.\n\npart A\n  3 box jump\n": "session Reef\n  purpose > Speed.\n" +
			"  caution > It is hot: who is not used to it sits this one out; all others go easy, drink, and stop at dizziness, headache or feeling sick.\n\npart A\n  3 box jump\n",
		"session Reef\npart A\n  3 box jump\n": "session Reef\n" +
			"  caution > It is hot: who is not used to it sits this one out; all others go easy, drink, and stop at dizziness, headache or feeling sick.\npart A\n  3 box jump\n",
	} {
		s := workspace.Make(workspace.Root{}, map[string]string{"house.stint": house, "sessions/reef.stint": text})
		ds := of(s, "heat-caution")
		require.Len(t, ds, 1)
		got, _ := diag.Apply(s.File("sessions/reef.stint").Src, ds[0].Fixes[0].Edits)
		assert.Equal(t, want, got)
		assert.Equal(t, format.Source(syntax.Parse(source.New("a.stint", got))), got)
		assert.Empty(t, of(s.With("sessions/reef.stint", got), "heat-caution"))
	}
}

// For every session of the demo the fix writes a warm-up that leaves nothing of its family to
// find, at home as in the hall.
func TestAWarmUpForEverySession(t *testing.T) {
	const demo = "../../../testdata/quayside/"
	files, err := filepath.Glob(demo + "*/*.stint")
	require.NoError(t, err)
	texts := map[string]string{}
	for _, f := range append(files, demo+"house.stint") {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		texts[strings.TrimPrefix(filepath.ToSlash(f), demo)] = string(text)
	}
	warmUp := regexp.MustCompile(`(?m)^warm-up.*\n(  .*\n)+\n`)
	for path, text := range texts {
		if !strings.HasPrefix(path, "sessions/") {
			continue
		}
		cold := warmUp.ReplaceAllString(text, "")
		require.NotEqual(t, text, cold, path)
		s := workspace.Make(workspace.Root{}, texts).With(path, cold)
		fixed := false
		for _, d := range s.Check() {
			if d.Rule == "warmup-missing" && d.At.File.Name == path {
				warm, _ := diag.Apply(s.File(path).Src, d.Fixes[0].Edits)
				s, fixed = s.With(path, warm), true
			}
		}
		assert.True(t, fixed, path)
		for _, d := range s.Check() {
			if r, _ := rules.Find(d.Rule); r.Family == "warm-up" {
				t.Errorf("%s: %s: %s", path, d.Rule, d.Message)
			}
		}
	}
}

// Whatever joints are cold, one drill or two move them all.
func TestDrillsForJoints(t *testing.T) {
	alone := map[string]string{"ankle": "8/side ankle rock", "knee": "8 air squat", "hip": "8/side hip circle", "spine": "6 cat-cow",
		"shoulder": "10 arm circle", "elbow": "8 wall slide", "wrist": "10 wrist circle",
		"spine, shoulder": "4/side thread the needle", "hip, spine": "8 hip hinge drill", "knee, hip, spine": "6 squat-to-stand",
		"knee, hip, shoulder": "4/side lunge with reach", "hip, spine, wrist": "6 inchworm", "elbow, wrist": "10 wrist circle and 8 wall slide"}
	for n := 1; n < 1<<len(book.Joints); n++ {
		var joints []string
		for i, j := range book.Joints {
			if n>>i&1 == 1 {
				joints = append(joints, string(j))
			}
		}
		name := strings.Join(joints, ", ")
		s := workspace.Make(workspace.Root{}, map[string]string{"a.stint": "session Reef\n  length 60:00\n\nwarm-up lasts 10:00\n  1:00 belly breathing\n\npart A\n  10 haul @ RPE 8\n",
			"m.stint": "movement haul\n  trains mobility\n  moves " + name + "\n"})
		found := false
		for _, d := range s.Check() {
			if d.Rule == "joint-cold" {
				found = true
				require.Len(t, d.Fixes, 1, name)
				if want := alone[name]; want != "" {
					assert.Equal(t, "add "+want+" to the warm-up", d.Fixes[0].Title)
				}
				out, _ := diag.Apply(s.File("a.stint").Src, d.Fixes[0].Edits)
				for _, d := range s.With("a.stint", out).Check() {
					assert.NotEqual(t, "joint-cold", d.Rule, "%s: %s", name, out)
				}
			}
		}
		assert.True(t, found, name)
	}
}

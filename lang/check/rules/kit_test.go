package rules_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/workspace"
)

// hall is the demo with another list of kit.
func hall(t *testing.T, kit func(line string) string) *workspace.Snapshot {
	t.Helper()
	const root = "../../../testdata/quayside"
	names, err := workspace.List(root)
	require.NoError(t, err)
	texts := map[string]string{}
	for _, n := range names {
		text, err := os.ReadFile(filepath.Join(root, n))
		require.NoError(t, err)
		texts[n] = string(text)
	}
	before, list, ok := strings.Cut(texts["house.stint"], "  kit\n")
	require.True(t, ok)
	var out []string
	for _, line := range strings.Split(strings.TrimRight(list, "\n"), "\n") {
		out = append(out, kit(line))
	}
	texts["house.stint"] = before + "  kit\n" + strings.Join(out, "\n") + "\n"
	return workspace.Make(workspace.Root{Dir: "/quayside", House: true}, texts)
}

// alone is a workspace with one of its sessions only.
func alone(s *workspace.Snapshot, name string) *workspace.Snapshot {
	texts := map[string]string{}
	for _, f := range s.Files {
		if f.Path == name || !strings.HasPrefix(f.Path, "sessions/") && !strings.HasPrefix(f.Path, "cycles/") {
			texts[f.Path] = f.Src.Text
		}
	}
	return workspace.Make(s.Root, texts)
}

var counted = regexp.MustCompile(`^    (\d+) (\D.*)$`)

// Whatever the house is short of, each fix that is offered gets rid of what offers it and
// brings no error of its own.
func TestKitFixesWork(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	tried := map[string]int{}
	for range 6 {
		s := hall(t, func(line string) string {
			m := counted.FindStringSubmatch(line)
			if m == nil || strings.Contains(line, "disc") {
				return line
			}
			if rnd.IntN(8) == 0 {
				return "    # " + line
			}
			n, _ := strconv.Atoi(m[1])
			return fmt.Sprintf("    %d %s", n*(2+rnd.IntN(8))/10, m[2])
		})
		for _, f := range s.Files {
			if strings.HasPrefix(f.Path, "sessions/") {
				tryKitFixes(t, alone(s, f.Path), tried)
			}
		}
	}
	for _, way := range []string{"write in", "make stations"} {
		assert.Greater(t, tried[way], 5, "%s is hardly ever offered: %v", way, tried)
	}
}

// shortOn says whether some words draw kit-short.
func shortOn(s *workspace.Snapshot, words string) bool {
	return slices.ContainsFunc(s.Check(), func(d diag.Diagnostic) bool { return d.Rule == "kit-short" && d.At.Text() == words })
}

func tryKitFixes(t *testing.T, s *workspace.Snapshot, tried map[string]int) {
	t.Helper()
	for _, d := range s.Check() {
		if !strings.HasPrefix(d.Rule, "kit-") {
			continue
		}
		for _, fix := range d.Fixes {
			after := s
			for _, f := range s.Files {
				text, all := diag.Apply(f.Src, fix.Edits)
				assert.True(t, all)
				if text != f.Src.Text {
					after = after.With(f.Path, text)
				}
			}
			tried[strings.Join(strings.Fields(fix.Title)[:2], " ")]++
			was, now := tallied(s.Check()), tallied(after.Check())
			assert.Less(t, now[said(d)], was[said(d)], "%s: %s: %q leaves it", d.At.File.Name, d.Message, fix.Title)
			for _, o := range after.Check() {
				// What is short of other kit too may still be, of fewer people.
				if o.Severity == diag.Error && now[said(o)] > was[said(o)] && !shortOn(s, o.At.Text()) {
					t.Errorf("%s: %s: %q draws %s", d.At.File.Name, d.Message, fix.Title, said(o))
				}
			}
		}
	}
}

// The waves of a known sum: 12 people at 4 rowers take 3 turns (plain arithmetic).
func TestHeatsAreTheWavesThatItTakes(t *testing.T) {
	s := workspace.Make(workspace.Root{Dir: "/quayside", House: true}, map[string]string{
		"house.stint":            "stint 1\n\nhouse Quayside Hall\n  class 12\n  kit\n    4 rower\n",
		"sessions/bowline.stint": "session Bowline\n\npart A for time\n  400 m row\n  20 burpee\n",
	})
	ds := of(s, "kit-short")
	require.Len(t, ds, 1)
	assert.Equal(t, "part A: 12 people need a rower at once, at 0:00; the house has 4", ds[0].Message)
	// 400 m at 0.3 s a metre, the slow pace of the book, is 2:00, and a little more as they
	// tire: the next half minute is 2:30.
	assert.Contains(t, ds[0].Help, "write in heats of 4 every 2:30: 3 heats of 4 fit")
}

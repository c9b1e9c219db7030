package workspace

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stint.example/stint/lang/diag"
)

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	path := filepath.Join(dir, filepath.FromSlash(name))
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
}

func TestFind(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "hall/house.stint", "stint 1\n")
	write(t, dir, "hall/sessions/reef.stint", "")
	write(t, dir, "loose/reef.stint", "")
	for name, want := range map[string]Root{
		"hall":                     {Dir: filepath.Join(dir, "hall"), House: true},
		"hall/sessions":            {Dir: filepath.Join(dir, "hall"), House: true},
		"hall/sessions/reef.stint": {Dir: filepath.Join(dir, "hall"), House: true},
		"loose":                    {Dir: filepath.Join(dir, "loose")},
		"loose/reef.stint":         {Dir: filepath.Join(dir, "loose")},
	} {
		got, err := Find(filepath.Join(dir, filepath.FromSlash(name)))
		require.NoError(t, err)
		assert.Equal(t, want, got, name)
	}
	_, err := Find(filepath.Join(dir, "nowhere"))
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestListLeavesOutWhatIsNotOurs(t *testing.T) {
	dir := t.TempDir()
	for _, n := range []string{"house.stint", "sessions/b.stint", "sessions/a.stint", ".git/x.stint",
		"node_modules/y.stint",
		"notes.txt", "sessions/.draft.stint", "other/house.stint", "other/sessions/z.stint"} {
		write(t, dir, n, "")
	}
	got, err := List(dir)
	require.NoError(t, err)
	assert.Equal(t, []string{"house.stint", "sessions/a.stint", "sessions/b.stint"}, got)
}

func TestLoadGoesOnWithoutAFileThatCannotBeRead(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "a.stint", "session A\n")
	require.NoError(t, os.Symlink(filepath.Join(dir, "gone"), filepath.Join(dir, "b.stint")))
	s, err := Load(Root{Dir: dir})
	assert.ErrorContains(t, err, "b.stint")
	require.NotNil(t, s)
	assert.NotNil(t, s.File("a.stint"))
	assert.Nil(t, s.File("b.stint"))
}

// A book edit is seen in the sessions that use the movement.
func TestFilesAreReadAgainstEachOther(t *testing.T) {
	s := Make(Root{}, map[string]string{"reef.stint": "session Reef\n  allow length-missing > As long as it takes.\npart A\n  3 pier hop\n"})
	require.Len(t, s.Check(), 1)
	assert.Equal(t, "movement-unknown", s.Check()[0].Rule)
	s = s.With("movements/pier-hop.stint",
		"movement pier hop\n  trains jump\n  standard > Both feet land.\n  cue > Land quietly.\n  easier step-up\n")
	assert.Empty(t, s.Check())
	s = s.Without("movements/pier-hop.stint")
	assert.Len(t, s.Check(), 1)
}

func lines(ds []diag.Diagnostic) []string {
	out := make([]string, len(ds))
	for i, d := range ds {
		out[i] = fmt.Sprintf("%s %d-%d %s %s: %s", d.At.File.Name, d.At.Start, d.At.End, d.Severity, d.Rule, d.Message)
	}
	return out
}

// However a workspace came about, by edits one at a time or all at once, it says the same.
func TestEditsEqualAFreshLoad(t *testing.T) {
	names := []string{"house.stint", "a.stint", "b.stint", "movements/m.stint", "cycles/c.stint"}
	texts := []string{
		"stint 1\n\nhouse Hall\n  tiers full, lesser\n  scaling no-kit\n    has loaded bag\n    row -> run\n  kit\n    8 sail @ 20 kg\n",
		"house Hall\n  tiers a, b, c\n  allow total-wrong > No sums.\n",
		"session Reef\npart A 3 rounds\n  10 burpee\n  200 m row\ntotal 31 burpee\n",
		"session Reef\npart A\n  5 pier hop, with sail @ 20 kg\nscaling no-kit\n  pier hop -> burpee\n",
		"movement pier hop\n  trains jump\n  easier burpee\n",
		"cycle Neap\n  from 2027-03-01\n  week 1\n    mon Reef\n    tue Bowline\n",
		"session Bowline\npart A 4 rounds\n  12-9-6 @ burpee\n", "", "\x00 nonsense\n",
	}
	rapid.Check(t, func(t *rapid.T) {
		s := Make(Root{}, nil)
		now := map[string]string{}
		for range rapid.IntRange(1, 8).Draw(t, "edits") {
			name := rapid.SampledFrom(names).Draw(t, "file")
			if rapid.IntRange(0, 4).Draw(t, "delete") == 0 {
				s = s.Without(name)
				delete(now, name)
				continue
			}
			now[name] = rapid.SampledFrom(texts).Draw(t, "text")
			s = s.With(name, now[name])
			if rapid.Bool().Draw(t, "check") { // so that findings are there to be kept
				s.Check()
			}
		}
		fresh := Make(Root{}, maps.Clone(now))
		assert.Equal(t, lines(fresh.Check()), lines(s.Check()))
		assert.Equal(t, slices.Sorted(maps.Keys(now)), paths(s))
	})
}

// An edit recomputes only what it affects.
func TestFindingsAreKept(t *testing.T) {
	s := Make(Root{}, map[string]string{
		"house.stint":         "stint 1\n\nhouse Hall\n  class 16\n",
		"a.stint":             "stint 1\n\nsession Reef\n\npart A\n  3 burpe\n",
		"b.stint":             "stint 1\n\nsession Bowline\n\npart A\n  3 burpe\n",
		"cycles/neap.stint":   "stint 1\n\ncycle Neap\n  week 1\n    mon Reef\n",
		"cycles/spring.stint": "stint 1\n\ncycle Spring\n  week 1\n    mon Bowline\n",
	})
	kept := func(now *Snapshot) []string {
		var out []string
		for _, f := range now.Files {
			if old := s.File(f.Path); old != nil && old.diags == f.diags {
				out = append(out, f.Path)
			}
		}
		return out
	}
	assert.Equal(t, []string{"b.stint", "cycles/spring.stint", "house.stint"},
		kept(s.With("a.stint", "stint 1\n\nsession Reef\n\npart A\n  4 burpe\n")), "a session affects the cycle that plans it")
	assert.Equal(t, []string{"b.stint", "cycles/spring.stint", "house.stint"},
		kept(s.With("cycles/neap.stint",
			"stint 1\n\ncycle Neap\n  week 1\n    tue Reef\n")), "a cycle in what it plans")
	assert.Empty(t, kept(s.With("house.stint", "stint 1\n\nhouse Hall\n  class 12\n")), "a house in all")
	assert.Same(t, s, s.Without("c.stint"))
}

func paths(s *Snapshot) []string {
	var out []string
	for _, f := range s.Files {
		out = append(out, f.Path)
	}
	return out
}

// FuzzCheck: whatever a session's file holds, reading and checking it gives answers with
// places inside the text, and never a panic.
func FuzzCheck(f *testing.F) {
	for _, dir := range []string{demo, broken} {
		_ = filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
			if err == nil && !e.IsDir() {
				text, _ := os.ReadFile(path)
				f.Add(string(text))
			}
			return nil
		})
	}
	f.Add("house H\n  rule off\n  rule x\n") // a line of a house that names no rule crashed once
	house := "stint 1\n\nhouse Hall\n  class 16\n  needs no-kit\n  scaling no-kit\n    has loaded bag\n    row -> run\n  scaling light\n"
	base := Make(Root{}, map[string]string{"house.stint": house})
	f.Fuzz(func(t *testing.T, text string) {
		s := base.With("sessions/x.stint", text)
		for _, d := range s.Check() {
			if n := len(d.At.File.Text); d.At.Start < 0 || d.At.End < d.At.Start || d.At.End > n {
				t.Fatalf("%s is at %d-%d of %d bytes", d.Rule, d.At.Start, d.At.End, n)
			}
			if strings.TrimSpace(d.Message) == "" || d.Rule == "" || d.Severity == diag.Off {
				t.Fatalf("an empty finding: %+v", d)
			}
			for _, fix := range d.Fixes {
				diag.Apply(d.At.File, fix.Edits)
			}
		}
	})
}

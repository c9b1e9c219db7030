package workspace

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/internal/marktest"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/report"
)

const (
	demo   = "../../testdata/quayside"
	broken = "../../testdata/broken"
)

func load(t *testing.T, dir string) *Snapshot {
	t.Helper()
	root, err := Find(dir)
	require.NoError(t, err)
	s, err := Load(root)
	require.NoError(t, err)
	return s
}

func TestDemoIsClean(t *testing.T) {
	s := load(t, demo)
	ds := s.Check()
	if len(ds) > 0 {
		_ = report.Text(os.Stderr, ds, report.Options{})
	}
	require.Empty(t, ds)
	sessions, cycles := 0, 0
	for _, f := range s.Files {
		assert.Equal(t, f.Src.Text, format.Source(f.Syntax()), "%s is canonical", f.Path)
		sessions += len(f.Program().Sessions)
		cycles += len(f.Program().Cycles)
		for _, v := range f.Program().Sessions {
			assertHome(t, v)
		}
	}
	assert.Equal(t, 18, sessions)
	assert.Equal(t, 1, cycles)
	assert.Equal(t, "Quayside Hall", s.Env.House.Name)
}

// assertHome asserts that a session has a version for members at home, in which no line asks
// for anything but a loaded bag. It reads what movements need from the book alone.
func assertHome(t *testing.T, s *model.Session) {
	t.Helper()
	i := slices.IndexFunc(s.Versions, func(v *model.Version) bool { return v.Name == "no-kit" })
	if !assert.GreaterOrEqual(t, i, 0, "%s has no version for members at home", s.Name) {
		return
	}
	lines := 0
	var steps func(steps []model.Step)
	steps = func(list []model.Step) {
		for _, st := range list {
			switch st := st.(type) {
			case *model.Rest:
				steps(st.Steps)
			case *model.Group:
				assert.Empty(t, st.With, "%s: %s", s.Name, st.At.Text())
				steps(st.Steps)
				for _, e := range st.Events {
					steps(e.Steps)
				}
			case *model.Work:
				lines++
				assert.Empty(t, st.With, "%s: %s", s.Name, st.At.Text())
				for _, m := range st.Moves {
					for _, kit := range m.Movement.Needs {
						assert.Equal(t, "loaded bag", kit, "%s: %s at home", s.Name, m.Name)
					}
				}
			}
		}
	}
	for _, g := range s.Versions[i].Session.Parts {
		steps([]model.Step{g})
	}
	assert.Greater(t, lines, 5, s.Name)
}

// Every mistake of the broken workspace draws what its mark says, and nothing else; and
// there is one for every rule but one: where no length is stated, a third of the others have nothing to find.
func TestBrokenIsMarked(t *testing.T) {
	c := marktest.LoadDir(t, broken)
	texts := map[string]string{}
	drawn := map[string]bool{}
	for _, f := range c.Files() {
		texts[f.Name] = f.Text
	}
	for _, m := range c.Markers() {
		drawn[m.Rule] = true
	}
	c.Check(t, Make(Root{}, texts).Check())
	drawn["length-missing"] = true
	for _, r := range rules.All() {
		assert.True(t, drawn[r.Name], "no mistake in %s draws %s", filepath.Base(broken), r.Name)
	}
}

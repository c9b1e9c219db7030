package workspace

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/marktest"
	"stint.example/stint/lang/report"
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
		assert.Equal(t, f.Syntax.Src.Text, format.Source(f.Syntax), "%s is canonical", f.Path)
		sessions += len(f.Program().Sessions)
		cycles += len(f.Program().Cycles)
		for _, v := range f.Program().Sessions {
			assert.NotEmpty(t, v.Versions, "%s has no version for members at home", v.Name)
		}
	}
	assert.Equal(t, 18, sessions)
	assert.Equal(t, 1, cycles)
	assert.Equal(t, "Quayside Hall", s.Env.House.Name)
}

// Every mistake of the broken workspace draws what its mark says, and nothing else; and
// there is one for every rule.
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
	for _, r := range check.Rules {
		assert.True(t, drawn[r.Name], "no mistake in %s draws %s", filepath.Base(broken), r.Name)
	}
}

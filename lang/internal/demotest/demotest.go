// Package demotest loads the workspaces of testdata for the tests of what editors ask, finds
// cursors in them, and compares golden files.
package demotest

import (
	"flag"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/workspace"
)

var update = flag.Bool("update", false, "write golden files anew")

// Load is a workspace of testdata: quayside or broken.
func Load(t testing.TB, name string) *workspace.Snapshot {
	t.Helper()
	_, here, _, ok := runtime.Caller(0)
	require.True(t, ok)
	root, err := workspace.Find(filepath.Join(filepath.Dir(here), "..", "..", "..", "testdata", name))
	require.NoError(t, err)
	s, err := workspace.Load(root)
	require.NoError(t, err)
	return s
}

// Cursor is the offset of the mark ‸ in some words of a file.
func Cursor(t testing.TB, f *workspace.File, words string) int {
	t.Helper()
	before, after, ok := strings.Cut(words, "‸")
	require.True(t, ok, "%q has no cursor", words)
	i := strings.Index(f.Src.Text, before+after)
	require.GreaterOrEqual(t, i, 0, "%q is not in %s", before+after, f.Path)
	return i + len(before)
}

// Golden compares a text with a file of the package's own testdata.
func Golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

// Package demotest loads the workspaces of testdata for the tests of what editors ask and finds
// cursors in them.
package demotest

import (
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/workspace"
)

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

// InsideWord says whether an offset is in the middle of a word or a number, or of a note, where
// all places are alike.
func InsideWord(text string, off int) bool {
	if off < 2 || off+2 > len(text) {
		return false
	}
	for _, c := range []byte(text[off-2 : off+2]) {
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9') {
			return false
		}
	}
	return true
}

// AddTexts adds the files of both workspaces to the seeds of a fuzz test of texts.
func AddTexts(f *testing.F) {
	f.Helper()
	for _, name := range []string{"quayside", "broken"} {
		for _, file := range Load(f, name).Files {
			f.Add(file.Src.Text)
		}
	}
}

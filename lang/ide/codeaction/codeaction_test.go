package codeaction_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/workspace"
)

// cursor marks a place in the texts of tests.
const cursor = "‸"

// marked makes a workspace of texts by path, one of which has the cursor.
func marked(t testing.TB, texts map[string]string) (*workspace.Snapshot, *workspace.File, int) {
	t.Helper()
	plain := map[string]string{}
	at, off := "", -1
	for name, text := range texts {
		if i := strings.Index(text, cursor); i >= 0 {
			at, off = name, i
		}
		plain[name] = strings.Replace(text, cursor, "", 1)
	}
	require.GreaterOrEqual(t, off, 0, "no text has the cursor")
	s := workspace.Make(workspace.Root{Dir: "/hall", House: true}, plain)
	return s, s.File(at), off
}

// made is the texts of a workspace with edits made, which must not overlap.
func made(t require.TestingT, s *workspace.Snapshot, es []diag.Edit) map[string]string {
	out := map[string]string{}
	for _, f := range s.Files {
		text, all := diag.Apply(f.Src, es)
		require.True(t, all, "edits of %s overlap", f.Path)
		out[f.Path] = text
	}
	return out
}

// drawn is the rules that do not hold in a workspace, to be compared before and after.
func drawn(s *workspace.Snapshot) []string {
	var out []string
	for _, d := range s.Check() {
		out = append(out, d.Rule)
	}
	slices.Sort(out)
	return out
}

// folder is the texts of a folder, by path.
func folder(t testing.TB, dir string) map[string]string {
	t.Helper()
	names, err := workspace.List(dir)
	require.NoError(t, err)
	out := map[string]string{}
	for _, n := range names {
		text, err := os.ReadFile(filepath.Join(dir, n))
		require.NoError(t, err)
		out[n] = string(text)
	}
	return out
}

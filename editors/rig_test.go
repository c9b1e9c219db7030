package editors

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/workspace"
)

// skip leaves a test out where what it needs is missing. In CI nothing may be.
func skip(t *testing.T, why string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(why)
	}
	t.Skip(why)
}

// installed skips a test where a program is not on the PATH.
func installed(t *testing.T, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		skip(t, "there is no "+program+" on the PATH")
	}
	return path
}

// workspaceCopy is a folder of testdata, copied to where it may be written to.
func workspaceCopy(t *testing.T, name string) string {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	dir = filepath.Join(dir, name)
	require.NoError(t, os.CopyFS(dir, os.DirFS(filepath.Join("..", "testdata", name))))
	return dir
}

func absolute(t *testing.T, path string) string {
	t.Helper()
	abs, err := filepath.Abs(path)
	require.NoError(t, err)
	return abs
}

func read(t *testing.T, path ...string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(path...))
	require.NoError(t, err)
	return string(text)
}

// run runs a command and gives what it said, which is shown when the test fails.
func run(t *testing.T, env []string, name string, args ...string) (string, error) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Env = append(os.Environ(), env...)
	cmd.WaitDelay = 5 * time.Second
	out, err := cmd.CombinedOutput()
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("%s %s:\n%s", name, strings.Join(args, " "), out)
		}
	})
	return string(out), err
}

// A finding is a diagnostic as an editor shows it: what is compared.
type finding struct {
	Rule    string `json:"rule"`
	Line    int    `json:"line"` // from 0
	Message string `json:"message"`
}

// findings are what the checker finds in one file of a workspace.
func findings(t *testing.T, dir, name string) []finding {
	t.Helper()
	root, err := workspace.Find(dir)
	require.NoError(t, err)
	snap, err := workspace.Load(root)
	require.NoError(t, err)
	out := []finding{}
	for _, d := range snap.Check() {
		if d.At.File.Name == name {
			out = append(out, finding{d.Rule, d.At.File.LineAt(d.At.Start), text(d)})
		}
	}
	require.NotEmpty(t, out)
	return out
}

// text is what an editor shows of a diagnostic: what is wrong, and below it what to do.
func text(d diag.Diagnostic) string {
	if d.Help == "" {
		return d.Message
	}
	return d.Message + "\n" + d.Help
}

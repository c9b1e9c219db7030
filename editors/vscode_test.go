package editors

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// What VS Code colours before the server has spoken, in its own engine: see the tests in
// the extension's folder.
func TestPaint(t *testing.T) {
	node := installed(t, "node")
	packages := modules(t, filepath.Join("vscode", "test"))
	tests, err := filepath.Glob(filepath.Join("vscode", "test", "*.test.mjs"))
	require.NoError(t, err)
	require.NotEmpty(t, tests)
	env := []string{"STINT_TEST_MODULES=" + packages}
	_, err = run(t, env, node, append([]string{"--test"}, tests...)...)
	require.NoError(t, err)
}

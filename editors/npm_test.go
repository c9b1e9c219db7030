package editors

import (
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// modules installs what a package.json and its lock file name, once a version of them and
// in a folder for caches, and gives the folder.
func modules(t *testing.T, folder string) string {
	t.Helper()
	installed(t, "node")
	npm := installed(t, "npm")
	lock := read(t, folder, "package-lock.json")
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	dir := filepath.Join(cache, "stint-test", fmt.Sprintf("npm-%x", sha256.Sum256([]byte(lock)))[:16])
	done := filepath.Join(dir, "complete")
	if _, err := os.Stat(done); err == nil {
		return dir
	}
	require.NoError(t, os.RemoveAll(dir))
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for _, name := range []string{"package.json", "package-lock.json", ".npmrc"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(read(t, folder, name)), 0o644))
	}
	cmd := exec.CommandContext(t.Context(), npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund")
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		skip(t, fmt.Sprintf("npm ci: %v\n%s", err, out))
	}
	require.NoError(t, os.WriteFile(done, nil, 0o644))
	return dir
}

// capabilities are what any client is offered.
var capabilities = []string{
	"textDocument/codeAction", "textDocument/codeLens", "textDocument/completion", "textDocument/definition",
	"textDocument/documentHighlight", "textDocument/documentLink", "textDocument/documentSymbol", "textDocument/foldingRange",
	"textDocument/formatting", "textDocument/hover", "textDocument/implementation", "textDocument/inlayHint",
	"textDocument/onTypeFormatting", "textDocument/rangeFormatting", "textDocument/references",
	"textDocument/rename", "textDocument/selectionRange", "textDocument/semanticTokens/full", "workspace/symbol",
}

// The protocol's reference client drives the server through all that it says it can do,
// and every message of both is compared with the protocol's published model.
func TestReferenceClient(t *testing.T) {
	node := installed(t, "node")
	packages := modules(t, "npm")
	m, err := theModel()
	require.NoError(t, err)
	for _, kind := range []string{"rich", "plain"} {
		t.Run(kind, func(t *testing.T) {
			quayside, broken := workspaceCopy(t, "quayside"), workspaceCopy(t, "broken")
			mended := workspaceCopy(t, "broken")
			_ = exec.Command(stint(t), "check", "--fix", mended).Run() // finds what it cannot mend
			file := filepath.Join(t.TempDir(), "messages")
			command, env := recorder(t, file)
			_, err := run(t, append(env,
				"STINT_TEST_COMMAND="+command,
				"STINT_TEST_MODULES="+packages,
				"STINT_TEST_QUAYSIDE="+quayside,
				"STINT_TEST_BROKEN="+broken,
				"STINT_TEST_BROKEN_AS_IT_WAS="+absolute(t, "../testdata/broken"),
				"STINT_TEST_BROKEN_MENDED="+mended,
			), node, filepath.Join("npm", "drive.mjs"), kind)
			assert.NoError(t, err)
			c := hear(t, file, true)
			assert.Empty(t, c.undriven(m), "announced, and never driven to an answer")
			for _, name := range capabilities {
				assert.True(t, c.offers(m.methods[name]), "%s is not offered", name)
			}
		})
	}
}

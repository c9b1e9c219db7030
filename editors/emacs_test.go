package editors

import (
	"encoding/json"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Emacs with eglot shows in a workspace full of mistakes what the command line says of it.
func TestEmacs(t *testing.T) {
	emacs := installed(t, "emacs")
	if out, err := run(t, nil, emacs, "-q", "--batch", "--eval", "(require 'eglot)"); err != nil {
		skip(t, "this Emacs has no eglot: "+out)
	}
	dir := workspaceCopy(t, "broken")
	out, messages := filepath.Join(t.TempDir(), "seen"), filepath.Join(t.TempDir(), "messages")
	command, env := recorder(t, messages)
	said, err := run(t, append(env, "STINT_TEST_COMMAND="+command, "STINT_TEST_DIR="+dir, "STINT_TEST_OUT="+out,
		"STINT_TEST_PLUGIN="+absolute(t, "emacs"), "STINT_TEST_FILES="+counted(t), "HOME="+t.TempDir()),
		emacs, "-q", "--batch", "-l", absolute(t, filepath.Join("testdata", "emacs.el")))
	require.NoError(t, err, said)
	var s seen
	require.NoError(t, json.Unmarshal([]byte(read(t, out)), &s))
	assert.Equal(t, "stint-mode", s.Filetype)
	assert.Equal(t, "# ", s.Commentstring)
	hear(t, messages, false)
	s.check(t)
}

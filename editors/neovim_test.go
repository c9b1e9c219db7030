package editors

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// watched are files of the broken workspace that an editor opens, between them with findings
// of every layer.
var watched = []string{"house.stint", "cycles/neap.stint", "movements/quay-run.stint", "sessions/bowline.stint",
	"sessions/clove-hitch.stint", "sessions/sheet-bend.stint", "sessions/stopper.stint"}

// counted are the watched files with how many findings each has, which an editor waits for.
func counted(t *testing.T) string {
	t.Helper()
	dir := workspaceCopy(t, "broken")
	var out []string
	for _, name := range watched {
		out = append(out, fmt.Sprintf("%s=%d", name, len(findings(t, dir, name))))
	}
	return strings.Join(out, ",")
}

// seen is what an editor writes down.
type seen struct {
	Failed        []string             `json:"failed"` // what went wrong
	Findings      map[string][]finding `json:"findings"`
	Filetype      string               `json:"filetype"`
	Commentstring string               `json:"commentstring"`
	Hover         string               `json:"hover"`
	Completion    []string             `json:"completion"`
	Formatted     string               `json:"formatted"` // sessions/bowline.stint
	Fixed         string               `json:"fixed"`     // the line that wanted a comma
	Renamed       map[string]string    `json:"renamed"`   // files after movement quay run became pier run
	Session       map[string]string    `json:"session"`   // files after session Sheet Bend became Fender Hitch
}

// check holds what an editor saw against what the command line says.
func (s seen) check(t *testing.T) {
	t.Helper()
	dir := workspaceCopy(t, "broken")
	for _, f := range s.Failed {
		t.Error(f)
	}
	for _, name := range watched {
		assert.ElementsMatch(t, findings(t, dir, name), s.Findings[name], name)
	}
	assert.Contains(t, s.Hover, "goblet squat")
	assert.Contains(t, s.Hover, "Elbows", "the movement's standard, cue or fault") // see lang/book/data/squat.stint
	assert.Contains(t, s.Completion, "kettlebell swing")

	tidy := workspaceCopy(t, "broken")
	_, _ = run(t, nil, stint(t), "fmt", filepath.Join(tidy, "sessions", "bowline.stint")) // says what it could not print
	assert.Equal(t, read(t, tidy, "sessions", "bowline.stint"), s.Formatted)

	assert.Regexp(t, `^  12 lunge, alternating( |$)`, s.Fixed)

	require.NotEmpty(t, s.Renamed)
	for name, text := range s.Renamed {
		was := read(t, dir, filepath.FromSlash(name))
		want := regexp.MustCompile(`\bquay run\b`).ReplaceAllString(was, "pier run")
		if name == "sessions/bowline.stint" { // a comma was put in before
			want = strings.Replace(want, "12 lunge alternating", "12 lunge, alternating", 1)
		}
		assert.Equal(t, want, text, name)
	}

	assert.Contains(t, s.Session["cycles/neap.stint"], "fri Fender Hitch")
	delete(s.Session, "cycles/neap.stint")
	require.Len(t, s.Session, 1)
	for name, text := range s.Session {
		assert.Regexp(t, `^sessions/(sheet-bend|fender-hitch)\.stint$`, name)
		assert.Contains(t, text, "\nsession Fender Hitch\n")
	}
}

// Neovim, with the files that are made for it, shows in a workspace full of mistakes what
// the command line says of it.
func TestNeovim(t *testing.T) {
	nvim := installed(t, "nvim")
	dir := workspaceCopy(t, "broken")
	out, messages := filepath.Join(t.TempDir(), "seen"), filepath.Join(t.TempDir(), "messages")
	command, env := recorder(t, messages)
	home := t.TempDir()
	said, err := run(t, append(env, "STINT_TEST_COMMAND="+command, "STINT_TEST_DIR="+dir, "STINT_TEST_OUT="+out,
		"STINT_TEST_PLUGIN="+absolute(t, "neovim"), "STINT_TEST_FILES="+counted(t),
		"HOME="+home, "XDG_CONFIG_HOME="+home, "XDG_DATA_HOME="+home, "XDG_CACHE_HOME="+home, "XDG_STATE_HOME="+home),
		nvim, "-n", "--headless", "-u", "NONE", "-i", "NONE", "-S", absolute(t, filepath.Join("testdata", "neovim.lua")))
	require.NoError(t, err, said)
	var s seen
	require.NoError(t, json.Unmarshal([]byte(read(t, out)), &s))
	assert.Equal(t, "stint", s.Filetype)
	assert.Equal(t, "# %s", s.Commentstring)
	hear(t, messages, false)
	s.check(t)
}

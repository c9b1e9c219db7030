package editors

import (
	"encoding/json"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lsp"
)

// VS Code offers the settings that the server has, and none besides its own.
func TestSettings(t *testing.T) {
	var manifest struct {
		Contributes struct {
			Configuration struct {
				Properties map[string]any `json:"properties"`
			} `json:"configuration"`
		} `json:"contributes"`
	}
	require.NoError(t, json.Unmarshal([]byte(read(t, "vscode", "package.json")), &manifest))
	text, err := json.Marshal(lsp.Configuration{})
	require.NoError(t, err)
	var settings map[string]any
	require.NoError(t, json.Unmarshal(text, &settings))
	want := []string{"stint.path", "stint.trace.server"}
	var walk func(string, any)
	walk = func(at string, v any) {
		object, ok := v.(map[string]any)
		if !ok {
			want = append(want, at)
		}
		for k, v := range object {
			walk(at+"."+k, v)
		}
	}
	walk("stint", settings)
	assert.ElementsMatch(t, want, slices.Collect(maps.Keys(manifest.Contributes.Configuration.Properties)))

	about := read(t, "vscode", "README.md")
	for _, name := range want {
		assert.True(t, strings.Contains(about, "`"+name+"`"), "%s is not in %s", name, filepath.Join("vscode", "README.md"))
	}
}

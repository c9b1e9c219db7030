package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/spec"
)

// Whatever is estimated, with mistakes in it or without, is as the schema says, and is
// shown as text and as a picture too.
func TestClockKeepsItsSchema(t *testing.T) {
	text, err := spec.FS.ReadFile("schema/clock.schema.json")
	require.NoError(t, err)
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("clock.json", parsed))
	schema, err := c.Compile("clock.json")
	require.NoError(t, err)
	for name, code := range map[string]int{"quayside": exitFine, "broken": exitFound} {
		for _, more := range [][]string{nil, {"--open"}, {"--version", "no-kit"}} {
			args := append([]string{"clock", filepath.Join("..", "..", "testdata", name)}, more...)
			got, out, stderr := runApp(append(args, "--format", "json")...)
			require.Equal(t, code, got, stderr)
			doc, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
			require.NoError(t, err)
			assert.NoError(t, schema.Validate(doc), "%s %v", name, more)
			got, out, _ = runApp(args...)
			assert.Equal(t, code, got)
			assert.True(t, strings.HasSuffix(out, "; times may well be 10 % off.\n"), out)
		}
	}
	sessions, err := filepath.Glob(filepath.Join("..", "..", "testdata", "*", "sessions", "*.stint"))
	require.NoError(t, err)
	assert.Greater(t, len(sessions), 20)
	for _, s := range sessions {
		_, out, stderr := runApp("clock", s, "--format", "svg")
		if !strings.Contains(stderr, "one session") && !strings.Contains(stderr, "no session") {
			assert.True(t, strings.HasPrefix(out, "<svg "), "%s: %s", s, stderr)
		}
	}
}

// The schema is strict: it would not let through what is not estimated.
func TestClockSchemaIsStrict(t *testing.T) { strict(t, "clock", 15) }

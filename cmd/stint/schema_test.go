package main

import (
	"bytes"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/spec"
)

// strict demands of a schema that each of its objects, more than so many, says all that it
// may hold and something that it must.
func strict(t *testing.T, name string, least int) {
	t.Helper()
	text, err := spec.FS.ReadFile("schema/" + name + ".schema.json")
	require.NoError(t, err)
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	objects := 0
	var visit func(at string, v any)
	visit = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			if v["type"] == "object" {
				objects++
				assert.Equal(t, false, v["additionalProperties"], at)
				assert.NotEmpty(t, v["required"], at)
			}
			for k, w := range v {
				visit(at+"/"+k, w)
			}
		case []any:
			for _, w := range v {
				visit(at, w)
			}
		}
	}
	visit("", parsed)
	assert.Greater(t, objects, least)
}

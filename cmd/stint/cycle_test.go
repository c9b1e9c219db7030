package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/weeks"
	"stint.example/stint/spec"
)

// Whatever is said of a cycle, with mistakes in it or without, is as the schema says, and
// is shown as text that fits a screen and as a picture too.
func TestCycleKeepsItsSchema(t *testing.T) {
	text, err := spec.FS.ReadFile("schema/cycle.schema.json")
	require.NoError(t, err)
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("cycle.json", parsed))
	schema, err := c.Compile("cycle.json")
	require.NoError(t, err)
	cycles, err := filepath.Glob(filepath.Join("..", "..", "testdata", "*", "cycles", "*.stint"))
	require.NoError(t, err)
	require.Greater(t, len(cycles), 2)
	for _, name := range cycles {
		for _, more := range [][]string{nil, {"--version", "no-kit"}} {
			args := append([]string{"cycle", name}, more...)
			_, out, stderr := runApp(append(args, "--format", "json")...)
			if strings.Contains(stderr, "no session of") {
				continue
			}
			doc, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
			require.NoError(t, err, stderr)
			assert.NoError(t, schema.Validate(doc), "%s %v", name, more)
			_, out, _ = runApp(args...)
			for _, l := range strings.Split(out, "\n") {
				assert.LessOrEqual(t, len([]rune(l)), 100, l)
			}
			_, out, _ = runApp(append(args, "--format", "svg")...)
			assert.True(t, strings.HasPrefix(out, "<svg "), name)
			assert.NotContains(t, out, "NaN")
		}
	}
}

// The schema is strict: it would not let through what is not said.
func TestCycleSchemaIsStrict(t *testing.T) { strict(t, "cycle", 9) }

// A column of the grid starts at the same cell in each row, also below a name whose letters
// take two cells.
func TestGridAlignsWideLetters(t *testing.T) {
	day := func(weekday, session string) weeks.Day { return weeks.Day{Weekday: weekday, Session: session} }
	c := &weeks.Cycle{Weeks: []*weeks.Week{
		{Week: 1, Days: []weeks.Day{day("mon", "満ち潮の朝"), day("tue", "Ebb")}},
		{Week: 2, Days: []weeks.Day{day("mon", "Reef"), day("tue", "Ebb")}},
	}}
	var out strings.Builder
	grid(&out, c)
	var starts []int
	for line := range strings.Lines(out.String()) {
		if before, _, ok := strings.Cut(line, "Ebb"); ok {
			starts = append(starts, layout.Cells(before))
		}
	}
	require.Len(t, starts, 2)
	assert.Equal(t, starts[0], starts[1])
}

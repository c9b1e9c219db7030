package main

import (
	"bytes"
	"encoding/csv"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/spec"
)

// Whatever is added up, with mistakes in it or without, is as the schema says; and each
// line of the CSV has all columns.
func TestTotalsKeepTheirSchema(t *testing.T) {
	text, err := spec.FS.ReadFile("schema/totals.schema.json")
	require.NoError(t, err)
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("totals.json", parsed))
	schema, err := c.Compile("totals.json")
	require.NoError(t, err)
	for name, code := range map[string]int{"quayside": exitFine, "broken": exitFound} {
		folder := filepath.Join("..", "..", "testdata", name)
		for _, by := range []string{totals.ByMovement, totals.ByPattern, totals.ByPart, totals.ByDay, totals.ByWeek} {
			for _, more := range [][]string{nil, {"--version", "no-kit"}} {
				args := append([]string{"totals", folder, "--by", by}, more...)
				got, out, stderr := runApp(append(args, "--format", "json")...)
				require.Equal(t, code, got, stderr)
				doc, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
				require.NoError(t, err)
				assert.NoError(t, schema.Validate(doc), "%s by %s", name, by)
				_, out, _ = runApp(append(args, "--format", "csv")...)
				lines, err := csv.NewReader(strings.NewReader(out)).ReadAll()
				require.NoError(t, err)
				assert.Greater(t, len(lines), 1)
				assert.Equal(t, "by", lines[0][0])
			}
		}
	}
}

func TestTotal(t *testing.T) {
	most := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		amount totals.Amount
		unit   string
		want   string
	}{
		{totals.Amount{Least: 57, Most: most(57)}, "rep", "57"},
		{totals.Amount{Least: 24, Most: most(30)}, "rep", "24-30"},
		{totals.Amount{Least: 20}, "rep", "at least 20"},
		{totals.Amount{}, "rep", "as it comes"},
		{totals.Amount{Most: most(120)}, "s", "0:00-2:00"},
		{totals.Amount{Least: 6000, Most: most(6000)}, "s", "1:40:00"},
		{totals.Amount{Least: 1609.344, Most: most(1609.344)}, "m", "1609.3 m"},
		{totals.Amount{Least: 430.9128}, "kg", "at least 430.9 kg"},
		{totals.Amount{Least: 48, Most: most(60)}, "cal", "48-60 cal"},
	} {
		assert.Equal(t, c.want, total(c.amount, c.unit))
	}
}

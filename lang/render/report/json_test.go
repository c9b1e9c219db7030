package report

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

const schemaFile = "../../../spec/schema/diagnostics.schema.json"

func validate(t testing.TB, schema *jsonschema.Schema, document string) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(document))
	require.NoError(t, err)
	return schema.Validate(v)
}

func compileSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	schema, err := c.Compile(schemaFile)
	require.NoError(t, err)
	return schema
}

func jsonText(t testing.TB, opt Options, ds ...diag.Diagnostic) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, JSON(&b, ds, opt))
	return b.String()
}

func TestJSON(t *testing.T) {
	opt := Options{Path: func(name string) string { return strings.TrimPrefix(name, "sessions/") }}
	f := source.New("sessions/reef.stint", "stint 1\nsession Récif\n  8 ring row -> bag row\n")
	d := diag.Diagnostic{
		Rule: "total-wrong", Severity: diag.Warning, At: on(t, f, "ring row"),
		Message: "a < b & c > d", Label: "24", Help: "count again",
		Related: []diag.Related{{At: on(t, f, "if"), Message: "in this session"}},
		Fixes: []diag.Fix{{Title: "write 24 ring row", Safe: true, Edits: []diag.Edit{
			{At: on(t, f, "8"), New: "24"},
		}}},
	}
	off := diag.Diagnostic{Rule: "quiet", Severity: diag.Off, Message: "not shown"}
	// The é takes two bytes and one column.
	const want = `{
  "version": 1,
  "diagnostics": [
    {
      "rule": "total-wrong",
      "severity": "warning",
      "file": "reef.stint",
      "start": {
        "offset": 27,
        "line": 3,
        "column": 5
      },
      "end": {
        "offset": 35,
        "line": 3,
        "column": 13
      },
      "message": "a < b & c > d",
      "label": "24",
      "help": "count again",
      "related": [
        {
          "file": "reef.stint",
          "start": {
            "offset": 20,
            "line": 2,
            "column": 12
          },
          "end": {
            "offset": 22,
            "line": 2,
            "column": 14
          },
          "message": "in this session"
        }
      ],
      "fixes": [
        {
          "title": "write 24 ring row",
          "safe": true,
          "edits": [
            {
              "file": "reef.stint",
              "start": {
                "offset": 25,
                "line": 3,
                "column": 3
              },
              "end": {
                "offset": 26,
                "line": 3,
                "column": 4
              },
              "new": "24"
            }
          ]
        }
      ]
    }
  ],
  "summary": {
    "errors": 0,
    "warnings": 1,
    "suggestions": 0
  }
}
`
	assert.Equal(t, want, jsonText(t, opt, d, off))
	assert.Equal(t, want, jsonText(t, Options{Path: opt.Path, Color: true}, d, off))
}

func TestJSONFitsItsSchema(t *testing.T) {
	schema := compileSchema(t)
	f := source.New("a\xff.stint", "x\xff\n")
	for name, ds := range map[string][]diag.Diagnostic{
		"none":    nil,
		"usual":   findings(t),
		"no file": {{Rule: "r", Severity: diag.Error, Message: "m", Fixes: []diag.Fix{{Title: "t"}}}},
		"odd places and bytes": {{
			Rule: "r", Severity: diag.Error, At: f.At(source.Span{Start: -1, End: 99}), Message: "\xff\x00\u2028",
			Related: []diag.Related{{At: f.At(source.Span{Start: 50, End: 40})}},
		}},
	} {
		assert.NoError(t, validate(t, schema, jsonText(t, Options{}, ds...)), name)
	}
}

// The schema must refuse what is not the published shape, or the test above says
// nothing: every member that is left out or added has to be noticed.
func TestSchemaRefusesOtherShapes(t *testing.T) {
	schema := compileSchema(t)
	good := jsonText(t, Options{}, findings(t)[0])
	require.NoError(t, validate(t, schema, good))

	var tree any
	require.NoError(t, json.Unmarshal([]byte(good), &tree))
	objects := 0
	mutate(tree, func(object map[string]any) {
		objects++
		for _, name := range slices.Sorted(maps.Keys(object)) {
			value := object[name]
			delete(object, name)
			assert.Error(t, validate(t, schema, encode(t, tree)), "without %s", name)
			object[name] = nil
			assert.Error(t, validate(t, schema, encode(t, tree)), "with %s null", name)
			object[name] = value
		}
		object["extra"] = 1
		assert.Error(t, validate(t, schema, encode(t, tree)), "with an extra member")
		delete(object, "extra")
	})
	// The report, the summary, a diagnostic, two related places, a fix, an edit, and two
	// positions for each of the four places.
	assert.Equal(t, 15, objects)

	for from, to := range map[string]string{
		`"severity": "error"`: `"severity": "off"`,
		`"version": 1`:        `"version": 2`,
		`"line": 6`:           `"line": 0`,
	} {
		require.Contains(t, good, from)
		assert.Error(t, validate(t, schema, strings.Replace(good, from, to, 1)), to)
	}
}

// mutate calls f on every object of a tree.
func mutate(tree any, f func(map[string]any)) {
	switch v := tree.(type) {
	case map[string]any:
		f(v)
		for _, child := range v {
			mutate(child, f)
		}
	case []any:
		for _, child := range v {
			mutate(child, f)
		}
	}
}

func encode(t testing.TB, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	require.NoError(t, err)
	return string(b)
}

func TestJSONKeepsOffsetsOfBrokenText(t *testing.T) {
	f := source.New("a.stint", "\xff\xffab")
	got := jsonText(t, Options{}, diag.Diagnostic{Severity: diag.Error, At: f.At(source.Span{Start: 2, End: 4})})
	var r struct {
		Diagnostics []struct {
			Start, End struct{ Offset, Line, Column int }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(got), &r))
	assert.Equal(t, 2, r.Diagnostics[0].Start.Offset)
	assert.Equal(t, 3, r.Diagnostics[0].Start.Column)
	assert.Equal(t, 4, r.Diagnostics[0].End.Offset)
}

func TestJSONPlacesLieInTheText(t *testing.T) {
	f := source.New("a.stint", "stint 1\n")
	for span, want := range map[source.Span]source.Span{
		{Start: 4, End: 2}:   {Start: 4, End: 4},
		{Start: -4, End: -2}: {Start: 0, End: 0},
		{Start: 6, End: 99}:  {Start: 6, End: 8},
		{Start: 50, End: 40}: {Start: 8, End: 8},
	} {
		p := placeOf(f.At(span), Options{})
		assert.Equal(t, want, source.Span{Start: p.Start.Offset, End: p.End.Offset})
	}
}

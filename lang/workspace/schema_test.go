package workspace

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/spec"
)

const meaningSchema = "schema/meaning.schema.json"

func schemaText(t testing.TB) any {
	t.Helper()
	data, err := spec.FS.ReadFile(meaningSchema)
	require.NoError(t, err)
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	require.NoError(t, err)
	return v
}

func compiledSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	require.NoError(t, c.AddResource(meaningSchema, schemaText(t)))
	s, err := c.Compile(meaningSchema)
	require.NoError(t, err)
	return s
}

// document is the JSON of what a snapshot means.
func document(t testing.TB, s *Snapshot) any {
	t.Helper()
	var files []*model.File
	for _, f := range s.Files {
		files = append(files, f.Program())
	}
	data, err := json.Marshal(model.NewDocument(s.Env, files...))
	require.NoError(t, err)
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	require.NoError(t, err)
	return v
}

// Whatever a workspace means, with mistakes in it or without, is as the schema says.
func TestMeaningKeepsItsSchema(t *testing.T) {
	s := compiledSchema(t)
	for _, dir := range []string{demo, broken} {
		assert.NoError(t, s.Validate(document(t, load(t, dir))), dir)
	}
	for _, e := range specExamples(t) {
		assert.NoError(t, s.Validate(document(t, e.snap)), e.Name)
	}
	assert.NoError(t, s.Validate(document(t, Make(Root{}, nil))), "nothing at all")
}

// The schema is strict: it would not let through what no text means.
func TestSchemaIsStrict(t *testing.T) {
	s := compiledSchema(t)
	fresh := func() map[string]any {
		return document(t, Make(Root{},
			map[string]string{"a.stint": "session A\n\npart A\n  12 burpee\n"})).(map[string]any)
	}
	require.NoError(t, s.Validate(fresh()))
	part := func(d map[string]any) map[string]any {
		return d["sessions"].([]any)[0].(map[string]any)["parts"].([]any)[0].(map[string]any)
	}
	for name, spoil := range map[string]func(d map[string]any){
		"another version": func(d map[string]any) { d["version"] = 2 },
		"a field more":    func(d map[string]any) { part(d)["colour"] = "red" },
		"a field less":    func(d map[string]any) { delete(part(d), "steps") },
		"an unknown kind": func(d map[string]any) { part(d)["kind"] = "piece" },
		"an unknown step": func(d map[string]any) { part(d)["steps"].([]any)[0].(map[string]any)["step"] = "play" },
		"a unit in inches": func(d map[string]any) {
			part(d)["steps"].([]any)[0].(map[string]any)["dose"].(map[string]any)["unit"] = "in"
		},
	} {
		d := fresh()
		spoil(d)
		assert.Error(t, s.Validate(d), name)
	}
}

// added are the fields that a type's own marshalling adds.
var added = map[string][]string{
	"group": {"step"}, "work": {"step"}, "rest": {"step"}, "tag": {"step"}, "move": {"known", "trains?", "joints?",
		"needs?"},
}

// Every field of what is published stands in the schema, and nothing else does.
func TestSchemaHasEveryField(t *testing.T) {
	schema := schemaText(t).(map[string]any)
	defs := schema["$defs"].(map[string]any)
	seen := map[string]bool{"step": true, "place": true, "position": true}
	var visit func(reflect.Type)
	visit = func(typ reflect.Type) {
		switch typ.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Map:
			visit(typ.Elem())
			return
		case reflect.Struct:
		default:
			return
		}
		name := strings.ToLower(typ.Name()[:1]) + typ.Name()[1:]
		if typ == reflect.TypeFor[source.Place]() || seen[name] {
			return
		}
		seen[name] = true
		def := schema
		if name != "document" {
			var ok bool
			def, ok = defs[name].(map[string]any)
			if !assert.True(t, ok, "the schema does not know %s", name) {
				return
			}
		}
		want, required := slices.Clone(added[name]), []string{}
		for _, f := range reflect.VisibleFields(typ) {
			tag, ok := f.Tag.Lookup("json")
			if !ok || tag == "-" || !f.IsExported() {
				assert.False(t, f.IsExported() && !ok && !f.Anonymous, "%s.%s is published under its Go name", name,
					f.Name)
				continue
			}
			key, options, _ := strings.Cut(tag, ",")
			if strings.Contains(options, "omitempty") || strings.Contains(options, "omitzero") {
				key += "?"
			}
			want = append(want, key)
			visit(f.Type)
		}
		var got []string
		for i, key := range want {
			if want[i] = strings.TrimSuffix(key, "?"); want[i] == key {
				required = append(required, key)
			}
		}
		for key, p := range def["properties"].(map[string]any) {
			got = append(got, key)
			if prop := p.(map[string]any); prop["$ref"] == nil && prop["const"] == nil && name != "position" {
				assert.NotEmpty(t, prop["description"], "%s.%s is not described", name, key)
			}
		}
		assert.ElementsMatch(t, want, got, "the fields of %s", name)
		assert.ElementsMatch(t, required, texts(def["required"]), "the fields that %s always has", name)
		assert.Equal(t, false, def["additionalProperties"], name)
	}
	for _, v := range []any{model.Document{}, model.Group{}, model.Work{}, model.Rest{}, model.Tag{}} {
		visit(reflect.TypeOf(v))
	}
	for name := range defs {
		assert.True(t, seen[name], "nothing is published as %s", name)
	}
}

func texts(v any) []string {
	var out []string
	for _, s := range v.([]any) {
		out = append(out, s.(string))
	}
	return out
}

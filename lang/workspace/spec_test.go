package workspace

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/internal/marktest"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var export = flag.String("export", "", "write the examples of the spec to this file, as JSON")

const specFolder = "../../spec"

// An example is a case of a page of the spec, as a workspace.
type example struct {
	*marktest.Case
	page  string            // without folder and ending: "language", "total-wrong"
	rule  bool              // the page is that of a rule
	names map[string]string // the name of each file in the page, by the path that it has in the workspace
	snap  *Snapshot
}

// specExamples are the examples of all pages, in order.
func specExamples(t testing.TB) []*example {
	t.Helper()
	var out []*example
	for _, folder := range []string{"", "rules"} {
		pages, err := filepath.Glob(filepath.Join(specFolder, folder, "*.md"))
		require.NoError(t, err)
		for _, p := range pages {
			cases := marktest.LoadMarkdown(t, p)
			if filepath.Base(p) == "language.md" {
				marktest.AddMarkdown(t, filepath.Join(specFolder, "meaning.md"), cases)
			}
			for _, c := range cases {
				e := &example{Case: c, page: strings.TrimSuffix(filepath.Base(p), ".md"), rule: folder == "rules",
					names: map[string]string{}}
				texts := map[string]string{}
				for _, f := range c.Files() {
					as := pathOf(f)
					e.names[as] = f.Name
					texts[as] = f.Text
				}
				e.snap = Make(Root{Dir: "/quayside", House: true}, texts)
				out = append(out, e)
			}
		}
	}
	require.NotEmpty(t, out)
	return out
}

// pathOf is where a file of an example stands in its workspace. One that the page gives
// no path is kept as the convention wants it: a session in a file called after it.
func pathOf(f *source.File) string {
	if !strings.HasPrefix(f.Name, "example") || strings.Contains(f.Name, "/") {
		return f.Name
	}
	for _, b := range syntax.Parse(f).Roots {
		e, ok := b.Line.Stmt.(*syntax.Entry)
		if !ok || e.Kind != "session" {
			continue
		}
		return "sessions/" + strings.NewReplacer(" ", "-", "'", "").Replace(strings.ToLower(e.Name.Text)) + Extension
	}
	return f.Name
}

// basics are the families of rules that hold for any text at all. Those of the other
// families judge how a whole hour is planned, and an example is seldom an hour.
var basics = []string{"notation", "names", "arithmetic", "form"}

// judged are the diagnostics that count for an example: those of the basic families, of
// the rule whose page it stands on, and of rules that a marker asks for. They are placed
// in the files as the page calls them.
func (e *example) judged() []diag.Diagnostic {
	var out []diag.Diagnostic
	for _, d := range e.snap.Check() {
		r, known := rules.Find(d.Rule)
		marked := slices.ContainsFunc(e.Markers(), func(m marktest.Marker) bool { return m.Rule == d.Rule })
		if known && !slices.Contains(basics, r.Family) && !marked && !(e.rule && d.Rule == e.page) {
			continue
		}
		if d.At.File != nil {
			d.At = e.File(e.names[d.At.File.Name]).At(d.At.Span)
		}
		out = append(out, d)
	}
	return out
}

// The pages are the authority: every example in them holds, and means what it says.
func TestSpecExamples(t *testing.T) {
	var cases []*marktest.Case
	meanings := 0
	for _, e := range specExamples(t) {
		e.Page = strings.TrimPrefix(filepath.ToSlash(e.Page), "../../")
		cases = append(cases, e.Case)
		t.Run(e.page+"/"+strings.ReplaceAll(e.Heading, "/", "-"), func(t *testing.T) {
			e.Check(t, e.judged())
			for _, f := range append([]*source.File{{}}, e.Files()...) {
				if e.HasGolden("json", f.Name) {
					meanings++
					e.Golden(t, "json", f.Name, e.meaning(t, f.Name))
				}
			}
			e.formats(t)
		})
	}
	assert.GreaterOrEqual(t, meanings, 25)
	if *export != "" {
		data, err := marktest.Export(cases)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(*export, data, 0o644))
	}
}

// Every rule's page stands in spec/rules and shows the rule at work.
func TestRulePagesShowTheirRule(t *testing.T) {
	shown := map[string]bool{}
	for _, e := range specExamples(t) {
		for _, m := range e.Markers() {
			shown[e.page] = shown[e.page] || m.Rule == e.page
		}
	}
	pages, err := filepath.Glob(filepath.Join(specFolder, "rules", "*.md"))
	require.NoError(t, err)
	for _, p := range pages {
		name := strings.TrimSuffix(filepath.Base(p), ".md")
		if _, is := rules.Find(name); is {
			assert.True(t, shown[name], "%s has no example that draws it", p)
		}
	}
}

// formats holds the formatter's promises against the example. One that is not about
// spellings, and in which nothing is wrong, is written the one way already.
func (e *example) formats(t *testing.T) {
	printed := map[string]string{}
	for _, f := range e.snap.Files {
		out := format.Source(f.Syntax())
		printed[f.Path] = out
		assert.Equal(t, out, format.Source(syntax.Parse(source.New(f.Path, out))), "a second pass changes nothing")
		if len(e.Markers()) == 0 && !strings.Contains(strings.ToLower(e.Heading), "spelling") {
			assert.Equal(t, f.Src.Text, out, "the example is canonical")
		}
	}
	again := &example{Case: e.Case, names: e.names, snap: Make(e.snap.Root, printed)}
	assert.Equal(t, e.meaning(t, ""), again.meaning(t, ""), "printed, it means the same")
}

// meaning is what a file means, or all of them, reduced to what is worth reading: see
// spec/meaning.md.
func (e *example) meaning(t testing.TB, name string) string {
	var files []*model.File
	house, defaults := false, reduced(t, model.Defaults())
	for _, f := range e.snap.Files {
		if name == "" || e.names[f.Path] == name {
			files = append(files, f.Program())
			house = house || f.Decls.House != nil
		}
	}
	d := reduced(t, model.NewDocument(e.snap.Env, files...))
	out := &node{kind: '{'}
	if house {
		h := d.get("house")
		if e, d := h.get("efforts"), defaults.get("efforts"); e != nil && d != nil {
			e.dropSame(d)
			h.drop(func(k string, _ *node) bool { return k != "efforts" || len(e.vals) > 0 })
		}
		h.dropSame(defaults)
		out.set("house", h)
	}
	for _, key := range []string{"sessions", "cycles"} {
		if list := d.get(key); list != nil {
			for _, s := range list.vals {
				s.reduceVersions()
			}
			out.set(key, list)
		}
	}
	if len(out.keys) == 1 {
		out = alone(out.vals[0])
	}
	if len(out.keys) == 2 && out.get("name") != nil && out.get("parts") != nil {
		out = alone(out.get("parts")) // a session of which nothing but its parts is said
	}
	return out.String() + "\n"
}

// alone is what a list holds, if that is one thing.
func alone(n *node) *node {
	if n.kind == '[' && len(n.vals) == 1 {
		return n.vals[0]
	}
	return n
}

// reduced is the JSON of a value without what a reader can do without: places, what is
// empty or stands for itself, and what the book says of movements.
func reduced(t testing.TB, v any) *node {
	t.Helper()
	data, err := json.Marshal(v)
	require.NoError(t, err)
	n, err := readNode(data)
	require.NoError(t, err)
	n.reduce("")
	return n
}

func TestPathsOfExamples(t *testing.T) {
	for text, want := range map[string]string{
		"stint 1\n\nsession Sheet Bend\n": "sessions/sheet-bend.stint",
		"movement bag throw\n":            "example.stint",
	} {
		assert.Equal(t, want, pathOf(source.New("example.stint", text)))
	}
	assert.Equal(t, "b/a.stint", pathOf(source.New("b/a.stint", "session X\n")))
}

package workspace

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/outline"
	"stint.example/stint/lang/syntax"
)

// keptSilent are the mutations that may change nothing, each with the reason.
var keptSilent = []struct {
	why string
	is  func(m mutation) bool
}{
	{"swing is another name of the kettlebell swing",
		func(m mutation) bool {
			return m.tok.Text == "kettlebell" && strings.Contains(m.was, "kettlebell swing")
		}},
	{"swing and two-hand swing are other names of one movement",
		func(m mutation) bool { return strings.Contains(m.was, "two-hand swing") && m.tok.Text == "two-hand" }},
	{"on the left of a swap, until alone tells lines of a movement apart, and there may be one",
		func(m mutation) bool { return strings.Contains(m.was, " until ->") && m.tok.Kind == syntax.Until }},
}

// A mutation is a line with one number changed, or one word taken out.
type mutation struct {
	path, was, is string
	first         string // the line's first word
	tok           syntax.Tok
}

// maySilently says whether the mutation is among the exceptions.
func (m mutation) maySilently() bool {
	for _, k := range keptSilent {
		if k.is(m) {
			return true
		}
	}
	return false
}

// mutations are those of a file: each number raised by one, each word taken out.
func mutations(f *File) []mutation {
	var out []mutation
	for _, l := range f.Syntax().Lines {
		if l.Parsed == nil || l.Stmt == nil || l.Bad {
			continue
		}
		body := f.Src.Text[l.Body : l.Body+l.Len]
		first := ""
		for _, t := range l.Toks {
			if first == "" {
				first = t.Text
			}
			new, ok := mutated(t)
			if !ok {
				continue
			}
			text := body[:t.Start] + new + body[t.End:]
			out = append(out, mutation{f.Path, body, text, first, t})
		}
	}
	return out
}

// mutated is what takes the place of a token; it is not ok where the token says nothing by itself.
func mutated(t syntax.Tok) (string, bool) {
	switch t.Kind {
	case syntax.Number:
		n, err := strconv.ParseFloat(t.Text, 64)
		return strconv.FormatFloat(n+1, 'f', -1, 64), err == nil
	case syntax.Clock:
		i := len(t.Raw) - 1
		if t.Raw[i] == '9' {
			return t.Raw[:i] + "8", true
		}
		return t.Raw[:i] + string(t.Raw[i]+1), true
	case syntax.Word, syntax.Until, syntax.RM, syntax.Tempo, syntax.Side, syntax.Percent:
		return "", true
	default:
		return "", false
	}
}

// meaningOf is the JSON of what a workspace means, without places.
func meaningOf(t testing.TB, s *Snapshot) string {
	t.Helper()
	text, err := json.Marshal(withoutPlaces(document(t, s)))
	require.NoError(t, err)
	return string(text)
}

func withoutPlaces(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, o := range v {
			if k != "at" {
				out[k] = withoutPlaces(o)
			}
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, o := range v {
			out[i] = withoutPlaces(o)
		}
		return out
	default:
		return v
	}
}

// outputsOf are what people see of a workspace: totals, clock, findings, and what is shown.
func outputsOf(s *Snapshot) string {
	var b strings.Builder
	var files []*model.File
	for _, f := range s.Files {
		files = append(files, f.Program())
		for _, session := range f.Program().Sessions {
			for _, v := range session.Variants() {
				outline.Session(&b, v, s.Env.House)
				clockOf(&b, v, s.Env)
			}
		}
		for _, c := range f.Program().Cycles {
			outline.Cycle(&b, c)
		}
	}
	b.WriteString(totalsOf(s, files))
	for _, d := range s.Check() {
		fmt.Fprintf(&b, "%s %s %s %s\n", d.Severity, d.Rule, d.Message, d.Label)
	}
	return b.String()
}

// Nothing that is stated is dropped: whatever number is changed or word taken out of any example,
// the meaning changes or a mistake is found, and people see it.
func TestNothingIsDropped(t *testing.T) {
	every := 7 // a few are enough while one works; CI looks at half of them, and EVERY=1 at all
	if os.Getenv("CI") != "" {
		every = 2
	}
	if n, err := strconv.Atoi(os.Getenv("EVERY")); err == nil {
		every = max(1, n)
	}
	n := 0
	try := func(name string, texts map[string]string) {
		s := Make(Root{Dir: "/quayside", House: true}, texts)
		if slices.ContainsFunc(s.Check(), func(d diag.Diagnostic) bool { return d.Severity == diag.Error }) {
			return // what an error says of a line may hold of the mutation as well
		}
		meant, seen := meaningOf(t, s), outputsOf(s)
		for _, f := range s.Files {
			if p := f.Program(); len(p.Sessions) == 0 && len(p.Cycles) == 0 {
				continue // what a house and a movement say shows where a session uses it
			}
			for _, m := range mutations(f) {
				if n++; n%every != 0 || m.maySilently() {
					continue
				}
				text := strings.Replace(f.Src.Text, m.was, m.is, 1)
				other := Make(Root{Dir: "/quayside", House: true}, with(texts, f.Path, text))
				switch o := outputsOf(other); {
				case o == seen && meaningOf(t, other) == meant:
					t.Errorf("%s: %s: %q may say %q, and nothing changes", name, f.Path, m.was, m.is)
				case o == seen:
					t.Errorf("%s: %s: %q may say %q, and nobody sees it", name, f.Path, m.was, m.is)
				}
			}
		}
	}
	for _, e := range specExamples(t) {
		texts := map[string]string{}
		for _, f := range e.snap.Files {
			texts[f.Path] = f.Src.Text
		}
		try(e.page+": "+e.Name, texts)
	}
	house, err := os.ReadFile(filepath.Join(demo, "house.stint"))
	require.NoError(t, err)
	sessions, err := filepath.Glob(filepath.Join(demo, "sessions", "*.stint"))
	require.NoError(t, err)
	own, err := filepath.Glob(filepath.Join(demo, "movements", "*.stint"))
	require.NoError(t, err)
	for _, path := range sessions {
		texts := map[string]string{"house.stint": string(house)}
		for _, p := range append(slices.Clone(own), path) {
			text, err := os.ReadFile(p)
			require.NoError(t, err)
			texts[strings.TrimPrefix(filepath.ToSlash(p), filepath.ToSlash(demo)+"/")] = string(text)
		}
		try(filepath.Base(path), texts)
	}
	t.Logf("%d mutations", n/every)
}

func with(texts map[string]string, path, text string) map[string]string {
	out := map[string]string{}
	for p, was := range texts {
		out[p] = was
	}
	out[path] = text
	return out
}

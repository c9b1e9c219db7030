package syntax_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/internal/marktest"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// good are all texts of the project that hold no mistake, and mistaken those that do.
func good(t testing.TB) []*source.File {
	t.Helper()
	var out []*source.File
	for _, pattern := range []string{"../../testdata/quayside/*.stint", "../../testdata/quayside/*/*.stint", "../book/*.stint", "../book/*/*.stint"} {
		paths, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, path := range paths {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			out = append(out, source.New(path, string(text)))
		}
	}
	return append(out, archived(t, "testdata/tree/*.txtar")...)
}

func mistaken(t testing.TB) []*source.File { return archived(t, "testdata/*.txtar") }

func archived(t testing.TB, pattern string) []*source.File {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	var out []*source.File
	for _, path := range paths {
		out = append(out, marktest.Load(t, path).Files()...)
	}
	return out
}

func TestGoodFilesAreGood(t *testing.T) {
	for _, src := range good(t) {
		assert.Empty(t, said(syntax.Parse(src).Diags), src.Name)
	}
}

// Nothing of a text is lost: indents, bodies and line ends, one after another, give it
// back; and the tree holds each line once, one level below its parent, and statements in
// order. Only a line that cannot be read may be attached deeper than it is indented, in the block
// around it; and a note, which is of the block that it stands in, closes no block.
func TestNothingIsLost(t *testing.T) {
	for _, src := range append(good(t), mistaken(t)...) {
		f := syntax.Parse(src)
		assert.Equal(t, src.Text, joined(f), src.Name)
		for _, problem := range treeProblems(f) {
			t.Errorf("%s: %s", src.Name, problem)
		}
	}
}

func joined(f *syntax.File) string {
	var b strings.Builder
	at := 0
	for _, l := range f.Lines {
		b.WriteString(f.Src.Text[at:l.Body]) // the end of the line before, and the indent
		at = l.Body + l.Len
		b.WriteString(f.Src.Text[l.Body:at])
	}
	b.WriteString(f.Src.Text[at:])
	return b.String()
}

// treeProblems says where lines and blocks do not fit together.
func treeProblems(f *syntax.File) []string {
	var out []string
	var inTree []*syntax.Line
	seen := map[*syntax.Line]int{}
	var walk func(bs []*syntax.Block, depth int)
	walk = func(bs []*syntax.Block, depth int) {
		for _, b := range bs {
			seen[b.Line]++
			if b.Line.Stmt != nil {
				inTree = append(inTree, b.Line)
			}
			_, bad := b.Line.Stmt.(*syntax.Bad)
			if b.Line.Depth != depth && !(bad && b.Line.Depth < depth) {
				out = append(out, "a block at depth "+strconv.Itoa(depth)+" holds a line of depth "+strconv.Itoa(b.Line.Depth))
			}
			walk(b.Kids, depth+1)
		}
	}
	walk(f.Roots, 0)
	at := 0
	for i, l := range f.Lines {
		if i > 0 && l.Body < f.Lines[i-1].Body+f.Lines[i-1].Len {
			out = append(out, "line "+strconv.Itoa(i+1)+" starts inside the one before it")
		}
		if hangs := l.Stmt != nil || l.Note != nil; hangs && seen[l] != 1 || !hangs && seen[l] != 0 {
			out = append(out, "line "+strconv.Itoa(i+1)+" is in the tree "+strconv.Itoa(seen[l])+" times")
		}
		switch {
		case l.Stmt == nil:
		case at < len(inTree) && inTree[at] == l:
			at++
		default:
			out = append(out, "line "+strconv.Itoa(i+1)+" is not where the tree has it")
		}
	}
	if at != len(inTree) || len(f.Lines) != f.Src.Lines() {
		out = append(out, "the tree holds lines that the text has not, or the text lines that are not read")
	}
	return out
}

// Every span of a statement lies inside that of what it is part of, and the words in
// it are those that it stands for.
func TestSpansSliceTheirWords(t *testing.T) {
	for _, src := range good(t) {
		checkSpans(t, syntax.Parse(src), true)
	}
	for _, src := range mistaken(t) {
		checkSpans(t, syntax.Parse(src), false)
	}
}

// checkSpans walks all that was read. Strict, it holds the words of each span against
// what was read in them, which can be done where nothing was repaired.
func checkSpans(t testing.TB, f *syntax.File, strict bool) {
	for i, l := range f.Lines {
		w := spanWalker{body: f.Src.Slice(l.Span(source.Span{End: l.Len})), strict: strict && !l.Bad}
		w.fail = func(what string) { t.Errorf("%s:%d: %s", f.Src.Name, i+1, what) }
		whole := source.Span{End: l.Len}
		at := 0
		for _, tok := range l.Toks {
			w.inside("token "+tok.Kind.String(), tok.Span, whole)
			if tok.Start < at {
				w.fail("token " + tok.Kind.String() + " starts inside the one before it")
			}
			if tok.Raw != w.words(tok.Span) {
				w.fail("token " + tok.Kind.String() + " says " + strconv.Quote(tok.Raw) + " where " + strconv.Quote(w.words(tok.Span)) + " stands")
			}
			at = tok.End
		}
		if l.Stmt != nil {
			w.walk(reflect.ValueOf(l.Stmt).Elem(), whole)
		}
		for _, text := range []*syntax.Text{l.Note, l.Comment} {
			if text != nil {
				if text.Start < 0 || text.Start > text.End || text.End > l.Len { // it may be empty
					w.fail("a note or comment reaches out of its line")
				}
				w.same("text", text.Text, w.words(text.Span))
			}
		}
	}
	for _, d := range f.Diags {
		if d.At.File != f.Src || d.At.Start < 0 || d.At.End > len(f.Src.Text) || d.At.Start > d.At.End {
			t.Errorf("%s: %s speaks of %v, outside the text", f.Src.Name, d.Rule, d.At.Span)
		}
		for _, fix := range d.Fixes {
			for _, e := range fix.Edits {
				if e.At.Start < 0 || e.At.End > len(f.Src.Text) || e.At.Start > e.At.End {
					t.Errorf("%s: the fix %q speaks of %v, outside the text", f.Src.Name, fix.Title, e.At.Span)
				}
			}
		}
	}
}

type spanWalker struct {
	body   string
	strict bool
	fail   func(string)
}

func (w *spanWalker) words(s source.Span) string {
	end := min(max(s.End, 0), len(w.body))
	return w.body[min(max(s.Start, 0), end):end]
}

func (w *spanWalker) inside(what string, s, parent source.Span) {
	if s.Start < parent.Start || s.End > parent.End || s.Start >= s.End {
		w.fail(what + " reaches over " + strconv.Quote(w.words(s)) + ", and what it is part of over " + strconv.Quote(w.words(parent)))
	}
}

func (w *spanWalker) same(what, read, stands string) {
	if w.strict && plain(read) != plain(stands) {
		w.fail(what + " is " + strconv.Quote(read) + ", where " + strconv.Quote(stands) + " stands")
	}
}

// plain is text with typographic characters replaced by plain ones.
func plain(s string) string {
	s = strings.NewReplacer("\u2013", "-", "\u2014", "-", "\u2011", "-", "\u2019", "'", "\u00a0", " ", "\u2026", "...", "\u00ad", "").Replace(s)
	return strings.ToLower(strings.Join(strings.Fields(s), " "))
}

func (w *spanWalker) walk(v reflect.Value, parent source.Span) {
	if v.IsZero() {
		return
	}
	what := v.Type().Name()
	if s, ok := spanOf(v); ok {
		w.inside(what, s, parent)
		parent = s
		w.read(v, w.words(s))
	}
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.Type == spanType {
			if !f.Anonymous && !v.Field(i).IsZero() {
				w.inside(what+"."+f.Name, v.Field(i).Interface().(source.Span), parent)
			}
			continue
		}
		w.each(v.Field(i), parent)
	}
}

func (w *spanWalker) each(v reflect.Value, parent source.Span) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			w.each(v.Elem(), parent)
		}
	case reflect.Slice:
		for i := range v.Len() {
			w.each(v.Index(i), parent)
		}
	case reflect.Struct:
		w.walk(v, parent)
	}
}

// read holds a value against the words that it was read from.
func (w *spanWalker) read(v reflect.Value, words string) {
	if !v.CanInterface() {
		return
	}
	switch x := v.Interface().(type) {
	case syntax.Name:
		w.same("the name", x.Text, words)
	case syntax.Num:
		bare, more := strings.CutSuffix(words, "+")
		n, err := strconv.ParseFloat(bare, 64)
		if x.Clock {
			n, err = units.ParseClock(bare)
		}
		if w.strict && x.More && !more { // of a single number, the bound says it
			w.fail("or more does not stand, or stands unread, in " + strconv.Quote(words))
		}
		if w.strict && (err != nil || n != x.Value) {
			w.fail("the number " + strconv.FormatFloat(x.Value, 'g', -1, 64) + " stands over " + strconv.Quote(words))
		}
	case syntax.Quantity:
		if u := w.words(x.UnitSpan); w.strict && x.UnitSpan != (source.Span{}) {
			known, ok := units.Lookup(u)
			read := ok && (known.String() == x.Unit || known == units.Rep && x.Unit == "") // what is counted without a word
			read = read || !ok && (strings.EqualFold(u, x.Unit) || monitor[strings.ToLower(u)] == x.Unit)
			if !read {
				w.fail("the unit " + x.Unit + " stands over " + strconv.Quote(u))
			}
		}
	case syntax.Load:
		w.starts("a load", words, "@")
	case syntax.End:
		w.starts("an end", words, "until")
	case syntax.Rest:
		if _, behind, found := strings.Cut(plain(words), " rest"); !found || behind != "" && behind[0] != ' ' && behind[0] != ':' { // 2:00 rest
			w.starts("a rest", words, "rest")
		}
	case syntax.People:
		w.starts("people", words, "in ")
	case syntax.Clause:
		first, _, _ := strings.Cut(string(x.Kind), " ")
		w.starts("a clause", words, first)
	case syntax.Property:
		w.starts("a property", words, x.Key[:3])
		w.starts("its keyword", w.words(x.KeySpan), x.Key[:3])
	case syntax.Entry:
		w.starts("an entry", words, x.Kind)
	}
}

// monitor are the other spellings of what a monitor shows.
var monitor = map[string]string{"watt": "W", "watts": "W"}

func (w *spanWalker) starts(what, words, with string) {
	if w.strict && !strings.HasPrefix(plain(words)+" ", with) {
		w.fail(what + " starts with " + strconv.Quote(with) + ", but its words are " + strconv.Quote(words))
	}
}

package marktest

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

// Markdown reads the fenced examples of a page: all those under one heading are one
// case. A fence whose info string starts with
//
//	stint   is a file, called by path=sessions/a.stint or else example.stint,
//	        example-2.stint ...
//	json    is a golden of that kind, of the file that path= names or of them all
//	text    the same
//
// Other fences are left alone, and so are json and text under a heading without a
// stint fence. Headings of the first three levels start a new case; deeper ones stay
// in it.
func Markdown(name string, data []byte) ([]*Case, error) { return markdown(name, data, false) }

// markdown reads a page. One that goes with another has goldens only: those of the cases that the
// other has under the same headings.
func markdown(name string, data []byte, goldens bool) ([]*Case, error) {
	var out []*Case
	c := &Case{Page: name, Name: name, Line: 1}
	flush := func() error {
		switch {
		case goldens && len(c.goldens) > 0:
			out = append(out, c)
			return nil
		case goldens || len(c.files) == 0:
			return nil
		}
		out = append(out, c)
		return c.complete()
	}
	visit := func(n ast.Node) (line int, err error) {
		switch n := n.(type) {
		case *ast.Heading:
			if n.Level <= 3 {
				err = flush()
				heading := strings.TrimSpace(string(n.Lines().Value(data)))
				line = lineAt(data, n.Pos())
				c = &Case{Page: name, Name: name + "#" + slug(heading), Heading: heading, Line: line}
			}
		case *ast.FencedCodeBlock:
			line = lineAt(data, n.Pos())
			var f fence
			if f, err = newFence(n, data); err == nil {
				err = c.addFence(f, line+1, goldens)
			}
		}
		return line, err
	}
	doc := goldmark.DefaultParser().Parse(text.NewReader(data))
	err := ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		line, err := visit(n)
		if err != nil {
			return ast.WalkStop, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		return ast.WalkContinue, nil
	})
	if err != nil {
		return nil, err
	}
	return out, flush()
}

// lineAt is the number of the line, from 1, in which a byte stands.
func lineAt(data []byte, offset int) int { return bytes.Count(data[:offset], []byte("\n")) + 1 }

// LoadMarkdown reads the page at path; -update writes the goldens of its cases back
// into their fences.
func LoadMarkdown(t testing.TB, path string) []*Case {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	cs, err := Markdown(path, data)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range cs {
		c.store = pageStore{path, i, false}
	}
	return cs
}

// AddMarkdown reads the page at path, which goes with the page of some cases: each of its json and
// text fences is a golden of the case under the same heading there. -update writes them back.
func AddMarkdown(t testing.TB, path string, cases []*Case) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	with, err := markdown(path, data, true)
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range with {
		k := slices.IndexFunc(cases, func(c *Case) bool { return c.Heading == w.Heading })
		if k < 0 {
			t.Fatalf("%s:%d: no example stands under a heading %q", path, w.Line, w.Heading)
		}
		for _, g := range w.goldens {
			g.store = pageStore{path, i, true}
			if err := cases[k].addGolden(g); err != nil {
				t.Fatalf("%s:%d: %v", path, w.Line, err)
			}
			if g.Path != "" && cases[k].File(g.Path) == nil {
				t.Fatalf("%s:%d: %q has no file %s", path, w.Line, w.Heading, g.Path)
			}
		}
	}
}

// A fence is a fenced block of a page.
type fence struct {
	info       string
	text       string
	start, end int    // of the lines inside, in bytes of the page
	indent     string // before each of them, and no part of the text
}

func newFence(n *ast.FencedCodeBlock, data []byte) (fence, error) {
	f := fence{text: string(n.Lines().Value(data)), start: lineEnd(data, n.Pos())}
	if n.Info != nil {
		f.info = string(n.Info.Value(data))
	}
	f.end = f.start
	if k := n.Lines().Len(); k > 0 {
		f.end = n.Lines().At(k - 1).Stop
	}
	closing := string(data[f.end:lineEnd(data, f.end)])
	mark := strings.TrimLeft(closing, " ")
	f.indent = closing[:len(closing)-len(mark)]
	if !strings.HasPrefix(mark, "```") && !strings.HasPrefix(mark, "~~~") {
		return f, errors.New("this fence is never closed")
	}
	return f, nil
}

// lineEnd is where the line of a byte ends, behind its line feed.
func lineEnd(data []byte, offset int) int {
	if i := bytes.IndexByte(data[offset:], '\n'); i >= 0 {
		return offset + i + 1
	}
	return len(data)
}

// addFence adds what a fence holds; line is the number of its first line in the page.
// Goldens says that the page has no files, so that one is a mistake.
func (c *Case) addFence(f fence, line int, goldens bool) error {
	words := strings.Fields(f.info)
	if len(words) == 0 || words[0] != "stint" && words[0] != "json" && words[0] != "text" {
		return nil
	}
	path := ""
	for _, w := range words[1:] {
		p, ok := strings.CutPrefix(w, "path=")
		if !ok || p == "" || path != "" {
			return fmt.Errorf("the fence says %q; behind %s stands path=FILE or nothing", f.info, words[0])
		}
		path = p
	}
	switch {
	case words[0] == "stint" && goldens:
		return errors.New("this page has no files of its own: they stand on the page that it goes with")
	case words[0] != "stint":
		if len(c.files) == 0 && !goldens {
			return nil // plain text of the page
		}
		return c.addGolden(section{Kind: words[0], Path: path, Text: f.text, fence: f})
	}
	if path == "" {
		path = "example.stint"
		for n := 2; c.File(path) != nil; n++ {
			path = fmt.Sprintf("example-%d.stint", n)
		}
	}
	return c.addFile(path, f.text, line)
}

// slug is a heading as a web address has it.
func slug(heading string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(heading) {
		switch {
		case r == ' ' || r == '-':
			b.WriteByte('-')
		case r == '_' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || r > 0x7F:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// pageStore writes into the fences of the nth case of the page at path.
type pageStore struct {
	path    string
	nth     int
	goldens bool // the page goes with another, and has no files
}

func (s pageStore) put(g section) error {
	writing.Lock()
	defer writing.Unlock()
	data, err := os.ReadFile(s.path)
	if err != nil {
		return err
	}
	was, err := s.read(data, g)
	if err != nil {
		return err
	}
	var b strings.Builder
	b.Write(data[:was.fence.start])
	for line := range strings.Lines(g.Text) {
		b.WriteString(was.fence.indent + line)
	}
	b.Write(data[was.fence.end:])
	if now, err := s.read([]byte(b.String()), g); err != nil || now.Text != g.Text {
		return fmt.Errorf("a line of it would be read as the end of the fence")
	}
	return os.WriteFile(s.path, []byte(b.String()), 0o644)
}

// read finds the golden of g's name in the page's text.
func (s pageStore) read(data []byte, g section) (section, error) {
	cs, err := markdown(s.path, data, s.goldens)
	if err != nil {
		return section{}, err
	}
	if s.nth < len(cs) {
		if i := cs[s.nth].find(g.Kind, g.Path); i >= 0 {
			return cs[s.nth].goldens[i], nil
		}
	}
	return section{}, fmt.Errorf("the page has no such fence: write one")
}

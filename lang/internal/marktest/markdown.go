package marktest

import (
	"fmt"
	"os"
	"strings"
	"testing"
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
func Markdown(name string, data []byte) ([]*Case, error) {
	var out []*Case
	c := &Case{Page: name, Name: name, Line: 1}
	flush := func() error {
		if len(c.files) == 0 {
			return nil
		}
		out = append(out, c)
		return c.complete()
	}
	p := page{lines: strings.SplitAfter(string(data), "\n")}
	for p.next() {
		var err error
		switch {
		case p.fence != nil:
			err = c.addFence(p.fence, p.body(), p.at-1)
		case p.heading != "":
			err = flush()
			c = &Case{Page: name, Name: name + "#" + slug(p.heading), Heading: p.heading, Line: p.at}
		}
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, p.at, err)
		}
	}
	if p.fence != nil {
		return nil, fmt.Errorf("%s:%d: this fence is never closed", name, p.fence.open+1)
	}
	return out, flush()
}

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
		c.store = pageStore{path, i}
	}
	return cs
}

func (c *Case) addFence(f *fence, text string, end int) error {
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
	if words[0] != "stint" {
		if len(c.files) == 0 {
			return nil // plain text of the page
		}
		return c.addGolden(section{Kind: words[0], Path: path, Text: text, fence: f, close: end})
	}
	if path == "" {
		path = "example.stint"
		for n := 2; c.File(path) != nil; n++ {
			path = fmt.Sprintf("example-%d.stint", n)
		}
	}
	return c.addFile(path, text, f.open+2)
}

// A fence is a fenced block of a page.
type fence struct {
	char   byte
	length int    // of the run that opened it
	indent string // blanks before it, which are no part of the lines inside
	info   string
	open   int // index of the line that opens it
}

// A page is read a line at a time, headings and fences apart.
type page struct {
	lines   []string
	at      int // how many lines are read: the number of the last one, from 1
	heading string
	fence   *fence // the open one or, straight after next closed it, the one it closed
	closed  bool
}

// next reads on to the next heading or closed fence.
func (p *page) next() bool {
	p.heading = ""
	if p.closed {
		p.fence, p.closed = nil, false
	}
	for p.at < len(p.lines) {
		line := strings.TrimRight(p.lines[p.at], "\r\n")
		p.at++
		if p.fence != nil {
			if p.fence.closes(line) {
				p.closed = true
				return true
			}
			continue
		}
		if p.fence = opens(line, p.at-1); p.fence != nil {
			continue
		}
		if level := len(line) - len(strings.TrimLeft(line, "#")); level >= 1 && level <= 3 && strings.HasPrefix(line[level:], " ") {
			p.heading = strings.TrimSpace(line[level:])
			return true
		}
	}
	return false
}

// body is the text inside the fence that was just closed.
func (p *page) body() string {
	var b strings.Builder
	for _, line := range p.lines[p.fence.open+1 : p.at-1] {
		b.WriteString(strings.TrimPrefix(line, p.fence.indent))
	}
	return b.String()
}

func opens(line string, at int) *fence {
	text := strings.TrimLeft(line, " ")
	for _, c := range []byte("`~") {
		run := len(text) - len(strings.TrimLeft(text, string(c)))
		info := strings.TrimSpace(text[run:])
		if run >= 3 && (c == '~' || !strings.Contains(info, "`")) {
			return &fence{char: c, length: run, indent: line[:len(line)-len(text)], info: info, open: at}
		}
	}
	return nil
}

func (f *fence) closes(line string) bool {
	text := strings.TrimSpace(line)
	return len(text) >= f.length && strings.Trim(text, string(f.char)) == ""
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
	path string
	nth  int
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
	lines := strings.SplitAfter(string(data), "\n")
	var b strings.Builder
	for _, line := range lines[:was.fence.open+1] {
		b.WriteString(line)
	}
	for line := range strings.Lines(g.Text) {
		b.WriteString(was.fence.indent + line)
	}
	for _, line := range lines[was.close:] {
		b.WriteString(line)
	}
	if now, err := s.read([]byte(b.String()), g); err != nil || now.Text != g.Text {
		return fmt.Errorf("a line of it would be read as the end of the fence")
	}
	return os.WriteFile(s.path, []byte(b.String()), 0o644)
}

// read finds the golden of g's name in the page's text.
func (s pageStore) read(data []byte, g section) (section, error) {
	cs, err := Markdown(s.path, data)
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

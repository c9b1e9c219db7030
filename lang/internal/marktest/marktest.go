// Package marktest is the one harness for tests of the notation, whatever the layer.
//
// A case is a txtar archive. Its sections are the files of a workspace; what the
// tool must say about them stands in the notation's own comments, on the faulty line:
//
//	12,5 burpee            #@ diag number-malformed
//	12,5 burpee            #@ diag number-malformed "12,5"
//	12,5 burpee            #@ diag number-malformed /cannot stand inside/
//	12,5 burpee, bandaged  #@ diag number-malformed; diag word-unknown "bandaged"
//	12,5 burpee > Slowly.
//	#@^ diag number-malformed
//
// Words in double quotes are the very words that are underlined, with Go's escapes;
// a regular expression between slashes must match the message. A line with a note
// takes no comment behind it, so a marker that stands on a line of its own, as #@^,
// is about the nearest line above that is no such marker.
//
// A section named "@KIND PATH", or "@KIND" alone, is a golden: what some layer must
// make of a file, or of them all. With -update, goldens are written anew; markers
// never are.
//
// A line "only: RULE RULE" above the first section says which rules the case is about, so that
// a new rule leaves it alone: see [Case.About].
//
// The fenced examples of a Markdown page are cases too: see [Markdown].
package marktest

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"stint.example/stint/lang/source"
)

// A Case is a workspace and what is expected of it.
type Case struct {
	Name    string // of the archive or, with its heading, of the page
	Page    string // the Markdown page that the case was read from, if any
	Heading string // the heading that its examples stand under
	Line    int    // of that heading in the page, from 1
	// Only are the rules that the case is about; none where it is about all.
	Only []string

	files   []*source.File
	lines   []int // the line of the archive or page on which each file's text starts, from 1
	markers []Marker
	goldens []section
	store   store // where goldens are written back to
}

// A Marker is one expected diagnostic.
type Marker struct {
	File  string `json:"file"`
	Line  int    `json:"line"` // from 1
	Rule  string `json:"rule"`
	Words string `json:"words,omitempty"` // exactly what is underlined

	about pattern
	at    int // the line of the file on which the marker itself stands, from 1
}

// Load reads the archive at path.
func Load(t testing.TB, path string) *Case {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Parse(path, data)
	if err != nil {
		t.Fatal(err)
	}
	c.store = archiveStore{path}
	return c
}

// Glob runs f on every archive that the pattern matches, each as a subtest. That none
// does is a failure: a test of nothing proves nothing.
func Glob(t *testing.T, pattern string, f func(t *testing.T, c *Case)) {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) == 0 {
		t.Fatalf("no file matches %s", pattern)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)), func(t *testing.T) { f(t, Load(t, path)) })
	}
}

// Parse reads an archive. Goldens of a case that comes from no file cannot be updated.
func Parse(name string, data []byte) (*Case, error) {
	c := &Case{Name: name}
	starts := sectionLines(data)
	archive := txtar.Parse(data)
	for line := range strings.Lines(string(archive.Comment)) {
		rest, is := strings.CutPrefix(line, "only:")
		if !is {
			continue
		}
		if c.Only = append(c.Only, strings.Fields(rest)...); len(c.Only) == 0 {
			return nil, fmt.Errorf("%s: behind only: stand the names of rules", name)
		}
	}
	for i, sec := range archive.Files {
		var err error
		if rest, is := strings.CutPrefix(sec.Name, "@"); is {
			kind, path, _ := strings.Cut(rest, " ")
			err = c.addGolden(section{Kind: kind, Path: strings.TrimSpace(path), Text: string(sec.Data)})
		} else {
			err = c.addFile(sec.Name, string(sec.Data), starts[i])
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return c, c.complete()
}

// sectionLines finds the line, from 1, on which the text of each section starts.
func sectionLines(data []byte) []int {
	var out []int
	for i, line := range bytes.Split(data, []byte("\n")) {
		line = bytes.TrimSuffix(line, []byte("\r"))
		if len(line) >= len("-- x --") && bytes.HasPrefix(line, []byte("-- ")) && bytes.HasSuffix(line, []byte(" --")) {
			out = append(out, i+2)
		}
	}
	return out
}

func (c *Case) addFile(path, text string, line int) error {
	if slices.ContainsFunc(c.files, func(f *source.File) bool { return f.Name == path }) {
		return fmt.Errorf("two files are called %s", path)
	}
	f := source.New(path, text)
	ms, err := markers(f)
	if err != nil {
		return err
	}
	c.files, c.lines, c.markers = append(c.files, f), append(c.lines, line), append(c.markers, ms...)
	return nil
}

func (c *Case) addGolden(g section) error {
	if c.find(g.Kind, g.Path) >= 0 {
		return fmt.Errorf("two goldens are called %s", g.name())
	}
	c.goldens = append(c.goldens, g)
	return nil
}

// complete reports what makes no sense once all of a case is read.
func (c *Case) complete() error {
	if len(c.files) == 0 {
		return fmt.Errorf("%s: no file stands in it", c.Name)
	}
	for _, g := range c.goldens {
		if g.Path != "" && c.File(g.Path) == nil {
			return fmt.Errorf("%s: the golden %s is of no file", c.Name, g.name())
		}
	}
	return nil
}

// Files are the files of the workspace, in the order of the archive. Markers stay in
// their text: they are comments.
func (c *Case) Files() []*source.File { return c.files }

// File is the file of that name, or nil.
func (c *Case) File(path string) *source.File {
	i := slices.IndexFunc(c.files, func(f *source.File) bool { return f.Name == path })
	if i < 0 {
		return nil
	}
	return c.files[i]
}

// Markers are the diagnostics that the files' comments ask for.
func (c *Case) Markers() []Marker { return c.markers }

// About says whether what a rule draws counts in the case: it is one of Only, a marker asks for
// it, or the case is about all.
func (c *Case) About(rule string) bool {
	return len(c.Only) == 0 || slices.Contains(c.Only, rule) ||
		slices.ContainsFunc(c.markers, func(m Marker) bool { return m.Rule == rule })
}

// where names a line of a file, and where that stands in the archive or page.
func (c *Case) where(file string, line int) string {
	i := slices.IndexFunc(c.files, func(f *source.File) bool { return f.Name == file })
	if i < 0 {
		return fmt.Sprintf("%s:%d", file, line)
	}
	home := c.Page
	if home == "" {
		home = c.Name
	}
	return fmt.Sprintf("%s:%d: %s:%d", home, c.lines[i]+line-1, file, line)
}

// LoadDir reads a folder as a case: each file of it whose name ends in .stint.
func LoadDir(t testing.TB, dir string) *Case {
	t.Helper()
	c := &Case{Name: dir}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || filepath.Ext(path) != ".stint" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		return c.addFile(filepath.ToSlash(rel), string(text), 1)
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := c.complete(); err != nil {
		t.Fatal(err)
	}
	return c
}

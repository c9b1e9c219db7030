package marktest

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/aymanbagabas/go-udiff"
	"github.com/rogpeppe/go-internal/txtar"

	"stint.example/stint/lang/golden"
)

// A section is output that a case expects: a golden.
type section struct {
	Kind string `json:"kind"`
	Path string `json:"path,omitempty"` // of the file that it is made from; empty where it is of them all
	Text string `json:"text"`

	fence fence // of the page, if it is from one
	store store // where it is written back to, if that is not where its case came from
}

func (g section) name() string { return strings.TrimSpace("@" + g.Kind + " " + g.Path) }

// A store is where a case came from and its goldens are written back to.
type store interface{ put(section) error }

func (c *Case) find(kind, path string) int {
	return slices.IndexFunc(c.goldens, func(g section) bool { return g.Kind == kind && g.Path == path })
}

// HasGolden reports whether the case expects output of the kind for the path.
func (c *Case) HasGolden(kind, path string) bool { return c.find(kind, path) >= 0 }

// Golden compares output with the golden of the kind for the path, which is empty
// where the output is of the whole case. A golden ends in a line feed, and output
// that lacks the last one is read as if it had it. With -update, the golden is written
// instead, and added where there was none.
func (c *Case) Golden(t testing.TB, kind, path, got string) {
	t.Helper()
	if got != "" && !strings.HasSuffix(got, "\n") {
		got += "\n"
	}
	want := section{Kind: kind, Path: path}
	i := c.find(kind, path)
	if i >= 0 {
		want = c.goldens[i]
	}
	switch {
	case i >= 0 && want.Text == got:
	case golden.Updating():
		want.Text = got
		if err := c.write(want); err != nil {
			t.Errorf("%s: %s is not updated: %v", c.Name, want.name(), err)
		}
	case i < 0:
		t.Errorf("%s: there is no section %s; -update adds it. It would hold:\n%s", c.Name, want.name(), got)
	default:
		t.Errorf("%s: %s is not what it was; look at the difference, and run with -update if it is right:\n%s",
			c.Name, want.name(), udiff.Unified("want", "got", want.Text, got))
	}
}

func (c *Case) write(g section) error {
	from := c.store
	if g.store != nil {
		from = g.store
	}
	if from == nil {
		return fmt.Errorf("the case comes from no file")
	}
	if err := from.put(g); err != nil {
		return err
	}
	if i := c.find(g.Kind, g.Path); i >= 0 {
		c.goldens[i] = g
	} else {
		c.goldens = append(c.goldens, g)
	}
	return nil
}

// writing keeps cases that run side by side from writing one file at once.
var writing sync.Mutex

// archiveStore writes into the archive at the path.
type archiveStore struct{ path string }

func (s archiveStore) put(g section) error {
	writing.Lock()
	defer writing.Unlock()
	data, err := os.ReadFile(s.path)
	if err != nil {
		return err
	}
	a := txtar.Parse(data)
	i := slices.IndexFunc(a.Files, func(f txtar.File) bool {
		return strings.Join(strings.Fields(f.Name), " ") == g.name()
	})
	if i < 0 {
		i = len(a.Files)
		a.Files = append(a.Files, txtar.File{Name: g.name()})
	}
	a.Files[i].Data = []byte(g.Text)
	out := txtar.Format(a)
	if back := txtar.Parse(out).Files; len(back) != len(a.Files) || !bytes.Equal(back[i].Data, a.Files[i].Data) {
		return fmt.Errorf("a line of it would be read as the start of a section")
	}
	return os.WriteFile(s.path, out, 0o644)
}

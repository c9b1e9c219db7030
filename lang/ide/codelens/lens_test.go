package codelens_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/ide/codelens"
	"stint.example/stint/lang/internal/demotest"
)

// The demo's lenses, as they are shown.
func TestLensesOfTheDemo(t *testing.T) {
	s := demotest.Load(t, "quayside")
	var b strings.Builder
	for _, f := range s.Files {
		fmt.Fprintf(&b, "== %s\n", f.Path)
		for _, l := range codelens.Lenses(f) {
			title := l.Title(s, f)
			require.NotEmpty(t, title)
			fmt.Fprintf(&b, "%s: %s\n", l.At.Text(), title)
		}
	}
	golden.File(t, filepath.Join("testdata", "demo.golden"), b.String())
}

// A text with mistakes has lenses, too, and a lens of what is no more says nothing.
func TestLensesOfMistakes(t *testing.T) {
	s := demotest.Load(t, "broken")
	for _, f := range s.Files {
		for _, l := range codelens.Lenses(f) {
			require.Equal(t, f.Src, l.At.File)
			_ = l.Title(s, f)
			l.Name = "nothing of that name"
			require.Empty(t, l.Title(s, f))
		}
	}
}

func FuzzLenses(f *testing.F) {
	base := demotest.Load(f, "quayside")
	for _, name := range []string{"quayside", "broken"} {
		for _, file := range demotest.Load(f, name).Files {
			f.Add(file.Src.Text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := base.With("sessions/x.stint", text)
		file := s.File("sessions/x.stint")
		for _, l := range codelens.Lenses(file) {
			_ = l.Title(s, file)
		}
	})
}

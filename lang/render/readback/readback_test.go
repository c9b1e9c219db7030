package readback_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/internal/demotest"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/readback"
)

// Sessions of the demo as one coach tells them to another.
func TestSessionsOfTheDemo(t *testing.T) {
	s := demotest.Load(t, "quayside")
	var b strings.Builder
	for _, name := range []string{
		"Bowline", "Sheepshank", "Clove Hitch", "Cow Hitch", "Constrictor", "Timber Hitch", "Carrick Bend",
		"Figure Eight", "Overhand", "Sheet Bend",
	} {
		session, f := s.Session(name)
		require.NotNil(t, session, name)
		readback.Of(session, s.Env, s.Diagnostics(f)).Write(&b)
		b.WriteString("\n")
	}
	golden.File(t, filepath.Join("testdata", "demo.golden"), b.String())
}

// Whatever a text says, it is told in whole sentences that fit on a terminal, each with its place;
// mistakes in it are no reason to say nothing.
func TestEverySessionIsTold(t *testing.T) {
	for _, name := range []string{"quayside", "broken"} {
		s := demotest.Load(t, name)
		for _, f := range s.Files {
			for _, session := range f.Program().Sessions {
				r := readback.Of(session, s.Env, s.Diagnostics(f))
				for _, p := range r.Parts {
					for _, x := range p.Sentences {
						assert.NotEmpty(t, strings.Trim(x.Text, " .:"), "%s, %s", session.Name, p.Name)
						assert.NotNil(t, x.At.File, x.Text)
						assert.NotContains(t, x.Text, "  ")
					}
				}
				for _, c := range r.Account {
					assert.NotEmpty(t, c.Why, c.What)
				}
				var b strings.Builder
				r.Write(&b)
				for line := range strings.SplitSeq(b.String(), "\n") {
					assert.LessOrEqual(t, layout.Cells(line), 80, line)
				}
			}
		}
	}
}

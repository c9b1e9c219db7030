package codeaction_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/format"
	"stint.example/stint/lang/ide/codeaction"
	"stint.example/stint/lang/workspace"
)

// Wherever the cursor is, in good files and in bad ones, what is offered changes the text,
// makes no line unreadable, and writes it the one way where it was so before.
func TestEverywhere(t *testing.T) {
	for _, dir := range []string{"../../../testdata/quayside", "../../../testdata/broken"} {
		s := workspace.Make(workspace.Root{Dir: "/hall", House: true}, folder(t, dir))
		offered := 0
		for _, f := range s.Files {
			canonical := format.Source(f.Syntax()) == f.Src.Text
			for i := range f.Syntax().Lines {
				line := f.Src.Line(i)
				var as []codeaction.Action
				seen := map[string]bool{}
				for off := line.Start; off <= line.End; off++ {
					_, _, _ = codeaction.Renamable(s, f, off)
					as = append(as, codeaction.Units(s, f, off)...)
				}
				if a, ok := codeaction.Total(s, f, line.Start); ok {
					as = append(as, a)
				}
				if a, ok := codeaction.Start(s, f, line.Start); ok {
					as = append(as, a)
				}
				for _, a := range append(as, codeaction.Scalings(s, f, line.Start)...) {
					if seen[a.Title] {
						continue
					}
					seen[a.Title] = true
					offered++
					text := made(t, s, a.Edits)[f.Path]
					assert.NotEqual(t, f.Src.Text, text, a.Title)
					now := s.With(f.Path, text).File(f.Path)
					assert.LessOrEqual(t, bad(now), bad(f), "%s:%d: %s", f.Path, i+1, a.Title)
					if canonical {
						assert.Equal(t, format.Source(now.Syntax()), text, "%s:%d: %s", f.Path, i+1, a.Title)
					}
				}
			}
		}
		assert.Greater(t, offered, 50)
	}
}

// bad counts the lines of a file that cannot be read.
func bad(f *workspace.File) int {
	n := 0
	for _, l := range f.Syntax().Lines {
		if l.Bad {
			n++
		}
	}
	return n
}

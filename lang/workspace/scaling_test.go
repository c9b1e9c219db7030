package workspace

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/format"
)

var homeBlock = regexp.MustCompile(`(?m)^scaling no-kit\n(  .*\n)*\n?`)

// Whoever deletes what members at home do, and takes the fix that is offered, has a version
// that keeps the kit, the patterns and the clock: of every session of the demo.
func TestScalingsAreWrittenFromTheBook(t *testing.T) {
	s := load(t, demo)
	for _, f := range s.Files {
		if len(f.Program.Sessions) == 0 {
			continue
		}
		t.Run(f.Program.Sessions[0].Name, func(t *testing.T) {
			bare := strings.TrimRight(homeBlock.ReplaceAllString(f.Syntax.Src.Text, ""), "\n") + "\n"
			require.NotEqual(t, f.Syntax.Src.Text, bare)
			without := s.With(f.Path, bare)
			found := slices.DeleteFunc(without.Check(), func(d diag.Diagnostic) bool { return d.Rule != "version-missing" && d.Rule != "version-kit" })
			require.NotEmpty(t, found, "nobody misses the version")
			require.NotEmpty(t, found[0].Fixes)
			text, all := diag.Apply(without.File(f.Path).Syntax.Src, found[0].Fixes[0].Edits)
			require.True(t, all)
			after := without.With(f.Path, text)
			t.Log(text[len(bare)-1:])
			assert.Equal(t, text, format.Source(after.File(f.Path).Syntax), "the fix writes as the formatter prints")
			for _, d := range after.Check() {
				t.Errorf("%s: %s %q: %s", d.Severity, d.Rule, d.At.Text(), d.Message)
			}
		})
	}
}

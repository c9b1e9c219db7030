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
		if len(f.Program().Sessions) == 0 {
			continue
		}
		t.Run(f.Program().Sessions[0].Name, func(t *testing.T) {
			bare := strings.TrimRight(homeBlock.ReplaceAllString(f.Src.Text, ""), "\n") + "\n"
			require.NotEqual(t, f.Src.Text, bare)
			without := s.With(f.Path, bare)
			found := slices.DeleteFunc(without.Check(),
				func(d diag.Diagnostic) bool { return d.Rule != "version-missing" && d.Rule != "version-kit" })
			require.NotEmpty(t, found, "nobody misses the version")
			require.NotEmpty(t, found[0].Fixes)
			text, all := diag.Apply(without.File(f.Path).Src, found[0].Fixes[0].Edits)
			require.True(t, all)
			after := without.With(f.Path, text)
			t.Log(text[len(bare)-1:])
			assert.Equal(t, text, format.Source(after.File(f.Path).Syntax()), "the fix writes as the formatter prints")
			for _, d := range after.Check() {
				t.Errorf("%s: %s %q: %s", d.Severity, d.Rule, d.At.Text(), d.Message)
			}
		})
	}
}

// Whoever forgets one line of a scaling gets it back from the fix: without it, each session
// of the demo is as sound as before.
func TestForgottenSwapsAreWritten(t *testing.T) {
	s := load(t, demo)
	hall := map[string]string{}
	for _, f := range s.Files {
		if len(f.Program().Sessions)+len(f.Program().Cycles) == 0 {
			hall[f.Path] = f.Src.Text
		}
	}
	base, mended := Make(s.Root, hall), 0
	for _, f := range s.Files {
		if len(f.Program().Sessions) == 0 {
			continue
		}
		lines := strings.SplitAfter(f.Src.Text, "\n")
		in := false
		for i, line := range lines {
			if !strings.HasPrefix(line, "  ") {
				in = strings.HasPrefix(line, "scaling no-kit")
			}
			if !in || !strings.Contains(line, " -> ") {
				continue
			}
			now := base.With(f.Path, strings.Join(slices.Delete(slices.Clone(lines), i, i+1), ""))
			for range 3 { // one line may do for several movements
				j := slices.IndexFunc(now.Check(), func(d diag.Diagnostic) bool { return d.Rule == "version-kit" })
				if j < 0 {
					break
				}
				d := now.Check()[j]
				if !assert.NotEmpty(t, d.Fixes, "%s without %q: %s", f.Path, line, d.Message) {
					break
				}
				text, _ := diag.Apply(now.File(f.Path).Src, d.Fixes[0].Edits)
				now = now.With(f.Path, text)
				mended++
			}
			for _, d := range now.Check() {
				if d.Rule != "total-wrong" { // the version's own total is of the coach's swap
					t.Errorf("%s without %q: %s %s: %s", f.Path, line, d.Severity, d.Rule, d.Message)
				}
			}
		}
	}
	assert.Greater(t, mended, 60)
}

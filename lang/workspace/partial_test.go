package workspace

import (
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/diag"
)

// A file has the same diagnostics beside the few files that it depends on as beside all, except
// for those that depend on the cycles.
func TestPartialTexts(t *testing.T) {
	cycles := []string{"session-unplanned", "date-differs"}
	for _, dir := range []string{demo, broken} {
		whole := load(t, dir)
		texts := map[string]string{}
		for _, f := range whole.Files {
			texts[f.Path] = f.Src.Text
		}
		for _, f := range whole.Files {
			few := PartialTexts(texts, f.Path)
			if len(f.Decls.Cycles) == 0 {
				assert.Less(t, len(few), len(texts), f.Path)
			}
			s := Make(whole.Root, few)
			assert.Subset(t, lines(whole.Diagnostics(f)), lines(s.Diagnostics(s.File(f.Path))), f.Path)
			for _, d := range whole.Diagnostics(f) {
				if !slices.Contains(lines(s.Diagnostics(s.File(f.Path))), lines([]diag.Diagnostic{d})[0]) {
					assert.Contains(t, cycles, d.Rule, f.Path)
				}
			}
		}
	}
	assert.Empty(t, slices.Collect(maps.Keys(PartialTexts(map[string]string{"a.stint": "movements of old\n"},
		"gone.stint"))))
}

package syntax_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// The kind of block at the cursor, and the line that it stands under.
func TestUnder(t *testing.T) {
	for text, want := range map[string]struct {
		ctx  syntax.Context
		line string
	}{
		"‸":                        {syntax.InFile, ""},
		"stint 1\n\n‸":             {syntax.InFile, ""},
		"session A\n  ‸":           {syntax.InSession, "session A"},
		"session A\n‸":             {syntax.InFile, ""},
		"session A\n\npart A\n  ‸": {syntax.InGroup, "part A"},
		"session A\n\npart A\n  3 rounds\n    ‸":                     {syntax.InGroup, "3 rounds"},
		"session A\n\npart A\n  3 rounds\n  ‸":                       {syntax.InGroup, "part A"},
		"session A\n\npart A\n  3 rounds\n      ‸":                   {syntax.InGroup, "3 rounds"},
		"session A\n\npart A\n  3 rounds\n  # a comment\n    8 ?? ‸": {syntax.InGroup, "3 rounds"},
		"session A\n\nscaling no-kit\n  part A:\n    ‸":              {syntax.InScaling, "part A:"},
		"house A\n  kit\n    ‸":                                      {syntax.InKit, "kit"},
		"house A\n  scaling x\n    ro‸w -> run":                      {syntax.InHouseScaling, "scaling x"},
		"cycle A\n  week 1\n    m‸":                                  {syntax.InWeek, "week 1"},
		"movement A\n  ‸":                                            {syntax.InMovement, "movement A"},
		"session A\npart A\n  8 burpee\n    ‸":                       {syntax.InGroup, "8 burpee"},
	} {
		off := strings.Index(text, "‸")
		f := syntax.Parse(source.New("a.stint", strings.Replace(text, "‸", "", 1)))
		ctx, up := f.Under(off)
		assert.Equal(t, want.ctx, ctx, text)
		if want.line == "" {
			assert.Empty(t, up, text)
			continue
		}
		if assert.NotEmpty(t, up, text) {
			assert.Equal(t, want.line, up[0].Text, text)
		}
	}
}

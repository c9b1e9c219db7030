package workspace

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The analysis of a session is computed once, and kept until its file or what it is read
// against changes.
func TestFactsAreKept(t *testing.T) {
	s := Make(Root{}, map[string]string{
		"house.stint": "stint 1\n\nhouse Hall\n  class 16\n",
		"a.stint":     "stint 1\n\nsession Reef\n\npart A\n  30 burpee\n",
		"b.stint":     "stint 1\n\nsession Bowline\n\npart A\n  40 burpee\n\nscaling light\n  40 burpee -> 20 burpee\n",
	})
	reef, bowline := s.SessionAnalysis(nil, 0, "Reef", ""), s.SessionAnalysis(nil, 0, "Bowline", "")
	assert.Same(t, reef, s.SessionAnalysis(nil, 0, "reef", ""))
	assert.NotSame(t, bowline, s.SessionAnalysis(nil, 0, "Bowline", "Light"))
	assert.Less(t, s.SessionAnalysis(nil, 0, "Bowline", "light").Minutes.Min, bowline.Minutes.Min)
	edited := s.With("a.stint", "stint 1\n\nsession Reef\n\npart A\n  31 burpee\n")
	assert.NotSame(t, reef, edited.SessionAnalysis(nil, 0, "Reef", ""))
	assert.Same(t, bowline, edited.SessionAnalysis(nil, 0, "Bowline", ""), "another file was edited")
	slower := s.With("house.stint", "stint 1\n\nhouse Hall\n  change 20 / 30 / 40 s > Far to walk.\n")
	assert.NotSame(t, bowline, slower.SessionAnalysis(nil, 0, "Bowline", ""), "another house has other figures")
	assert.Nil(t, s.SessionAnalysis(nil, 0, "Bowline", "shed"))
	assert.Nil(t, edited.Without("b.stint").SessionAnalysis(nil, 0, "Bowline", ""))
}

package workspace

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// How long a session takes is worked out once, and kept until its file or what it is read
// against changes.
func TestTimelinesAreKept(t *testing.T) {
	s := Make(Root{}, map[string]string{
		"house.stint": "stint 1\n\nhouse Hall\n  class 16\n",
		"a.stint":     "stint 1\n\nsession Reef\n\npart A\n  30 burpee\n",
		"b.stint":     "stint 1\n\nsession Bowline\n\npart A\n  40 burpee\n",
	})
	time := func(s *Snapshot, name string) any {
		of, _ := s.Session(name)
		return s.Timeline(of)
	}
	reef, bowline := time(s, "Reef"), time(s, "Bowline")
	assert.Same(t, reef, time(s, "reef"))
	edited := s.With("a.stint", "stint 1\n\nsession Reef\n\npart A\n  31 burpee\n")
	assert.NotSame(t, reef, time(edited, "Reef"))
	assert.Same(t, bowline, time(edited, "Bowline"), "another file was edited")
	slower := s.With("house.stint", "stint 1\n\nhouse Hall\n  class 12\n")
	assert.NotSame(t, bowline, time(slower, "Bowline"), "another house reckons otherwise")
	of, _ := s.Session("Bowline")
	assert.NotNil(t, edited.Without("b.stint").Timeline(of), "a session of a file that is gone is worked out all the same")
}

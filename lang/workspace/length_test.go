package workspace

import (
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// That no length is stated is said once a workspace, whichever of its files an edit changes.
func TestLengthMissing(t *testing.T) {
	in := func(s *Snapshot) []string {
		var out []string
		for _, d := range s.Check() {
			if d.Rule == "length-missing" {
				out = append(out, d.At.File.Name+": "+d.At.Text())
			}
		}
		return out
	}
	work := "\npart A\n  12 burpee\n"
	s := Make(Root{Dir: "/quayside"}, map[string]string{"a.stint": "session Reef\n" + work, "b.stint": "session Bight\n" + work})
	assert.Equal(t, []string{"a.stint: Reef"}, in(s))

	house := s.With("house.stint", "stint 1\n\nhouse Quayside Hall\n  class 16\n")
	assert.Equal(t, []string{"house.stint: Quayside Hall"}, in(house))
	assert.Empty(t, in(house.With("house.stint", "stint 1\n\nhouse Quayside Hall\n  length 60:00\n")))

	one := house.With("b.stint", "session Bight\n  length 45:00\n"+work)
	assert.Empty(t, in(one), "a session that says one is enough")
	assert.Equal(t, []string{"house.stint: Quayside Hall"}, in(one.With("b.stint", "session Bight\n"+work)))
	assert.Empty(t, in(house.With("b.stint", "session Bight\n  length soon\n"+work)), "the line's own mistake is reported")

	alone := Make(Root{Dir: "/quayside", House: true}, map[string]string{"house.stint": "house Quayside Hall\n"})
	assert.Empty(t, in(alone), "nothing is planned")
	assert.Equal(t, []string{"a.stint", "b.stint"}, slices.Sorted(maps.Keys(PartialTexts(map[string]string{
		"a.stint": s.File("a.stint").Src.Text, "b.stint": s.File("b.stint").Src.Text, "c.stint": "session Toggle\n" + work,
	}, "b.stint"))), "the file that it is said in goes with every part")
	assert.Empty(t, slices.DeleteFunc(in(house.Without("a.stint")), func(at string) bool { return at == "house.stint: Quayside Hall" }))
}

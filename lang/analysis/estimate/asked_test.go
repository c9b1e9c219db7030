package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/workspace"
)

// Between two parts the longest rest counts, whoever asks; before the cool-down only what
// the part asks itself.
func TestAsked(t *testing.T) {
	s := workspace.Make(workspace.Root{}, map[string]string{
		"house.stint": "stint 1\n\nhouse Hall\n  allow length-missing > Hours differ.\n  rest between parts at least 1:00\n",
		"reef.stint": "stint 1\n\nsession Reef\n  rest at least 2:00\n\npart A\n  10 burpee\n  rest at least 3:00\n" +
			"part B\n  10 burpee\n  rest at least 0:30\npart C\n  10 burpee\ncool-down\n  1:00 walk\n",
	})
	require.Empty(t, s.Check())
	session, _ := s.Session("Reef")
	line := estimate.Of(session, s.Env)
	for i, want := range []estimate.Asked{{Rest: 180, By: "part"}, {Rest: 120, By: "session"}, {}, {}} {
		got, ok := line.Asked(i)
		assert.Equal(t, want.Rest > 0, ok)
		assert.Equal(t, want.Rest, got.Rest)
		assert.Equal(t, want.By, got.By)
	}
}

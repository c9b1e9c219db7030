package hover_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/workspace"
)

// The card of a progress says which lines follow it, as written and in versions, and what stays.
func TestProgressCard(t *testing.T) {
	text := "cycle Flood\n  weeks 3\n  progress front squat @ 70-72.5-75%\n  week 1-3\n    mon Reef\n"
	s := workspace.Make(workspace.Root{Dir: "/quayside", House: true}, map[string]string{
		"cycles/flood.stint": text,
		"sessions/reef.stint": "session Reef\n\npart A\n  3 x 5 front squat @ 70%, rest 2:00\n\n" +
			"scaling light\n  @ 70% -> @ 60%\n\nscaling no-kit\n  front squat -> 12 goblet squat @ 24 kg\n",
	})
	for _, at := range []string{"progress", "72.5"} {
		c := hover.At(s, s.File("cycles/flood.stint"), strings.Index(text, at)+1)
		require.NotNil(t, c, at)
		assert.Equal(t, "front squat @ 70-72.5-75%", c.Title)
		said := map[string]string{}
		for _, r := range c.Rows {
			said[r.Label] = r.Text
		}
		assert.Equal(t, "week 1: 3 x 5 front squat @ 60%; week 2: 3 x 5 front squat @ 62.5%; week 3: 3 x 5 front squat @ 65%",
			said["Reef, version light"])
		assert.Equal(t, "3 x 12 goblet squat @ 24 kg in every week; the load stays: the progress is a share of a maximum, and this is none",
			said["Reef, version no-kit"])
	}
}

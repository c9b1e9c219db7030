package hover_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/internal/demotest"
)

// The card of a scaling lists every line that it changes, wherever that line stands.
func TestScalingListsEverySwap(t *testing.T) {
	for _, c := range []struct{ name, part, swap, want string }{
		{
			"step", "part A 3 rounds for time\n  10 burpee\n",
			"burpee -> push-up", "10 burpee -> 10 push-up",
		},
		{
			"event", "part A for time\n  40 burpee\n  at 2:00: 5 kettlebell swing @ 24 kg\n",
			"kettlebell swing -> 5 push-up", "5 kettlebell swing @ 24 kg -> 5 push-up",
		},
		{
			"event that leaves out", "part A for time\n  40 burpee\n  at 2:00: 5 kettlebell swing @ 24 kg\n",
			"kettlebell swing -> nothing", "5 kettlebell swing @ 24 kg -> nothing",
		},
		{
			"group in an event", "part A for time\n  40 burpee\n  when done:\n    3 rounds\n      9 air squat\n",
			"3 rounds -> 2 rounds", "part A: 3 rounds -> 2 rounds",
		},
		{
			"work in a rest", "part A 3 rounds for time\n  10 burpee\n  rest 2:00: walk\n",
			"walk -> row", "walk -> row",
		},
		{
			"rest", "part A 3 rounds for time\n  10 burpee\n  rest 2:00\n",
			"rest 2:00 -> rest 3:00", "rest 2:00 -> rest 3:00",
		},
		{
			"rest left out", "part A 3 rounds for time\n  10 burpee\n  rest 2:00\n",
			"rest 2:00 -> nothing", "rest 2:00 -> nothing",
		},
		{
			"rest that is asked for", "part A 3 rounds for time\n  10 burpee\n  rest at least 2:00\n",
			"rest at least 2:00 -> rest at least 3:00", "rest at least 2:00 -> rest at least 3:00",
		},
		{
			"rest between sets", "part A for load\n  5 x 5 back squat @ 60 kg, rest 2:00\n",
			"rest 2:00 -> rest 3:00", "5 x 5 back squat @ 60 kg, rest 2:00 -> 5 x 5 back squat @ 60 kg, rest 3:00",
		},
		{
			"load", "part A 3 rounds for time\n  10 kettlebell swing @ 24 kg\n",
			"@ 24 kg -> @ 16 kg", "10 kettlebell swing @ 24 kg -> 10 kettlebell swing @ 16 kg",
		},
		{
			"clause", "part A 3 rounds for time\n  10 burpee, unbroken\n",
			"unbroken -> any sets", "10 burpee, unbroken -> 10 burpee, any sets",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := demotest.Load(t, "quayside").With("sessions/x.stint",
				"stint 1\n\nsession Draft\n\n"+c.part+"\nscaling easy-day\n  "+c.swap+"\n")
			f := s.File("sessions/x.stint")
			require.Empty(t, f.Program().Diags)
			card := hover.At(s, f, demotest.Cursor(t, f, "scaling easy‸-day"))
			require.NotNil(t, card)
			var changes []string
			for _, r := range card.Rows {
				if r.Label == "changes" {
					changes = append(changes, r.Text)
				}
			}
			assert.Equal(t, []string{c.want}, changes, card.Plain())
		})
	}
}

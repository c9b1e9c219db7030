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
	instead := func(was, now string) string { return `instead of "` + was + `": "` + now + `"` }
	const (
		atTwo   = "At 2:00 on the clock, whatever they are at: "
		between = " of rest between the rounds, none after the last"
	)
	for _, c := range []struct{ name, part, swap, want string }{
		{
			"step", "part A 3 rounds for time\n  10 burpee\n",
			"burpee -> push-up", instead("10 burpee", "10 push-up"),
		},
		{
			"event", "part A for time\n  40 burpee\n  at 2:00: 5 kettlebell swing @ 24 kg\n",
			"kettlebell swing -> 5 push-up", instead(atTwo+"5 kettlebell swing with 24 kg", atTwo+"5 push-up"),
		},
		{
			"event that leaves out", "part A for time\n  40 burpee\n  at 2:00: 5 kettlebell swing @ 24 kg\n",
			"kettlebell swing -> nothing", `without "` + atTwo + `5 kettlebell swing with 24 kg"`,
		},
		{
			"group in an event", "part A for time\n  40 burpee\n  when done:\n    3 rounds\n      9 air squat\n",
			"3 rounds -> 2 rounds", instead("3 rounds", "2 rounds"),
		},
		{
			"work in a rest", "part A 3 rounds for time\n  10 burpee\n  rest 2:00: walk\n",
			"walk -> row", instead("2:00"+between+", in which they do walk", "2:00"+between+", in which they do row"),
		},
		{
			"rest", "part A 3 rounds for time\n  10 burpee\n  rest 2:00\n",
			"rest 2:00 -> rest 3:00", instead("2:00"+between, "3:00"+between),
		},
		{
			"rest left out", "part A 3 rounds for time\n  10 burpee\n  rest 2:00\n",
			"rest 2:00 -> nothing", `without "2:00` + between + `"`,
		},
		{
			"rest that is asked for", "part A for time\n  10 burpee\n  rest at least 2:00\n",
			"rest at least 2:00 -> rest at least 3:00",
			instead("At least 2:00 of rest has to be left before what comes next",
				"At least 3:00 of rest has to be left before what comes next"),
		},
		{
			"rest between sets", "part A for load\n  5 x 5 back squat @ 60 kg, rest 2:00\n",
			"rest 2:00 -> rest 3:00",
			instead("5 sets of 5 back squat with 60 kg, with 2:00 of rest between the sets",
				"5 sets of 5 back squat with 60 kg, with 3:00 of rest between the sets"),
		},
		{
			"load", "part A 3 rounds for time\n  10 kettlebell swing @ 24 kg\n",
			"@ 24 kg -> @ 16 kg", instead("10 kettlebell swing with 24 kg", "10 kettlebell swing with 16 kg"),
		},
		{
			"clause", "part A 3 rounds for time\n  10 burpee, unbroken\n",
			"unbroken -> any sets", instead("10 burpee, without a break", "10 burpee, broken up as they like"),
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
				if r.Label == "changes" || r.Label == "Part A" {
					changes = append(changes, r.Text)
				}
			}
			assert.Equal(t, []string{c.want}, changes, card.Plain())
		})
	}
}

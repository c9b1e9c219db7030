package readback_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/golden"
	"stint.example/stint/lang/internal/demotest"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/readback"
)

// Sessions of the demo as one coach tells them to another.
func TestSessionsOfTheDemo(t *testing.T) {
	s := demotest.Load(t, "quayside")
	var b strings.Builder
	for _, name := range []string{
		"Bowline", "Sheepshank", "Clove Hitch", "Cow Hitch", "Constrictor", "Timber Hitch", "Carrick Bend",
		"Figure Eight", "Overhand", "Sheet Bend",
	} {
		session, f := s.Session(name)
		require.NotNil(t, session, name)
		readback.Of(session, s.Env, s.Diagnostics(f)).Write(&b)
		b.WriteString("\n")
	}
	for _, f := range s.Files {
		for _, c := range f.Program().Cycles {
			readback.OfCycle(c, s.Env.House, s.FindSession, s.Diagnostics(f)).Write(&b)
		}
	}
	golden.File(t, filepath.Join("testdata", "demo.golden"), b.String())
}

// Every way in which what is stated can hold, or not.
func TestAccount(t *testing.T) {
	s := demotest.Load(t, "quayside").With("sessions/draft.stint", `stint 1

session Draft
  length 50:00
  aim 30:00

warm-up lasts 9:00
  3:00 jog @ easy
  8 burpee

part A at 0:00 4 rounds for time, cap 15:00
  250 m run
  9 burpee
  aim 6:00-8:00
  total 36 burpee

part B at 20:00 amrap 9:00
  9 burpee
  aim 6 rounds

part C at 30:00 2 rounds
  for time, cap 2:00
    20 sit-up
  rest 1:00

part D at 36:00 choose one
  10 ring row
  12 push-up

part E every 1:00 until missed, cap 6:00
  2-4-... air squat

part F at 44:30 in pairs
  choose one
    if > The third one was smooth.
      4 x 3 push jerk @ 72%, rest 1:50
    otherwise: 2 x 3 push jerk @ 64%
  14 sit-up, if > You are back before the bell.
  20 v-up, split

total 0-10 ring row, 30 sit-up, 12 air squat, 6-12 push jerk, each 0-20 v-up
`)
	session, f := s.Session("Draft")
	require.NotNil(t, session)
	r := readback.Of(session, s.Env, s.Diagnostics(f))
	var b strings.Builder
	seen := map[readback.Holds]bool{}
	for _, c := range r.Account {
		seen[c.Holds] = true
		b.WriteString(strings.TrimSpace(c.Of+" "+c.At.Text()) + " | " + c.What + " | " + string(c.Holds) + " | " + c.Why + "\n")
	}
	b.WriteString("\n")
	r.Write(&b)
	golden.File(t, filepath.Join("testdata", "account.golden"), b.String())
	for _, h := range []readback.Holds{
		readback.Proven, readback.Refuted, readback.Estimated, readback.BothEnds, readback.OnlyShown,
	} {
		assert.True(t, seen[h], h)
	}
}

// Whatever a text says, it is told in whole sentences that fit on a terminal, each with its place;
// mistakes in it are no reason to say nothing.
func TestEverySessionIsTold(t *testing.T) {
	for _, name := range []string{"quayside", "broken"} {
		s := demotest.Load(t, name)
		for _, f := range s.Files {
			var b strings.Builder
			for _, c := range f.Program().Cycles {
				readback.OfCycle(c, s.Env.House, s.FindSession, s.Diagnostics(f)).Write(&b)
			}
			for _, session := range f.Program().Sessions {
				r := readback.Of(session, s.Env, s.Diagnostics(f))
				for _, p := range r.Parts {
					for _, x := range p.Sentences {
						assert.NotEmpty(t, strings.Trim(x.Text, " .:"), "%s, %s", session.Name, p.Name)
						assert.NotNil(t, x.At.File, x.Text)
						assert.NotContains(t, x.Text, "  ")
					}
				}
				for _, c := range r.Account {
					assert.NotEmpty(t, c.Why, c.What)
				}
				r.Write(&b)
			}
			for line := range strings.SplitSeq(b.String(), "\n") {
				assert.LessOrEqual(t, layout.Cells(line), 80, line)
			}
		}
	}
}

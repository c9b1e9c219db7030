package cycle_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// read is the cycle of a text, with the sessions that stand in it too.
func read(t testing.TB, text string) *cycle.Analysis {
	t.Helper()
	f := syntax.Parse(source.New("all.stint", text))
	env, _ := model.NewEnv([]*model.Decls{model.Declare(f)}, nil)
	p := model.Resolve(f, env)
	require.Empty(t, f.Diags)
	require.Empty(t, p.Diags)
	require.Len(t, p.Cycles, 1)
	return cycle.New(p.Cycles[0], func(of *model.Cycle, week int, name, version string) *cycle.SessionAnalysis {
		for _, s := range p.Sessions {
			if v := of.InWeek(s, week).InVersion(version); v != nil && book.Key(s.Name) == book.Key(name) {
				return cycle.Of(v, env)
			}
		}
		return nil
	})
}

// lasting is a session of so many minutes, at an effort.
func lasting(name, effort string, minutes int) string {
	return fmt.Sprintf("\nsession %s\n  effort %s\npart A lasts %d:00\n  walk\n", name, effort, minutes)
}

// ISO 8601: 2027-01-01 is in 2026-W53, 2024-12-30 in 2025-W01, 2021-01-03 in 2020-W53; and
// twelve weeks from 2026-W50 on end in 2027-W08, for 2026 has 53. Go's time package and
// Python agree.
func TestISOWeeks(t *testing.T) {
	for date, want := range map[string]string{"2027-01-01": "2026-W53", "2024-12-30": "2025-W01", "2021-01-03": "2020-W53"} {
		assert.Equal(t, want, totals.ISOWeek(date))
		day, err := time.Parse(time.DateOnly, date)
		require.NoError(t, err)
		c := read(t, "cycle A\n  from "+date+"\n  week 1\n    "+syntax.Weekdays[(int(day.Weekday())+6)%7]+" Walk\n"+lasting("Walk", "50%", 20))
		assert.Equal(t, want, c.Weeks[0].ISO)
		assert.Equal(t, date, c.Days()[0].Date, "the day of the week is the one that was asked for")
	}
	c := read(t, "cycle A\n  from 2026-12-07\n  weeks 12\n  week 1-12\n    mon Walk\n"+lasting("Walk", "50%", 20))
	require.Len(t, c.Weeks, 12)
	assert.Equal(t, "2026-W50", c.Weeks[0].ISO)
	assert.Equal(t, "2026-W53", c.Weeks[3].ISO)
	assert.Equal(t, "2027-W08", c.Weeks[11].ISO)
	assert.Equal(t, 12, c.Last())
}

// US HHS 2018: three times 20 vigorous minutes and twice 30 moderate ones are 180 moderate
// minutes, and 150 are asked for.
func TestModerateMinutes(t *testing.T) {
	c := read(t, `cycle A
  week 1
    mon Hard
    tue Steady
    wed Hard
    thu Steady
    fri Hard
    sat Stroll
`+lasting("Hard", "RPE 7", 20)+lasting("Steady", "55%", 30)+lasting("Stroll", "45%", 90))
	s := c.Weeks[0].Sums()
	require.True(t, s.Rated)
	assert.InDelta(t, 60, s.Vigorous, 1e-9)
	assert.InDelta(t, 60, s.Moderate, 1e-9)
	assert.InDelta(t, 180, strength.Equivalent(s.Moderate, s.Vigorous), 1e-9)
	assert.GreaterOrEqual(t, strength.Equivalent(s.Moderate, s.Vigorous), 150.0)
}

// A made-up week of 420, 0, 360, 0, 480, 300 and 0: 1560, and a monotony of 1.1168 with the
// SD of the population, as gonum and a statistics package in another language have it.
func TestAWeekOfLoads(t *testing.T) {
	c := read(t, `cycle A
  week 1
    mon A
    tue rest
    wed B
    fri C
    sat D
`+lasting("A", "RPE 7", 60)+lasting("B", "RPE 6", 60)+lasting("C", "80%", 60)+lasting("D", "45-55%", 60))
	s := c.Weeks[0].Sums()
	require.True(t, s.Rated)
	assert.InDeltaSlice(t, []float64{420, 0, 360, 0, 480, 300, 0}, s.Daily[:], 1e-9)
	assert.InDelta(t, 1560, s.Load.Load, 1e-9)
	assert.InDelta(t, 1.1168, s.Load.Monotony, 0.0005)
	assert.InDelta(t, 1742.2, s.Load.Strain, 0.05)
	assert.InDelta(t, 240, s.Minutes.Min, 1e-9)

	equal := read(t, "cycle A\n  week 1\n    mon A\n    tue A\n    wed A\n    thu A\n    fri A\n    sat A\n    sun A\n"+lasting("A", "RPE 5", 30))
	assert.False(t, equal.Weeks[0].Sums().Load.Varied, "undefined, and not infinite")
}

// A session whose RPE is of another scale, or that says nothing, has no load, and nor has
// its week.
func TestWithoutARating(t *testing.T) {
	for _, effort := range []string{"RPE 14", "140%"} {
		c := read(t, "cycle A\n  week 1\n    mon A\n    wed B\n"+lasting("A", "RPE 5", 30)+lasting("B", effort, 30))
		_, ok := c.Days()[1].Of.Rating()
		assert.False(t, ok, effort)
		_, ok = c.Days()[1].Of.Load()
		assert.False(t, ok, effort)
		s := c.Weeks[0].Sums()
		assert.False(t, s.Rated)
		assert.Zero(t, s.Load)
		assert.Zero(t, s.Daily)
	}
}

// 60 push-ups and 40 presses against 50 rows and 20 pull-ups are 100 to 70; a share of them
// is a typical member's where two share the work.
func TestVolume(t *testing.T) {
	c := read(t, `cycle A
  week 1
    mon Upper
    wed Pairs
    fri Lifts

session Upper

warm-up
  20 push-up
part A 10 rounds
  6 push-up
  4 dumbbell press @ 2x15/10 kg
  5 ring row
  2 strict pull-up

session Pairs

part A for time, in pairs, one works
  100 burpee, split

session Lifts

part A
  2 x 5 front squat @ 70%, rest 2:00
  rest 2:00
  3 x 3 front squat @ 80-85-90%, rest 2:00
part B every 2:00 x 5
  1 power clean + 2 hang power clean + 1 push jerk @ 60 kg
part C
  2 x 3 deadlift @ 80% of 5RM, rest 2:00
`)
	s := c.Weeks[0].Sums()
	push := s.Of(cycle.Push)
	assert.InDelta(t, 100+50+5, push.Reps, 1e-9, "the warm-up is not counted; one of a pair does half; five jerks")
	assert.InDelta(t, 70, s.Of(cycle.Pull).Reps, 1e-9)
	assert.InDelta(t, 19, s.Of(cycle.Squat).Reps, 1e-9)
	assert.InDelta(t, 21, s.Of(cycle.Hinge).Reps, 1e-9, "5 power cleans, 10 hang power cleans and 6 deadlifts")
	assert.InDelta(t, 40*30+20*60, s.Moved.Kg, 1e-9)
	assert.ElementsMatch(t, []string{"front squat", "deadlift"}, s.Moved.Without)
	lifts := map[string]cycle.Lift{}
	for _, l := range s.Lifts {
		lifts[l.Movement.Name] = l
	}
	assert.InDelta(t, 90, lifts["front squat"].Share.Top, 1e-9)
	assert.InDelta(t, (10*70+9*85.0)/19, lifts["front squat"].Share.Mean, 1e-9)
	assert.InDelta(t, 0.80*87, lifts["deadlift"].Share.Top, 1e-9, "80%% of a 5RM, which is 87%% of a maximum")
}

// All that a movement trains counts as hard: a thruster on Monday and a push press on
// Tuesday share the vertical push.
func TestHard(t *testing.T) {
	c := read(t, `cycle A
  week 1
    mon Thrusters
    tue Push Press
    wed Easy

session Thrusters
part A for time, cap 9:00
  effort 85-95%
  60 thruster @ 30/20 kg
  400 m row

session Push Press
part A
  3 x 5-3-3 push press @ 77.5-82.5-87.5%, rest 2:00
part B
  3 x 5 bench press @ 2 RIR, rest 2:00
  rest 2:00
  3 x 5 ring row @ RPE 6.5, rest 2:00

session Easy
  effort RPE 8
part A
  3 x 5 front squat @ 79%, rest 2:00
`)
	patterns := func(d *cycle.DayAnalysis) (out []string) {
		for _, h := range d.Of.Hard(cycle.DefaultHardThresholds) {
			out = append(out, string(h.Pattern))
		}
		return out
	}
	days := c.Days()
	assert.Equal(t, []string{"squat", "vertical push"}, patterns(days[0]), "a row is no lifting")
	assert.Contains(t, patterns(days[1]), "vertical push")
	assert.Contains(t, patterns(days[1]), "horizontal push", "two in reserve are RPE 8")
	assert.NotContains(t, patterns(days[1]), "horizontal pull")
	assert.Empty(t, patterns(days[2]), "a share of a maximum says more closely than the session how hard it is")
	assert.Equal(t, 24.0, cycle.Hours(days[0], days[1]))
	assert.Equal(t, "60 thruster @ effort 90%", days[0].Of.Hard(cycle.DefaultHardThresholds)[0].Lines[0].Text(cycle.DefaultHardThresholds))
	assert.Equal(t, "5-3-3 push press @ 87.5%", days[1].Of.Lines[0].Text(cycle.DefaultHardThresholds))
}

// A day counts in its version, and one that is not there counts as nothing.
func TestDaysCountInTheirVersion(t *testing.T) {
	c := read(t, `cycle A
  week 1
    mon Bowline
    wed Bowline, light
  week 2
    mon Bowline, heavy
    wed Bowline

session Bowline
  effort RPE 7
part A
  40 push-up

scaling light
  effort RPE 5
  40 push-up -> 30 push-up
`)
	s := c.Weeks[0].Sums()
	assert.InDelta(t, 70, s.Of(cycle.Push).Reps, 1e-9)
	rating, ok := c.Days()[1].Of.Rating()
	assert.True(t, ok)
	assert.Equal(t, 5.0, rating)
	assert.False(t, c.Weeks[1].Known())
	assert.False(t, c.Weeks[1].Sums().Rated)
	assert.InDelta(t, 40, c.Weeks[1].Sums().Of(cycle.Push).Reps, 1e-9)
	require.Nil(t, c.Before(c.Weeks[0]))
	assert.Same(t, c.Weeks[0], c.Before(c.Weeks[1]))
}

// How hard a session is as a whole says nothing of how fast a line goes: its time is that
// of a session that says nothing, and nothing is missing from it.
func TestARatingSetsThePace(t *testing.T) {
	const work = "\npart A for time\n  400 m run\n  50 burpee\n"
	c := read(t, "cycle A\n  week 1\n    mon Rated\n    tue Plain\n    wed Slow\n\nsession Rated\n  effort RPE 6\n"+work+
		"\nsession Plain\n"+work+"\nsession Slow\n  effort 60%\n"+work)
	days := c.Days()
	assert.True(t, days[0].Of.Minutes.Estimated)
	assert.False(t, days[0].Of.Minutes.Least)
	assert.Greater(t, days[0].Of.Minutes.Min, days[1].Of.Minutes.Min)
	assert.Equal(t, days[2].Of.Minutes, days[0].Of.Minutes, "however the effort is said")
}

package estimate_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"stint.example/stint/lang/analysis/estimate"
	reference "stint.example/stint/lang/internal/referencemodel"
	"stint.example/stint/lang/units"
)

// Teams by spec/estimates.md, section 4, each to the second; the figures were worked out apart from
// this code, turn by turn.
var teams = []struct{ name, part, want string }{
	{"in turn", "part A 3 rounds for time, in pairs, one works\n  10 burpee\n  10 kettlebell swing\n", "5:22 / 6:44 / 9:08"},
	{"rounds dealt out", "part A 6 rounds for time, in pairs, one works, split\n  10 burpee\n  10 kettlebell swing\n", "5:22 / 6:44 / 9:08"},
	{"ten rounds dealt out", "part A 10 rounds for time, in pairs, one works, split\n  200 m row\n  10 burpee\n", "13:58 / 16:55 / 21:16"},
	{"split", "part A for time, in pairs, one works\n  100 burpee, split\n", "5:07 / 6:20 / 8:12"},
	{"split evenly", "part A for time, in pairs, one works\n  100 burpee, split evenly\n", "5:17 / 6:29 / 8:33"},
	{"four lines split", "part A for time, in pairs, one works\n  1600 m row, split\n  60 step-up, split\n  80 kettlebell swing, split\n  60 burpee, split\n", "13:14 / 15:37 / 19:03"},
	{"split, then together", "part A for time, in pairs, one works\n  60 thruster, split\n  400 m run, together\n", "4:14 / 5:31 / 6:57"},
	{"threes in turn", "part A 2 rounds for time, in teams of 3, one works\n  400 m run\n  15 kettlebell swing\n", "13:41 / 15:56 / 18:56"},
	{"threes split", "part A for time, in teams of 3, one works\n  150 wall ball, split\n", "5:12 / 6:04 / 7:11"},
	{"all at once", "part A for time, in teams of 4\n  200 sit-up, split\n", "1:41 / 2:05 / 2:36"},
	{"all at once, evenly", "part A for time, in teams of 4\n  200 sit-up, split evenly\n", "2:14 / 3:04 / 4:33"},
	{"together", "part A for time, in pairs\n  800 m run, together\n", "3:37 / 4:24 / 5:30"},
	{"timed work in turn", "part A for time, in pairs, one works\n  20 burpee, split\n  1:00 plank\n", "- / 3:25 / -"},
	{"the same work, written otherwise", "part A for time, in pairs, one works\n  3 rounds\n    10 burpee\n    10 kettlebell swing\n", "5:22 / 6:44 / 9:08"},
}

func TestTeamsToTheSecond(t *testing.T) {
	for _, c := range teams {
		l, p := first(t, hall(t, ""), c.part)
		sound(t, l)
		got := strings.Split(shown(p.Work), " / ")
		for i, want := range strings.Split(c.want, " / ") {
			if want != "-" {
				assert.Equal(t, want, got[i], "%s, %s", c.name, estimateLevels[i])
			}
		}
		for i := range 3 {
			assert.InDelta(t, p.Work.At(i), p.Spent[i].Total(), 1e-6, "%s: it can be opened", c.name)
		}
	}
}

var estimateLevels = [3]string{"fast", "typical", "slow"}

// A pair's amrap is walked turn by turn until the clock ends it, and its score is turns.
func TestTeamsAgainstTheClock(t *testing.T) {
	_, p := first(t, hall(t, ""), "part A amrap 12:00, in pairs, one works\n  10 burpee\n  10 kettlebell swing\n")
	var got []string
	for _, d := range p.Groups[0].Rounds {
		text := fmt.Sprint(d.Rounds)
		for _, c := range d.Then {
			text += fmt.Sprintf(" + %.0f %s", c.N, c.Movement)
		}
		got = append(got, text)
	}
	assert.Equal(t, []string{"13 + 5 burpee", "10 + 10 burpee + 1 kettlebell swing", "7 + 10 burpee + 6 kettlebell swing"}, got)

	l, p := first(t, hall(t, ""), "part A amrap 12:00, in teams of 3, one works\n  60 burpee\n  60 kettlebell swing\n")
	d := p.Groups[0].Rounds[1]
	assert.Equal(t, 1, d.Rounds)
	assert.Equal(t, []estimate.Count{{Movement: "burpee", Unit: "rep", N: 60}, {Movement: "kettlebell swing", Unit: "rep", N: 47}}, d.Then)
	assert.Equal(t, "at the typical pace the last of each 3 never works: the time is up before their turn", p.Notes[0].Text)
	_ = l

	// A goal of rounds is the team's.
	l, p = first(t, hall(t, ""), "part A amrap 12:00, in pairs, one works\n  10 burpee\n  10 kettlebell swing\n")
	assert.Less(t, l.ShareOfRounds(p, p.Group, 10).Of, 0.5)
	assert.Greater(t, l.ShareOfRounds(p, p.Group, 11).Of, 0.5)
}

// While one works, the other does what says how long a leg is; the work goes on from there.
func TestPacedByAPartner(t *testing.T) {
	_, p := first(t, hall(t, ""), "part A amrap 16:00, in pairs, one works, carry on\n  30 thruster\n  30 goblet squat\n  meanwhile\n    200 m row\n    tag\n")
	paced := reference.Part{Mode: reference.AMRAP, Time: 960, Team: 2, OneWorks: true, CarryOn: true,
		Steps: []reference.Step{work("thruster", 30), work("goblet squat", 30)}, Pacer: []reference.Step{work("row", 200)}}
	for i, z := range reference.Levels {
		n := p.Groups[0].Rounds[i]
		want := reference.Standard.Walk(paced, z).Score
		assert.Equal(t, want.Rounds, n.Rounds, estimateLevels[i])
		sum := 0.0
		for _, c := range n.Then {
			sum += c.N
		}
		assert.InDelta(t, want.OverCount(), sum, 1e-6, estimateLevels[i])
	}
	assert.True(t, p.Proven())
}

func work(name string, n float64) reference.Work {
	return reference.Work{Move: reference.Book[name], Count: n}
}

// aShared draws a part for people, in the notation and for the second model.
func aShared(t *rapid.T) (text string, part reference.Part) {
	part.Team = rapid.IntRange(1, 4).Draw(t, "team")
	part.OneWorks = part.Team > 1 && rapid.Bool().Draw(t, "one works")
	g := reference.Group{Rounds: rapid.IntRange(1, 4).Draw(t, "rounds"), Dealt: part.Team > 1 && rapid.Bool().Draw(t, "dealt")}
	head := fmt.Sprintf("part A %d rounds for time", g.Rounds)
	switch part.Team {
	case 1:
	case 2:
		head += ", in pairs"
	default:
		head += fmt.Sprintf(", in teams of %d", part.Team)
	}
	if part.OneWorks {
		head += ", one works"
	}
	if g.Dealt {
		head += ", split"
	}
	lines := []string{head}
	moves := []string{"burpee", "air squat", "kettlebell swing", "sit-up", "push-up", "thruster", "box jump", "back squat", "step-up"}
	for range rapid.IntRange(1, 4).Draw(t, "lines") {
		w := work(rapid.SampledFrom(moves).Draw(t, "movement"), float64(rapid.IntRange(1, 40).Draw(t, "count")))
		unit := ""
		if rapid.Float64Range(0, 1).Draw(t, "machine") > 0.8 {
			w = work(rapid.SampledFrom([]string{"row", "run", "farmer carry"}).Draw(t, "machine"), float64(50*rapid.IntRange(1, 12).Draw(t, "metres")))
			unit = " m"
		}
		line := fmt.Sprintf("  %.0f%s %s", w.Count, unit, w.Move.Name)
		if rapid.Bool().Draw(t, "easier") {
			w.Effort = 0.8
			line += " @ effort 80%"
		}
		if !g.Dealt && part.Team > 1 {
			w.Sharing = rapid.SampledFrom([]reference.Sharing{reference.Each, reference.Split, reference.SplitEvenly, reference.Together}).Draw(t, "sharing")
			line += [...]string{"", ", split", ", split evenly", ", together"}[w.Sharing]
		}
		lines, g.Steps = append(lines, line), append(g.Steps, w)
	}
	part.Steps = []reference.Step{g}
	return strings.Join(lines, "\n") + "\n", part
}

// What is said of people is what the second model says, at any standing.
func TestPeopleAgainstTheSecondModel(t *testing.T) {
	env := hall(t, "")
	rapid.Check(t, func(t *rapid.T) {
		text, part := aShared(t)
		q := rapid.Float64Range(0.02, 0.98).Draw(t, "standing")
		l, p := first(t, env, text)
		want := reference.Standard.Walk(part, reference.Z(q))
		assert.InDelta(t, want.Time, l.At(p, q), 0.01, "%s at %g", text, q)
	})
}

// A share of teams is in teams, and a part after one starts with the legs of each.
func TestSharesOfTeams(t *testing.T) {
	l, p := first(t, hall(t, ""), teams[0].part)
	s := l.Share(p, 9*60)
	assert.Equal(t, "about 1 of 8 pairs (0 to 2)", s.Text())
	assert.InDelta(t, 0.11, s.Of, 0.005)
	assert.InDelta(t, 0.06, s.Low, 0.005)
	assert.InDelta(t, 0.19, s.High, 0.005)
	n, low, high := s.People()
	assert.Equal(t, [3]int{1, 0, 2}, [3]int{n, low, high})
	_, p = first(t, hall(t, ""), "part A for time, in teams of 3\n  800 m run, together\n")
	assert.Equal(t, 3, p.Team)
}

// Rounds in windows are added up, and what is over is told a window; carried on, it is one piece of
// work with rests in it.
func TestRoundsInWindows(t *testing.T) {
	over := func(d estimate.Done) (n float64) {
		for _, c := range d.Then {
			n += c.N
		}
		return n
	}
	_, p := first(t, hall(t, ""), "part A on 3:00 off 1:00 x 6 amrap\n  10 push-up\n  10 sit-up\n")
	var all, typical []string
	for _, d := range p.Groups[0].Rounds {
		all = append(all, fmt.Sprintf("%d and %.0f", d.Rounds, over(d)))
	}
	for _, d := range p.Groups[0].Rounds[1].Windows {
		typical = append(typical, fmt.Sprintf("%d+%.0f", d.Rounds, over(d)))
	}
	assert.Equal(t, "24 and 96 / 18 and 45 / 6 and 87", strings.Join(all, " / "))
	assert.Equal(t, "3+10, 3+9, 3+7, 3+7, 3+6, 3+6", strings.Join(typical, ", "))

	_, p = first(t, hall(t, ""), "part A on 3:00 off 1:00 x 6 amrap, carry on\n  10 push-up\n  10 sit-up\n")
	all = nil
	for _, d := range p.Groups[0].Rounds {
		all = append(all, fmt.Sprintf("%d+%.0f", d.Rounds, over(d)))
	}
	assert.Equal(t, "28+9 / 19+14 / 10+14", strings.Join(all, " / "))
}

// What follows a part is held against the end of the last work in it, and not of its clock.
func TestWorkEnds(t *testing.T) {
	l := timesOf(t, hall(t, ""), "part A at 0:00 every 2:00 x 3\n  5 burpee\n\npart B at 6:30\n  20 air squat\n")
	assert.Equal(t, "4:14 / 4:17 / 4:25", shown(l.Parts[0].WorkEnd))
	assert.Equal(t, "2:16 / 2:13 / 2:05", shown(l.Parts[0].RestBeforeNext))
	assert.Equal(t, "6:00 / 6:00 / 6:00", shown(l.Parts[0].End))

	// The margin is of what is done after the last start, which the clock says: of 17 s, and not of 4:17. By
	// hand, 20 s, 20/1.1 and 20/0.9 on the curve through 17.0 and 25.3 (turn 3, tired).
	s := l.ShareUnrested(l.Parts[0], l.Parts[1], 130)
	assert.InDelta(t, 0.30, s.Of, 0.02)
	assert.InDelta(t, 0.19, s.Low, 0.02)
	assert.InDelta(t, 0.42, s.High, 0.02)

	// After a cap, what was done until it fell is in the legs.
	l = timesOf(t, hall(t, ""), "part A at 0:00 for time, cap 2:00\n  40 burpee\n\npart B at 3:00\n  20 air squat\n")
	carried := 73.954
	assert.InDelta(t, 32+(carried+32)*(carried+32)/12000-carried*carried/12000, l.Parts[1].Work.Typical, 0.001)

	// Who is done goes on until the cap, and rests no less than who is not.
	l = timesOf(t, hall(t, ""), "part A at 0:00 for time, cap 2:00\n  20 burpee\n  when done: max air squat\n\npart B at 3:00\n  20 air squat\n")
	assert.Equal(t, "2:00 / 2:00 / 2:00", shown(l.Parts[0].WorkEnd))
	assert.InDelta(t, 68+13+68*68/12000.0, l.Parts[0].Work.Typical, 0.01, "it is no part of the time")
	var squats estimate.Times
	for _, line := range l.Parts[0].Lines {
		if line.Movement == "air squat" {
			squats = line.N
		}
	}
	assert.Equal(t, 18.0, squats.Typical)
	assert.Zero(t, squats.Slow, "who misses the cap does none")
}

// Of tiers that a clock gives the same time, the one with the longest turn is shown, then the one that
// does least.
func TestTiersThatTie(t *testing.T) {
	_, p := first(t, hall(t, ""), "part A every 2:00 x 3\n  10/20 burpee\n")
	assert.Equal(t, 1, p.Tier, "twenty take longer than ten")
	_, p = first(t, hall(t, ""), "part A amrap 5:00\n  10 kettlebell swing @ 24/20 kg\n")
	assert.Equal(t, 1, p.Tier, "fewer swings, as 16 kg is meant there")
}

// Heats: one figure, of the last one; each heat is judged by its own start (the sums are by hand).
func TestHeatsEachByTheirOwnStart(t *testing.T) {
	l := timesOf(t, hall(t, ""), "part A at 0:00 for time, cap 8:00, in heats of 6 every 9:00\n  500 m row\n  30 burpee\n  rest at least 2:00\n\npart B at 24:30\n  20 air squat\n")
	p := l.Parts[0]
	assert.Equal(t, "3:27 / 4:25 / 6:24", shown(p.Work))
	assert.Equal(t, []float64{0, 540, 1080}, p.Heats.Starts)
	assert.Equal(t, []int{6, 6, 4}, p.Heats.Sizes)
	assert.Equal(t, "21:27 / 22:25 / 24:24", shown(p.End))
	assert.InDelta(t, 6.0, p.RestBeforeNext.Slow, 1, "rest left is that of the last heat")
	s := l.ShareUnrested(p, l.Parts[1], 120)
	assert.InDelta(t, 1.9/16, s.Of, 0.003, "only the last heat of four can fail")
	n, low, high := s.People()
	assert.Equal(t, [3]int{2, 1, 3}, [3]int{n, low, high})
	cap := l.Share(p, 480)
	alone, same := first(t, hall(t, ""), "part A at 0:00 for time, cap 8:00\n  500 m row\n  30 burpee\n")
	assert.InDelta(t, alone.Share(same, 480).Of, cap.Of, 1e-9, "a cap is each heat's")

	// In the same heats, each heat's rest is to its own start.
	l = timesOf(t, hall(t, ""), "part A at 0:00 for time, cap 8:00, in heats of 6 every 9:00\n  500 m row\n\npart B at 9:00 for time, in heats of 6 every 9:00\n  20 air squat\n")
	assert.InDelta(t, 540-l.Parts[0].Work.Typical, l.Parts[0].RestBeforeNext.Typical, 1e-6)

	// As many as there are at once are no heats.
	_, one := first(t, hall(t, ""), "part A for time, in heats of 16 every 9:00\n  500 m row\n")
	_, all := first(t, hall(t, ""), "part A for time\n  500 m row\n")
	assert.Equal(t, all.Room, one.Room)

	// Pairs start in heats of pairs.
	_, p = first(t, hall(t, ""), "part A for time, in pairs, in heats of 4 every 3:00\n  500 m row @ 2:00 per 500 m, split\n")
	assert.Equal(t, []int{4, 4}, p.Heats.Sizes)
}

// What lasts a stated time is work until its end, and so is what nobody can count.
func TestWorkThatFillsItsTime(t *testing.T) {
	for _, head := range []string{"lasts 10:00\n  5 burpee", "every 2:00 x 5\n  5 burpee\n  5+ sit-up"} {
		l := timesOf(t, loose(t, ""), "part A at 0:00 "+head+"\n\npart B at 12:00\n  5 burpee\n")
		assert.Equal(t, "2:00 / 2:00 / 2:00", shown(l.Parts[0].RestBeforeNext), head)
	}
}

// Turns until one is missed end at the first miss, or are open: never by a bound of the program.
func TestOpenTurns(t *testing.T) {
	ends := func(text string) string {
		_, p := first(t, loose(t, ""), text)
		var out []string
		for _, d := range p.Groups[0].Rounds {
			if d.Open {
				out = append(out, "open")
			} else {
				out = append(out, fmt.Sprint(d.Rounds))
			}
		}
		return strings.Join(out, " / ")
	}
	assert.Equal(t, "open / open / 0", ends("part A every 1:00 until missed\n  10 burpee\n"))
	assert.Equal(t, "open / 6 / 0", ends("part A every 1:00 until missed\n  15 burpee\n"))
	assert.Equal(t, "19 / 14 / 9", ends("part A every 1:00 until missed\n  1-2-... burpee\n"))
	assert.Equal(t, "10 / 10 / 0", ends("part A every 1:00 until missed, cap 10:30\n  10 burpee\n"))
}

// Lines of so many seconds, one after the other, take what is written: a change comes out of the later
// one's time. What is counted of a movement with a pace is the most that fits, and is in the legs afterwards.
func TestLinesBackToBackByTheClock(t *testing.T) {
	_, p := first(t, hall(t, ""), "part A for completion\n  1:00 burpee\n  1:00 kettlebell swing\n  1:00 box jump\n")
	assert.Equal(t, "3:00 / 3:00 / 3:00", shown(p.Work))
	for i, want := range []estimate.Times{{Fast: 20, Typical: 15, Slow: 9}, {Fast: 35, Typical: 25, Slow: 16}, {Fast: 22, Typical: 15, Slow: 9}} {
		assert.Equal(t, want, p.Lines[i].Counted, p.Lines[i].Movement)
		assert.Equal(t, "rep", p.Lines[i].CountedUnit)
	}
	l := timesOf(t, hall(t, ""), "part A for completion\n  1:00 burpee\n  1:00 kettlebell swing\n  1:00 box jump\n\npart B for time\n  20 air squat\n")
	carried := 15*3.4 + 25*1.7 + 15*3.3 // 143
	assert.InDelta(t, 32+((carried+32)*(carried+32)-carried*carried)/12000, l.Parts[1].Work.Typical, 1e-6)
	for _, lines := range []string{"1:00 plank\n  1:00 burpee", "1:00 burpee\n  1:00 plank", "1:00 plank\n  1:00 hollow hold"} {
		_, p = first(t, hall(t, ""), "part A for completion\n  "+lines+"\n")
		assert.Equal(t, "2:00 / 2:00 / 2:00", shown(p.Work), lines)
	}
	_, p = first(t, hall(t, ""), "part A 6 rounds for time\n  0:30 burpee\n  0:30 plank\n")
	assert.Equal(t, "6:00 / 6:00 / 6:00", shown(p.Work), "across rounds too")
	_, p = first(t, hall(t, ""), "part A for time\n  5 burpee\n  1:00 box jump\n")
	assert.Equal(t, "1:25", units.FormatClock(p.Work.Typical), "after work by count, a change")
}

// A limit under a least time is missed, whatever else is not known.
func TestSurelyOver(t *testing.T) {
	_, p := first(t, loose(t, ""), "part A for time, cap 20:00\n  10 km run\n  10 km row\n  400 burpee\n")
	assert.False(t, p.Proven())
	assert.True(t, p.SurelyOver(20*60))
	assert.False(t, p.SurelyOver(5*3600))
}

// Building up to the heaviest set takes eight lifts at least, by hand: 9.6 · r repetitions' time of moving, at 50 to 100 %
// each point above 60 a hundredth slower, eight set-ups and 11:00 of rest. W is that of the lifts.
func TestBuildUps(t *testing.T) {
	env := hall(t, "")
	for lift, want := range map[string]string{"1RM": "12:11 / 12:34 / 13:00", "3RM": "12:57 / 13:33 / 14:21"} {
		_, p := first(t, env, "part A for load\n  "+lift+" back squat\n")
		assert.False(t, p.Proven(), "without a window nobody knows how many lifts there are")
		assert.Equal(t, want, shown(p.Work))
		_, p = first(t, env, "part A for load, lasts 15:00\n  "+lift+" back squat\n")
		assert.Empty(t, p.Missing)
		assert.Equal(t, "15:00 / 15:00 / 15:00", shown(p.Work))
		assert.Equal(t, want, shown(p.Groups[0].BuildUp))
		assert.Equal(t, want, shown(p.WorkToCompletion))
	}
	l, p := first(t, env, "part A for load, lasts 15:00\n  1RM back squat\n\npart B for time\n  20 air squat\n")
	assert.InDelta(t, 9.6*3.1, p.Spent[1].Moving, 1e-6)
	_ = l
	_, p = first(t, env, "part A for load, lasts 20:00\n  3 back squat\n")
	assert.Equal(t, "12:57 / 13:33 / 14:21", shown(p.Groups[0].BuildUp), "a count is that of a set")
	_, p = first(t, env, "part A 3 rounds for load, lasts 20:00\n  3 back squat\n")
	assert.Zero(t, p.Groups[0].BuildUp, "the rounds say how many")
}

package estimate_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// constructs are pieces for every construct of the notation, with what a typical athlete
// takes in s by a sum on paper. Paces, changes and breaks are the book's and the house's:
// common practice, no source. Cadences make most of them exact.
var constructs = []struct {
	name, text string
	want       float64 // of Work.Typical; -1 where only soundness is asked
}{
	{"rounds", "part A 3 rounds for time\n  10 burpee @ 3 s per rep\n  10 sit-up @ 2 s per rep\n", 3*50 + 5*8},
	{"ladder", "part A ladder 3-2-1 for time\n  burpee @ 3 s per rep\n  sit-up @ 2 s per rep\n", 6*5 + 5*8},
	{"ladder with a line of its own", "part A ladder 3-2-1 for time\n  burpee @ 3 s per rep\n  10 sit-up @ 2 s per rep\n", 6*3 + 3*20 + 5*8},
	{"ladder of calories", "part A ladder 30-20-10 cal for time\n  row @ 2:05 per 500 m\n", 60 * 3600 / (4*0.8604*179.2 + 300)},
	{"series side by side", "part A 3 rounds for time\n  3-2-1 burpee @ 3 s per rep\n  1-2-3 sit-up @ 2 s per rep\n", 18 + 12 + 5*8},
	{"range at its top", "part A for time\n  8-12 burpee @ 3 s per rep\n", 36},
	{"sides double", "part A for time\n  10/side lunge @ 2 s per rep\n", 40},
	{"hold a side", "part A for time\n  0:30/side side plank\n", 60},
	{"N x with rests", "part A\n  3 x 10 burpee @ 3 s per rep, rest 1:00\n", 90 + 120},
	{"N x with falling rests", "part A\n  3 x 10 burpee @ 3 s per rep, rest 1:00 to 0:30\n", 90 + 90},
	{"N x on its own clock", "part A\n  3 x 10 burpee @ 3 s per rep, every 1:15\n", 75 + 75 + 30},
	{"sets with a rest line", "part A\n  3 x 3-2-1 burpee @ 3 s per rep, rest 1:00\n", 18 + 120},
	{"rests between sets of so many", "part A\n  20 burpee @ 3 s per rep, sets of 5, rest 0:30\n", 60 + 90},
	{"a last set that is not whole", "part A\n  21 burpee @ 3 s per rep, sets of 7, rest 0:30\n  18 burpee @ 3 s per rep, sets of 7, rest 0:30\n", 63 + 60 + 54 + 60},
	{"rest here", "part A 2 rounds for time\n  10 burpee @ 3 s per rep\n  rest 0:05\n  10 sit-up @ 2 s per rep\n", 2*(30+5+3+20) + 8},
	{"rest between rounds covers the change", "part A 3 rounds for time\n  10 burpee @ 3 s per rep\n  10 sit-up @ 2 s per rep\n  rest 1:00 to 0:30\n", 3*(50+8) + 90},
	{"rest in times of work", "part A 3 rounds for time\n  10 burpee @ 3 s per rep\n  rest 2 x work\n", 90 + 120},
	{"rest with work in it", "part A 3 rounds for time\n  10 burpee @ 3 s per rep\n  rest: 100 m walk @ 0.6 s per m\n", 90 + 2*(60+8)},
	{"rest after an inner head", "part A for time\n  2 rounds\n    10 burpee @ 3 s per rep\n    rest 1:00 after\n  10 sit-up @ 2 s per rep\n", 60 + 60 + 20},
	{"labels are names", "part A 3 rounds for time\n  A1: 10 burpee @ 3 s per rep\n  A2: 10 sit-up @ 2 s per rep\n", 3*50 + 5*8},
	{"a round of its own", "part A 3 rounds for time\n  10 burpee @ 3 s per rep\n  round 2: 10 sit-up @ 2 s per rep\n", 90 + 20 + 2*8},
	{"rounds of their own", "part A 4 rounds for time\n  10 burpee @ 3 s per rep\n  round 2-3: 2-4 sit-up @ 2 s per rep\n", -1},
	{"each side of a head", "part A 2 rounds for time, each side\n  10 lunge @ 2 s per rep\n", 80},
	{"every", "part A every 1:00 x 5\n  10 burpee @ 3 s per rep\n", 300},
	{"emom by slots", "part A emom 6:00\n  slot 1: 10 burpee @ 3 s per rep\n  slot 2: 0:40 plank\n  slot 3: rest\n", 360},
	{"every in laps with a rest between", "part A every 1:00 x 2 rounds\n  slot 1: 10 burpee @ 3 s per rep\n  slot 2: 0:40 plank\n  rest 1:30 between rounds\n", 240 + 90},
	{"on and off", "part A on 0:40 off 0:20 x 6\n  max burpee\n", 360},
	{"stations", "part A on 0:45 off 0:15 x 2 rounds\n  station 1: max cal ski\n  station 2: bag carry\n  station 3: step-up, alternating\n  rest 1:30 between rounds\n", 6*60 + 90},
	{"windows over and over", "part A on 3:00 off 1:00 x 4 amrap\n  10 push-up\n  10 sit-up\n", 960},
	{"windows that carry on", "part A on 2:00 off 1:00 x 4 amrap, carry on\n  8 kettlebell swing\n  10 step-up\n", 720},
	{"windows, once each", "part A on 3:00 off 1:00 x 4\n  10 push-up\n  10 sit-up\n", 960},
	{"one list over all windows", "part A on 1:00 off 0:30 x 4 for time, carry on\n  60 burpee @ 3 s per rep\n", 360},
	{"over and over in a slot", "part A every 2:00 x 2\n  slot 1: amrap: 5 burpee\n  slot 2: 10 sit-up\n", 240},
	{"over and over while it lasts", "part A\n  lasts 3:00\n    amrap\n      5 burpee\n      5 sit-up\n", 180},
	{"lasts", "part A lasts 10:00\n  10 burpee @ 3 s per rep\n", 600},
	{"lasts behind a colon", "part A for completion\n  lasts 0:40: plank\n  10 sit-up @ 2 s per rep\n", 40 + 20 + 8},
	{"an inner cap", "part A for completion\n  for time, cap 1:00: 100 burpee\n  10 sit-up @ 2 s per rep\n", 60 + 20 + 8},
	{"amrap", "part A amrap 7:00\n  10 burpee @ 3 s per rep\n", 420},
	{"until the clock", "part A every 3:00 x 2\n  100 m run @ 0.3 s per m\n  max bag swing until 2:40\n", 360},
	{"max in a window", "part A for completion\n  0:30 max sit-to-stand\n  10 sit-up @ 2 s per rep\n", 30 + 8 + 20},
	{"max calories in a window a side", "part A for completion\n  2:00 max cal air bike\n", 120},
	{"at a time", "part A amrap 9:00\n  12 sit-up @ 2 s per rep\n  at 7:00: 12 lunge @ 2 s per rep\n", 540},
	{"at a time, for time", "part A for time\n  50 sit-up @ 2 s per rep\n  at 0:31: 10 lunge @ 2 s per rep\n", 100 + 20 + 2*8},
	{"at each time", "part A for time\n  50 sit-up @ 2 s per rep\n  at each 1 min: 5 lunge @ 2 s per rep\n", 100 + 2*(10+2*8)},
	{"at each time from the start", "part A for time\n  50 sit-up @ 2 s per rep\n  at each 1 min from 0:00: 5 lunge @ 2 s per rep\n", -1},
	{"at each count", "part A for time\n  50 sit-up @ 2 s per rep\n  at each 20 reps: 5 lunge @ 2 s per rep\n", 100 + 2*(10+2*8)},
	{"at each distance", "part A for time\n  1000 m run @ 0.3 s per m\n  at each 400 m: 5 lunge @ 2 s per rep\n", 300 + 2*(10+2*8)},
	{"at each break", "part A for time\n  40 thruster\n  at each break: 5 lunge @ 2 s per rep\n", 40*2.8 + (40/6.0-1)*13 + 6*(10+2*8) + 40*2.8*40*2.8/12000},
	{"meanwhile takes no time", "part A for time, in pairs, one works\n  60 step-up @ 2 s per rep, split\n  meanwhile: wall sit\n", 120 + 3},
	{"when done, up to the cap", "part A for time, cap 10:00\n  10 burpee @ 3 s per rep\n  when done: max sit-up\n", 30},
	{"when done", "part A for time\n  10 burpee @ 3 s per rep\n  when done: 10 sit-up @ 2 s per rep\n", 30 + 8 + 20},
	{"any order", "part A for time\n  any order\n    10 burpee @ 3 s per rep\n    10 sit-up @ 2 s per rep\n", 58},
	{"choose one: the slower", "part A for time\n  choose one\n    10 burpee @ 3 s per rep\n    10 sit-up @ 2 s per rep\n", 30},
	{"or: the slower", "part A for time\n  10 push-up or 20 knee push-up\n", -1},
	{"a complex", "part A every 2:00 x 5\n  1 power clean + 2 hang clean + 1 push jerk @ 60 kg\n", 600},
	{"a complex for time", "part A for time\n  1 power clean + 2 hang power clean + 1 push jerk\n", -1},
	{"tempo", "part A for time\n  5 ring row, tempo 2-10-X-1\n", 70},
	{"held repetitions", "part A for time\n  10 glute bridge, tempo 1112\n", -1},
	{"breaths", "part A for completion\n  4 breath/side rear-foot-up hip stretch\n", -1},
	{"unbroken", "part A for time\n  8 kettlebell swing, unbroken\n", 8*1.7 + 8*8*1.7*1.7/12000},
	{"sets of", "part A for time\n  20 kettlebell swing, sets of 5\n", 34 + 3*13 + 34*34/12000.0},
	{"sets of two have shorter breaks", "part A for time\n  8 kettlebell swing, sets of 2\n", 13.6 + 3*13*(0.5+2/6.0) + 13.6*13.6/12000},
	{"a carry put down", "part A for time\n  400 m farmer carry\n", 300 + 3*13 + 300*300/12000.0},
	{"out of a rack", "part A for time\n  5 back squat\n", 8 + 15.5 + 15.5*15.5/12000},
	{"out of a rack, after something else", "part A for time\n  10 burpee @ 3 s per rep\n  5 back squat\n  10 burpee @ 3 s per rep\n", 30 + 8 + 15.5 + 8 + 30 + 15.5*15.5/12000},
	{"a tempo is the whole set", "part A for time\n  5 back squat, tempo 31X1\n", 30},
	{"broken", "part A for time\n  30 kettlebell swing, any sets\n", 51 + 13 + 51*51/12000.0},
	{"heavier", "part A for time\n  15 kettlebell swing @ 36/24 kg\n", 15*1.7*math.Pow(1.5, 0.25) + (math.Pow(1.5, 1.5)-1)*13 + math.Pow(15*1.7*math.Pow(1.5, 0.25), 2)/12000},
	{"share of a maximum, on its own", "part A\n  5 x 2 back squat @ 80%, rest 3:00\n", 5*8 + 10*3.1*1.2 + 4*180 + 5*(6.2*1.2*6.2*1.2)/12000},
	{"effort", "part A for time\n  effort 80-90%\n  10 burpee\n", 34*1.12 + math.Pow(34*1.12, 2)/12000},
	{"effort as a rating", "part A for time\n  effort RPE 8-9\n  10 burpee\n", 34*1.12 + math.Pow(34*1.12, 2)/12000},
	{"effort as a reserve", "part A for time\n  10 burpee @ 2 RIR\n", 34*1.16 + math.Pow(34*1.16, 2)/12000},
	{"effort of a line", "part A for time\n  effort 80-90%\n  10 burpee @ effort 100%\n", 34 + 34*34/12000.0},
	{"effort by a word", "part A for time\n  400 m run @ easy\n", 116*1.3 + math.Pow(116*1.3, 2)/12000},
	{"the pace of a race", "part A for time\n  400 m run @ 5 km pace\n", 116 * 1620 / 1450.0},
	{"pairs, split, one works", "part A for time, in pairs, one works\n  1000 m row @ 2:00 per 500 m, split\n", 240 + 3},
	{"pairs, split, all at once", "part A for time, in pairs\n  60 burpee @ 3 s per rep, split evenly\n", 90 + 3},
	{"pairs, together", "part A for time, in pairs\n  60 burpee @ 3 s per rep, together\n", 180},
	{"pairs, each in turn", "part A 3 rounds for time, in pairs, one works\n  10 burpee @ 3 s per rep\n", 6*30 + 5*3},
	{"pairs, rounds dealt out", "part A 6 rounds for time, in pairs, one works, split\n  10 burpee @ 3 s per rep\n", 6*30 + 5*3},
	{"pairs, rounds dealt out, at once", "part A 6 rounds for time, in pairs, split\n  10 burpee @ 3 s per rep\n", 3 * 30},
	{"relay", "part A for time, in teams of 4\n  2 rounds\n    60 m farmer carry @ 0.5 s per m\n    tag\n    10 sit-up @ 2 s per rep\n", 8*30 + 7*3 + 8*math.Pow(1.5, 1.1803/1.28155) + 20},
	{"heats", "part A for time, cap 8:00, in heats of 6 every 9:00\n  500 m row @ 2:00 per 500 m\n", 120},
	{"pairs in heats", "part A for time, in pairs, in heats of 4 every 3:00\n  500 m row @ 2:00 per 500 m, split\n", -1},
	{"waves", "part A 2 rounds, each +2.5%\n  3 x 4-3-2 deadlift @ 72.5-77.5-82.5%, rest 2:00\n  rest 2:30\n", -1},
	{"a rest that names a repeat further out", "part A 2 rounds for time\n  ladder 2-1\n    burpee @ 3 s per rep\n    rest 1:00 between rounds\n", 2*9 + 60},
	{"a rest between stations", "part A on 0:45 off 0:15 x 1 round\n  station 1: max cal ski\n  station 2: bag carry\n  station 3: burpee\n  rest 0:15 between stations\n", 180 + 30},
	{"counted work at a station, over and over", "part A on 1:00 off 0:30 x 1 round amrap\n  station 1: 5 burpee\n  station 2: 10 sit-up\n", 180},
	{"rest after a part in labels", "part A\n  A1: 10 burpee @ 3 s per rep\n  rest 1 x work\n", 30},
	{"rest after a part, last under a label", "part A\n  Buy-in:\n    10 burpee @ 3 s per rep\n    rest 2:00\n", 30},
	{"rest after an inner head, under a label", "part A for time\n  2 rounds\n    Work:\n      10 burpee @ 3 s per rep\n      rest 1:00 after\n  10 sit-up @ 2 s per rep\n", 60 + 60 + 20},
	{"rest between the rounds of an event", "part A amrap 1:00\n  10 burpee @ 3 s per rep\n  at 0:30\n    2 rounds\n      1 sit-up @ 2 s per rep\n      rest 0:10\n", 60},
	{"strokes a minute say nothing of speed", "part A for time\n  500 m row @ 26 spm\n", 125 + 125*125/12000.0},
	{"share of a 5RM", "part A\n  2 x 2 back squat @ 80% of 5RM, rest 3:00\n", 2*8 + 2*6.2*(1+0.8/(1+5/30.0)-0.6) + 180 + 2*math.Pow(6.2*(1+0.8/(1+5/30.0)-0.6), 2)/12000},
	{"share of today", "part A\n  1:00 back squat\n  rest 3:00\n  2 x 2 back squat @ 80% of today, rest 3:00\n", 60 + 180 + 2*8 + 2*6.2*1.2 + 180 + 2*math.Pow(6.2*1.2, 2)/12000},
	{"share of another lift, on a clock", "part A every 2:00 x 3\n  3 push jerk @ 80% of clean\n", 360},
	{"share of bodyweight", "part A for time\n  20 m farmer carry @ 2x50% of bodyweight\n", 15 + 15*15/12000.0},
	{"more than twenty minutes of moving", "part A for time\n  5000 m row\n", 1250 + 0.2*(1250-600)},
	{"kit on top", "part A for time, with vest @ 6/4 kg\n  10 burpee\n", 34 + 34*34/12000.0},
	{"tiers", "part A 3/2 rounds for time\n  14/11 cal row @ 2:05 per 500 m\n", 3 * 14 * 3600 / (4*0.8604*179.2 + 300)},
}

// Every construct by a sum on paper (common practice, no source).
func TestConstructs(t *testing.T) {
	for _, c := range constructs {
		l, p := first(t, hall(t, ""), c.text)
		sound(t, l)
		assert.True(t, p.Proven(), "%s: %+v", c.name, p.Missing)
		if c.want >= 0 {
			assert.InDelta(t, c.want, p.Work.Typical, 0.01, c.name)
		} else {
			assert.Greater(t, p.Work.Typical, 0.0, c.name)
		}
		if !p.Outlasts {
			assert.InDelta(t, p.Work.Typical, p.Spent[1].Total(), 0.01, "%s: %+v", c.name, p.Spent[1])
		}
	}
}

// Heats: so many start, and the room is free when the last are done (arithmetic).
func TestHeats(t *testing.T) {
	_, p := first(t, swift(t), "part A for time, in heats of 6 every 9:00\n  500 m row @ 2:00 per 500 m\n")
	assert.InDelta(t, 2*540+120, p.Room, 1e-6, "sixteen in heats of six are three")
	_, p = first(t, hall(t, ""), "part A for time, in heats of 6\n  500 m row @ 2:00 per 500 m\n")
	assert.InDelta(t, 3*120+2*12, p.Room, 1e-6, "one after the other, with a change between")
}

// An average of two varies less than one of them, and the slower of two is slower than
// most: 60 burpees, shared or done together (arithmetic of averages and of the slowest).
func TestTeams(t *testing.T) {
	env := hall(t, "")
	_, alone := first(t, env, "part A for time\n  30 burpee\n")
	_, split := first(t, env, "part A for time, in pairs\n  60 burpee, split\n")
	_, both := first(t, env, "part A for time, in pairs\n  30 burpee, together\n")
	assert.Less(t, split.Work.Slow, alone.Work.Slow)
	assert.Greater(t, split.Work.Fast, alone.Work.Fast)
	assert.Greater(t, both.Work.Typical, alone.Work.Typical)
	assert.Greater(t, both.Work.Fast, alone.Work.Fast)
	l, p := first(t, env, "part A for time\n  30 burpee\n")
	assert.InDelta(t, both.Work.Typical, l.At(p, math.Sqrt(0.5)), 1e-6, "each stands at the root of the pair")
}

// The wall clock: what stands before 0:00, starts that are written, and parts that start
// when the room is free (arithmetic).
func TestWallClock(t *testing.T) {
	l := timesOf(t, swift(t), `warm-up lasts 10:00
  3:00 jog

part A at 0:00 for time, cap 2:00
  60 burpee @ 3 s per rep

part B
  10 burpee @ 3 s per rep
  rest 1:00

part C
  10 burpee @ 3 s per rep

part D at 10:00
  10 burpee @ 3 s per rep

cool-down lasts 5:00
  1:00 cobra
`)
	starts := []float64{-600, 0, 120, 210, 600, 630}
	for i, p := range l.Parts {
		assert.InDelta(t, starts[i], p.Start, 1e-6)
		assert.InDelta(t, starts[i]+600, p.Began, 1e-6)
		assert.True(t, p.Settled)
	}
	assert.InDelta(t, 180, l.Parts[1].Work.Typical, 1e-6, "a cap cuts nothing of what the work takes")
	assert.InDelta(t, 120, l.Parts[1].End.Typical, 1e-6)
	assert.InDelta(t, 180, l.Parts[0].WorkToCompletion.Typical, 1e-6)
	assert.InDelta(t, 60, l.Parts[2].RestBehind.Typical, 1e-6)
	assert.InDelta(t, 600-240, l.Parts[3].RestBeforeNext.Typical, 1e-6)
	assert.InDelta(t, 600+630+300, l.Length, 1e-6)
	assert.True(t, l.Settled)
}

// What is still in the legs counts in the next part, less what the time between clears
// (the model's own rule; no source).
func TestDriftBetweenParts(t *testing.T) {
	at := func(start string) float64 {
		l := timesOf(t, hall(t, ""), "part A at 0:00 for time\n  1000 m row\n\npart B"+start+"\n  50 burpee\n")
		return l.Parts[1].Work.Typical
	}
	fresh := at(" at 20:00")
	_, alone := first(t, hall(t, ""), "part A\n  50 burpee\n")
	assert.InDelta(t, alone.Work.Typical, fresh, 1e-6, "three minutes clear it all")
	assert.InDelta(t, fresh+2*250*170/12000.0, at(" at 4:15"), 1.0, "nothing cleared: 2·W·w/12,000 more")
	l := timesOf(t, hall(t, ""), "warm-up\n  500 m row\n\npart A\n  50 burpee\n")
	assert.InDelta(t, alone.Work.Typical, l.Parts[1].Work.Typical, 1e-6, "a warm-up tires nobody")
}

// Where the text or the book says too little, the estimate gives the least and says which
// words are missing (section 7 of spec/estimates.md; no other source).
func TestWhatIsMissing(t *testing.T) {
	own := `movement pier hop
  trains jump

movement pier crawl
  trains crawl
  pace 3 / 2 / 1 s per rep > no source

movement pier heave
  trains hinge
  needs barbell
  pace 2 / 3 / 4 s per rep > no source
  unbroken 5 / 2 / 0.5 > no source
`
	for _, c := range []struct {
		text, words, why string
		held             bool
		least            float64
	}{
		{"part A for time\n  10 burpee @ 3 s per rep\n  10 pier hop\n", "pier hop", "has no pace per rep", false, 30},
		{"part A for time\n  10 burpee @ 3 s per rep\n  10 pier crawl\n", "pier crawl", "out of order", false, 30},
		{"part A for time\n  10 burpee @ 3 s per rep\n  10 pier heave\n", "pier heave", "below one", false, 30},
		{"part A\n  10 burpee @ 3 s per rep\n  rest as needed\n  10 burpee @ 3 s per rep\n", "rest as needed", "has no length", false, 60},
		{"part A lasts 10:00\n  10 burpee @ 3 s per rep\n  rest as needed\n  10 burpee @ 3 s per rep\n", "rest as needed", "has no length", true, 600},
		{"part A for time\n  10 burpee @ 3 s per rep\n  max push-up\n", "max", "max has no end", false, 30},
		{"part A 2 rounds, cap 10:00\n  10 burpee @ 3 s per rep\n  rest: max cal row\n", "max cal", "set of max", false, 60},
		{"part A for time, cap 10:00\n  7 x max dip, rest 0:50\n", "7 x max", "set of max", false, 300},
		{"part A lasts 10:00\n  7 x max dip, rest 0:50\n", "7 x max", "set of max", true, 600},
		{"part A 3 rounds, cap 10:00\n  max dip\n  rest 0:50\n", "max", "set of max", false, 100},
		{"part A for load\n  2 push press\n", "2 push press", "how many sets", false, 0},
		{"part A for load, lasts 15:00\n  2 push press\n", "", "", true, 900},
		{"part A\n  3RM bench press\n", "3RM", "build up", false, 0},
		{"part A for time\n  5 x 60% of max push-up, rest 1:00\n", "60%", "only the athlete", false, 240},
		{"part A for time\n  5+ back squat\n", "5+", "more than this", false, 15},
		{"part A for time\n  10 kettlebell swing @ 60/40 kg\n", "@ 60/40 kg", "more than twice", false, 0},
		{"part A for time\n  400 m run @ 120-130 bpm\n", "@ 120-130 bpm", "differs from athlete to athlete", false, 116},
		{"part A ladder 2-4-... for time\n  burpee\n", "ladder 2-4-...", "nothing says when this ends", false, 0},
		{"part A for time, cap 5:00\n  ladder 2-4-...\n    burpee\n", "ladder 2-4-...", "", true, 300},
		{"part A\n  3 x 5-3-1 push press\n", "3 x 5-3-1 push press", "no rest is written", false, 20},
		{"part A\n  5 x 5 push press\n", "5 x 5 push press", "no rest is written", false, 50},
		{"part A for time\n  max burpee until > Form breaks.\n", "until", "nobody knows when this ends", false, 0},
		{"part A for time\n  max burpee until 150 bpm\n", "until 150 bpm", "nobody knows when this ends", false, 0},
		{"part A for time\n  1+ rounds until > You are done.\n    10 burpee\n", "1+ rounds until", "nothing says when this ends", false, 34},
		{"part A for time\n  10 burpee\n  rest until 125 bpm\n  10 burpee\n", "until 125 bpm", "when this rest ends", false, 68},
		{"part A for time\n  10 burpee\n  rest at least 1:00 until 125 bpm\n  10 burpee\n", "until 125 bpm", "when this rest ends", false, 128},
		{"part A for time\n  3000 m run\n  3000 m row\n  400 burpee\n", "part A for time", "40 minutes", false, 2400},
		{"part A for time\n  20 kettlebell swing, unbroken\n", "20 kettlebell swing, unbroken", "unbroken", false, 34},
	} {
		l, p := first(t, loose(t, own), c.text)
		sound(t, l)
		assert.GreaterOrEqual(t, p.Work.Typical, c.least-0.01, c.text)
		if c.why == "" {
			assert.True(t, p.Proven(), c.text)
			continue
		}
		found := false
		for _, m := range p.Missing {
			found = found || m.At.Text() == c.words && assert.Contains(t, m.Why, c.why) && assert.Equal(t, c.held, m.Held, c.text)
		}
		assert.True(t, found, "%s%q", c.text, texts(p))
		assert.Equal(t, c.held, p.Proven(), c.text)
		assert.Equal(t, c.held, l.Settled, c.text)
		assert.Equal(t, c.held, l.Share(p, 600).Proven, c.text)
	}
}

func texts(p *estimate.PartTime) (out []string) {
	for _, m := range p.Missing {
		out = append(out, m.At.Text()+": "+m.Why)
	}
	return out
}

// What is left out is said (common practice, no source).
func TestNotes(t *testing.T) {
	_, p := first(t, hall(t, ""), "part A for time\n  effort 40%\n  8 box jump @ 60/50 cm\n  8 deadlift @ 60/40 kg\n")
	var notes []string
	for _, n := range p.Notes {
		notes = append(notes, n.Text)
	}
	assert.Contains(t, notes, "weights not counted: deadlift says no load for its pace")
	assert.Contains(t, notes, "effort below 60 % is read as 60 %")
	_, easy := first(t, hall(t, ""), "part A for time\n  effort 60%\n  8 box jump @ 60/50 cm\n  8 deadlift @ 60/40 kg\n")
	assert.Equal(t, easy.Work, p.Work)
}

// Tiers are walked one by one; the slowest is what limits are compared with (the model's own
// rule; no source).
func TestTiers(t *testing.T) {
	_, p := first(t, hall(t, ""), "part A 2/3 rounds for time\n  10 burpee\n")
	assert.Equal(t, 1, p.Tier)
	assert.Len(t, p.Tiers, 2)
	assert.Equal(t, p.Tiers[1], p.Work)
	_, p = first(t, hall(t, ""), "part A 2 rounds for time\n  10 kettlebell swing @ 24/16 kg\n")
	assert.Empty(t, p.Tiers, "both have the load that the pace was taken at")
	_, p = first(t, hall(t, ""), "part A 2 rounds for time\n  10 kettlebell swing @ 24/20 kg\n")
	assert.Equal(t, 1, p.Tier, "20 kg is heavy for whom 16 kg is meant")
}

// U01 and U02: a pound is 0.45359237 kg (NIST SP 811), two dumbbells are both of them.
func TestLoadsOfPaces(t *testing.T) {
	assert.Equal(t, []float64{24, 16}, estimate.Mass("24/16 kg"))
	assert.Equal(t, []float64{30, 20}, estimate.Mass("2x15/10 kg"))
	assert.InDelta(t, 24.0404, estimate.Mass("@ 53 lb")[0], 1e-4, "U01")
	for _, odd := range []string{"", "kg", "24", "60 cm", "x kg", "0 kg", "a/b kg", "2x kg"} {
		assert.Empty(t, estimate.Mass(odd), odd)
	}
}

// loose is a hall with movements of its own that draw findings.
func loose(t rapid.TB, movements string) *model.Env {
	t.Helper()
	env, _ := model.NewEnv([]*model.Decls{model.Declare(syntax.Parse(source.New("movements/own.stint", movements)))}, nil)
	return env
}

// What is done in a rest may differ from tier to tier, and an event may rest between rounds of its own.
func TestWorkInARestAndRestInAnEvent(t *testing.T) {
	_, p := first(t, hall(t, ""), "part A 2 rounds for time\n  10 burpee @ 3 s per rep\n  rest: 100/200 m walk @ 0.6 s per m\n")
	require.Len(t, p.Tiers, 2)
	assert.Equal(t, 1, p.Tier, "whoever walks further")
	assert.InDelta(t, p.Tiers[0].Typical+60, p.Tiers[1].Typical, 1e-9)

	_, p = first(t, swift(t), "part A amrap 1:00\n  10 burpee @ 3 s per rep\n  at 0:30\n    2 rounds\n      1 sit-up @ 2 s per rep\n      rest 0:10\n")
	assert.InDelta(t, 10+1, p.Spent[1].Rest, 1e-9, "and a second at the end that is too short for a burpee")
}

package referencemodel

import "math"

// Step is a [Work], a [Rest], a [Group] or a [Tag].
type Step interface{ step() }

// Sharing says how the members of a team do a line.
type Sharing int

// The ways to share a line. Each is the default: everybody does all of it.
const (
	Each Sharing = iota
	Split
	SplitEvenly
	Together
)

// Max as a count asks for as much as the window holds.
var Max = math.Inf(1)

// Work is a line of work. Exactly one of Count, For and Fixed says how much. With Fixed or Cadence
// the seconds are the same for everybody: no effort, drift, breaks or set-up, and no run is spent.
type Work struct {
	Move    Movement
	Count   float64 // units, or [Max]
	For     float64 // seconds by the clock, in which whole units are done
	Fixed   float64 // seconds of a hold, or of whatever else has no units
	Cadence float64 // seconds a unit: a tempo, a stated pace; 0: as quickly as the athlete can

	Calories bool    // the count is of calories on a rower
	Effort   float64 // 1 is full; 0 means 1; below 0.6 counts as 0.6
	OfMax    float64 // share of a maximum; 0: none
	Straight bool    // a straight set, not a line against the clock: only OfMax limits the run
	Load     float64 // ratio to the load of the movement's pace; 0 means 1

	Unbroken bool    // no breaks
	SetsOf   float64 // a break after every so many; 0: as the run has it

	Sharing Sharing
}

// Rest is a stated rest in seconds.
type Rest struct{ Seconds float64 }

// Group repeats steps. Its zero count of rounds means one.
type Group struct {
	Rounds int
	Steps  []Step
	Rest   float64 // seconds between rounds
	Dealt  bool    // the rounds are the team's
}

// Tag hands on to the next member, who starts the list that holds it.
type Tag struct{}

func (Work) step()  {}
func (Rest) step()  {}
func (Group) step() {}
func (Tag) step()   {}

// Sets is n sets of a line with a rest between them.
func Sets(n int, w Work, rest float64) Group {
	return Group{Rounds: n, Steps: []Step{w}, Rest: rest}
}

// Ladder does every line once for every count.
func Ladder(counts []float64, lines ...Work) Group {
	var g Group
	for _, c := range counts {
		for _, w := range lines {
			w.Count = c
			g.Steps = append(g.Steps, w)
		}
	}
	return g
}

// Mode is how a clock and a part go together.
type Mode int

// The modes. ForTime is the default.
const (
	ForTime Mode = iota // done once
	AMRAP               // repeated until Time is gone
	Every               // a turn starts each Time, Turns times
	Windows             // Time on and Off off, Turns times; once a window
	Repeats             // the same, repeated within each window
)

// Part is a piece of work under one clock.
type Part struct {
	Mode  Mode
	Steps []Step

	Time  float64 // seconds: the length, the interval, or the time on
	Off   float64 // seconds between windows
	Turns int     // turns or windows; with Every, 0 goes on until one is missed
	// Turn has the steps of a turn, the first being 0, where they differ; else they are Steps.
	// A turn without work is a slot of rest.
	Turn    func(n int) []Step
	CarryOn bool // windows, or legs under a pacer, go on where the last one stopped

	Cap      float64 // seconds; 0: none
	WhenDone []Step  // what is done from the work's end until the cap

	Team      int    // members; 0 and 1 are one body
	OneWorks  bool   // the others wait
	Dealt     bool   // Steps are one round, which the members take in turn (with AMRAP)
	Meanwhile bool   // those who wait do something, which neither rests nor moves
	Pacer     []Step // what the next to work does, and what decides how long a leg is
}

// clockwork says that the work takes everybody the same time.
func (w Work) clockwork() bool { return w.Fixed > 0 || w.Cadence > 0 }

// pacedOnFoot says that a way on foot is at a stated pace: two of those go on without a change.
func (w Work) pacedOnFoot() bool { return w.Cadence > 0 && w.Move.OnFoot }

// factor is what effort, heaviness and load make of the moving time.
func (w Work) factor() float64 {
	f := 1.0
	if w.Effort != 0 {
		f += 0.8 * (1 - max(0.6, w.Effort)) // four per cent for five points off
	}
	if w.OfMax > 0 {
		f *= 1 + max(0, w.OfMax-0.60)
	}
	if w.Load > 0 {
		f *= math.Pow(w.Load, 0.25)
	}
	return f
}

// pace is the moving seconds of a unit at a standing.
func (w Work) pace(z float64) float64 {
	p := w.Move.Pace.At(z) * w.factor()
	if w.Calories && w.Move.Rower {
		return CaloriePace(p)
	}
	return p
}

// run is the units done before a break at a standing; 0 where it is never put down.
func (w Work) run(z float64) float64 {
	u := w.Move.Unbroken.At(z)
	if w.OfMax > 0 {
		most := max(1, 30*(1/w.OfMax-1))
		switch {
		case w.Straight:
			u = most
		case u == 0:
			u = most / 2
		default:
			u = min(u, most/2)
		}
	}
	if u == 0 {
		return 0
	}
	if w.Load > 0 {
		u /= math.Pow(w.Load, 1.5)
	}
	return max(1, u)
}

package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/model"
)

// Times is a figure for a fast, a typical and a slow athlete: the 10th, 50th and 90th
// percentile of the house's members. It is in seconds where nothing else is said.
type Times struct{ Fast, Typical, Slow float64 }

// At is the figure of level 0, 1 or 2: fast, typical, slow.
func (t Times) At(level int) float64 { return [3]float64{t.Fast, t.Typical, t.Slow}[level] }

func (t *Times) set(level int, v float64) {
	*[3]*float64{&t.Fast, &t.Typical, &t.Slow}[level] = v
}

// ordered lets nobody who is slower be shown as quicker. A rest that clears a little more fatigue of
// the slow may turn two times round by a second.
func (t *Times) ordered() {
	t.Typical = max(t.Typical, t.Fast)
	t.Slow = max(t.Slow, t.Typical)
}

// A PartTime is how long a part takes, for its slowest tier.
type PartTime struct {
	Group *model.Group
	// Start is when the part starts, in s on the wall clock: the room's, which waits for the
	// slow athlete or the cap. What stands before 0:00 is less than nothing. Began is the
	// same from the start of the session.
	Start, Began float64
	Pinned       bool // the text says when it starts
	Settled      bool // nothing that is missing moves its start; otherwise that is the soonest
	BeganSettled bool // nothing that is missing moves Began
	StartBeyond  bool // where it is not settled: only as some part before is beyond the range of the model
	// Early is by how much sooner it starts, in s, with no more done before it than the text asks for.
	Early float64

	// Team is how many people work together in it, 1 where everybody works for themselves. Then its times
	// are a fast, a typical and a slow team's.
	Team int

	Tier  int     // of the house, from 0: the slowest, whose figures these are
	Tiers []Times // Work by tier, where they differ

	Work             Times    // s: from its start until it is done; a window counts whole, a cap cuts nothing
	WorkToCompletion Times    // s: what it would take if nothing stopped it; zero where that is not known
	CappedWork       Times    // s: Work, but no longer than the cap
	WorkEnd          Times    // s: from its start until the last work of the last heat ends, or the cap; a clock may go on after that
	Rest             Times    // s of Work that are rest: written, and what clocks and windows leave
	End              Times    // s on the wall clock: Start, that of the last heat, and CappedWork
	RestBehind       Times    // s of rest that is written behind it
	RestBeforeNext   Times    // s from WorkEnd to the start of the next part; less than nothing where it runs into it
	Spent            [3]Spent // Work by what it was spent on, by level

	// Near is Work with no more than the text asks for: the low end of ranges, and nothing that depends
	// on a condition. Where nothing varies it is Work.
	Near Times

	// FillsCap says that who is done early goes on with something else until the cap.
	FillsCap bool

	Queue *Queue // nil where nobody waits for kit, and where nothing is known of how long
	Heats *Heats // nil where everybody starts at once, and where nobody knows how many heats there are

	// Outlasts says that it goes on until somebody misses a turn. Then the quick are at it
	// longest, and Work may fall from the fast to the slow.
	Outlasts bool

	Room float64 // s that the part has the room: the slow athlete or the cap, and all heats
	// leastRoom and leastBehind are Room and the rest behind it with no more than the text asks for.
	leastRoom, leastBehind float64
	Lines                  []LineTime
	Others                 []LineTime // those that who chooses otherwise does instead
	// Groups are the times of the heads inside it, the part itself first.
	Groups []*GroupTime

	// Missing is what no figure could be made up for. Where some of it is not Held, every
	// time here is the least, and no limit is proven.
	Missing []Missing
	Notes   []Note

	exactUntil Times // s from its start, until when the clock alone says when the work in it ends

	index int
}

// SurelyOver says whether the typical athlete is over a limit, in s, even by the least time that the part
// can take: where something is missing, and without the drift where that was not made for so much moving.
func (p *PartTime) SurelyOver(limit float64) bool {
	least := p.Near.Typical
	if p.Spent[1].Moving > mostMoving {
		least -= p.Spent[1].Drift
	}
	return !p.Outlasts && least > limit+Tolerance
}

// Proven says whether Work may be compared with a limit.
func (p *PartTime) Proven() bool { return proven(p.Missing) }

// Beyond says that its times are an estimate beyond the range of the model, and no least.
func (p *PartTime) Beyond() bool { return beyond(p.Missing) }

// Hedge is the word before its times: none where they are proven, at least, or about.
func (p *PartTime) Hedge() string { return hedge(p.Proven(), p.Beyond()) }

// HedgeEnd is the word before End, which depends on when it starts too.
func (p *PartTime) HedgeEnd() string {
	sure, started := p.Proven(), p.Settled
	return hedge(sure && started, (sure || p.Beyond()) && (started || p.StartBeyond))
}

// SoonestEnd is End with no more than the text asks for, in it and before it.
func (p *PartTime) SoonestEnd() Times {
	end := func(near, capped float64) float64 { return p.Start - p.Early + p.LastStart() + min(near, capped) }
	return Times{end(p.Near.Fast, p.CappedWork.Fast), end(p.Near.Typical, p.CappedWork.Typical), end(p.Near.Slow, p.CappedWork.Slow)}
}

// GroupOf finds the times of a group inside the part.
func (p *PartTime) GroupOf(g *model.Group) (*GroupTime, bool) {
	i := slices.IndexFunc(p.Groups, func(t *GroupTime) bool { return t.Group == g })
	if i < 0 {
		return nil, false
	}
	return p.Groups[i], true
}

// A GroupTime is how long a group inside a part takes, by level.
type GroupTime struct {
	Group *model.Group
	Took  Times // s: the longest time through it
	Began Times // s on the clock around it, when it is first begun
	// Counted says that nothing but the clock says how many rounds there are; Rounds are how
	// many were done.
	Counted bool
	Rounds  [3]Done
	Turns   [3]Turn // the longest turn, where a clock starts them
	Proven  bool    // nothing that its times depend on is missing
	// BuildUp is how long it takes at least to build up to the heaviest sets in it, in s, whatever there is
	// time for; zero where nothing is built up to.
	BuildUp Times

	Near *GroupTime // with no more than the text asks for; nil where that is all the same
}

// AtLeast are the times with no more than the text asks for.
func (t *GroupTime) AtLeast() *GroupTime {
	if t.Near != nil {
		return t.Near
	}
	return t
}

// Done is how far somebody gets: whole rounds, and what is done of the next.
type Done struct {
	Rounds int
	Then   []Count

	Open bool // nobody at this standing ever misses a turn: how many they do, nothing says

	Windows []Done // the same for each window, where rounds are done in several
}

// A Count is so much of a movement.
type Count struct {
	Movement string
	Unit     string // "rep", "m", "cal", "breath", "s"
	N        float64
}

// A Turn is the longest of those that a clock starts. Number is 0 where there is none.
type Turn struct {
	Number    int     // from 1
	Took      float64 // s
	Stated    float64 // s of Took that the text states, whatever anybody's pace
	Interval  float64 // s from its start to the next, or to the end of its window
	LeastRest float64 // s of rest in the turn that leaves least; less than nothing where it does not fit
}

// A LineTime is how much of a line is done, and how long that takes, over all its turns, by level.
type LineTime struct {
	Work     *model.Work
	Movement string
	Unit     string
	N        Times // how much was done, in Unit
	// Counted is how much of a movement with a pace is done in a line of so many seconds, in whole
	// CountedUnit, which is empty where nothing is counted.
	Counted     Times
	CountedUnit string
	Goes        [3]int // how often it was gone at
	Spent       [3]Spent
	// LeastEffort and MostEffort are by what factor effort makes the moving of its turns longer; 0 where
	// no pace of the book is in it.
	LeastEffort, MostEffort float64
	// From and To are when an athlete first starts it and last finishes it, in s since the part
	// began: in a team, the first to work.
	From, To Times
}

// aggregate gathers what a part took from its runs: by tier, and of those the three athletes of the
// slowest.
func (t *Timeline) aggregate(p *PartTime, runs [][3]athleteRun) {
	p.Tier = slowestTier(runs)
	if len(runs) > 1 {
		for _, of := range runs {
			v := Times{of[0].work, of[1].work, of[2].work}
			v.ordered()
			p.Tiers = append(p.Tiers, v)
		}
		if !slices.ContainsFunc(p.Tiers, func(o Times) bool { return o != p.Tiers[0] }) {
			p.Tiers = nil
		}
	}
	p.levels(runs[p.Tier])
	var all unknowns
	for _, of := range runs {
		for i := range of {
			all.add(&of[i].unknowns)
		}
	}
	all.sort()
	p.Missing, p.Notes = all.missing, all.notes
	slow := &runs[p.Tier][2]
	longest := max(p.CappedWork.Fast, p.CappedWork.Typical, p.CappedWork.Slow, slow.fillsUntil)
	p.Heats = t.heatsOf(p, longest)
	p.Room = p.LastStart() + longest + slow.heatsExtra
	p.leastRoom, p.leastBehind = p.Room, p.RestBehind.Slow
	if near := slow.near; near != nil {
		least := max(min(longest, max(p.Near.Fast, p.Near.Typical, p.Near.Slow)), near.fillsUntil)
		p.leastRoom = p.LastStart() + least + near.heatsExtra
		p.leastBehind = min(near.restBehind, p.leastBehind)
	}
	for l := range Standings {
		p.WorkEnd.set(l, p.LastStart()+p.WorkEnd.At(l))
	}
	p.setEnd()
}

// setEnd says when the part is done on the wall clock.
func (p *PartTime) setEnd() {
	for l := range Standings {
		p.End.set(l, p.Start+p.LastStart()+p.CappedWork.At(l))
	}
}

// levels takes over the runs of a fast, a typical and a slow athlete.
func (p *PartTime) levels(of [3]athleteRun) {
	for i := range of {
		run := &of[i]
		p.Work.set(i, run.work)
		p.Near.set(i, run.work)
		if run.near != nil {
			p.Near.set(i, min(run.work, run.near.work))
		}
		p.CappedWork.set(i, run.cappedWork)
		p.WorkEnd.set(i, run.workEnd)
		p.exactUntil.set(i, run.exactUntil)
		p.FillsCap = p.FillsCap || run.fillsUntil > 0
		p.WorkToCompletion.set(i, run.workToCompletion)
		p.RestBehind.set(i, run.restBehind)
		p.Spent[i] = run.spent
		p.Rest.set(i, run.spent.Rest)
		p.Outlasts = p.Outlasts || run.outlasts
	}
	if of[0].workToCompletion == 0 || of[1].workToCompletion == 0 || of[2].workToCompletion == 0 {
		p.WorkToCompletion = Times{}
	}
	for _, t := range []*Times{&p.Work, &p.Near, &p.CappedWork, &p.WorkEnd, &p.WorkToCompletion, &p.RestBehind} {
		if !p.Outlasts {
			t.ordered()
		}
	}
	p.Lines = lines(of, nil, func(r *athleteRun) []logEntry { return r.log })
	p.Others = lines(of, p.Lines, func(r *athleteRun) []logEntry { return r.others })
	near, varies := of, false
	for i := range near {
		if n := of[i].near; n != nil {
			near[i], varies = *n, true
		}
	}
	// What is done in a rest has no figures of its own: the rest lasts as long as that takes.
	model.Walk(p.Group, model.InsideEvents, func(s model.Step, _ []*model.Group) bool {
		if g, ok := s.(*model.Group); ok {
			if t := groupTime(g, of); t != nil {
				if varies {
					t.Near = groupTime(g, near)
				}
				p.Groups = append(p.Groups, t)
			}
		}
		return true
	})
}

func groupTime(g *model.Group, of [3]athleteRun) *GroupTime {
	t := &GroupTime{Group: g, Proven: true}
	for i := range of {
		record := of[i].records[g]
		if record == nil {
			return nil // it is never reached
		}
		t.Took.set(i, record.longest)
		t.Began.set(i, record.began)
		t.Counted = t.Counted || record.counted
		t.Proven = t.Proven && !record.unproven
		t.Turns[i] = record.longestTurn
		t.BuildUp.set(i, record.buildUp)
		if record.counted {
			t.Rounds[i] = Done{Rounds: record.rounds, Then: record.unfinished, Open: record.open, Windows: record.windows}
		}
	}
	if !of[0].outlasts {
		t.Took.ordered()
	}
	return t
}

// whole is a count rounded down: half a repetition is none.
func whole(n float64) float64 { return math.Floor(n + epsilon) }

// counts adds up goes at lines by movement.
func counts(log []logEntry) []Count {
	var out []Count
	for _, e := range log {
		if e.amount <= epsilon {
			continue
		}
		i := slices.IndexFunc(out, func(c Count) bool { return c.Movement == e.name && c.Unit == e.unit })
		if i < 0 {
			i = len(out)
			out = append(out, Count{Movement: e.name, Unit: e.unit})
		}
		out[i].N += e.amount
	}
	return out
}

// lines gathers goes at lines by line, movement and unit, but for those that are listed already.
func lines(of [3]athleteRun, listed []LineTime, log func(*athleteRun) []logEntry) []LineTime {
	type key struct {
		work *model.Work
		name string
		unit string
	}
	const skipped = -1
	at := map[key]int{}
	for _, l := range listed {
		at[key{l.Work, l.Movement, l.Unit}] = skipped
	}
	var out []LineTime
	for i := range of {
		for _, e := range log(&of[i]) {
			k := key{e.work, e.name, e.unit}
			j, ok := at[k]
			if j == skipped {
				continue
			}
			if !ok {
				j = len(out)
				at[k] = j
				out = append(out, LineTime{Work: e.work, Movement: e.name, Unit: e.unit})
			}
			l := &out[j]
			if l.To.At(i) == 0 {
				l.From.set(i, e.from)
			}
			l.To.set(i, e.to)
			l.N.set(i, l.N.At(i)+e.amount)
			if e.countedUnit != "" {
				l.CountedUnit = e.countedUnit
				l.Counted.set(i, l.Counted.At(i)+e.counted)
			}
			l.Goes[i]++
			l.Spent[i] = l.Spent[i].plus(e.spent)
			if e.effort > 0 {
				l.MostEffort = max(l.MostEffort, e.effort)
				if l.LeastEffort == 0 || e.effort < l.LeastEffort {
					l.LeastEffort = e.effort
				}
			}
		}
	}
	return out
}

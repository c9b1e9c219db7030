package estimate

import (
	"math"
	"strconv"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// A ClassShare is how many of a class miss a limit.
type ClassShare struct {
	Of        float64 // 0 to 1, clamped to Quickest and Slowest
	Low, High float64 // the same with all times shorter and longer by the margin
	Class     int     // people, or teams of them; 0 where the house does not say
	Team      int     // people in a team; 1 where everybody works for themselves
	Able      bool    // it is of those who can do a skill, and Class is how many these are
	Proven    bool    // nothing that it depends on is missing
}

// Hardly says that hardly anyone misses it.
func (s ClassShare) Hardly() bool { return s.Of <= Quickest+epsilon }

// Nearly says that nearly everyone does.
func (s ClassShare) Nearly() bool { return s.Of >= Slowest-epsilon }

// classText is how many there are, in words: 16, 8 pairs, 6 teams of 3, the 5 who can do it.
func (s ClassShare) classText() string {
	text := strconv.Itoa(s.Class)
	switch {
	case s.Class == 0 && s.Able:
		return "those who can do it"
	case s.Class == 0:
		return "the class"
	case s.Team == 2:
		text += " pairs"
	case s.Team > 2:
		text += " teams of " + strconv.Itoa(s.Team)
	}
	if s.Able {
		text = "the " + text + " who can do it"
	}
	return text
}

// Words are who of the class that is, and the range in brackets, which may be empty: about 3 of 16 and (2 to 4);
// about 2 of the 5 who can do it; hardly anyone.
func (s ClassShare) Words() (who, span string) {
	who, other := "hardly anyone", ""
	if s.Able {
		other = " who can do it"
	}
	n, low, high := s.People()
	switch {
	case s.Hardly():
		return who + other, ""
	case s.Nearly():
		return "nearly everyone" + other, ""
	case s.Class == 0:
		return "about " + percent(s.Of) + " of " + s.classText(), " (" + percent(s.Low) + " to " + percent(s.High) + ")"
	}
	people := strconv.Itoa(low)
	if low != high {
		people += " to " + strconv.Itoa(high)
	}
	switch n {
	case 0:
		return who, " (" + people + " of " + s.classText() + ")"
	case s.Class:
		return "nearly everyone", " (" + people + " of " + s.classText() + ")"
	}
	if who = "about " + strconv.Itoa(n) + " of " + s.classText(); low == n && high == n {
		return who, ""
	}
	return who, " (" + people + ")"
}

// Text is who of the class that is, with the range.
func (s ClassShare) Text() string {
	who, span := s.Words()
	return who + span
}

// One says whether a verb behind Words is in the singular: about 1 of 16 misses, 3 of 16 miss.
func (s ClassShare) One() bool {
	if s.Hardly() || s.Nearly() {
		return true
	}
	n, _, _ := s.People()
	return s.Class > 0 && (n <= 1 || n == s.Class)
}

// percent is a share, 0 to 1, in words.
func percent(v float64) string { return units.FormatNumber(math.Round(100*v)) + "%" }

// Opposite is the share of the class that does not miss it.
func (s ClassShare) Opposite() ClassShare {
	s.Of, s.Low, s.High = 1-s.Of, 1-s.High, 1-s.Low
	return s
}

// People is how many of the class that is, with the range, in people or teams of them.
func (s ClassShare) People() (n, low, high int) {
	of := func(v float64) int { return int(math.Floor(v*float64(s.Class) + 0.5)) }
	return of(s.Of), of(s.Low), of(s.High)
}

// Share is the share of the class whose work at a part takes longer than a limit, in s.
// A time that equals it meets it. Where the quick are at it longest, nothing is proven.
func (t *Timeline) Share(p *PartTime, limit float64) ClassShare {
	return t.share(p, limit, p.Proven() && !p.Outlasts, func(z float64) float64 { return t.replay(p, z, nil).work })
}

// ShareOfTurns is the share of the class for whom some turn of a group takes longer than a
// limit, in s: the interval that a clock gives it, less the rest that it asks for. Of a slot,
// or another group that no clock starts, it is the longest time through it.
func (t *Timeline) ShareOfTurns(p *PartTime, g *model.Group, limit float64) ClassShare {
	of, ok := p.GroupOf(g)
	return t.share(p, limit, ok && of.Proven, func(z float64) float64 {
		r := t.replay(p, z, nil).records[g]
		switch {
		case r == nil:
			return 0
		case r.longestTurn.Number > 0:
			return r.longestTurn.Took
		}
		return r.longest
	})
}

// ShareOfRounds is the share of the class that gets fewer whole rounds of an amrap than so
// many.
func (t *Timeline) ShareOfRounds(p *PartTime, g *model.Group, rounds int) ClassShare {
	of, ok := p.GroupOf(g)
	window, known := totals.Whole(g, p.Tier)
	if !ok || !known || rounds < 1 {
		return t.nobody(p)
	}
	return t.share(p, window, of.Proven, func(z float64) float64 {
		goal := &roundGoal{group: g, rounds: rounds}
		t.replay(p, z, goal)
		if goal.reached {
			return goal.reachedAt
		}
		return math.Inf(1)
	})
}

// At is how long the work of a part takes, in s, at a standing: q of the house's members are
// quicker.
func (t *Timeline) At(p *PartTime, q float64) float64 { return t.replay(p, zScore(q), nil).work }

// TurnAt is how long the longest turn of a group takes, in s, at a standing, where a clock starts
// them.
func (t *Timeline) TurnAt(p *PartTime, g *model.Group, q float64) float64 {
	if r := t.replay(p, zScore(q), nil).records[g]; r != nil {
		return r.longestTurn.Took
	}
	return 0
}

// Last is how long it takes, in s, in the middle case, until the last of n people is done.
func (t *Timeline) Last(p *PartTime, n int) float64 {
	return t.At(p, math.Pow(0.5, 1/float64(max(n, 1))))
}

// replay performs a part, and those before it whose fatigue it starts with, as somebody of one
// standing.
func (t *Timeline) replay(p *PartTime, z float64, goal *roundGoal) athleteRun {
	return t.replayWith(p, z, func(sim *simulation) { sim.goal = goal })
}

// replayWith is replay with a question of its own, which is asked of the part alone.
func (t *Timeline) replayWith(p *PartTime, z float64, ask func(*simulation)) athleteRun {
	sim := t.simulation(z, p.Tier)
	from := p.index
	for from > 0 && t.Session.Parts[from].Kind == model.Part && t.Session.Parts[from-1].Kind == model.Part {
		from--
	}
	for i := from; i < p.index; i++ {
		sim.nextPart(t, i, t.Parts[i].Began)
	}
	ask(sim)
	return sim.nextPart(t, p.index, p.Began)
}

// share is the share of the class whose time, by the z of a standing, is over a limit, in s.
func (t *Timeline) share(p *PartTime, limit float64, proven bool, time func(z float64) float64) ClassShare {
	m := t.Figures.Margin
	s := t.nobody(p)
	s.Of, s.Low, s.High, s.Proven = shareOver(limit, time), shareOver(limit/(1-m), time), shareOver(limit/(1+m), time), proven
	return s
}

// nobody is the share of the class that misses what nobody can miss.
func (t *Timeline) nobody(p *PartTime) ClassShare {
	class, able := t.Class, false
	if a, ok := t.Able(p); ok {
		class, able = a.People, true
	}
	return ClassShare{Of: Quickest, Low: Quickest, High: Quickest, Class: (class + p.Team - 1) / p.Team, Team: p.Team, Able: able}
}

// shareOver is the share of people whose time is over a limit: one less the standing at
// which the time meets it, found by bisection. The time never falls with the standing.
func shareOver(limit float64, time func(z float64) float64) float64 {
	lo, hi := zScore(Quickest), zScore(Slowest)
	if time(lo) > limit+epsilon {
		return Slowest
	}
	if time(hi) <= limit+epsilon {
		return Quickest
	}
	for range 30 {
		if mid := (lo + hi) / 2; time(mid) > limit+epsilon {
			hi = mid
		} else {
			lo = mid
		}
	}
	return 1 - standingOf((lo+hi)/2)
}

package estimate

import (
	"math"
	"slices"

	"stint.example/stint/lang/units"
)

// Tolerance is half of what a clock shows, in s: less than that is not late.
const Tolerance = 0.5

// A Verdict says how sure it is that something takes longer than it may.
type Verdict int

// Verdicts.
const (
	// InTime says that the typical athlete and enough of the class keep to the limit.
	InTime Verdict = iota
	// Late says that the typical athlete is over the limit, or more of the class than may be.
	Late
	// SurelyLate says that the typical athlete is over it even if everything goes as much
	// quicker as the estimate may be off.
	SurelyLate
	// ProvenLate says that what the text states is over it, whatever anybody's pace.
	ProvenLate
)

// A Gap is what lies between a part and the one that follows it on the same clock.
type Gap struct {
	Timeline   *Timeline
	Part, Next *PartTime
	Window     float64 // s from the start of the part to that of the next

	before float64 // s that the clock has run until the part, where it starts whenever the one before is done
}

// Gaps are those of a session, but for a part that starts the clock anew.
func (t *Timeline) Gaps() []Gap {
	var out []Gap
	pinned := 0.0
	for i, p := range t.Parts {
		at, ok := p.Group.Start.One()
		if i > 0 && !(ok && at == 0) {
			g := Gap{Timeline: t, Part: t.Parts[i-1], Next: p}
			g.Window = p.Began - g.Part.Began
			if !g.Part.Pinned {
				g.before = max(0, g.Part.Began-pinned)
			}
			out = append(out, g)
		}
		if ok {
			pinned = p.Began
		}
	}
	return out
}

// Backwards says whether the next part is said to start before the one before it.
func (g Gap) Backwards() bool { return g.Next.Pinned && g.Part.Pinned && g.Window <= 0 }

// Known says whether it can be told when the part is over.
func (g Gap) Known() bool { return g.Part.Proven() && g.Part.Settled }

// lastHeat is when the last heat that the next part waits for starts, in s since the part began.
func (g Gap) lastHeat() float64 { return g.Part.lastHeat(g.Next.Group) }

// Waits is how long, in s, the room waits for the last heat to start where a heat takes so many s.
func (g Gap) Waits(work float64) float64 {
	if h := g.Part.Heats; h != nil && !h.spaced && g.lastHeat() > 0 {
		return float64(len(h.Starts)-1) * (work + g.Timeline.Figures.Change.Slow)
	}
	return g.lastHeat()
}

// Took is how long, in s, the part takes somebody of the last heat who works so many s, until the clock
// or the cap ends it.
func (g Gap) Took(work float64) float64 {
	if limit, ok := g.Part.Group.Cap.One(); ok {
		work = min(work, limit)
	}
	return work + g.lastHeat()
}

// Left is how much rest the part leaves the typical athlete before the next, in s; less than nothing
// where it runs into that.
func (g Gap) Left() float64 { return g.Part.RestBeforeNext.Typical }

// Exact says whether the part takes everybody the same time, so that no estimate is in it.
func (g Gap) Exact() bool { return units.Same(g.Part.Work.Fast, g.Part.Work.Slow) }

// Judge holds the end of the part, by its clock, against a limit, in s from its start, which a share
// of the class, from 0 to 1, may miss. With the verdict comes how many do, where it is late and
// that is known.
func (g Gap) Judge(limit, share float64) (Verdict, ClassShare) {
	return g.judge(g.Part.Work, Times{}, athleteRun.until, limit, share)
}

// JudgeRest holds the end of the last work in the part against a rest, in s, that is to be left before
// the next, as Judge does.
func (g Gap) JudgeRest(rest, share float64) (Verdict, ClassShare) {
	work := g.Part.WorkEnd
	for l := range Standings {
		work.set(l, work.At(l)-g.Part.LastStart())
	}
	return g.judge(work, g.Part.exactUntil, athleteRun.untilWorkEnds, g.Window-rest, share)
}

// until is when an athlete is done, in s since the part began, whose pace is by so much off.
func (r athleteRun) until(scale float64) float64 { return r.work * scale }

// untilWorkEnds is when the athlete's last work ends, in s since the part began, whose pace is by so much
// off: that moves nothing that the clock starts.
func (r athleteRun) untilWorkEnds(scale float64) float64 {
	return r.exactUntil + (r.workEnd-r.exactUntil)*scale
}

// judge holds work, which the clock alone decides until exact, in s, against a limit.
func (g Gap) judge(work, exact Times, end func(r athleteRun, scale float64) float64, limit, share float64) (Verdict, ClassShare) {
	var none ClassShare
	t, margin := g.Timeline, g.Timeline.Figures.Margin
	late := g.Took(work.Typical) > limit+Tolerance
	who := func() ClassShare {
		if g.Part.Outlasts { // nothing is known of a share of those who go on longest
			return none
		}
		return t.shareLate(g.Part, limit, g.lastHeat() == 0, end)
	}
	switch {
	case g.Took(math.Inf(1)) <= limit: // its cap ends it in time
		return InTime, none
	case late && t.startsExactly(g.Part.index, true) &&
		(units.Same(work.Fast, work.Slow) || g.Took(g.Part.Spent[1].Fixed) > limit+Tolerance):
		return ProvenLate, none
	case units.Same(work.Fast, work.Slow) && late:
		return SurelyLate, none
	case units.Same(work.Fast, work.Slow):
		return InTime, none
	case g.Took(work.Typical-margin*(work.Typical-exact.Typical)-g.before*margin) > limit+Tolerance:
		return SurelyLate, who()
	case late:
		return Late, who()
	case g.Part.Outlasts || share >= 1-Slow && g.Took(work.Slow) <= limit+Tolerance:
		return InTime, none
	case g.Took(end(t.replay(g.Part, zScore(1-share), nil), 1)) <= limit+Tolerance:
		return InTime, none // enough of the last heat, and more of those before it
	}
	s := who()
	if s.Of <= share {
		return InTime, none
	}
	return Late, s
}

// ThreeQuarters is the time, in s, in which three in four are done with the part.
func (g Gap) ThreeQuarters() float64 {
	if g.Part.Outlasts {
		return g.Took(max(g.Part.Work.Fast, g.Part.Work.Slow))
	}
	return g.Took(g.Timeline.At(g.Part, 0.75))
}

// rested is when three in four have had the rest that is asked for behind the part, in s since it began.
func (g Gap) rested() float64 {
	done, asked := g.ThreeQuarters(), g.Asked().Rest
	if g.Part.Outlasts {
		return done + asked
	}
	return max(done, g.Took(g.Timeline.replay(g.Part, zScore(0.75), nil).workEnd)+asked)
}

// Asked is the longest rest that is asked for behind the part, by itself, the session or the
// house; zero where nobody asks.
func (g Gap) Asked() Asked {
	a, _ := g.Timeline.Asked(slices.Index(g.Timeline.Parts, g.Part))
	return a
}

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
	// quicker as the estimate may be off, or that nothing is estimated.
	SurelyLate
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

// Waits is how long, in s, the room waits for the next part from the end of one athlete's
// work of so many s: for the heats that start after the first.
func (g Gap) Waits(work float64) float64 {
	p := g.Part
	h := p.Group.Heats
	if h == nil {
		return 0
	}
	longest := max(p.CappedWork.Fast, p.CappedWork.Typical, p.CappedWork.Slow)
	extra := max(0, p.Room-longest)
	if _, ok := h.Every.One(); ok || longest <= 0 {
		return extra
	}
	return extra * work / longest
}

// Took is how long, in s, the part has the room for somebody who works so many s, all heats
// and the cap counted.
func (g Gap) Took(work float64) float64 {
	if limit, ok := g.Part.Group.Cap.One(); ok {
		work = min(work, limit)
	}
	return work + g.Waits(work)
}

// Exact says whether the part takes everybody the same time, so that no estimate is in it.
func (g Gap) Exact() bool { return units.Same(g.Part.Work.Fast, g.Part.Work.Slow) }

// Judge holds the part against a limit, in s from its start, which a share of the class, from
// 0 to 1, may miss. With the verdict comes how many do, where it is late and that is known.
func (g Gap) Judge(limit, share float64) (Verdict, ClassShare) {
	var none ClassShare
	work, margin := g.Part.Work, g.Timeline.Figures.Margin
	late := g.Took(work.Typical) > limit+Tolerance
	switch {
	case g.Took(math.Inf(1)) <= limit: // its cap ends it in time
		return InTime, none
	case g.Exact() && late:
		return SurelyLate, none
	case g.Exact():
		return InTime, none
	case g.Took(work.Typical*(1-margin)-g.before*margin) > limit+Tolerance:
		return SurelyLate, g.share(limit)
	case late:
		return Late, g.share(limit)
	case g.Part.Outlasts: // nothing is known of a share of those who go on longest
		return InTime, none
	}
	if share >= 1-Slow && g.Took(work.Slow) <= limit+Tolerance || g.Took(g.Timeline.At(g.Part, 1-share)) <= limit+Tolerance {
		return InTime, none
	}
	return Late, g.share(limit)
}

// share is how many of the class are over a limit of the part.
func (g Gap) share(limit float64) ClassShare {
	if g.Part.Outlasts {
		return ClassShare{}
	}
	if wait := g.Waits(1); g.Part.Group.Heats != nil { // by a share of the work, or by the clock
		if _, ok := g.Part.Group.Heats.Every.One(); ok {
			limit -= wait
		} else {
			limit /= 1 + wait
		}
	}
	return g.Timeline.Share(g.Part, limit)
}

// ThreeQuarters is the time, in s, in which three in four of the class are done with the part.
func (g Gap) ThreeQuarters() float64 {
	if g.Part.Outlasts {
		return g.Took(max(g.Part.Work.Fast, g.Part.Work.Slow))
	}
	return g.Took(g.Timeline.At(g.Part, 0.75))
}

// Asked is the longest rest that is asked for behind the part, by itself, the session or the
// house; zero where nobody asks.
func (g Gap) Asked() Asked {
	a, _ := g.Timeline.Asked(slices.Index(g.Timeline.Parts, g.Part))
	return a
}

package estimate

import "math"

// An Over is when something is over, in s on one of two clocks.
type Over struct {
	Times        // for the fast, the typical and the slow
	Least  Times // the same with no more than the text asks for, in the part and before it
	Fixed  bool  // the clock alone says when, and nobody's pace
	Proven bool  // nothing that it depends on is missing

	part  *PartTime
	began float64 // when the part begins on that clock, in s
	since float64 // what part of the time is known exactly, in s on that clock
}

// OverOnClock is when a part is over on the wall clock.
func (t *Timeline) OverOnClock(p *PartTime) Over { return t.over(p, p.Start, true) }

// Over is when the last part is over, in s since the session began; false where it has no parts.
func (t *Timeline) Over() (Over, bool) {
	if len(t.Parts) == 0 {
		return Over{}, false
	}
	last := t.Parts[len(t.Parts)-1]
	return t.over(last, last.Began, false), true
}

func (t *Timeline) over(p *PartTime, began float64, onWall bool) Over {
	settled := p.Settled
	if !onWall {
		settled = p.BeganSettled
	}
	o := Over{Proven: p.Proven() && settled && !p.Outlasts, part: p, began: began}
	exact := t.startsExactly(p.index, onWall)
	o.Fixed = exact && p.exact()
	if exact {
		o.since = began - p.Early
	}
	for l := range Standings {
		near := p.CappedWork.At(l)
		if p.Near.At(l) < near {
			near = p.Near.At(l)
		}
		o.set(l, began+p.LastStart()+p.CappedWork.At(l))
		o.Least.set(l, began-p.Early+p.LastStart()+near)
	}
	o.Fixed = o.Fixed && math.Abs(o.Slow-o.Least.Fast) <= epsilon
	return o
}

// exact says whether the part takes everybody the same time, whatever their pace.
func (p *PartTime) exact() bool {
	same := func(t Times) bool { return math.Abs(t.Slow-t.Fast) <= epsilon }
	return same(p.CappedWork) && same(p.RestBehind)
}

// startsExactly says whether nobody's pace moves the start of a part on the wall clock, or else from
// the start of the session.
func (t *Timeline) startsExactly(i int, onWall bool) bool {
	switch p := t.Parts[i]; {
	case i == 0 || p.Pinned && onWall:
		return true
	case p.Pinned && p.Start > 0: // on a wall clock that the last part at 0:00 has started
		for k := i - 1; k >= 0; k-- {
			if t.Parts[k].Pinned && t.Parts[k].Start == 0 {
				return t.startsExactly(k, false)
			}
		}
		return true
	}
	return t.Parts[i-1].exact() && t.startsExactly(i-1, onWall)
}

// ShareAfter is the share of the class for whom it is over only after a time, in s on its clock.
func (t *Timeline) ShareAfter(o Over, at float64) ClassShare {
	return t.ShareStillAt(o.part, at-o.began)
}

// ShareStillAt is the share of the class that is still at a part so long, in s, after it began.
func (t *Timeline) ShareStillAt(p *PartTime, within float64) ClassShare {
	if p.exact() { // by the clock alone, and nothing is off
		return t.shareLate(p, within, false, func(r athleteRun, _ float64) float64 { return r.work })
	}
	return t.shareLate(p, within, false, athleteRun.until)
}

// ShareLateFor is the share of the class that is still at a part when the next starts, each by the start
// of their own heat where both start in the same heats.
func (t *Timeline) ShareLateFor(p, next *PartTime) ClassShare {
	return t.shareLate(p, next.Began-p.Began, sameHeats(p.Group, next.Group), athleteRun.until)
}

// ShareUnrested is the share of the class whose work at a part ends less than a rest, in s, before the
// next starts.
func (t *Timeline) ShareUnrested(p, next *PartTime, rest float64) ClassShare {
	return t.shareLate(p, next.Began-p.Began-rest, sameHeats(p.Group, next.Group), athleteRun.untilWorkEnds)
}

// shareLate is the share of the class whose end of a part is later than a limit, in s since the part began,
// each by the start of their own heat; or since their own start, where what follows starts in the
// same heats.
func (t *Timeline) shareLate(p *PartTime, limit float64, ownStart bool, end func(r athleteRun, scale float64) float64) ClassShare {
	_, most, capped := p.Group.Cap.Value(0, 1, p.Tier)
	share := func(within, scale float64) float64 {
		if capped && most > 0 && most <= within+epsilon {
			return Quickest // the cap ends it in time
		}
		return shareOver(within, func(z float64) float64 { return end(t.replay(p, z, nil), scale) })
	}
	of := func(scale float64) float64 {
		if ownStart {
			return share(limit, scale)
		}
		return p.shareOfHeats(limit, func(within float64) float64 {
			if within < 0 {
				return Slowest
			}
			return share(within, scale)
		})
	}
	s := t.nobody(p)
	s.Of, s.Low, s.High = of(1), of(1-t.Figures.Margin), of(1+t.Figures.Margin)
	s.Proven = p.Proven() && !p.Outlasts && p.Settled
	return s
}

// Beyond says whether everybody is done before some time, or nobody by another, in s on its clock,
// whatever the margin of the estimate.
func (t *Timeline) Beyond(o Over, from, to float64) (early, late bool) {
	m := t.Figures.Margin
	if o.Fixed {
		m = 0
	}
	slow, fast := o.since+(o.Slow-o.since)*(1+m), o.since+(o.Least.Fast-o.since)*(1-m)
	return from > slow+Tolerance, to < fast-Tolerance
}

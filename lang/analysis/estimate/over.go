package estimate

import "math"

// An Over is when something is over, in s on one of two clocks.
type Over struct {
	Times        // for the fast, the typical and the slow
	Least  Times // the same with no more than the text asks for
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
	o := Over{Proven: p.Proven() && p.Settled && !p.Outlasts, part: p, began: began}
	exact := t.startsExactly(p.index, onWall)
	o.Fixed = exact && p.exact()
	if exact {
		o.since = began
	}
	for l := range Standings {
		near := p.CappedWork.At(l)
		if p.Near.At(l) < near {
			near = p.Near.At(l)
		}
		o.set(l, began+p.CappedWork.At(l))
		o.Least.set(l, began+near)
	}
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
func (t *Timeline) ShareAfter(o Over, at float64) ClassShare { return t.ShareStillAt(o.part, at-o.began) }

// ShareStillAt is the share of the class that is still at a part so long, in s, after it began.
func (t *Timeline) ShareStillAt(p *PartTime, within float64) ClassShare {
	s := t.nobody(p)
	s.Proven = true
	if _, limit, capped := p.Group.Cap.Value(0, 1, p.Tier); !capped || limit <= 0 || limit > within+epsilon {
		s = t.Share(p, within)
	}
	s.Proven = s.Proven && p.Settled
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

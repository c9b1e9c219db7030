package estimate

import (
	"math"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// A Share is how many of a class miss a limit.
type Share struct {
	Of        float64 // 0 to 1, held between what the estimate claims anything of
	Low, High float64 // the same with all times shorter and longer by the margin
	Class     int     // people; 0 where the house does not say
	Proven    bool    // nothing that it hangs on is missing
}

// Hardly says that hardly anyone misses it.
func (s Share) Hardly() bool { return s.Of <= Quickest+tiny }

// Nearly says that nearly everyone does.
func (s Share) Nearly() bool { return s.Of >= Slowest-tiny }

// People is how many of the class that is, with the range.
func (s Share) People() (n, low, high int) {
	of := func(v float64) int { return int(math.Floor(v*float64(s.Class) + 0.5)) }
	return of(s.Of), of(s.Low), of(s.High)
}

// Share is the share of the class whose work at a part takes longer than a limit, in s.
// A time that equals it meets it. Where the quick are at it longest, nothing is proven.
func (t *Timeline) Share(p *PartTime, limit float64) Share {
	return t.share(p, p.Proven() && !p.Outlasts, limit, func(w *walk, o one) float64 { return o.work })
}

// ShareOfTurns is the share of the class for whom some turn of a group takes longer than a
// limit, in s: the interval that a clock gives it, less the rest that it asks for. Of a slot,
// or another group that no clock starts, it is the longest time through it.
func (t *Timeline) ShareOfTurns(p *PartTime, g *model.Group, limit float64) Share {
	of, ok := p.GroupOf(g)
	return t.share(p, ok && of.Proven, limit, func(w *walk, o one) float64 {
		v := o.groups[g]
		switch {
		case v == nil:
			return 0
		case v.turn > 0:
			return v.turnTook
		}
		return v.took
	})
}

// ShareOfRounds is the share of the class that gets fewer whole rounds of an amrap than so
// many.
func (t *Timeline) ShareOfRounds(p *PartTime, g *model.Group, rounds int) Share {
	of, ok := p.GroupOf(g)
	window, known := totals.Whole(g, p.Tier)
	if !ok || !known || rounds < 1 {
		return Share{Of: Quickest, Low: Quickest, High: Quickest, Class: t.Class}
	}
	aim := func(w *walk) { w.target = &target{group: g, rounds: rounds} }
	return t.shareWith(p, of.Proven, window, aim, func(w *walk, o one) float64 {
		if w.target.found {
			return w.target.at
		}
		return math.Inf(1)
	})
}

// At is how long the work of a part takes at a standing: q of the house's members are
// quicker.
func (t *Timeline) At(p *PartTime, q float64) float64 {
	_, o := t.replay(p, zOf(q), nil)
	return o.work
}

// TurnAt is how long the longest turn of a group takes at a standing, where a clock starts
// them.
func (t *Timeline) TurnAt(p *PartTime, g *model.Group, q float64) float64 {
	_, o := t.replay(p, zOf(q), nil)
	if v := o.groups[g]; v != nil {
		return v.turnTook
	}
	return 0
}

// Last is how long it takes, in the middle case, until the last of n people is done.
func (t *Timeline) Last(p *PartTime, n int) float64 {
	return t.At(p, math.Pow(0.5, 1/float64(max(n, 1))))
}

// replay does a part, and those before it, as somebody of one standing.
func (t *Timeline) replay(p *PartTime, z float64, aim func(*walk)) (*walk, one) {
	w := t.walk(z, p.Tier)
	from := p.index
	for from > 0 && t.Session.Parts[from].Kind == model.Part && t.Session.Parts[from-1].Kind == model.Part {
		from--
	}
	for i := from; i < p.index; i++ {
		w.next(t, i, t.Parts[i].Began)
	}
	if aim != nil {
		aim(w)
	}
	return w, w.next(t, p.index, p.Began)
}

func (t *Timeline) share(p *PartTime, sure bool, limit float64, of func(*walk, one) float64) Share {
	return t.shareWith(p, sure, limit, nil, of)
}

func (t *Timeline) shareWith(p *PartTime, sure bool, limit float64, aim func(*walk), of func(*walk, one) float64) Share {
	over := func(limit float64) float64 {
		return missing(limit, func(z float64) float64 { return of(t.replay(p, z, aim)) })
	}
	m := t.Figures.Margin
	return Share{Of: over(limit), Low: over(limit / (1 - m)), High: over(limit / (1 + m)), Class: t.Class, Proven: sure}
}

// missing is the share of people whose time is over a limit: one less the standing at
// which the time meets it, found by halving. The time never falls with the standing.
func missing(limit float64, time func(z float64) float64) float64 {
	lo, hi := zOf(Quickest), zOf(Slowest)
	if time(lo) > limit+tiny {
		return Slowest
	}
	if time(hi) <= limit+tiny {
		return Quickest
	}
	for range 30 {
		if mid := (lo + hi) / 2; time(mid) > limit+tiny {
			hi = mid
		} else {
			lo = mid
		}
	}
	return 1 - qOf((lo+hi)/2)
}

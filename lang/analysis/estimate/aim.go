package estimate

import (
	"math"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// An AimKind is what an aim is held against.
type AimKind string

// What an aim can be held against.
const (
	AimedTime   AimKind = "time"   // s: how long the work takes
	AimedTurn   AimKind = "turn"   // s: the longest of the turns that a clock starts
	AimedEnd    AimKind = "end"    // s on a clock: when it is over
	AimedRounds AimKind = "rounds" // whole rounds of an amrap
)

// An Aimed is what an aim asks, from one number to another, and how the class stands to it.
type Aimed struct {
	Kind     AimKind
	From, To float64    // s, or rounds
	Took     Times      // what it is held against, in the same unit
	Least    Times      // the same with no more than the text asks for
	Fixed    bool       // the clock alone says it, whatever anybody's pace
	Under    ClassShare // who would have less than From
	Over     ClassShare // who would have more than To
	TooFew   bool       // nobody has so little as To, whatever the margin
	TooMany  bool       // nobody has so much as From
}

// Aim holds an aim of a group in a part against the estimate. Known is false where that does not say.
func (t *Timeline) Aim(p *PartTime, g *model.Group, a *model.Aim) (of Aimed, known bool) {
	if a.Amount == nil {
		return of, false
	}
	lo, hi, ok := a.Amount.Value(0, 1, p.Tier)
	took, is := p.GroupOf(g)
	switch {
	case !ok || !is || !took.Proven:
	case a.What == model.AimedEnd && g == p.Group:
		return t.AimOver(t.OverOnClock(p), a)
	case a.What == "time" && a.Amount.Unit == "s" && p.Proven():
		return t.aimTime(p, took, a, lo, hi)
	case a.What == "rounds" && took.Counted && g.Mode == model.AMRAP && hi >= 1:
		return t.aimRounds(p, took, a, lo, hi), true
	}
	return of, false
}

// AimOver holds an aim against when something is over.
func (t *Timeline) AimOver(o Over, a *model.Aim) (of Aimed, known bool) {
	lo, hi, ok := a.Amount.Value(0, 1, o.part.Tier)
	if !ok || !o.Proven {
		return of, false
	}
	of = Aimed{Kind: AimedEnd, From: lo, To: hi, Took: o.Times, Least: o.Least, Fixed: o.Fixed,
		Under: t.ShareAfter(o, lo).others(), Over: t.ShareAfter(o, hi)}
	early, late := t.Beyond(o, lo, hi)
	of.TooMany, of.TooFew = early && !a.Amount.IsMost(), late && !a.Amount.OrMore()
	return of, true
}

// AimOfSession holds an aim of the whole session against the estimate.
func (t *Timeline) AimOfSession(a *model.Aim) (of Aimed, known bool) {
	takes, any := t.Over()
	switch {
	case !any || a.Amount == nil:
	case a.What == model.AimedEnd:
		return t.AimOver(t.OverOnClock(t.Parts[len(t.Parts)-1]), a)
	case a.What == "time" && a.Amount.Unit == "s":
		of, known = t.AimOver(takes, a)
		of.Kind = AimedTime
	}
	return of, known
}

// aimTime holds a time against how long a group takes, or its longest turn where a clock starts them. Of
// what is to last so long, it is how long the work in it takes.
func (t *Timeline) aimTime(p *PartTime, g *GroupTime, a *model.Aim, lo, hi float64) (of Aimed, known bool) {
	of = Aimed{Kind: AimedTime, From: lo, To: hi, Took: g.Took, Least: g.AtLeast().Took}
	share := func(limit float64) ClassShare { return t.ShareOfTurns(p, g.Group, limit) }
	switch _, window := totals.Whole(g.Group, p.Tier); {
	case p.Outlasts:
		return of, false
	case g.Turns[0].Number > 0 && g.Group.Slots() == 0 && g.Group.Repeat.Kind == model.Every:
		turn := func(g *GroupTime) Times { return Times{g.Turns[0].Took, g.Turns[1].Took, g.Turns[2].Took} }
		of.Kind, of.Took, of.Least = AimedTurn, turn(g), turn(g.AtLeast())
	case g.Group.Lasts != nil && g.Group.Mode != model.AMRAP && g.Group.Mode != model.ForLoad:
		needed, proven := t.Needed(p, g.Group)
		if !proven {
			return of, false
		}
		of.Took, of.Least = needed, needed
		share = func(limit float64) ClassShare { return t.ShareOfNeeded(p, g.Group, limit) }
	case window:
		of.Fixed = true
	case g.Group == p.Group:
		share = func(limit float64) ClassShare { return t.Share(p, limit) }
	}
	m := t.Figures.Margin
	if of.Fixed {
		m = 0
	}
	of.Under, of.Over = share(lo).others(), share(hi)
	of.TooFew = hi < of.Least.Fast*(1-m)-Tolerance && !a.Amount.OrMore()
	of.TooMany = lo > of.Took.Slow*(1+m)+Tolerance && !a.Amount.IsMost()
	return of, true
}

// aimRounds holds a number of rounds against how many an amrap allows.
func (t *Timeline) aimRounds(p *PartTime, g *GroupTime, a *model.Aim, lo, hi float64) Aimed {
	rounds := func(g *GroupTime) Times {
		return Times{float64(g.Rounds[0].Rounds), float64(g.Rounds[1].Rounds), float64(g.Rounds[2].Rounds)}
	}
	of := Aimed{Kind: AimedRounds, From: lo, To: hi, Took: rounds(g), Least: rounds(g.AtLeast()),
		Under: t.ShareOfRounds(p, g.Group, int(math.Ceil(lo))),
		Over:  t.ShareOfRounds(p, g.Group, int(hi)+1).others()}
	of.TooMany = lo > max(of.Took.Fast, of.Least.Fast) && of.Under.Low >= Slow-epsilon && !a.Amount.IsMost()
	of.TooFew = hi < of.Took.Slow && of.Over.Low >= Slow-epsilon && !a.Amount.OrMore()
	return of
}

// others is the share of the class that does not miss a limit.
func (s ClassShare) others() ClassShare {
	s.Of, s.Low, s.High = 1-s.Of, 1-s.High, 1-s.Low
	return s
}

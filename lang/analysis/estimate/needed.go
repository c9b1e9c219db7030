package estimate

import (
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
)

// Needed is how long the work under a head takes, in s, where nothing that the head itself says cuts it: neither
// its cap nor what it is to last. Of work that is stated in times alone, it is their sum, without the changes
// between them, for which the class takes what time it has. Of several turns it is the longest.
func (t *Timeline) Needed(p *PartTime, g *model.Group) (took Times, proven bool) {
	proven = true
	for l, q := range Standings {
		s, ok := t.needed(p, g, zScore(q))
		took.set(l, s)
		proven = proven && ok
	}
	took.ordered()
	return took, proven
}

// ShareOfNeeded is the share of the class whose work under a head takes longer than a limit, in s, where
// nothing that the head itself says cuts it.
func (t *Timeline) ShareOfNeeded(p *PartTime, g *model.Group, limit float64) ClassShare {
	_, proven := t.needed(p, g, 0)
	return t.share(p, limit, proven, func(z float64) float64 {
		s, _ := t.needed(p, g, z)
		return s
	})
}

// needed performs a part as somebody of one standing, without what a head in it says of its own end.
func (t *Timeline) needed(p *PartTime, g *model.Group, z float64) (s float64, proven bool) {
	r := t.replayWith(p, z, func(sim *simulation) { sim.uncut, sim.inTimes = g, inTimes(g) }).records[g]
	if r == nil {
		return 0, false
	}
	if inTimes(g) {
		return r.stated, !r.unproven
	}
	return r.longest, !r.unproven
}

// inTimes says whether all work under a head is stated in times, so that nobody's pace moves how long it takes.
func inTimes(g *model.Group) bool {
	any := false
	for w := range g.Lines(model.OnlySteps) {
		if w.Dose == nil || w.Dose.Unit != "s" || w.Dose.Max || w.From == model.FromClock || w.Until != nil {
			return false
		}
		any = true
	}
	return any
}

// A HeadLimit is a cap of a head inside a part, or what a head, of a part or in one, is to last, where the work
// under it may take longer.
type HeadLimit struct {
	Group    *model.Group
	Limit    *model.Quantity // of the head
	Cap      bool            // it is a cap; else what it lasts
	Seconds  float64         // s: the limit, for the slowest tier
	Needed   Times           // s: how long the work under it takes, with nothing to cut it
	InTimes  bool            // all of that is stated in times, so that Needed is exact, and the same for everybody
	Missed   ClassShare      // those whose work takes longer
	Unproven bool            // something that it depends on is missing
}

// HeadLimits are those of the heads of a part that is reached, in the order of the text. A cap of the part itself is
// none of them: Share has that.
func (t *Timeline) HeadLimits(p *PartTime) []HeadLimit {
	var out []HeadLimit
	for _, of := range p.Groups {
		for _, q := range []*model.Quantity{of.Group.Cap, of.Group.Lasts} {
			if l, ok := t.HeadLimit(p, of.Group, q); ok {
				out = append(out, l)
			}
		}
	}
	return out
}

// HeadLimit holds one limit of a head, its cap or what it lasts. It is none where nobody can miss it.
func (t *Timeline) HeadLimit(p *PartTime, g *model.Group, q *model.Quantity) (HeadLimit, bool) {
	_, v, ok := q.Value(0, 1, p.Tier)
	_, reached := p.GroupOf(g)
	switch {
	case !ok || v <= 0 || !reached,
		q == g.Cap && (g.IsSection() || endless(g, p.Tier)),
		q == g.Lasts && !counted(g):
		return HeadLimit{}, false
	}
	l := HeadLimit{Group: g, Limit: q, Cap: q == g.Cap, Seconds: v, InTimes: inTimes(g), Missed: t.nobody(p)}
	took, proven := t.Needed(p, g)
	l.Needed, l.Unproven = took, !proven
	switch {
	case proven && !l.InTimes:
		l.Missed = t.ShareOfNeeded(p, g, v)
	case proven && took.Slow > v+epsilon:
		l.Missed.Of, l.Missed.Low, l.Missed.High, l.Missed.Proven = Slowest, Slowest, Slowest, true
	case proven:
		l.Missed.Proven = true
	}
	return l, true
}

// endless says whether nothing but the clock ends what a head holds, so that nobody can be late.
func endless(g *model.Group, tier int) bool {
	_, window := totals.Whole(g, tier)
	turns := totals.Turns(g, tier)
	if g.Repeat.Clocked() {
		turns = totals.Starts(g, tier)
	}
	return window || g.Mode == model.AMRAP || turns.Open || g.Repeat.Until != nil && g.Repeat.Until.Kind == model.UntilMissed
}

// counted says whether some work under a head has to be done once, and so may take longer than there is time for.
func counted(g *model.Group) bool {
	for w, around := range g.Lines(model.OnlySteps) {
		over := slices.ContainsFunc(around, func(o *model.Group) bool {
			return o.Mode == model.AMRAP || o.Mode == model.ForLoad && !o.ComesRound() && w.Sets == nil // as many as there is time for
		})
		if !over && (w.HasCount() || w.Sets != nil) {
			return true
		}
	}
	return false
}

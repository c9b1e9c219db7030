package totals

import (
	"math"
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// A View says whose work is added up, and up to which turn. The zero value adds up what stands
// on the board: each line once, whether everybody does it or a team shares it.
type View struct {
	Whose model.Whose
	// After is how many turns of the one group are over, 0 for all of them.
	After int
	// Once says that work of no team is counted once for a team, and not for each of them.
	Once bool
}

// OfSession adds up a session, its warm-up and cool-down included.
func (v View) OfSession(s *model.Session, tiers int) *Totals { return v.total(tiers, s.Parts...) }

// OfGroup adds up a part, or any group of work.
func (v View) OfGroup(g *model.Group, tiers int) *Totals { return v.total(tiers, g) }

// Of adds up some groups, such as the parts of all sessions of a week.
func (v View) Of(tiers int, groups ...*model.Group) *Totals { return v.total(tiers, groups...) }

// TeamSizes are the sizes of the teams that some groups divide people into, each once. A size
// that is no single number is 0.
func TeamSizes(groups ...*model.Group) []float64 {
	var out []float64
	for _, top := range groups {
		for g := range top.Groups(model.Everything) {
			if g.People == nil {
				continue
			}
			n, _ := g.People.Size.One()
			if n = math.Floor(n); !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}

// adder is what adds up some groups for a tier.
func (v View) adder(t *Totals, tier int, groups []*model.Group) *adder {
	a := &adder{totals: t, tier: tier, view: v, crowd: crowd{size: once}}
	if sizes := TeamSizes(groups...); v.Whose == model.OfTeam && len(sizes) == 1 && !v.Once {
		a.crowd.size = Sum{Lo: sizes[0], Hi: sizes[0]} // what divides nobody, the team does too
	}
	if len(groups) == 1 {
		a.stated = groups[0]
	}
	return a
}

// A crowd is who does the work at hand.
type crowd struct {
	size   Sum  // people in the team, one where nobody works together
	shared bool // the team shares the turns around, so that each line of a turn is for one of them
}

// divide is the crowd inside a group.
func (a *adder) divide(g *model.Group) crowd {
	c := a.crowd
	if g.People != nil {
		lo, hi, known := g.People.Size.Value(0, 1, a.tier)
		c = crowd{size: Sum{Lo: math.Floor(max(1, lo)), Hi: math.Floor(max(1, hi)), Open: !known}}
	}
	if c.size != once && (g.Share != model.NotShared || g.CarryOn) {
		c.shared = true
	}
	return c
}

// limited are the turns of a group that are over in the view.
func (a *adder) limited(g *model.Group, turns Sum) Sum {
	if after := float64(a.view.After); after > 0 && g == a.stated && (turns.Open || after <= turns.Hi) {
		return Sum{Lo: after, Hi: after}
	}
	return turns
}

// turns is how often the athlete whose work is added up does the turns of a group.
func (a *adder) turns(g *model.Group) Sum {
	n := a.limited(g, Turns(g, a.tier))
	c := a.divide(g)
	if a.view.Whose != model.EachOne || !c.shared || a.crowd.shared {
		return n
	}
	if g.Share == model.SplitEvenly && !moves(g) {
		return Sum{Lo: math.Floor(n.Lo / c.size.Hi), Hi: math.Ceil(n.Hi / c.size.Lo), Open: n.Open}
	}
	return Sum{Hi: n.Hi, Open: n.Open}
}

// whose is what the athlete, or the team, whose work is added up does of a line's sum.
func (a *adder) whose(w *model.Work, s Sum) Sum {
	k := a.crowd.size
	split := w.Share == model.Split || w.Share == model.SplitEvenly
	switch {
	case k == once || k == Sum{}:
		return s
	case a.view.Whose == model.OfTeam && w.Share == model.NotShared && !a.crowd.shared:
		return s.times(k)
	case a.view.Whose != model.EachOne || !split || a.crowd.shared:
		return s
	case w.Share == model.SplitEvenly:
		return Sum{Lo: s.Lo / k.Hi, Hi: s.Hi / k.Lo, Open: s.Open}
	}
	return a.ofEach(w.ShareOfEach, k, s)
}

// ofEach is what one of a team does of a sum that they share as they like: all of it or none, but for
// what the text says of each, and so of what the others leave.
func (a *adder) ofEach(q *model.Quantity, team Sum, s Sum) Sum {
	out := Sum{Hi: s.Hi, Open: s.Open}
	lo, hi, known := q.Value(0, 1, a.tier)
	if !known || s.Open || team.Open {
		return out
	}
	if q.Bound == model.AtMost {
		lo = 0
	}
	if q.OrMore() {
		hi = s.Hi
	}
	out.Lo = max(lo, s.Lo-(team.Hi-1)*hi)
	out.Hi = min(hi, s.Hi-(team.Lo-1)*lo)
	if out.Lo > out.Hi { // it cannot be shared so, which is reported
		return Sum{Hi: s.Hi}
	}
	return out
}

// spread is a quantity that runs from the first of so many turns to the last, as a series.
func spread(q *model.Quantity, turns Sum, tier int) *model.Quantity {
	if q == nil || q.Form != syntax.FromTo || !turns.Exact() || turns.Hi > MaxTurns {
		return q
	}
	c := *q
	c.Form, c.Terms = syntax.Series, nil
	for t := range int(turns.Hi) {
		v, _, _ := q.Value(t, int(turns.Hi), tier)
		c.Terms = append(c.Terms, []float64{v})
	}
	return &c
}

// A WhoseRow is a row, and whose work it is; of anyone where it is the same for one athlete and
// for a team.
type WhoseRow struct {
	Row
	Whose model.Whose
}

// RowsOfEach are the rows of some work: one where one athlete and a team come to the same, and
// otherwise one for each of the two. Unread is as in Totals.
func RowsOfEach(tiers int, groups ...*model.Group) (rows []WhoseRow, unread bool) {
	board := View{}.Of(tiers, groups...)
	sizes := TeamSizes(groups...)
	if len(sizes) == 0 {
		for _, r := range board.Rows {
			rows = append(rows, WhoseRow{r, model.OfAnyone})
		}
		return rows, board.Unread
	}
	each, team := View{Whose: model.EachOne}.Of(tiers, groups...), View{Whose: model.OfTeam}.Of(tiers, groups...)
	divided := View{Whose: model.OfTeam, Once: true}.Of(tiers, groups...)
	for _, r := range board.Rows {
		one, _ := each.Row(r.Movement, r.Unit)
		all, _ := team.Row(r.Movement, r.Unit)
		if asked, _ := divided.Row(r.Movement, r.Unit); slices.Equal(one.Tiers, asked.Tiers) {
			rows = append(rows, WhoseRow{one, model.OfAnyone})
			continue
		}
		rows = append(rows, WhoseRow{one, model.EachOne})
		if len(sizes) == 1 {
			rows = append(rows, WhoseRow{all, model.OfTeam})
		}
	}
	return rows, board.Unread
}

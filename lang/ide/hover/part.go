package hover

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/units"
)

// estimate stands under everything that shows an estimate.
const estimateOf = "An estimate; times may well be 10 % off."

// published is a part as timelines show it, among those of its session.
func (s *spot) published(g *model.Group) (*timeline.Clock, *timeline.Part, *estimate.PartTime) {
	t := estimate.Of(s.session, s.env())
	c := timeline.NewClock(t, s.env().House)
	for i, p := range t.Parts {
		if p.Group == g {
			return c, c.Parts[i], p
		}
	}
	return nil, nil, nil
}

// partCard is the card of a part, the warm-up or the cool-down.
func (s *spot) partCard(g *model.Group) *Card {
	_, p, _ := s.published(g)
	if p == nil {
		return nil
	}
	c := &Card{At: g.At, Title: p.Name, Kind: p.How, Foot: estimateOf}
	if s.version != nil {
		c.Title += ", " + s.version.Name
	}
	c.row("starts", p.StartSays())
	c.row("work", three(p.WorkSays()))
	c.row("done at", three(p.EndSays()))
	if left := p.LeftSays(); left != "" {
		c.row("rest left", three(left))
	}
	c.row("comes to", totalsOf(totals.OfGroup(g, s.tiers()), []*model.Group{g}))
	c.row("", p.Says()...)
	if s.version == nil {
		s.byVersion(c, g)
	}
	return c
}

// three names the levels of three times, where there are three.
func three(text string) string {
	if strings.Count(text, " / ") == 2 {
		return text + " (fast / typical / slow)"
	}
	return text
}

// byVersion adds how long a part takes in each version of the session, where that is not
// as long as it is written.
func (s *spot) byVersion(c *Card, g *model.Group) {
	for _, v := range s.written.Versions {
		t := estimate.Of(v.Session, s.env())
		for _, p := range t.Parts {
			if p.Group.Kind == g.Kind && p.Group.Letter == g.Letter {
				text := times(p.CappedWork)
				if !p.Proven() {
					text = "at least " + text
				}
				c.row(v.Name, text)
			}
		}
	}
}

// times are three times, or one where all are the same.
func times(t estimate.Times) string {
	return timeline.Levels{Fast: t.Fast, Typical: t.Typical, Slow: t.Slow}.Times()
}

// totals is what some work comes to, in the order in which it is done: 27 kettlebell swing,
// 400 m row. What cannot be read is left out, and what the text leaves all open.
func totalsOf(t *totals.Totals, in []*model.Group) string {
	if t.Unread {
		return ""
	}
	var order []string
	works(in, func(w *model.Work) {
		for _, m := range w.Moves {
			order = append(order, m.Name)
		}
	})
	place := func(r totals.Row) int {
		if i := slices.Index(order, r.Movement); i >= 0 {
			return i
		}
		return len(order)
	}
	slices.SortStableFunc(t.Rows, func(a, b totals.Row) int { return place(a) - place(b) })
	var out []string
	for _, r := range t.Rows {
		some := slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return s.Lo > 0 || !s.Open })
		if !r.Unread && some {
			out = append(out, strings.TrimSpace(prose.Sum(r)+" "+r.Movement))
		}
	}
	return strings.Join(out, ", ")
}

// groupCard is the card of a group inside a part: what its turns come to.
func (s *spot) groupCard(g *model.Group) *Card {
	c := &Card{At: g.At, Title: prose.Head(g), Kind: "in " + nameOf(s.part)}
	each := ""
	if slices.ContainsFunc(s.around, func(o *model.Group) bool { return o != g && o.ComesRound() }) {
		each = ", each time"
	}
	c.row("comes to"+each, totalsOf(totals.OfGroup(g, s.tiers()), []*model.Group{g}))
	_, _, t := s.published(s.part)
	if t == nil {
		return c
	}
	if of, ok := t.GroupOf(g); ok && of.Proven {
		took := times(of.Took)
		if n := totals.Turns(g, t.Tier); n.Exact() && n.Lo > 1 && of.Turns[1].Number == 0 {
			one := estimate.Times{Fast: of.Took.Fast / n.Lo, Typical: of.Took.Typical / n.Lo, Slow: of.Took.Slow / n.Lo}
			took += ", so about " + units.FormatClock(one.Typical) + " a turn for a typical member"
		}
		c.row("takes"+each, took)
		c.Foot = estimateOf
	}
	if len(c.Rows) == 0 {
		return nil
	}
	return c
}

// nameOf is how a part is called: warm-up, part A.
func nameOf(g *model.Group) string { return strings.TrimSpace(string(g.Kind) + " " + g.Letter) }

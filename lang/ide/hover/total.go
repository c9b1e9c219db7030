package hover

import (
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/readback"
)

// totalCard is the card of a stated total: what the lines add up to, part by part.
func (s *target) totalCard(t *model.Total, parts []*model.Group) *Card {
	c := &Card{At: t.At, Title: sourceText(t.At), Kind: "total"}
	unit := t.Amount.Unit
	sum := func(of *totals.Totals) (totals.Row, bool) {
		if t.Name == "" {
			return of.All(unit), true
		}
		return of.Row(t.Name, unit)
	}
	all := &model.Session{Parts: parts}
	view := totals.View{Whose: t.Whose, After: t.After}
	of := view.OfSession(all, s.tiers())
	r, ok := sum(of)
	switch {
	case of.Unread || r.Unread:
		c.row("", "some lines cannot be read, so nothing is proven")
		return c
	case !ok:
		c.row("", "no line counts it so")
		return c
	}
	holds, why := readback.Total(t, r)
	c.row(string(holds), why)
	c.row("the lines", prose.Sum(r))
	for _, p := range parts {
		if len(parts) == 1 {
			break
		}
		if r, ok := sum(view.OfGroup(p, s.tiers())); ok && prose.Sum(r) != "0" && prose.Sum(r) != "0 "+unit {
			c.row(wording.PartName(p), prose.Sum(r))
		}
	}
	if other := prose.Other(t.Amount); other != "" {
		c.row("", prose.Amount(t.Amount)+" is about "+other)
	}
	return c
}

// totalCardIn is the card of a total that a part, or a group in it, states.
func (s *target) totalCardIn(part *model.Group) *Card {
	var card *Card
	model.Walk(part, model.InsideEvents, func(st model.Step, _ []*model.Group) bool {
		if g, ok := st.(*model.Group); ok && card == nil {
			if i := slices.IndexFunc(g.Totals, func(t *model.Total) bool { return s.on(t.At) }); i >= 0 {
				card = s.totalCard(g.Totals[i], []*model.Group{g})
			}
		}
		return card == nil
	})
	return card
}

package hover

import (
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/readback"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// countCard is the card of how much of a line is done: what it adds up to over all turns,
// beside what the session has of the movement, and how long it takes.
func (s *target) countCard(w *model.Work) *Card {
	c := &Card{At: s.countAt(w), Title: prose.Work(withoutNotes(w)), Kind: "in " + wording.PartName(s.part)}
	c.row("", readback.Line(s.env().House, w, s.around))
	if other := prose.Other(w.Dose); other != "" {
		c.row("", prose.Amount(w.Dose)+" is about "+other)
	}
	if w.Dose != nil && w.Dose.Unit == "s" && !w.Dose.Max {
		if v, ok := w.Dose.One(); ok && v >= 60 {
			c.row("", units.FormatNumber(v)+" seconds")
		}
	}
	mine := totals.OfLine(s.part, w, s.tiers())
	c.row("comes to", s.totalsByTier(mine)+s.turnsAround())
	all := totals.OfSession(s.session, s.tiers())
	if !all.Unread {
		for _, r := range mine.Rows {
			if sum, ok := all.Row(r.Movement, r.Unit); ok && !sum.Unread && prose.Sum(sum) != prose.Sum(r) {
				c.row("the session", prose.Sum(sum)+" "+r.Movement+" in all")
			}
		}
	}
	if _, p := s.partTimeline(s.part); p != nil && p.Proven() {
		for _, l := range p.Lines {
			if l.Work == w && l.Spent[2].Total() > 0 {
				at := estimate.Times{Fast: l.Spent[0].Total(), Typical: l.Spent[1].Total(), Slow: l.Spent[2].Total()}
				c.row("takes", nameLevels(wording.Times(at))+", its breaks and changes included")
				c.Foot = estimateNote
				break
			}
		}
	}
	return c
}

// countAt are the words of a line's count that the place is on.
func (s *target) countAt(w *model.Work) source.Place {
	for _, m := range w.Moves {
		if s.onQuantity(m.Count) {
			return m.Count.At
		}
	}
	if s.onQuantity(w.Sets) {
		return w.Sets.At
	}
	return w.Dose.At
}

// totalsByTier is what a line adds up to, by tier where the tiers differ.
func (s *target) totalsByTier(t *totals.Totals) string {
	var out []string
	for _, r := range t.Rows {
		if r.Unread {
			continue
		}
		text := strings.TrimSpace(prose.Sum(r) + " " + r.Movement)
		if tiers := s.env().House.Tiers; len(tiers) == len(r.Tiers) && len(tiers) > 1 && r.Tiers[0] != r.Tiers[1] {
			text += " (" + strings.Join(tiers, " / ") + ")"
		}
		out = append(out, text)
	}
	return wording.List(out)
}

// turnsAround says over what a line comes round: 3 rounds, ladder 12-9-6.
func (s *target) turnsAround() string {
	var over []string
	for _, g := range s.around {
		if g.ComesRound() {
			over = append(over, turnsOf(g))
		}
	}
	if len(over) == 0 {
		return ""
	}
	return ", over " + strings.Join(over, " of ")
}

// turnsOf is how a group comes round, without its part's name and its clauses.
func turnsOf(g *model.Group) string {
	only := &model.Group{Kind: model.Plain, Repeat: g.Repeat}
	if g.Mode == model.AMRAP {
		only.Mode, only.Time = g.Mode, g.Time
	}
	return prose.Head(only)
}

// withoutNotes is a line without its notes.
func withoutNotes(w *model.Work) *model.Work {
	c := *w
	c.Notes = nil
	return &c
}

package hover

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// number is the card of a count, a load, a rest or a stated total.
func (s *spot) number() *Card {
	switch st := s.step.(type) {
	case *model.Work:
		if c := s.workNumber(st); c != nil {
			return c
		}
	case *model.Rest:
		return s.rest(st)
	case *model.Group:
		if l := s.onLoadOf(st); l != nil {
			return s.load(l, nil, nil)
		}
	}
	if s.session == nil {
		return s.kitLoad()
	}
	for _, t := range s.session.Totals {
		if s.on(t.At) {
			return s.total(t, s.session.Parts)
		}
	}
	for _, p := range s.session.Parts {
		if t := s.totalIn(p); t != nil {
			return t
		}
	}
	return nil
}

// totalIn is the card of a total that a group states.
func (s *spot) totalIn(g *model.Group) *Card {
	for _, t := range g.Totals {
		if s.on(t.At) {
			return s.total(t, []*model.Group{g})
		}
	}
	for _, k := range groups(g) {
		if c := s.totalIn(k); c != nil {
			return c
		}
	}
	return nil
}

// kitLoad is the card of a weight or a height on the house's list.
func (s *spot) kitLoad() *Card {
	for _, k := range s.env().House.Kit {
		for i := range k.Loads {
			if s.on(k.Loads[i].At) {
				return s.load(&k.Loads[i], nil, nil)
			}
		}
	}
	return nil
}

func (s *spot) workNumber(w *model.Work) *Card {
	var moved *book.Movement
	if len(w.Moves) > 0 {
		moved = w.Moves[0].Movement
	}
	for i := range w.Loads {
		if s.on(w.Loads[i].At) {
			return s.load(&w.Loads[i], w, moved)
		}
	}
	for _, k := range w.With {
		for i := range k.Loads {
			if s.on(k.Loads[i].At) {
				return s.load(&k.Loads[i], nil, nil)
			}
		}
	}
	if w.Rest != nil && s.on(w.Rest.At) {
		return s.rest(w.Rest)
	}
	if s.onQuantity(w.Sets) || s.onQuantity(w.Dose) && w.From == model.FromLine {
		return s.countCard(w)
	}
	for _, m := range w.Moves {
		if s.onQuantity(m.Count) {
			return s.countCard(w)
		}
	}
	return s.tempo(w)
}

// tempo is the card of a line's tempo: its phases in words.
func (s *spot) tempo(w *model.Work) *Card {
	i := slices.IndexFunc(s.line.Toks, func(t syntax.Tok) bool {
		return t.Kind == syntax.Tempo && s.line.Span(t.Span).Contains(s.off)
	})
	if i < 0 || w.Tempo == "" {
		return nil
	}
	phases := strings.Split(w.Tempo, "")
	if strings.Contains(w.Tempo, "-") {
		phases = strings.Split(w.Tempo, "-")
	}
	if len(phases) != 4 {
		return nil
	}
	c := &Card{At: s.file.Src.At(s.line.Span(s.line.Toks[i].Span)), Title: w.Tempo, Kind: "tempo"}
	for i, name := range []string{"down", "at the bottom", "up", "at the top"} {
		text := phases[i] + " s"
		switch {
		case strings.EqualFold(phases[i], "x"):
			text = "as fast as possible"
		case phases[i] == "0":
			text = "no pause"
		}
		c.row(name, text)
	}
	return c
}

// countCard is the card of how much of a line is done: what it comes to over all turns,
// beside what the session has of the movement, and how long it takes.
func (s *spot) countCard(w *model.Work) *Card {
	c := &Card{At: s.counted(w), Title: prose.Work(bare(w)), Kind: "in " + nameOf(s.part)}
	if other := prose.Other(w.Dose); other != "" {
		c.row("", prose.Amount(w.Dose)+" is about "+other)
	}
	if w.Dose != nil && w.Dose.Unit == "s" && !w.Dose.Max {
		if v, ok := w.Dose.One(); ok && v >= 60 {
			c.row("", num(v)+" seconds")
		}
	}
	if w.Side && w.Dose != nil && !w.Dose.Max {
		c.row("", "on each side, so twice that in all")
	}
	mine := totals.OfLine(s.part, w, s.tiers())
	c.row("comes to", s.inTiers(mine)+s.turns())
	all := totals.OfSession(s.session, s.tiers())
	if !all.Unread {
		for _, r := range mine.Rows {
			if sum, ok := all.Row(r.Movement, r.Unit); ok && !sum.Unread && prose.Sum(sum) != prose.Sum(r) {
				c.row("the session", prose.Sum(sum)+" "+r.Movement+" in all")
			}
		}
	}
	if _, _, p := s.published(s.part); p != nil && p.Proven() {
		for _, l := range p.Lines {
			if l.Work == w && l.Spent[2].Total() > 0 {
				at := estimate.Times{Fast: l.Spent[0].Total(), Typical: l.Spent[1].Total(), Slow: l.Spent[2].Total()}
				c.row("takes", three(times(at))+", its breaks and changes included")
				c.Foot = estimateOf
				break
			}
		}
	}
	return c
}

// counted are the words of a line's count that the place is on.
func (s *spot) counted(w *model.Work) source.Place {
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

// inTiers is what a line comes to, by tier where the tiers differ.
func (s *spot) inTiers(t *totals.Totals) string {
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
	return list(out)
}

// turns says over what a line comes round: 3 rounds, ladder 12-9-6.
func (s *spot) turns() string {
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

// rest is the card of a rest: where it is taken, for that is what boards are misread on.
func (s *spot) rest(r *model.Rest) *Card {
	c := &Card{At: r.At, Title: prose.Rest(bareRest(r)), Kind: "in " + nameOf(s.part)}
	switch {
	case r.Bound != "":
		c.row("", "it asks for so much rest and adds none: the checks hold the estimate against it")
	case r.Needed:
		c.row("", "as long as it takes, so what comes behind it starts at no settled time")
	}
	where := map[model.RestPlace]string{
		model.RestHere:         "taken where it stands, every time",
		model.RestBetweenTurns: "taken between the turns, so once less than there are turns",
		model.RestBetweenSets:  "taken between the sets, so once less than there are sets",
		model.RestAfterPart:    "taken once, when all of it is done",
		model.RestInInterval:   "taken inside the interval",
	}[r.Place]
	if r.Of != "" {
		where = "taken between the " + string(r.Of)
	}
	if r.Bound == "" {
		c.row("", where)
	}
	if n, all := s.taken(r); n > 1 {
		c.row("comes to", fmt.Sprintf("%s in all, %d times", units.FormatClock(all), n))
	}
	if r.Bound != "" && s.part != nil {
		if _, p, _ := s.published(s.part); p != nil {
			for _, l := range p.Limits {
				if l.Kind == "rest" {
					c.row("", l.Text)
					c.Foot = estimateOf
				}
			}
		}
	}
	return c
}

// maxTaken is more often than anybody rests.
const maxTaken = 1000

// taken is how often a rest between turns is taken, and how long that is in all; 0 where
// it is not known.
func (s *spot) taken(r *model.Rest) (times int, all float64) {
	if r.Place != model.RestBetweenTurns || r.Of != "" || r.Bound != "" || r.Amount == nil || len(s.around) == 0 {
		return 0, 0
	}
	outer, inner := 1, 0
	for i, g := range s.around {
		t := totals.Turns(g, 0)
		if !t.Exact() || g.Slots() > 0 || t.Lo > maxTaken {
			return 0, 0
		}
		if i == len(s.around)-1 {
			inner = int(t.Lo) - 1
		} else {
			outer *= int(t.Lo)
		}
	}
	for turn := range inner {
		lo, hi, known := r.Amount.Value(turn, inner, 0)
		if !known || lo != hi {
			return 0, 0
		}
		all += lo
	}
	return outer * inner, float64(outer) * all
}

func bareRest(r *model.Rest) *model.Rest {
	c := *r
	c.Notes = nil
	return &c
}

// total is the card of a stated total: what the lines come to, part by part.
func (s *spot) total(t *model.Total, parts []*model.Group) *Card {
	c := &Card{At: t.At, Title: line(t.At), Kind: "total"}
	unit := t.Amount.Unit
	sum := func(of *totals.Totals) (totals.Row, bool) {
		if t.Name == "" {
			return of.All(unit), true
		}
		return of.Row(t.Name, unit)
	}
	all := &model.Session{Parts: parts}
	of := totals.OfSession(all, s.tiers())
	r, ok := sum(of)
	switch {
	case of.Unread || r.Unread:
		c.row("", "some lines cannot be read, so nothing is proven")
		return c
	case !ok:
		c.row("", "no line counts it so")
		return c
	}
	c.row("the lines", prose.Sum(r))
	for _, p := range parts {
		if len(parts) == 1 {
			break
		}
		if r, ok := sum(totals.OfGroup(p, s.tiers())); ok && prose.Sum(r) != "0" && prose.Sum(r) != "0 "+unit {
			c.row(nameOf(p), prose.Sum(r))
		}
	}
	if other := prose.Other(t.Amount); other != "" {
		c.row("", prose.Amount(t.Amount)+" is about "+other)
	}
	return c
}

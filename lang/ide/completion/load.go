package completion

import (
	"cmp"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/syntax"
)

// loadsFor offers loads behind the @ at a token, for a movement if it is known.
func (c *completer) loadsFor(at int, m *book.Movement, version *model.Version) {
	c.span(at+1, func(t syntax.Tok) bool {
		return t.Kind != syntax.At && t.Kind != syntax.Comma && t.Kind != syntax.Note && t.Kind != syntax.Comment &&
			t.Kind != syntax.Arrow && t.Kind != syntax.Until
	})
	rank := 0
	add := func(text, detail string) {
		if slices.ContainsFunc(c.items, func(o Suggestion) bool { return o.Label == text }) {
			return
		}
		c.add(Suggestion{Label: text, New: text, Kind: Value, Detail: detail, rank: rank})
		rank++
	}
	for _, l := range c.loadsHere(m) {
		add(l, "as elsewhere in this session")
	}
	if version == nil || !version.HasOnly {
		c.weights(m, add)
	}
	if m != nil && m.Best == book.BestLoad || m == nil {
		for _, p := range []string{"70%", "75%", "80%", "85%", "70 to 80%"} {
			add(p, "of a one-repetition maximum")
		}
		add("80% of today", "of the heaviest of this session")
	}
	if m == nil || len(m.Paces) == 0 || slices.ContainsFunc(m.Paces, func(p book.Pace) bool { return p.Per == "rep" }) {
		add("RPE 8", "two repetitions left")
		add("2 RIR", "two repetitions in reserve")
		add("rising", "more each turn, as the athlete chooses")
		add("bodyweight", "as heavy as the athlete")
	}
	if m == nil || slices.ContainsFunc(m.Paces, func(p book.Pace) bool { return p.Per == "m" || p.Per == "cal" }) {
		add("2:00 per 500 m", "a pace")
	}
	efforts := make([]string, 0, len(c.env.House.Efforts))
	byWord := c.effortWords()
	for w := range byWord {
		efforts = append(efforts, w)
	}
	least := func(w string) float64 {
		if q := byWord[w]; q != nil && len(q.Terms) > 0 {
			return q.Terms[0][0]
		}
		return 0
	}
	slices.SortFunc(efforts, func(a, b string) int {
		return cmp.Or(cmp.Compare(least(a), least(b)), strings.Compare(a, b))
	})
	for _, w := range efforts {
		add(w, prose.Amount(byWord[w]))
	}
	add("effort 80%", "of the hardest")
}

// effortWords are the house's words for how hard, as they are written.
func (c *completer) effortWords() map[string]*model.Quantity {
	out := map[string]*model.Quantity{}
	for key, q := range c.env.House.Efforts {
		out[effortName(q, key)] = q
	}
	return out
}

// effortName is a word for how hard as its line has it: the words between effort and the
// number.
func effortName(q *model.Quantity, key string) string {
	src := q.At.File
	if src == nil {
		return key
	}
	line := src.Slice(src.Line(src.LineAt(q.At.Start)))
	_, rest, ok := strings.Cut(line, "effort ")
	if i := strings.IndexAny(rest, "0123456789"); ok && i > 0 && book.Key(rest[:i]) == key {
		return strings.ToLower(strings.Join(strings.Fields(rest[:i]), " "))
	}
	return key
}

// loadsHere are the loads that the session has a movement with.
func (c *completer) loadsHere(m *book.Movement) []string {
	if m == nil || c.session == nil {
		return nil
	}
	var out []string
	for w := range c.session.Lines(model.Everything) {
		if len(w.Moves) == 0 || w.Moves[0].Movement != m || w.At.Contains(c.off) {
			continue
		}
		for _, l := range w.Loads {
			if text := prose.Load(l); l.Kind != syntax.Noted && text != "" && !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	return out
}

// weights offers the weights and heights that the house has of a movement's kit: in pairs,
// where members choose between two tiers, and one by one.
func (c *completer) weights(m *book.Movement, add func(text, detail string)) {
	if m == nil {
		return
	}
	for _, k := range m.Kit() {
		if slices.Contains(equipment.BarKinds, k) {
			continue // discs make any weight
		}
		for _, kind := range []syntax.LoadKind{syntax.Mass, syntax.Height} {
			things := equipment.Owned(c.env.Book, c.env.House, k, kind)
			slices.Reverse(things) // the heaviest first, as tiers are written
			if len(c.env.House.Tiers) == 2 {
				for i := 0; i+1 < len(things); i++ {
					if a, b := amountOf(things[i], kind), amountOf(things[i+1], kind); a.unit == b.unit && a.n != b.n {
						add(a.n+"/"+b.n+" "+a.unit, "the house's "+k)
					}
				}
			}
			for _, t := range things {
				a := amountOf(t, kind)
				add(a.n+" "+a.unit, "the house's "+k)
			}
		}
	}
}

type writtenAmount struct{ n, unit string }

// amountOf is a thing's weight or height, in the unit that the house writes it in.
func amountOf(t equipment.Thing, kind syntax.LoadKind) writtenAmount {
	base := "kg"
	if kind == syntax.Height {
		base = "m"
	}
	unit := base
	if t.Written != "" {
		unit = t.Written
	}
	return writtenAmount{prose.Value(t.Value, base, t.Written), unit}
}

// load offers loads, or behind "of" what a percentage may be of.
func (c *completer) load(at int) {
	if i := c.behindWord("of"); i > at {
		c.span(i, isNameToken)
		c.values(Value, "what it is a share of", "today", "bodyweight", "the first", "the last", "max reps", "max time", "max heart rate",
			"max speed", "max power", "5RM", "3RM")
		c.movements(func(m *book.Movement) (int, bool) { return noKit, m.Best == book.BestLoad })
		return
	}
	if i := c.last(syntax.Comma); i >= 0 && c.word(i+1) == "with" || c.word(0) == "with" {
		c.kitLoads(at)
		return
	}
	c.loadsFor(at, c.lineMovement(at), c.version)
}

// kitLoads offers the weights that the house has of the kit that is named before an @.
func (c *completer) kitLoads(at int) {
	start := at
	for start > 0 && c.toks[start-1].Kind == syntax.Word && c.toks[start-1].Text != "with" {
		start--
	}
	if start == at {
		return
	}
	name, ok := c.env.Book.Kit(c.text[c.toks[start].Start:c.toks[at-1].End])
	if !ok {
		return
	}
	c.loadsFor(at, &book.Movement{Needs: []string{name}, Paces: []book.Pace{{Per: "s"}}}, c.version)
}

package completion

import (
	"strconv"

	"stint.example/stint/lang/syntax"
)

// work offers what may stand on a line of work, on a head, or on a swap.
func (c *completer) work() {
	from := c.last(syntax.Colon, syntax.Arrow) + 1 // where what the cursor is in begins
	swapped := from > 0 && c.toks[from-1].Kind == syntax.Arrow
	if i := c.last(syntax.At); i >= from && c.last(syntax.Comma, syntax.Until) < i {
		c.load(i)
		return
	}
	head := c.isHead(from)
	if i := c.last(syntax.Comma); i >= from {
		c.clause(i+1, head)
		return
	}
	first := c.word(from)
	switch {
	case head:
		c.head(from)
	case from == 0 && first == "rest" && c.ctx == syntax.InGroup:
		c.span(1, func(t syntax.Tok) bool {
			return t.Kind != syntax.Note && t.Kind != syntax.Comment && t.Kind != syntax.Colon
		})
		c.values(Value, "how much, and where", "1:30", "2:00 after", "as needed", "at least 1:30", "2 x work",
			"1:30 between rounds")
	case from == 0 && syntax.StartsLine(syntax.InGroup, first), c.ctx == syntax.InSession, c.ctx == syntax.InHouse:
	case c.before > from && c.toks[c.before-1].Kind == syntax.Until || c.word(c.before-1) == "until":
		c.span(c.before, isNameToken)
		c.values(Value, "when it ends", "missed", "done", "the first +0:08", "125 bpm", "> Form breaks.")
	default:
		c.movementOrUnit(from, swapped)
	}
}

// movementOrUnit offers movements, and behind a number its units.
func (c *completer) movementOrUnit(from int, swapped bool) {
	first := c.name(from)
	if first == c.before && c.before > from && c.from == c.off && c.off == c.body+c.toks[c.before-1].End {
		return // straight behind a mark: what follows has a blank before it
	}
	if first > from {
		switch t := c.toks[first-1]; t.Kind {
		case syntax.Number:
			c.units(t.Raw)
			if first-1 == 0 && c.ctx == syntax.InGroup {
				c.add(Suggestion{Label: "rounds", New: "rounds", Kind: Keyword, Detail: t.Raw + " rounds", rank: 20})
			}
		case syntax.Word, syntax.Comma, syntax.Equals, syntax.Bound:
			return
		}
	}
	switch {
	case swapped:
		if of := c.lineMovement(from - 1); of != nil {
			c.movements(c.rankForSwap(of))
		} else {
			c.leftSide(from - 1)
		}
		if first == from {
			c.add(Suggestion{Label: "nothing", New: "nothing", Kind: Value, Detail: "leave it out", rank: -1})
		}
	case c.ctx == syntax.InScaling:
		c.swapSides()
		c.movements(c.rankForWork)
	default:
		c.movements(c.rankForWork)
	}
}

// units offers what a number may count.
func (c *completer) units(number string) {
	rank := 2 * noKit
	if n, err := strconv.ParseFloat(number, 64); c.from < c.off || err == nil && n >= 100 {
		rank = -2 * noKit // a letter of it is typed, or nobody does so many
	}
	for i, u := range [][2]string{{"m", "metres"}, {"cal", "calories"}, {"s", "seconds"}, {"min", "minutes"},
		{"breath", "breaths"}, {"km", "kilometres"}} {
		c.add(Suggestion{Label: u[0], New: u[0], Kind: Value, Detail: number + " " + u[1], rank: rank + i})
	}
}

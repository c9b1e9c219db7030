package completion

import (
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/syntax"
)

// complete gathers what may stand at the cursor, and says which words it takes the place of.
func (c *completer) complete() {
	if c.before == 0 {
		c.span(0, func(t syntax.Tok) bool {
			return t.Kind == syntax.Word && t.Start == 0 || isNameToken(t) && c.ctx != syntax.InFile
		})
		c.firstWord()
		return
	}
	first := c.word(0)
	switch c.ctx {
	case syntax.InMovement:
		c.property(first)
		return
	case syntax.InHouse:
		switch first {
		case "needs":
			c.scalings(c.commaOr(1))
			return
		case "rule":
			c.rule()
			return
		case "scaling":
			if i := c.last(syntax.Word); i > 0 &&
				slices.ContainsFunc(c.toks[:c.before], func(t syntax.Tok) bool { return t.Text == "from" }) {
				c.scalings(c.behindWord("from"))
			}
			return
		case "round":
			c.values(Value, "how weights that are worked out are rounded", "loads down to 2.5 kg", "loads up to 2.5 kg", "loads down to discs", "loads up to discs")
			return
		case "tiers", "class", "effort", "purpose", "kit":
			return
		}
	case syntax.InKit:
		c.kitLine()
		return
	case syntax.InCycle:
		c.cycleLine(first)
		return
	case syntax.InWeek:
		if slices.Contains(syntax.Weekdays, first) {
			c.day()
			return
		}
	case syntax.InFile:
		switch first {
		case "scaling":
			if n := c.behindWord("from"); n > 0 {
				c.scalings(n)
			} else {
				c.scalings(1)
			}
			return
		case "session", "movement", "house", "cycle":
			return
		case "stint":
			c.span(1, func(syntax.Tok) bool { return false })
			c.values(Value, "the version of the notation", "1")
			return
		case "total":
			c.total()
			return
		}
	case syntax.InSession:
		switch first {
		case "date", "start", "length", "effort", "purpose", "kit":
			return
		}
	}
	switch {
	case first == "allow":
		c.rules()
	case first == "has" && (c.ctx == syntax.InScaling || c.ctx == syntax.InHouseScaling):
		c.kitNames(c.commaOr(1))
	case first == "score" && c.ctx == syntax.InGroup:
		c.score()
	case first == "total":
		c.total()
	case first == "effort" || first == "length":
	default:
		c.work()
	}
}

// behindWord is the index of the token behind a word before the cursor; 0 where the word is
// not there.
func (c *completer) behindWord(word string) int {
	for i := c.before - 1; i >= 0; i-- {
		if c.toks[i].Text == word {
			return i + 1
		}
	}
	return 0
}

// commaOr is the index of the token behind the last comma, or else the one given.
func (c *completer) commaOr(from int) int {
	if i := c.last(syntax.Comma); i >= from {
		return i + 1
	}
	return from
}

// property offers what may stand behind a keyword of a movement.
func (c *completer) property(key string) {
	from := c.commaOr(1)
	switch key {
	case "needs":
		c.kitNames(max(from, 1+c.last(syntax.Or)))
	case "trains":
		c.name(from)
		for i, p := range book.Patterns {
			c.add(Suggestion{Label: string(p), New: string(p), Kind: Value, Detail: "pattern", rank: i})
		}
	case "moves":
		c.name(from)
		for i, j := range book.Joints {
			c.add(Suggestion{Label: string(j), New: string(j), Kind: Value, Detail: "joint", rank: i})
		}
	case "easier", "harder", "instead":
		c.name(from)
		c.movements(c.everyMovement)
	case "best":
		c.name(1)
		c.values(Value, "what athletes test of it", "load", "reps", "time")
	case "pace":
		if c.last(syntax.At) < 0 && c.before > 1 {
			c.span(c.before, func(syntax.Tok) bool { return true })
			c.values(Value, "seconds for one", "s per rep", "s per m", "s per cal", "s per breath")
		}
	case "allow":
		c.rules()
	}
}

// score offers what a part may be scored by.
func (c *completer) score() {
	c.span(c.before, isNameToken)
	c.values(Value, "what is counted", syntax.Scores...)
	if c.before == 1 {
		for _, w := range syntax.ScoreOrders {
			c.add(Suggestion{Label: w, New: w + " ", Kind: Value, Detail: "which of several", rank: 20})
		}
	}
}

package completion

import (
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/syntax"
)

// head offers what may follow on a head.
func (c *completer) head(from int) {
	first := c.word(from)
	if first == "part" && c.before == from+1 {
		c.span(from+1, isNameToken)
		if c.ctx == syntax.InScaling {
			c.partLetters()
			return
		}
		letter := c.nextLetter()
		c.add(Suggestion{Label: letter, New: letter, Kind: Value, Detail: "the next part"})
		return
	}
	if first == "with" {
		c.kitNames(from + 1)
		return
	}
	keep := from + 1
	switch first {
	case "part":
		keep++
	case "warm-up", "cool-down":
	case "for", "any", "choose", "one", "carry", "in":
		keep = from // its second word belongs to it
	default:
		if c.toks[from].Kind == syntax.Number {
			keep++ // rounds
		}
	}
	start := c.name(keep)
	if start < c.before && c.word(start) == "at" {
		return // a clock value comes
	}
	part := first == "part" || first == "warm-up" || first == "cool-down"
	has := func(ws ...string) bool {
		return slices.ContainsFunc(c.toks[from:start], func(t syntax.Tok) bool { return slices.Contains(ws, t.Text) })
	}
	rank := 0
	offer := func(detail, text, snippet string) {
		c.add(Suggestion{Label: text, New: text, Kind: Clause, Detail: detail, Snippet: snippet, rank: rank})
		rank++
	}
	if part && !has("at") && first == "part" {
		offer("when it starts", "at 0:00", "at ${1:0:00}")
	}
	if !has("for", "amrap") {
		offer("as fast as possible", "for time", "")
		offer("to get it done, well", "for completion", "")
		offer("as heavy as possible", "for load", "")
		offer("as many rounds as possible", "amrap 9:00", "amrap ${1:9:00}")
	}
	if (part || first == "for" || first == "in") &&
		!has("rounds", "round", "emom", "every", "on", "ladder", "any", "choose", "amrap") {
		offer("so often", "3 rounds", "${1:3} rounds")
		offer("a count a turn", "ladder 21-15-9", "ladder ${1:21-15-9}")
		offer("a start a minute", "emom 12:00", "emom ${1:12:00}")
		offer("a start so often", "every 2:30 x 5", "every ${1:2:30} x ${2:5}")
		offer("work and rest by the clock", "on 0:40 off 0:20 x 6", "on ${1:0:40} off ${2:0:20} x ${3:6}")
		offer("in whatever order", "any order", "")
	}
	if start > max(keep, from+2) { // behind something else a clause has its comma
		return
	}
	for _, kind := range []syntax.ClauseKind{syntax.Cap, syntax.Lasts, syntax.In} {
		for _, example := range syntax.ExamplesOf(kind, true) {
			offer("", example, withStops(example))
		}
	}
}

// partLetters offers the parts of the session, for a line of a scaling that is of one.
func (c *completer) partLetters() {
	if c.session == nil {
		return
	}
	for i, p := range c.session.Parts {
		if p.Kind == model.Part && p.Letter != "" {
			c.add(Suggestion{Label: p.Letter + ":", New: p.Letter + ": ", Kind: Value, Detail: prose.Head(p), rank: i})
		}
	}
}

// isHead says whether what begins at a token is a head.
func (c *completer) isHead(from int) bool {
	first := c.word(from)
	if syntax.StartsHead(first) {
		// A part with a colon stands before a swap.
		return !(from == 0 && c.last(syntax.Colon) >= 0)
	}
	return slices.Contains([]string{"rounds", "round"}, c.word(from+1)) && from < len(c.toks) &&
		c.toks[from].Kind == syntax.Number
}

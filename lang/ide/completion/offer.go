package completion

import (
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/syntax"
)

// offer gathers what may stand at the cursor, and says which words it takes the place of.
func (h *here) offer() {
	if h.before == 0 {
		h.span(0, func(t syntax.Tok) bool {
			return t.Kind == syntax.Word && t.Start == 0 || namelike(t) && h.ctx != syntax.InFile
		})
		h.firstWord()
		return
	}
	first := h.word(0)
	switch h.ctx {
	case syntax.InMovement:
		h.property(first)
		return
	case syntax.InHouse:
		switch first {
		case "sessions":
			h.scalings(min(2, h.before))
			return
		case "rule":
			h.rule()
			return
		case "scaling":
			if i := h.last(syntax.Word); i > 0 && slices.ContainsFunc(h.toks[:h.before], func(t syntax.Tok) bool { return t.Text == "from" }) {
				h.scalings(h.behindWord("from"))
			}
			return
		case "tiers", "class", "effort", "change", "break", "handover", "purpose", "kit":
			return
		}
	case syntax.InKit:
		h.kitLine()
		return
	case syntax.InCycle:
		h.cycleLine(first)
		return
	case syntax.InWeek:
		if slices.Contains(syntax.Weekdays, first) {
			h.day()
			return
		}
	case syntax.InFile:
		switch first {
		case "scaling":
			if n := h.behindWord("from"); n > 0 {
				h.scalings(n)
			} else {
				h.scalings(1)
			}
			return
		case "session", "movement", "house", "cycle":
			return
		case "stint":
			h.span(1, func(syntax.Tok) bool { return false })
			h.values(Value, "the version of the notation", "1")
			return
		case "total":
			h.total()
			return
		}
	case syntax.InSession:
		switch first {
		case "date", "length", "effort", "purpose":
			return
		}
	}
	switch {
	case first == "allow":
		h.rules()
	case first == "has" && (h.ctx == syntax.InScaling || h.ctx == syntax.InHouseScaling):
		h.kitNames(h.commaOr(1))
	case first == "score" && h.ctx == syntax.InGroup:
		h.score()
	case first == "total":
		h.total()
	case first == "effort" || first == "length":
	default:
		h.work()
	}
}

// behindWord is the index of the token behind a word before the cursor; 0 where the word is
// not there.
func (h *here) behindWord(word string) int {
	for i := h.before - 1; i >= 0; i-- {
		if h.toks[i].Text == word {
			return i + 1
		}
	}
	return 0
}

// commaOr is the index of the token behind the last comma, or else the one given.
func (h *here) commaOr(from int) int {
	if i := h.last(syntax.Comma); i >= from {
		return i + 1
	}
	return from
}

// property offers what may stand behind a keyword of a movement.
func (h *here) property(key string) {
	from := h.commaOr(1)
	switch key {
	case "needs":
		h.kitNames(from)
	case "trains":
		h.name(from)
		for i, p := range book.Patterns {
			h.add(Item{Label: string(p), New: string(p), Kind: Value, Detail: "pattern", rank: i})
		}
	case "moves":
		h.name(from)
		for i, j := range book.Joints {
			h.add(Item{Label: string(j), New: string(j), Kind: Value, Detail: "joint", rank: i})
		}
	case "easier", "harder", "instead":
		h.name(from)
		h.movements(h.everyMovement)
	case "best":
		h.name(1)
		h.values(Value, "what athletes test of it", "load", "reps", "time")
	case "pace":
		if h.last(syntax.At) < 0 && h.before > 1 {
			h.span(h.before, func(syntax.Tok) bool { return true })
			h.values(Value, "seconds for one", "s per rep", "s per m", "s per cal", "s per breath")
		}
	case "allow":
		h.rules()
	}
}

// rule offers what may stand on a house's rule line.
func (h *here) rule() {
	if h.before == 1 {
		h.ruleNames(1)
		return
	}
	r, ok := h.snap.Rule(h.ruleWritten())
	if i := h.last(syntax.Comma); i > 0 && ok {
		h.name(i + 1)
		for n, t := range r.Thresholds {
			h.add(Item{Label: t.Name, New: t.Name + " ", Kind: Value, Detail: t.String(), rank: n})
		}
		return
	}
	if !ok {
		h.ruleNames(1)
		return
	}
	h.span(h.before, namelike)
	for n, s := range []diag.Severity{diag.Off, diag.Suggestion, diag.Warning, diag.Error} {
		h.add(Item{Label: s.String(), New: s.String(), Kind: Value, Detail: "how much it matters", rank: n})
	}
}

// ruleWritten is the name of the rule on the line.
func (h *here) ruleWritten() string {
	if len(h.toks) < 2 {
		return ""
	}
	return strings.TrimSuffix(h.toks[1].Raw, ",")
}

// cycleLine offers what may stand on a line of a cycle.
func (h *here) cycleLine(first string) {
	switch first {
	case "week":
		if h.before >= 2 {
			h.span(h.before, namelike)
			h.values(Value, "what kind of week it is", "easy", "test")
		}
	case "progress":
		if i := h.last(syntax.At); i > 0 {
			h.loadsFor(i, h.movementAt(1, i), nil)
			return
		}
		h.name(1)
		h.movements(func(m *book.Movement) (int, bool) { return 0, m.Best == book.BestLoad })
	case "allow":
		h.rules()
	}
}

// score offers what a part may be scored by.
func (h *here) score() {
	h.span(h.before, namelike)
	h.values(Value, "what is counted", "reps", "load", "time", "distance", "calories", "rounds", "rungs", "sets", "breaks", "points", "level", "power")
	if h.before == 1 {
		for _, w := range []string{"total", "best", "lowest", "fewest", "slowest", "each"} {
			h.add(Item{Label: w, New: w + " ", Kind: Value, Detail: "which of several", rank: 20})
		}
	}
}

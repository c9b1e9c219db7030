package completion

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/model"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/syntax"
)

// work offers what may stand on a line of work, on a head, or on a swap.
func (h *here) work() {
	from := h.last(syntax.Colon, syntax.Arrow) + 1 // where what the cursor is in begins
	swapped := from > 0 && h.toks[from-1].Kind == syntax.Arrow
	if i := h.last(syntax.At); i >= from && h.last(syntax.Comma, syntax.Until) < i {
		h.load(i)
		return
	}
	head := h.isHead(from)
	if i := h.last(syntax.Comma); i >= from {
		h.clause(i+1, head)
		return
	}
	first := h.word(from)
	switch {
	case head:
		h.head(from)
	case from == 0 && first == "rest" && h.ctx == syntax.InGroup:
		h.span(1, func(t syntax.Tok) bool {
			return t.Kind != syntax.Note && t.Kind != syntax.Comment && t.Kind != syntax.Colon
		})
		h.values(Value, "how much, and where", "1:30", "2:00 after", "as needed", "at least 1:30", "2 x work", "1:30 between laps")
	case from == 0 && syntax.StartsLine(syntax.InGroup, first), h.ctx == syntax.InSession, h.ctx == syntax.InHouse:
	case h.before > from && h.toks[h.before-1].Kind == syntax.Until || h.word(h.before-1) == "until":
		h.span(h.before, namelike)
		h.values(Value, "when it ends", "missed", "missed twice", "done")
	default:
		h.move(from, swapped)
	}
}

// isHead says whether what begins at a token is a head.
func (h *here) isHead(from int) bool {
	first := h.word(from)
	if syntax.StartsHead(first) {
		// A part with a colon stands before a swap.
		return !(from == 0 && h.last(syntax.Colon) >= 0)
	}
	return slices.Contains([]string{"rounds", "round"}, h.word(from+1)) && from < len(h.toks) && h.toks[from].Kind == syntax.Number
}

// move offers movements, and behind a number its units.
func (h *here) move(from int, swapped bool) {
	first := h.name(from)
	if first == h.before && h.before > from && h.from == h.off && h.off == h.body+h.toks[h.before-1].End {
		return // straight behind a mark: what follows has a blank before it
	}
	if first > from {
		switch t := h.toks[first-1]; t.Kind {
		case syntax.Number:
			h.units(t.Raw)
			if first-1 == 0 && h.ctx == syntax.InGroup {
				h.add(Item{Label: "rounds", New: "rounds", Kind: Keyword, Detail: t.Raw + " rounds", rank: 20})
			}
		case syntax.Word, syntax.Comma, syntax.Equals:
			return
		}
	}
	switch {
	case swapped:
		if of := h.lineMovement(from - 1); of != nil {
			h.movements(h.instead(of))
		} else {
			h.left(from - 1)
		}
		if first == from {
			h.add(Item{Label: "nothing", New: "nothing", Kind: Value, Detail: "leave it out", rank: -1})
		}
	case h.ctx == syntax.InScaling:
		h.swapSides()
		h.movements(h.likely)
	default:
		h.movements(h.likely)
	}
}

// letters offers the parts of the session, for a line of a scaling that is of one.
func (h *here) letters() {
	if h.session == nil {
		return
	}
	for i, p := range h.session.Parts {
		if p.Kind == model.Part && p.Letter != "" {
			h.add(Item{Label: p.Letter + ":", New: p.Letter + ": ", Kind: Value, Detail: prose.Head(p), rank: i})
		}
	}
}

// left offers the left side of a swap again, to be changed: a head, a clause, a rest or a
// load.
func (h *here) left(arrow int) {
	start := 0
	for i, t := range h.toks[:arrow] {
		if t.Kind == syntax.Colon {
			start = i + 1
		}
	}
	if start >= arrow {
		return
	}
	text := strings.Join(strings.Fields(h.text[h.toks[start].Start:h.toks[arrow-1].End]), " ")
	h.add(Item{Label: text, New: text, Kind: Line, Detail: "to be changed", Snippet: "${1:" + escapeStop(text) + "}", rank: -2})
}

// units offers what a number may count.
func (h *here) units(number string) {
	rank := 2 * unstocked
	if n, err := strconv.ParseFloat(number, 64); h.from < h.off || err == nil && n >= 100 {
		rank = -2 * unstocked // a letter of it is typed, or nobody does so many
	}
	for i, u := range [][2]string{{"m", "metres"}, {"cal", "calories"}, {"s", "seconds"}, {"min", "minutes"}, {"breath", "breaths"}, {"km", "kilometres"}} {
		h.add(Item{Label: u[0], New: u[0], Kind: Value, Detail: number + " " + u[1], rank: rank + i})
	}
}

// load offers loads, or behind "of" what a percentage may be of.
func (h *here) load(at int) {
	if i := h.behindWord("of"); i > at {
		h.span(i, namelike)
		h.values(Value, "what it is a share of", "today", "bodyweight", "max reps", "max time", "max heart rate", "max speed", "max power", "5RM", "3RM")
		h.movements(func(m *book.Movement) (int, bool) { return unstocked, m.Best == book.BestLoad })
		return
	}
	if i := h.last(syntax.Comma); i >= 0 && h.word(i+1) == "with" || h.word(0) == "with" {
		h.kitLoads(at)
		return
	}
	h.loadsFor(at, h.lineMovement(at), h.version)
}

// kitLoads offers the weights that the house has of the kit that is named before an @.
func (h *here) kitLoads(at int) {
	start := at
	for start > 0 && h.toks[start-1].Kind == syntax.Word && h.toks[start-1].Text != "with" {
		start--
	}
	if start == at {
		return
	}
	name, ok := h.snap.Env.Book.Kit(h.text[h.toks[start].Start:h.toks[at-1].End])
	if !ok {
		return
	}
	h.loadsFor(at, &book.Movement{Needs: []string{name}, Paces: []book.Pace{{Per: "s"}}}, h.version)
}

// clause offers clauses behind a comma, or what may stand in the one that is begun.
func (h *here) clause(from int, head bool) {
	switch h.word(from) {
	case "with":
		h.kitNames(from + 1)
		return
	case "in":
		h.span(from, namelike)
		h.values(Clause, "who works together", syntax.ExamplesOf(syntax.In, true)...)
		return
	}
	h.span(from, func(t syntax.Tok) bool {
		return t.Kind != syntax.Comma && t.Kind != syntax.Note && t.Kind != syntax.Comment && t.Kind != syntax.Colon && t.Kind != syntax.Arrow
	})
	for i, f := range syntax.ClauseExamples(head) {
		h.add(Item{Label: f, New: f, Kind: Clause, rank: i, Snippet: withStops(f)})
	}
}

// operands are what differs from one use of a clause to the next: the numbers, and the kit.
var operands = regexp.MustCompile(`[0-9][0-9:/.X-]*|\bvest\b`)

// withStops is an example of a clause with a snippet's stop on each operand; empty where it
// has none.
func withStops(example string) string {
	n := 0
	out := operands.ReplaceAllStringFunc(example, func(operand string) string {
		n++
		return fmt.Sprintf("${%d:%s}", n, operand)
	})
	if n == 0 {
		return ""
	}
	return out
}

// head offers what may follow on a head.
func (h *here) head(from int) {
	first := h.word(from)
	if first == "part" && h.before == from+1 {
		h.span(from+1, namelike)
		if h.ctx == syntax.InScaling {
			h.letters()
			return
		}
		letter := h.nextLetter()
		h.add(Item{Label: letter, New: letter, Kind: Value, Detail: "the next part"})
		return
	}
	if first == "with" {
		h.kitNames(from + 1)
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
		if h.toks[from].Kind == syntax.Number {
			keep++ // rounds
		}
	}
	start := h.name(keep)
	if start < h.before && h.word(start) == "at" {
		return // a clock value comes
	}
	part := first == "part" || first == "warm-up" || first == "cool-down"
	has := func(ws ...string) bool {
		return slices.ContainsFunc(h.toks[from:start], func(t syntax.Tok) bool { return slices.Contains(ws, t.Text) })
	}
	rank := 0
	offer := func(detail, text, snippet string) {
		h.add(Item{Label: text, New: text, Kind: Clause, Detail: detail, Snippet: snippet, rank: rank})
		rank++
	}
	if part && !has("at") && first == "part" {
		offer("when it starts", "at 0:00", "at ${1:0:00}")
	}
	if !has("for", "amrap") {
		offer("as fast as possible", "for time", "")
		offer("to get it done, well", "for completion", "")
		offer("as heavy as possible", "for load", "")
		offer("to learn it", "for practice", "")
		offer("as many rounds as possible", "amrap 9:00", "amrap ${1:9:00}")
	}
	if (part || first == "for" || first == "in") && !has("rounds", "round", "emom", "every", "on", "ladder", "sets", "any", "choose", "amrap") {
		offer("so often", "3 rounds", "${1:3} rounds")
		offer("a count a turn", "ladder 21-15-9", "ladder ${1:21-15-9}")
		offer("a set a count", "sets 5-5-5", "sets ${1:5-5-5}")
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

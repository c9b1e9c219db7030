package completion

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/model"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/syntax"
)

// firstWord offers the words that a line may start with.
func (h *here) firstWord() {
	switch h.ctx {
	case syntax.InFile:
		h.margin()
		return
	case syntax.InScaling, syntax.InHouseScaling:
		h.keywords()
		if h.ctx == syntax.InScaling {
			h.swapSides()
		}
		h.movements(h.likely)
		return
	case syntax.InGroup:
		h.keywords()
		h.add(Item{Label: "rounds", Kind: Keyword, Detail: "3 rounds", New: "3 rounds", Snippet: "${1:3} rounds\n  $0", Example: "3 rounds", rank: -unstocked})
		if h.session == nil {
			return
		}
		// A line starts with a movement where its head says how much of it is done.
		later := 5 * unstocked
		if h.headCounts() {
			later = -5 * unstocked
		}
		h.movements(func(m *book.Movement) (int, bool) {
			rank, ok := h.likely(m)
			return rank + later, ok
		})
		return
	}
	h.keywords()
}

// headCounts says whether the head that the line stands under gives its lines a count or a
// time.
func (h *here) headCounts() bool {
	if len(h.up) == 0 {
		return false
	}
	switch st := h.up[0].Stmt.(type) {
	case *syntax.Head:
		r := st.Repeat
		return r != nil && (r.Kind == syntax.Ladder || r.Kind == syntax.OnOff || r.Kind == syntax.Sets && r.Count != nil)
	case *syntax.Lead:
		return st.Kind == "slot" || st.Kind == "station"
	}
	return false
}

// usual is the order in which the lines of a block usually come; words that are not in it
// come behind.
var usual = map[syntax.Context][]string{
	syntax.InSession:      {"length", "purpose", "effort", "date", "heat", "rest", "caution", "aim"},
	syntax.InGroup:        {"rest", "amrap", "emom", "ladder", "sets", "every", "on", "slot", "station"},
	syntax.InScaling:      {"part", "has", "total", "effort"},
	syntax.InHouseScaling: {"has"},
	syntax.InMovement:     {"trains", "needs", "moves", "pace", "unbroken", "set-up", "standard", "cue", "fault", "caution", "easier", "harder", "instead", "also", "best"},
	syntax.InHouse:        {"length", "class", "tiers", "rest", "sessions", "scaling", "kit", "effort", "rule"},
	syntax.InCycle:        {"from", "weeks", "purpose", "progress", "week"},
	syntax.InWeek:         syntax.Weekdays,
}

// keywords offers the keywords of the block: those that it usually starts with first, and
// those that it has already last.
func (h *here) keywords() {
	has := h.siblings()
	for _, k := range syntax.Keywords(h.ctx) {
		it := Item{Label: k.Word, Kind: Keyword, Detail: k.Form, New: k.Word + " ", Example: k.Form, rank: slices.Index(usual[h.ctx], k.Word)}
		if it.rank < 0 {
			it.rank = 50
		}
		if has[k.Word] && h.ctx != syntax.InGroup && k.Word != "week" && k.Word != "effort" {
			it.rank += 100
		}
		if k.Form == k.Word {
			it.New, it.Detail = k.Word, ""
		}
		if strings.Contains(k.Form, ">") {
			it.New = k.Word + " > "
		}
		it.Snippet = groupSnippets[k.Word]
		h.add(it)
	}
}

// siblings are the first words of the other lines of the block.
func (h *here) siblings() map[string]bool {
	out := map[string]bool{}
	if len(h.up) == 0 {
		return out
	}
	var find func(bs []*syntax.Block)
	find = func(bs []*syntax.Block) {
		for _, b := range bs {
			if b.Line != h.up[0] {
				find(b.Kids)
				continue
			}
			for _, k := range b.Kids {
				if len(k.Line.Toks) > 0 && k.Line.Body != h.body {
					out[k.Line.Toks[0].Text] = true
				}
			}
		}
	}
	find(h.file.Syntax().Roots)
	return out
}

// groupSnippets are heads and leads with stops for what differs.
var groupSnippets = map[string]string{
	"amrap":     "amrap ${1:9:00}\n  $0",
	"emom":      "emom ${1:12:00}\n  $0",
	"every":     "every ${1:2:30} x ${2:5}\n  $0",
	"on":        "on ${1:0:40} off ${2:0:20} x ${3:6}\n  $0",
	"ladder":    "ladder ${1:21-15-9}\n  $0",
	"sets":      "sets ${1:5-5-5}\n  $0",
	"any":       "any order\n  $0",
	"choose":    "choose one\n  $0",
	"slot":      "slot ${1:1}: $0",
	"station":   "station ${1:1}: $0",
	"round":     "round ${1:1}: $0",
	"meanwhile": "meanwhile: $0",
	"when":      "when done: $0",
	"at":        "at ${1:7:00}: $0",
	"rest":      "rest ${1:1:30}",
}

// margin offers what may stand at the margin, by what the file has already.
func (h *here) margin() {
	add := func(rank int, word, detail, snippet string) {
		h.add(Item{Label: word, Kind: Keyword, Detail: detail, New: word + " ", Snippet: snippet, Example: detail, rank: rank})
	}
	entries, first := 0, true
	for _, b := range h.file.Syntax().Roots {
		if b.Line.Body >= h.body && h.before == 0 && b.Line.Body+b.Line.Len > h.from {
			break
		}
		first = false
		if e, ok := b.Line.Stmt.(*syntax.Entry); ok && e.Kind != "stint" {
			entries++
		}
	}
	if first {
		h.add(Item{Label: "stint 1", Kind: Keyword, Detail: "the first line of every file", New: "stint 1", Snippet: "stint 1\n\n$0", rank: -9})
	}
	rank := 0 // the words that start something new
	if entries > 0 {
		rank = 5
	}
	add(rank, "session", "session Bowline", sessionSnippet)
	add(rank+1, "movement", "movement strict pull-up", movementSnippet)
	add(rank+2, "cycle", "cycle Spring Tide", cycleSnippet)
	add(rank+3, "house", "house Quayside Hall", "house ${1:Name}\n  length ${2:60:00}\n  class ${3:16}\n  rest between parts at least ${4:1:00}\n  kit\n    $0")
	if entries == 0 {
		return
	}
	letter := h.nextLetter()
	add(1, "part", fmt.Sprintf("part %s at 0:00 for time, cap 12:00", letter), fmt.Sprintf("part %s at ${1:0:00} ${2:for time, cap 12:00}\n  $0", letter))
	warm := 0
	if h.session != nil && len(h.session.Parts) > 0 {
		warm = 4
	}
	add(warm, "warm-up", "warm-up 3 rounds, lasts 12:00", "warm-up ${1:2 rounds}, lasts ${2:12:00}\n  $0")
	add(2, "cool-down", "cool-down lasts 5:00", "cool-down lasts ${1:5:00}\n  $0")
	add(3, "total", "total 45 burpee, 800 m row", "")
	add(3, "scaling", "scaling no-kit", "scaling ${1:"+h.nextScaling()+"}\n  $0")
}

const (
	sessionSnippet = `session ${1:Name}
  length ${2:60:00}
  purpose > ${3:What the session is for.}

warm-up ${4:2 rounds}, lasts ${5:12:00}
  ${6:1:00 row}

part A at 0:00 ${7:for time, cap 12:00}
  $0

cool-down lasts ${8:5:00}
  1:00 belly breathing`
	movementSnippet = `movement ${1:name}
  trains ${2:squat}
  needs ${3:kettlebell}
  pace ${4:1.5 / 2 / 3} s per rep > ${5:no source}
  standard > ${6:What makes a repetition count.}
  cue > ${7:What to think of.}
  easier ${8:air squat}$0`
	cycleSnippet = `cycle ${1:Name}
  from ${2:2027-03-01}
  weeks ${3:6}
  purpose > ${4:What the weeks build.}
  week 1
    mon $0`
)

// nextLetter is the letter of the next part.
func (h *here) nextLetter() string {
	if h.session == nil {
		return "A"
	}
	next := byte('A')
	for _, p := range h.session.Parts {
		if p.At.Start > h.off {
			break
		}
		if p.Kind == model.Part && len(p.Letter) == 1 {
			if c := strings.ToUpper(p.Letter)[0]; c >= next && c < 'Z' {
				next = c + 1
			}
		}
	}
	return string(next)
}

// nextScaling is a version of the house that the session does not have yet.
func (h *here) nextScaling() string {
	for _, s := range h.snap.Env.House.Scalings {
		if h.session == nil || !h.hasScaling(s.Name) {
			return escapeStop(s.Name)
		}
	}
	return "name"
}

// escapeStop is a text as it may stand inside a stop of a snippet.
func escapeStop(text string) string {
	return strings.NewReplacer(`\`, `\\`, "$", `\$`, "}", `\}`).Replace(text)
}

package completion

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// firstWord offers the words that a line may start with.
func (c *completer) firstWord() {
	switch c.ctx {
	case syntax.InFile:
		c.marginWords()
		return
	case syntax.InScaling, syntax.InHouseScaling:
		c.keywords()
		if c.ctx == syntax.InScaling {
			c.swapSides()
		}
		c.movements(c.rankForWork)
		return
	case syntax.InGroup:
		c.keywords()
		c.add(Suggestion{Label: "rounds", Kind: Keyword, Detail: "3 rounds", New: "3 rounds",
			Snippet: "${1:3} rounds\n  $0", Example: "3 rounds", rank: -noKit})
		if c.session == nil {
			return
		}
		// A line starts with a movement where its head says how much of it is done.
		later := 5 * noKit
		if c.headCounts() {
			later = -5 * noKit
		}
		c.movements(func(m *book.Movement) (int, bool) {
			rank, ok := c.rankForWork(m)
			return rank + later, ok
		})
		return
	}
	c.keywords()
}

// headCounts says whether the head that the line stands under gives its lines a count or a
// time.
func (c *completer) headCounts() bool {
	if len(c.up) == 0 {
		return false
	}
	switch st := c.up[0].Stmt.(type) {
	case *syntax.Head:
		r := st.Repeat
		return r != nil && (r.Kind == syntax.Ladder || r.Kind == syntax.OnOff)
	case *syntax.Lead:
		return st.Kind == "slot" || st.Kind == "station"
	}
	return false
}

// usualOrder is the order in which the lines of a block usually come; words that are not in it
// come behind.
var usualOrder = map[syntax.Context][]string{
	syntax.InSession:      {"length", "purpose", "effort", "date", "start", "heat", "rest", "caution", "aim", "kit"},
	syntax.InGroup:        {"rest", "amrap", "emom", "ladder", "every", "on", "slot", "station"},
	syntax.InScaling:      {"part", "has", "total", "effort"},
	syntax.InHouseScaling: {"has"},
	syntax.InMovement: {"trains", "needs", "moves", "pace", "unbroken", "class", "set-up", "standard", "cue", "fault",
		"caution", "easier", "harder", "instead", "also", "best"},
	syntax.InHouse: {"length", "class", "tiers", "rest", "needs", "scaling", "kit", "effort", "round", "rule"},
	syntax.InCycle: {"from", "weeks", "purpose", "progress", "week", "total"},
	syntax.InWeek:  append(slices.Clone(syntax.Weekdays), "length", "total"),
}

// keywords offers the keywords of the block: those that it usually starts with first, and
// those that it has already last.
func (c *completer) keywords() {
	has := c.siblings()
	for _, k := range syntax.Keywords(c.ctx) {
		it := Suggestion{Label: k.Word, Kind: Keyword, Detail: k.Form, New: k.Word + " ", Example: k.Form,
			rank: slices.Index(usualOrder[c.ctx], k.Word)}
		if it.rank < 0 {
			it.rank = 50
		}
		if has[k.Word] && c.ctx != syntax.InGroup && k.Word != "week" && k.Word != "effort" {
			it.rank += 100
		}
		if k.Form == k.Word {
			it.New, it.Detail = k.Word, ""
		}
		if strings.Contains(k.Form, ">") {
			it.New = k.Word + " > "
		}
		it.Snippet = groupSnippets[k.Word]
		c.add(it)
	}
}

// siblings are the first words of the other lines of the block.
func (c *completer) siblings() map[string]bool {
	out := map[string]bool{}
	if len(c.up) == 0 {
		return out
	}
	var find func(bs []*syntax.Block)
	find = func(bs []*syntax.Block) {
		for _, b := range bs {
			if b.Line != c.up[0] {
				find(b.Kids)
				continue
			}
			for _, k := range b.Kids {
				if len(k.Line.Toks) > 0 && k.Line.Body != c.body {
					out[k.Line.Toks[0].Text] = true
				}
			}
		}
	}
	find(c.file.Syntax().Roots)
	return out
}

// marginWords offers what may stand at the margin, by what the file has already.
func (c *completer) marginWords() {
	add := func(rank int, word, detail, snippet string) {
		c.add(Suggestion{Label: word, Kind: Keyword, Detail: detail, New: word + " ", Snippet: snippet, Example: detail,
			rank: rank})
	}
	entries, first := 0, true
	for _, b := range c.file.Syntax().Roots {
		if b.Line.Body >= c.body && c.before == 0 && b.Line.Body+b.Line.Len > c.from {
			break
		}
		first = false
		if e, ok := b.Line.Stmt.(*syntax.Entry); ok && e.Kind != "stint" {
			entries++
		}
	}
	if first {
		c.add(Suggestion{Label: "stint 1", Kind: Keyword, Detail: "the first line of every file", New: "stint 1",
			Snippet: "stint 1\n\n$0", rank: -9})
	}
	rank := 0 // the words that start something new
	if entries > 0 {
		rank = 5
	}
	add(rank, "session", "session Bowline", sessionSnippet)
	add(rank+1, "movement", "movement strict pull-up", movementSnippet)
	add(rank+2, "cycle", "cycle Spring Tide", cycleSnippet)
	add(rank+3, "house", "house Quayside Hall",
		"house ${1:Name}\n  length ${2:60:00}\n  class ${3:16}\n  rest between parts at least ${4:1:00}\n  kit\n    $0")
	if entries == 0 {
		return
	}
	letter := c.nextLetter()
	add(1, "part", fmt.Sprintf("part %s at 0:00 for time, cap 12:00", letter),
		fmt.Sprintf("part %s at ${1:0:00} ${2:for time, cap 12:00}\n  $0", letter))
	warm := 0
	if c.session != nil && len(c.session.Parts) > 0 {
		warm = 4
	}
	add(warm, "warm-up", "warm-up 3 rounds, lasts 12:00", "warm-up ${1:2 rounds}, lasts ${2:12:00}\n  $0")
	add(2, "cool-down", "cool-down lasts 5:00", "cool-down lasts ${1:5:00}\n  $0")
	add(3, "total", "total 45 burpee, 800 m row", "")
	add(3, "scaling", "scaling no-kit", "scaling ${1:"+c.nextScaling()+"}\n  $0")
}

// nextLetter is the letter of the next part.
func (c *completer) nextLetter() string {
	if c.session == nil {
		return "A"
	}
	next := byte('A')
	for _, p := range c.session.Parts {
		if p.At.Start > c.off {
			break
		}
		if p.Kind == model.Part && len(p.Letter) == 1 {
			if l := strings.ToUpper(p.Letter)[0]; l >= next && l < 'Z' {
				next = l + 1
			}
		}
	}
	return string(next)
}

// nextScaling is a version of the house that the session does not have yet.
func (c *completer) nextScaling() string {
	for _, s := range c.snap.Env.House.Scalings {
		if c.session == nil || !c.hasScaling(s.Name) {
			return escapeStop(s.Name)
		}
	}
	return "name"
}

package completion

import (
	"strings"
	"sync/atomic"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
)

// movements offers movements. Rank says how likely one is, and whether it is offered at
// all.
func (c *completer) movements(rank func(*book.Movement) (int, bool)) {
	all := c.bookMovements()
	for i := range all {
		e := &all[i]
		if how, also := c.match(e.names); how != noMatch {
			if n, ok := rank(e.m); ok {
				n -= e.common
				c.items = append(c.items, Suggestion{Label: e.m.Name, New: e.m.Name, Kind: Movement, Detail: e.detail,
					Ref: e.ref, Also: also, matchQuality: how, rank: n})
			}
		}
	}
}

// An bookMovement is a movement as it is offered.
type bookMovement struct {
	m      *book.Movement
	detail string
	ref    refs.ID
	names  []searchName // its own first
	common int          // how often it is written here, to commonest
}

// cachedMovements are the entries of the book that was asked for last: mostly there is one.
var cachedMovements atomic.Pointer[struct {
	of      *book.Book
	entries []bookMovement
}]

func (c *completer) bookMovements() []bookMovement {
	b := c.snap.Env.Book
	if m := cachedMovements.Load(); m != nil && m.of == b {
		return m.entries
	}
	common := c.frequencies()
	out := make([]bookMovement, 0, len(b.Movements()))
	for _, m := range b.Movements() {
		detail := string(m.Main())
		if len(m.Needs) > 0 {
			detail = strings.TrimPrefix(detail+", "+strings.Join(m.NeedsText(), ", "), ", ")
		}
		out = append(out, bookMovement{m, detail, refs.ID{Kind: refs.Movement, Key: book.Key(m.Name)},
			searchNames(append([]string{m.Name}, m.Also...)...), min(common[book.Key(m.Name)], maxFrequency)})
	}
	cachedMovements.Store(&struct {
		of      *book.Book
		entries []bookMovement
	}{b, out})
	return out
}

// movementAt is the movement whose name stands between two tokens.
func (c *completer) movementAt(from, to int) *book.Movement {
	to = min(to, len(c.toks))
	if from >= to {
		return nil
	}
	text := c.text[c.toks[from].Start:c.toks[to-1].End]
	m, _ := c.snap.Env.Book.Lookup(text)
	return m
}

// lineMovement is the movement of the line before a token.
func (c *completer) lineMovement(before int) *book.Movement {
	end := before
	for end > 0 && c.toks[end-1].Kind != syntax.Word {
		end--
	}
	start := end
	for start > 0 && c.toks[start-1].Kind == syntax.Word {
		start--
	}
	// The words of a head or a lead may stand before the name.
	for ; start < end; start++ {
		if m := c.movementAt(start, end); m != nil {
			return m
		}
	}
	return nil
}

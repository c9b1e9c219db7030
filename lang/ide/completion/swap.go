package completion

import (
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
)

// swapSides offers the session's own lines, for the left side of a swap: those first that
// the version does not change yet and cannot do with its kit.
func (c *completer) swapSides() {
	if c.session == nil || c.version == nil {
		return
	}
	done := map[string]bool{}
	for w := range c.version.Session.Lines(model.Everything) {
		if w.Written != w.At {
			for _, m := range c.movesAt(w) {
				done[m] = true
			}
		}
	}
	seen := map[string]bool{}
	for w := range c.session.Lines(model.Everything) {
		for _, m := range w.Moves {
			if m.Movement == nil || seen[m.Name] {
				continue
			}
			seen[m.Name] = true
			rank := -200*noKit + len(seen)
			if c.hasKit(m.Movement) {
				rank += 50 * noKit
			}
			if done[m.Name] {
				rank += 100 * noKit
			}
			c.add(Suggestion{
				Label: m.Name + " ->", New: m.Name + " -> ", Kind: Line, Detail: "swap it", rank: rank,
				Ref: refs.ID{Kind: refs.Movement, Key: book.Key(m.Name)},
			})
		}
	}
}

// movesAt are the movements of the session as written whose line a version's line is in
// the place of.
func (c *completer) movesAt(w *model.Work) []string {
	var out []string
	for o := range c.session.Lines(model.Everything) {
		if o.At == w.Written {
			for _, m := range o.Moves {
				out = append(out, m.Name)
			}
		}
	}
	return out
}

// leftSide offers the left side of a swap again, to be changed: a head, a clause, a rest or a
// load.
func (c *completer) leftSide(arrow int) {
	start := 0
	for i, t := range c.toks[:arrow] {
		if t.Kind == syntax.Colon {
			start = i + 1
		}
	}
	if start >= arrow {
		return
	}
	text := strings.Join(strings.Fields(c.text[c.toks[start].Start:c.toks[arrow-1].End]), " ")
	c.add(Suggestion{Label: text, New: text, Kind: Line, Detail: "to be changed",
		Snippet: "${1:" + escapeStop(text) + "}", rank: -2})
}

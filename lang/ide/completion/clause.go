package completion

import (
	"fmt"
	"regexp"

	"stint.example/stint/lang/syntax"
)

// clause offers clauses behind a comma, or what may stand in the one that is begun.
func (c *completer) clause(from int, head bool) {
	switch c.word(from) {
	case "with":
		c.kitNames(from + 1)
		return
	case "in":
		c.span(from, isNameToken)
		c.values(Clause, "who works together", syntax.ExamplesOf(syntax.In, true)...)
		return
	}
	c.span(from, func(t syntax.Tok) bool {
		return t.Kind != syntax.Comma && t.Kind != syntax.Note && t.Kind != syntax.Comment && t.Kind != syntax.Colon &&
			t.Kind != syntax.Arrow
	})
	for i, f := range syntax.ClauseExamples(head) {
		c.add(Suggestion{Label: f, New: f, Kind: Clause, rank: i, Snippet: withStops(f)})
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

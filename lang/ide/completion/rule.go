package completion

import (
	"strings"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
)

// rules offers the rules that can be waived, behind allow: those first that have diagnostics
// in this file.
func (c *completer) rules() { c.ruleNames(c.commaOr(1)) }

func (c *completer) ruleNames(from int) {
	c.span(from, isNameToken)
	found := map[string]bool{}
	for _, d := range c.snap.Diagnostics(c.file) {
		found[d.Rule] = true
	}
	for i, r := range rules.All() {
		if r.Fixed {
			continue
		}
		rank := 100 + i
		if found[r.Name] {
			rank = i
		}
		c.add(Suggestion{Label: r.Name, New: r.Name, Kind: Name, Detail: r.Summary, rank: rank,
			Ref: refs.ID{Kind: refs.Rule, Key: book.Key(r.Name)}})
	}
}

// rule offers what may stand on a house's rule line.
func (c *completer) rule() {
	if c.before == 1 {
		c.ruleNames(1)
		return
	}
	r, ok := c.snap.Rule(c.ruleWritten())
	if i := c.last(syntax.Comma); i > 0 && ok {
		c.name(i + 1)
		for n, t := range r.Values {
			c.add(Suggestion{Label: t.Name, New: t.Name + " ", Kind: Value, Detail: t.String(), rank: n})
		}
		return
	}
	if !ok {
		c.ruleNames(1)
		return
	}
	c.span(c.before, isNameToken)
	c.values(Value, "what it finds is an error", diag.Error.String())
}

// ruleWritten is the name of the rule on the line.
func (c *completer) ruleWritten() string {
	if len(c.toks) < 2 {
		return ""
	}
	return strings.TrimSuffix(c.toks[1].Raw, ",")
}

package completion

import (
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
		c.values(Clause, "who works together", "in pairs", "in threes", "in fours", "in halves", "in teams of 4",
			"in heats of 8")
		return
	}
	c.span(from, func(t syntax.Tok) bool {
		return t.Kind != syntax.Comma && t.Kind != syntax.Note && t.Kind != syntax.Comment && t.Kind != syntax.Colon &&
			t.Kind != syntax.Arrow
	})
	forms := syntax.ClauseForms.Work
	if head {
		forms = syntax.ClauseForms.Head
	}
	for i, f := range forms {
		c.add(Suggestion{Label: f, New: f, Kind: Clause, rank: i, Snippet: clauseSnippets[f]})
	}
}

// clauseSnippets are clauses with a stop on what differs.
var clauseSnippets = map[string]string{
	"cap 12:00": "cap ${1:12:00}", "lasts 10:00": "lasts ${1:10:00}", "in teams of 4": "in teams of ${1:4}", "in heats of 8": "in heats of ${1:8}",
	"each +5 kg": "each +${1:5} kg", "with vest @ 6/4 kg": "with ${1:vest} @ ${2:6/4} kg", "effort 80-85%": "effort ${1:80-85}%",
	"rest 1:00": "rest ${1:1:00}", "sets of 5": "sets of ${1:5}", "tempo 31X1": "tempo ${1:31X1}", "hold 0:03": "hold ${1:0:03}",
	"every 1:30": "every ${1:1:30}", "rest 1:30": "rest ${1:1:30}", "effort 80%": "effort ${1:80}%",
}

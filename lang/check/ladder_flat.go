package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var ladderFlat = Rule{Name: "ladder-flat", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a ladder of one rung, of equal rungs, or of two far apart that were perhaps meant as its ends",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, _ []*program.Group) {
			g, ok := step.(*program.Group)
			if !ok || g.Repeat.Kind != "ladder" || g.Repeat.Series == nil || g.Repeat.Series.Open || g.Repeat.Series.Uneven() {
				return
			}
			q := g.Repeat.Series
			d := diag.Diagnostic{At: q.At}
			first, last := q.Terms[0][0], q.Terms[len(q.Terms)-1][0]
			switch {
			case len(q.Terms) == 1:
				d.Message, d.Help = "this ladder has one rung", "write its rungs: ladder 12-9-6, or a plain count on each line"
			case flat(q):
				d.Message, d.Help = fmt.Sprintf("all rungs of this ladder are %s", units.FormatNumber(first)), fmt.Sprintf("write %d rounds, and the count on each line", len(q.Terms))
			case len(q.Terms) == 2 && math.Abs(first-last) > 4 && min(first, last) <= 2:
				step := 1.0
				if last < first {
					step = -1
				}
				text := fmt.Sprintf("%s-%s-...-%s", units.FormatNumber(first), units.FormatNumber(first+step), units.FormatNumber(last))
				d.Message = fmt.Sprintf("this ladder has the two rungs %s and %s", units.FormatNumber(first), units.FormatNumber(last))
				d.Help = "where all the rungs between are meant, write " + text
				d.Fixes = []diag.Fix{{Title: "write " + text, Edits: []diag.Edit{{At: q.At, New: text}}}}
			default:
				return
			}
			p.report(d)
		})
	}}

func flat(q *program.Quantity) bool {
	for _, t := range q.Terms {
		if t[0] != q.Terms[0][0] {
			return false
		}
	}
	return true
}

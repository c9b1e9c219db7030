package arithmetic

import (
	"fmt"
	"math"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var LadderFlat = check.Rule{Name: "ladder-flat", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a ladder of one rung, of equal rungs, or of two far apart that were perhaps meant as its ends",
	Session: func(p *check.Pass, s *model.Session) {
		for g := range s.Groups(model.Everything) {
			if g.Repeat.Series == nil || g.Repeat.Series.Open || g.Repeat.Series.Uneven() || len(g.Repeat.Series.Terms) == 0 || p.ErrorOnLine(g.Repeat.Series.At) {
				continue
			}
			if d, ok := flatLadder(g.Repeat.Series); ok {
				p.Report(d)
			}
		}
	}}

func flatLadder(q *model.Quantity) (diag.Diagnostic, bool) {
	d := diag.Diagnostic{At: q.At}
	first, last := q.Terms[0][0], q.Terms[len(q.Terms)-1][0]
	switch {
	case len(q.Terms) == 1:
		d.Message, d.Help = "this ladder has one rung", "write its rungs: ladder 12-9-6, or a plain count on each line"
	case flat(q):
		d.Message, d.Help = fmt.Sprintf("all %d rungs of this ladder are %s", len(q.Terms), units.FormatNumber(first)), fmt.Sprintf("write %d rounds, and the count on each line", len(q.Terms))
	case q.Unit == "rep" && len(q.Terms) == 2 && math.Abs(first-last) > 4 && min(first, last) <= 2 && q.Tiers() == 1:
		step := 1.0
		if last < first {
			step = -1
		}
		text := fmt.Sprintf("%s-%s-...-%s", units.FormatNumber(first), units.FormatNumber(first+step), units.FormatNumber(last))
		d.Message = fmt.Sprintf("this ladder has two rungs, %s and %s, and none between", units.FormatNumber(first), units.FormatNumber(last))
		d.Help = "where those between are meant too, write " + text
		d.Fixes = []diag.Fix{{Title: "write " + text, Edits: []diag.Edit{{At: q.At, New: text}}}}
	default:
		return d, false
	}
	return d, true
}

// flat says whether all rungs are alike, for every tier.
func flat(q *model.Quantity) bool {
	for _, row := range q.Terms {
		for tier := range q.Tiers() {
			if row[min(tier, len(row)-1)] != q.Terms[0][min(tier, len(q.Terms[0])-1)] {
				return false
			}
		}
	}
	return true
}

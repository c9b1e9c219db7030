package arithmetic

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var TotalUnclear = check.Rule{Name: "total-unclear", Family: "arithmetic", Severity: diag.Error,
	Summary: "a stated total that does not say whether it is one athlete's or a team's, where the two differ",
	Session: func(p *check.Pass, s *model.Session) { eachTotal(p, s, func(t *stated) { totalUnclear(p, t) }) },
	Cycle:   func(p *check.Pass, c *model.Cycle) { eachPlannedTotal(p, c, func(t *stated) { totalUnclear(p, t) }) },
}

func totalUnclear(p *check.Pass, t *stated) {
	d := diag.Diagnostic{At: t.At}
	switch {
	case t.series():
		return
	case t.Whose == model.OfTeam && len(t.teams) == 0:
		d.Message, d.Help = "a total of a team, and nobody works in one here", "take team out, or divide the class on a head: in pairs"
	case t.Whose == model.OfTeam && len(t.teams) > 1:
		d.Message = fmt.Sprintf("teams are not of one size here, so what a team comes to is not one number (%s)", t.of())
		d.Help = "state it in each part, or write each for what one athlete does"
	case t.unclear:
		each, team := t.show(t.each), t.show(t.team)
		d.Message = fmt.Sprintf("%s: one athlete does %s, and a team %s; the total does not say which it is", t.of(), each, team)
		d.Help = "write each or team before the amount"
		d.Fixes = append(d.Fixes, t.clear(model.EachOne, t.each)...)
		if len(t.teams) == 1 {
			d.Fixes = append(d.Fixes, t.clear(model.OfTeam, t.team)...)
		}
	default:
		return
	}
	p.Report(d)
}

// clear is the fix that says whose a total is, and how much that is; none where the text does not
// settle it.
func (t *stated) clear(whose model.Whose, r totals.Row) []diag.Fix {
	if r.Unread || slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return s.Open }) {
		return nil
	}
	text := string(whose) + " " + t.write(r)
	return []diag.Fix{{Title: "write " + text, Edits: []diag.Edit{{At: t.Amount.At, New: text}}}}
}

package arithmetic

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var TotalWrong = check.Rule{Name: "total-wrong", Family: "arithmetic", Severity: diag.Error,
	Summary: "a stated total that the lines do not come to",
	Session: func(p *check.Pass, s *model.Session) { eachTotal(p, s, func(t *stated) { totalWrong(p, t) }) },
	Cycle:   func(p *check.Pass, c *model.Cycle) { eachPlannedTotal(p, c, func(t *stated) { totalWrong(p, t) }) },
}

func totalWrong(p *check.Pass, t *stated) {
	if t.row.Unread || t.unclear {
		return // a line of it is wrong, and the sum with it; or it is not said whose it is
	}
	if t.After > 0 && !t.turns.Open && float64(t.After) > t.turns.Hi {
		d := t.wrong()
		d.Message = fmt.Sprintf("there is no round %d: this comes round %g times", t.After, t.turns.Hi)
		d.Help, d.Fixes = "write the number of a round that there is", nil
		p.Report(d)
		return
	}
	if t.series() {
		d := t.wrong()
		d.Message = fmt.Sprintf("%s: a total is one number, and %s is a series", t.of(), t.Amount.At.Text())
		p.Report(d)
		return
	}
	for tier, sum := range t.row.Tiers {
		lo, hi, known := t.Amount.Value(0, 1, tier)
		if t.Amount.IsMost() { // what is open is not proven
			if sum.Lo > hi && !units.Same(sum.Lo, hi) || !sum.Open && sum.Hi > hi && !units.Same(sum.Hi, hi) {
				p.Report(t.wrong())
				return
			}
			continue
		}
		if t.Amount.OrMore() { // 50 or more
			if !sum.Open && sum.Lo < lo && !units.Same(sum.Lo, lo) {
				p.Report(t.wrong())
				return
			}
			continue
		}
		if !known || sum.Open && (hi >= sum.Lo || units.Same(hi, sum.Lo)) || units.Same(lo, sum.Lo) && units.Same(hi, sum.Hi) && !sum.Open {
			continue
		}
		p.Report(t.wrong())
		return
	}
}

// wrong says what is wrong with a total, and what the lines come to.
func (t *stated) wrong() diag.Diagnostic {
	comes := t.show(t.row)
	d := diag.Diagnostic{At: t.At, Label: t.what + " " + comes, Related: t.pieces(),
		Message: fmt.Sprintf("%s: the total says %s, the lines come to %s", t.of(), t.says(), comes),
		Help:    "mend the lines if one of them is wrong; otherwise write the total that they come to"}
	row := t.row
	if !t.found {
		others := slices.DeleteFunc(slices.Clone(t.sums.Rows), func(r totals.Row) bool { return r.Movement != t.Name })
		if t.Name == "" || len(others) == 0 {
			d.Help = "take it out, or write it as the lines do"
			return d
		}
		row = others[0] // the lines count it in another unit
		d.Message = fmt.Sprintf("%s: the total says %s, but the lines count it in another unit and come to %s", t.of(), t.says(), t.show(row))
		d.Label = t.what + " " + t.show(row)
	}
	if !slices.ContainsFunc(row.Tiers, func(s totals.Sum) bool { return s.Open }) {
		text := t.write(row)
		d.Help = "mend the lines if one of them is wrong, or write " + text
		d.Fixes = []diag.Fix{{Title: "write the total as " + text, Edits: []diag.Edit{{At: t.Amount.At, New: text}}}}
	}
	return d
}

// write writes a row as the notation does, in the unit that the author wrote if it comes
// out in that.
func (t *stated) write(r totals.Row) string {
	return totals.Text(r, t.Amount.Written, t.Name != "")
}

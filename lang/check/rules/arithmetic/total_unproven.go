package arithmetic

import (
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var TotalUnproven = check.Rule{Name: "total-unproven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a stated total that hangs on work without a settled count, so it cannot be proven",
	Session: func(p *check.Pass, s *model.Session) { eachTotal(p, s, func(t *stated) { totalUnproven(p, t) }) },
	Cycle:   func(p *check.Pass, c *model.Cycle) { eachPlannedTotal(p, c, func(t *stated) { totalUnproven(p, t) }) },
}

func totalUnproven(p *check.Pass, t *stated) {
	if t.unclear || t.series() {
		return
	}
	for tier, sum := range t.row.Tiers {
		lo, hi, known := t.Amount.Value(0, 1, tier)
		enough := t.Amount.OrMore() && (sum.Lo > lo || units.Same(sum.Lo, lo)) // 50 or more, and there are 50
		if !known || !sum.Open || enough || !t.Amount.OrMore() && hi < sum.Lo && !units.Same(hi, sum.Lo) {
			continue
		}
		p.Report(diag.Diagnostic{At: t.At, Label: unsettled(t), Related: t.pieces(),
			Message: fmt.Sprintf("%s: how much there is hangs on work that the text does not count, so %s cannot be proven", t.of(), t.says()),
			Help:    "take it out of the total, or give that work a count: it stands under max, an amrap, a window, an event or until"})
		return
	}
}

// unsettled says what is counted of a sum that is not.
func unsettled(t *stated) string {
	for _, s := range t.row.Tiers {
		if s.Lo > 0 {
			return t.what + " " + t.show(t.row)
		}
	}
	return "nothing of it is counted"
}

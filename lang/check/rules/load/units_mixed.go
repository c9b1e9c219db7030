package load

import (
	"cmp"
	"slices"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var UnitsMixed = check.Rule{Name: "units-mixed", Family: "load", Severity: diag.Warning,
	Summary: "kilograms and pounds in one session",
	Session: func(p *check.Pass, s *model.Session) {
		var kg, lb []*model.Quantity
		see := func(q *model.Quantity) {
			switch {
			case q == nil || q.Unit != "kg" || len(q.Terms) == 0:
			case equipment.Imperial(q.Written):
				lb = append(lb, q)
			default:
				kg = append(kg, q)
			}
		}
		eachLoads(s, func(_ *model.Work, _ []*model.Group, _ string, lds []model.Load) {
			for _, ld := range lds {
				see(ld.Amount)
			}
		})
		for g := range s.Groups(model.Everything) {
			for _, q := range g.Each {
				see(q)
			}
		}
		if len(kg) == 0 || len(lb) == 0 {
			return
		}
		for _, qs := range [][]*model.Quantity{kg, lb} {
			slices.SortStableFunc(qs, func(a, b *model.Quantity) int { return cmp.Compare(a.At.Start, b.At.Start) })
		}
		// The rarer unit is the one that is out of place.
		odd, rest, unit := lb[0], kg[0], "pounds"
		if len(kg) < len(lb) {
			odd, rest, unit = kg[0], lb[0], "kilograms"
		}
		p.Report(diag.Diagnostic{At: odd.At, Message: "this is in " + unit + ", and other loads of the session are not",
			Label:   "about " + inOther(odd.Terms[0][0], rest.Written),
			Help:    "write all loads in one unit, the one that the kit is marked in; members read the board once",
			Related: []diag.Related{{At: rest.At, Message: "here it is the other"}}})
	}}

// inOther is a weight in the other unit, to the tenth.
func inOther(kg float64, written string) string {
	if equipment.Imperial(written) {
		return units.FormatTenth(units.Pound.FromBase(kg)) + " lb"
	}
	return units.FormatTenth(kg) + " kg"
}

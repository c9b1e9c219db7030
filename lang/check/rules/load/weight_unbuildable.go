package load

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/edit"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var WeightUnbuildable = check.Rule{Name: "weight-unbuildable", Family: "load", Severity: diag.Warning,
	Summary: "a weight that the house's bars and discs do not make",
	Session: func(p *check.Pass, s *model.Session) {
		if p.OwnKit() {
			return
		}
		racks := map[string]*equipment.Bars{}
		for _, bar := range equipment.BarKinds {
			if b, ok := equipment.BarsOf(p.Env.Book, p.Env.House, bar); ok {
				racks[bar] = &b
			}
		}
		for w, around := range s.Lines(model.Everything) {
			if len(racks) == 0 {
				continue
			}
			if rack := racks[barOf(w)]; rack != nil {
				for _, ld := range w.Loads {
					if ld.Kind == syntax.Mass && ld.Count == nil && ld.Amount != nil && !misread(p, ld.Amount) {
						unbuildable(p, w, around, ld, rack)
					}
				}
			}
		}
	}}

// barOf is the kind of bar that all movements of a line are done with, or empty. At one
// end of a bar in a landmine, other sums hold.
func barOf(w *model.Work) string {
	kind := ""
	for i, m := range w.Moves {
		one := ""
		if m.Movement != nil && !slices.Contains(m.Movement.Needs, "landmine") {
			for _, bar := range equipment.BarKinds {
				if slices.Contains(m.Movement.Needs, bar) {
					one = bar
				}
			}
		}
		if i > 0 && one != kind {
			return ""
		}
		kind = one
	}
	return kind
}

func unbuildable(p *check.Pass, w *model.Work, around []*model.Group, ld model.Load, rack *equipment.Bars) {
	house := houseUnit(p)
	seen, steps := map[equipment.Mass]bool{}, map[*model.Quantity]bool{}
	for tier := range p.Env.House.Tiers {
		for _, l := range intensity.OverTurns(w, around, ld, tier) {
			kg := equipment.Kg(l.Lo)
			if l.Lo <= 0 || seen[kg] {
				continue
			}
			seen[kg] = true
			fit, err := rack.Fit(kg)
			if err != nil || fit.Exact != nil || fit.Above != nil && (ld.Amount.OrMore() || fit.Above.Total() <= equipment.Kg(l.Hi)) {
				continue
			}
			var near []float64
			named := false
			for _, b := range []*equipment.Build{fit.Below, fit.Above} {
				if b != nil {
					near = append(near, b.Total().Kg())
					named = named || equipment.SameByName(l.Lo, ld.Amount.Written, b.Total().Kg(), house)
				}
			}
			if named || len(near) == 0 || l.By != nil && steps[l.By] {
				continue
			}
			steps[l.By] = true
			p.Report(notBuilt(l, ld, near, fit, house))
		}
	}
}

// houseUnit is the unit that the house writes its discs in, where that is not the
// kilogram.
func houseUnit(p *check.Pass) string {
	if ds := equipment.Owned(p.Env.Book, p.Env.House, "disc", syntax.Mass); len(ds) > 0 {
		return ds[0].Written
	}
	return ""
}

func notBuilt(l intensity.TurnLoad, ld model.Load, near []float64, fit equipment.Fit, house string) diag.Diagnostic {
	q := ld.Amount
	unit := q.Written
	if equipment.Imperial(q.Written) != equipment.Imperial(house) {
		unit = house // its loads come out in its own unit
	}
	is := units.FormatAmount(l.Lo, "kg", q.Written)
	d := diag.Diagnostic{At: q.At, Message: fmt.Sprintf("the bars and discs here do not make %s", is)}
	text := make([]string, len(near))
	for i, kg := range near {
		text[i] = units.FormatAmount(kg, "kg", unit)
	}
	switch {
	case fit.Below == nil:
		d.Message = fmt.Sprintf("%s is less than the lightest bar here", is)
		d.Help = "write " + text[0] + ", the bar alone, or a movement with lighter kit"
	case fit.Above == nil:
		d.Message = fmt.Sprintf("%s is more than can be put on a bar here", is)
		d.Help = "write " + text[0] + ", the heaviest that it can"
	default:
		d.Help = fmt.Sprintf("write %s, the nearest that they make", phrase.Or(text...))
		d.Label = fmt.Sprintf("%s goes, and so does %s", text[0], text[1])
	}
	if l.By != nil {
		d.At, d.Label = l.By.At, "from turn to turn"
		d.Help += " in that turn: steps are twice a disc"
		return d
	}
	// The nearer one first.
	slices.SortStableFunc(near, func(a, b float64) int { return cmp.Compare(math.Abs(a-l.Lo), math.Abs(b-l.Lo)) })
	for _, kg := range near {
		if fix, ok := edit.Number(q, l.Lo, kg); ok && unit == q.Written {
			d.Fixes = append(d.Fixes, fix)
		}
	}
	if q.Form == syntax.FromTo && len(d.Fixes) == 0 {
		d.Help += "; even steps fall between: write each turn's load as a series, such as 60-65-70 kg"
	}
	return d
}

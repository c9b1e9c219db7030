package load

import (
	"fmt"
	"maps"
	"slices"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var effortImpossibleReserve = &check.Threshold{Name: "reserve", Unit: "rep", Default: 10,
	Source: "choice: people were asked about up to ten, and are two or more out there (Hackett, J. Strength Cond. Res. 2017;31(8):2162-2168)"}

var EffortImpossible = check.Rule{Name: effortImpossibleName, Family: "load", Severity: diag.Error,
	Summary:    "an effort, a share of a maximum, an RPE or a reserve that there cannot be, such as 140% or RPE 12",
	Thresholds: []*check.Threshold{effortImpossibleShare, effortImpossibleReserve},
	Session: func(p *check.Pass, s *model.Session) {
		within := func(q *model.Quantity, b bounds) { reportOutside(p, q, b) }
		within(s.Effort, effortBounds(s.Effort))
		s.Walk(model.Everything, func(step model.Step, around []*model.Group) bool {
			switch st := step.(type) {
			case *model.Group:
				within(st.Effort, effortBounds(st.Effort))
			case *model.Work:
				if st.Dose != nil && st.Dose.Unit == "%" {
					most := 100.0
					if st.AnySets || st.SetsOf != nil || st.Share != "" {
						most = 1000
					}
					within(st.Dose, bounds{most: most, unit: "%", what: "of the most that somebody can do in one set"})
				}
			}
			return true
		})
		eachLoads(s, func(w *model.Work, around []*model.Group, _ string, lds []model.Load) {
			for _, ld := range lds {
				b, ok := loadBounds(p, ld)
				if !ok {
					continue
				}
				if reportOutside(p, ld.Amount, b) || ld.Kind != syntax.Share {
					continue
				}
				for tier := range p.Env.House.Tiers {
					if reportTurnsOutside(p, intensity.OverTurns(w, around, ld, tier), b) {
						break
					}
				}
			}
		})
	},
	File: func(p *check.Pass, f *model.File) {
		for _, c := range f.Cycles {
			for _, pr := range c.Progress {
				if b, ok := loadBounds(p, pr.Load); ok {
					reportOutside(p, pr.Load.Amount, b)
				}
			}
		}
		h := p.Env.House
		if h.At.File != f.Syntax.Src {
			return
		}
		for _, word := range slices.Sorted(maps.Keys(h.Efforts)) {
			if q := h.Efforts[word]; q.At.File == f.Syntax.Src { // else it is of the house behind
				reportOutside(p, q, effortBounds(q))
			}
		}
	}}

// bounds are between what an amount has to lie, and what is said where it does not.
type bounds struct {
	least, most float64
	over        bool // more than the least, not just that
	unit        string
	what        string // what it is of: "of a maximum"
	help        string
}

func (b bounds) holds(v float64) bool { return v <= b.most && (v > b.least || v == b.least && !b.over) }

// effortBounds are those of how hard to go.
func effortBounds(q *model.Quantity) bounds {
	if q != nil && q.Unit == "RPE" {
		return rpeBounds
	}
	return bounds{over: true, most: 100, unit: "%", what: "of an effort",
		help: "all out is 100%, and no work is a rest"}
}

var rpeBounds = bounds{least: 1, most: 10, unit: "RPE", what: "of perceived exertion",
	help: "the scale here goes from 1 to 10, where 10 leaves nothing; the older one from 6 to 20 is another"}

// loadBounds are those of a load that says how hard, or what share; false for others. A
// share of what was done today, of the body's weight or of another lift may well be more
// than all of it.
func loadBounds(p *check.Pass, ld model.Load) (bounds, bool) {
	if ld.Amount == nil {
		return bounds{}, false
	}
	share := bounds{over: true, most: p.Value(effortImpossibleShare), unit: "%", what: "of a maximum",
		help: "a share of another thing may be more, and names it: 110% of today, 120% of bodyweight, 110% of clean"}
	switch {
	case ld.Kind == syntax.Effort:
		return effortBounds(ld.Amount), true
	case ld.Kind == syntax.RPE:
		return rpeBounds, true
	case ld.Kind == syntax.RIR:
		return bounds{most: p.Value(effortImpossibleReserve), unit: "RIR", what: "of repetitions in reserve",
			help: "where so many are left, write a load or an effort instead"}, true
	case ld.Kind != syntax.Share || ld.Base == nil:
		return bounds{}, false
	}
	switch ld.Base.Kind {
	case model.OfToday, model.OfFirst, model.OfLast, model.OfBodyweight, model.OfMovement:
		share.most = 1000
	case model.OfHeartRate:
		share.most, share.what, share.help = 100, "of the highest heart rate", "no heart beats faster than its fastest"
	case model.OfRM:
		// As much over a maximum of five repetitions as over one of one.
		if of, err := strength.Share(float64(ld.Base.Reps)); err == nil {
			share.most *= 100 / of
		}
	default: // the most of repetitions, time, speed or power: no more than all of it
	}
	return share, true
}

// reportOutside reports the first number of an amount that lies outside bounds.
func reportOutside(p *check.Pass, q *model.Quantity, b bounds) (reported bool) {
	if q == nil || q.At.File == nil || q.Unit != "" && q.Unit != b.unit {
		return false
	}
	for _, row := range q.Terms {
		for _, v := range row {
			if !b.holds(v) {
				p.Report(b.broken(v, q))
				return true
			}
		}
	}
	return false
}

// reportTurnsOutside reports the first turn in which what a head adds leads outside bounds.
func reportTurnsOutside(p *check.Pass, ls []intensity.TurnLoad, b bounds) (reported bool) {
	for _, l := range ls {
		if l.By != nil && !b.holds(l.Lo) {
			d := b.broken(l.Lo, l.By)
			d.Message += ", which some turn comes to"
			p.Report(d)
			return true
		}
	}
	return false
}

func (b bounds) broken(v float64, q *model.Quantity) diag.Diagnostic {
	text := phrase.Percent(v)
	least, most := phrase.Percent(b.least), phrase.Percent(b.most)
	if b.unit != "%" {
		text, least, most = b.unit+" "+units.FormatNumber(v), units.FormatNumber(b.least), units.FormatNumber(b.most)
	}
	if b.unit == "RIR" {
		text = units.FormatNumber(v) + " RIR"
	}
	d := diag.Diagnostic{At: q.At, Message: fmt.Sprintf("there is no %s %s", text, b.what),
		Label: fmt.Sprintf("%s to %s", least, most), Help: b.help}
	if b.over {
		d.Label = fmt.Sprintf("over %s, and up to %s", least, phrase.Percent(float64(int(b.most))))
	}
	if d.Help == "" {
		d.Help = "write a number between"
	}
	return d
}

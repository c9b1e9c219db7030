package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var repsTooMany = Rule{Name: "reps-too-many", Family: "load", Severity: diag.Warning,
	Summary: "more repetitions in one set than that share of a maximum allows",
	Settings: []Setting{
		{Name: "spare", Unit: "rep", Default: 1, Source: "a handbook's table, attributed to the American College of Sports Medicine, runs about one repetition above the classic one: " + strength.TableSource},
		{Name: "deviations", Default: 1, Source: "choice: about one person in six does more than one standard deviation above the mean of " + strength.SpreadSource},
	},
	session: func(p *pass, s *model.Session) {
		today := map[*book.Movement]float64{}
		walk(s, func(step model.Step, around []*model.Group) {
			w, ok := step.(*model.Work)
			if !ok {
				return
			}
			defer noteToday(w, around, today)
			for tier := range p.Env.House.Tiers {
				ld, sets := liftSets(w, around, tier, today)
				for _, set := range sets {
					if d, ok := tooMany(p, w, ld, set); ok {
						p.report(d)
						return
					}
				}
			}
		})
	}}

// beyond is the share from which it is the number that is wrong: see effort-impossible.
const beyond = 105

// tooMany reports a set that its share of a maximum does not allow. Repetitions that are
// to be left in reserve count as done.
func tooMany(p *pass, w *model.Work, ld *model.Load, set liftSet) (diag.Diagnostic, bool) {
	m := w.Moves[0].Movement
	table, err := strength.Reps(min(set.share, 100))
	if err != nil || set.share > beyond {
		return diag.Diagnostic{}, false // lighter than the table goes, or no share that there is
	}
	// The spare repetition fades out towards the maximum, which is done once by definition.
	most := table + p.setting("spare")*min(1, max(0, (100-set.share)/5))
	label := fmt.Sprintf("the table has %s at %s", tenth(table), tenth(set.share)+"%")
	if mean, sd, err := strength.Spread(m.Name, set.share); err == nil {
		if reach := mean + p.setting("deviations")*sd; reach > most {
			most = reach
			label += fmt.Sprintf("; people measured did %s, most of them up to %s", tenth(mean), tenth(reach))
		}
	}
	left := reserve(w)
	if set.reps+left <= most {
		return diag.Diagnostic{}, false
	}
	n := units.FormatNumber(set.reps)
	d := diag.Diagnostic{At: w.Dose.At, Label: label, Message: fmt.Sprintf("%s %s in one set are more than %s allows", n, m.Name, ld.Amount.At.Text())}
	if w.From != model.FromLine {
		d.At = w.At
	}
	if left > 0 {
		d.Message = fmt.Sprintf("%s %s with %s in reserve are more than %s allows", n, m.Name, units.FormatNumber(left), ld.Amount.At.Text())
	}
	fewer := max(1, math.Floor(table-left+1e-9))
	d.Help = "write " + units.FormatNumber(fewer) + " or fewer"
	if lighter, err := strength.ShareWith(set.reps, left); err == nil && set.load > 0 {
		// As a share of what it is written of, in steps of 2.5.
		lighter = math.Floor(lighter*set.load/set.share/2.5+1e-9) * 2.5
		d.Help += fmt.Sprintf(", or %s or less", percent(lighter))
	}
	d.Help += "; sets that may be broken up say any sets"
	if q := w.Dose; w.From == model.FromLine && q.Form == syntax.One && q.Tiers() == 1 && !w.Alternating && w.SetsOf == nil && fewer < set.reps {
		if fix, ok := rewrite(q, set.reps, fewer); ok {
			fix.Title = fmt.Sprintf("write %s %s", units.FormatNumber(fewer), m.Name)
			d.Fixes = []diag.Fix{fix}
		}
	}
	return d, true
}

// reserve is how many repetitions a line wants left, at the least.
func reserve(w *model.Work) float64 {
	left := 0.0
	for _, ld := range w.Loads {
		lo, hi, known := ld.Amount.Value(0, 1, 0)
		switch {
		case !known:
		case ld.Kind == syntax.RIR:
			left = max(left, lo)
		case ld.Kind == syntax.RPE:
			if least, _, err := strength.InReserve(hi); err == nil {
				left = max(left, least)
			}
		}
	}
	return left
}

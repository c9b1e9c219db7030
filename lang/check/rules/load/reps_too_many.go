package load

import (
	"fmt"
	"math"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/edit"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var (
	repsTooManySpare = &check.Threshold{Name: "spare", Unit: "rep", Default: 1,
		Source: "a handbook's table, attributed to the American College of Sports Medicine, runs about one repetition above the classic one: " + strength.TableSource}
	repsTooManyDeviations = &check.Threshold{Name: "deviations", Default: 1,
		Source: "choice: about one person in six does more than one standard deviation above the mean of " +
			strength.SpreadSource}
)

var RepsTooMany = check.Rule{Name: "reps-too-many", Family: "load", Severity: diag.Warning,
	Summary:    "more repetitions in one set than that share of a maximum allows",
	Thresholds: []*check.Threshold{repsTooManySpare, repsTooManyDeviations},
	Session: func(p *check.Pass, s *model.Session) {
		for l := range intensity.Lines(s) {
			if d, ok := firstTooMany(p, l); ok {
				p.Report(d)
			}
		}
	}}

// firstTooMany is what is wrong with the first set of a line, for any tier, that has too many.
func firstTooMany(p *check.Pass, l *intensity.Line) (diag.Diagnostic, bool) {
	for tier := range p.Env.House.Tiers {
		ld, sets := l.Sets(tier)
		for _, set := range sets {
			if d, ok := tooMany(p, l.Work, ld, set); ok {
				return d, true
			}
		}
	}
	return diag.Diagnostic{}, false
}

// tooMany reports a set that its share of a maximum does not allow. Repetitions that are
// to be left in reserve count as done.
func tooMany(p *check.Pass, w *model.Work, ld *model.Load, set intensity.LiftSet) (diag.Diagnostic, bool) {
	m := w.Moves[0].Movement
	table, err := strength.Reps(min(set.Share, 100))
	if err != nil || set.Share > p.ValueOf(effortImpossibleName, effortImpossibleShare) {
		return diag.Diagnostic{}, false // lighter than the table goes, or more than there is: effort-impossible says so
	}
	// The spare repetition fades out towards the maximum, which is done once by definition.
	most := table + p.Value(repsTooManySpare)*min(1, max(0, (100-set.Share)/5))
	label := fmt.Sprintf("the table has %s at %s", units.FormatTenth(table), units.FormatTenth(set.Share)+"%")
	if mean, sd, err := strength.Spread(m.Name, set.Share); err == nil {
		if reach := mean + p.Value(repsTooManyDeviations)*sd; reach > most {
			most = reach
			label += fmt.Sprintf("; people measured did %s, most of them up to %s", units.FormatTenth(mean),
				units.FormatTenth(reach))
		}
	}
	left := reserve(w)
	if set.Reps+left <= most {
		return diag.Diagnostic{}, false
	}
	n := units.FormatNumber(set.Reps)
	d := diag.Diagnostic{At: w.Dose.At, Label: label,
		Message: fmt.Sprintf("%s %s in one set are more than %s allows", n, m.Name, ld.Amount.Text())}
	if w.From != model.FromLine {
		d.At = w.At
	}
	if left > 0 {
		d.Message = fmt.Sprintf("%s %s with %s in reserve are more than %s allows", n, m.Name, units.FormatNumber(left),
			ld.Amount.Text())
	}
	fewer := max(1, math.Floor(table-left+1e-9))
	d.Help = "write " + units.FormatNumber(fewer) + " or fewer"
	if lighter, err := strength.ShareWith(set.Reps, left); err == nil && set.Load > 0 {
		// As a share of what it is written of, in steps of 2.5.
		lighter = math.Floor(lighter*set.Load/set.Share/2.5+1e-9) * 2.5
		d.Help += fmt.Sprintf(", or %s or less", phrase.Percent(lighter))
	}
	d.Help += "; sets that may be broken up say any sets"
	if q := w.Dose; w.From == model.FromLine && q.Form == syntax.One && q.Tiers() == 1 && !w.Alternating &&
		w.SetsOf == nil && fewer < set.Reps {
		if fix, ok := edit.Number(q, set.Reps, fewer); ok {
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

package load

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var liftsTooManyOver = &check.Threshold{Name: "over", Unit: "%", Default: 150,
	Source: "no source: how far over the range of " + strength.ZoneSource + " is far"}

var LiftsTooMany = check.Rule{Name: "lifts-too-many", Family: "load", Severity: diag.Suggestion,
	Summary:    "sets of a barbell lift that come to far more repetitions than lifters do at that share of a maximum",
	Thresholds: []*check.Threshold{liftsTooManyOver},
	Session: func(p *check.Pass, s *model.Session) {
		type key struct {
			part *model.Group
			lift *book.Movement
			zone strength.Zone
		}
		type sum struct {
			lifts, largest float64
			line           *model.Work // that has most of them
			share          float64
		}
		sums := map[key]*sum{}
		var order []key
		for l := range intensity.Lines(s) {
			w := l.Work
			_, sets := l.Sets(0)
			times := passes(w, l.Around)
			if times == 0 || !barbellLift(w) {
				continue
			}
			here := map[key]float64{}
			for _, set := range sets {
				z, err := strength.ZoneAt(set.Share)
				if err != nil || tiring(set) {
					continue
				}
				k := key{l.Around[0], w.Moves[0].Movement, z}
				if sums[k] == nil {
					sums[k] = &sum{}
					order = append(order, k)
				}
				here[k] += set.Reps * times
				if sums[k].lifts += set.Reps * times; here[k] > sums[k].largest {
					sums[k].largest, sums[k].line, sums[k].share = here[k], w, set.Share
				}
			}
		}
		for _, k := range order {
			got := sums[k]
			if got.lifts <= float64(k.zone.Most)*p.Value(liftsTooManyOver)/100 {
				continue
			}
			z := k.zone
			p.Report(diag.Diagnostic{At: got.line.At,
				Message: fmt.Sprintf("%s %s at %s are far over the %d to %d that lifters do there in a session",
					units.FormatNumber(got.lifts), k.lift.Name, units.FormatTenth(got.share)+"%", z.Least, z.Most),
				Label: fmt.Sprintf("Prilepin's table: %d to %d in all, %d to %d a set", z.Least, z.Most, z.LeastSet,
					z.MostSet),
				Help: "write fewer sets or a lighter load; where the volume is meant, waive this and say why"})
		}
	}}

// barbellLift says whether a line is of a lift with a barbell of which people test a
// maximum: the table was made of such lifts.
func barbellLift(w *model.Work) bool {
	m := w.Moves[0].Movement
	return len(w.Moves) == 1 && m != nil && m.Best == book.BestLoad && slices.Contains(m.Needs, "barbell")
}

// tiring says whether a set is of those that build muscle, 6 to 12 at 67 to 85 %, which the
// table does not speak of (Essentials of Strength Training and Conditioning, 4th ed. 2016,
// chapter 17).
func tiring(s intensity.LiftSet) bool { return s.Reps >= 6 && s.Share <= 85 }

// passes is how often the turns that liftSets gives come round as a whole, 0 where that is
// not settled. Where a head makes a share heavier each turn, liftSets has its turns.
func passes(w *model.Work, around []*model.Group) float64 {
	var own *model.Group
	if w.Sets == nil {
		own = model.Repeating(around)
	}
	times := 1.0
	for _, g := range around {
		if g == own || !g.ComesRound() && g.Repeat.Kind != model.ChooseOne {
			continue
		}
		turns := totals.Turns(g, 0)
		if !turns.Exact() || g.Repeat.Kind == model.ChooseOne {
			return 0
		}
		if !slices.ContainsFunc(g.Each, func(e *model.Quantity) bool { return e.Unit == "%" }) {
			times *= turns.Lo
		}
	}
	if own != nil && totals.TurnsAround(around) == 0 {
		return 0
	}
	return times
}

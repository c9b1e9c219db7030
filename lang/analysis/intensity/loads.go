package intensity

import (
	"slices"

	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// A TurnLoad is a load in one turn, for one tier: its least and greatest.
type TurnLoad struct {
	turn   int // from 0
	Lo, Hi float64
	By     *model.Quantity // what a head adds each turn, where that has moved it
}

// MaxTurns bounds the turns of a load that are looked at.
const MaxTurns = 60

// OverTurns are the loads of a line turn by turn, with what heads around it add each turn.
// Where it is not settled how many turns there are, it is those that the text spells out.
func OverTurns(w *model.Work, around []*model.Group, ld model.Load, tier int) []TurnLoad {
	turns := totals.LineTurns(w, around)
	n := turns
	if n == 0 {
		n = max(1, ld.Amount.Turns())
	}
	var own *model.Group // whose turns the load moves with
	if w.Sets == nil {
		own = model.Repeating(around)
	}
	var out []TurnLoad
	for t := range min(n, MaxTurns) {
		lo, hi, known := ld.Amount.Value(t, turns, tier)
		if !known {
			continue
		}
		now := []TurnLoad{{turn: t, Lo: lo, Hi: hi}}
		for _, g := range around {
			for _, e := range g.Each {
				by, _, known := e.Value(0, 1, tier)
				switch {
				case e.Unit != ld.Amount.Unit || !known || t == 0 && g == own:
				case g == own:
					for i := range now {
						now[i].move(by*float64(t), e)
					}
				default:
					for _, l := range slices.Clone(now) {
						for k := 1; k < min(totals.GroupTurns(g), MaxTurns/len(now)); k++ {
							later := l
							later.move(by*float64(k), e)
							now = append(now, later)
						}
					}
				}
			}
		}
		out = append(out, now...)
	}
	return out
}

func (l *TurnLoad) move(by float64, e *model.Quantity) { l.Lo, l.Hi, l.By = l.Lo+by, l.Hi+by, e }

// A LiftSet is one set of a lift, as light and as short as the text lets it be.
type LiftSet struct {
	Reps  float64 // of one side
	Share float64 // % of the lift's one-repetition maximum
	Load  float64 // % as written, of whatever it is of
}

// Sets are the sets of a line of which the share of a one-repetition maximum is known, a turn
// each, for one tier, and the load that says it. Work that may be broken up at will has none:
// for time, as many as possible, split, in any sets.
func (l *Line) Sets(tier int) (ld *model.Load, sets []LiftSet) {
	w, around := l.Work, l.Around
	ld = ShareOf(w)
	if ld == nil || len(w.Moves) == 0 || w.Moves[0].Movement == nil || w.Dose == nil || w.Dose.Unit != "rep" || w.Dose.Max ||
		w.Dose.IsMost() || w.RM > 0 || w.AnySets || w.Share == model.Split || w.Share == model.SplitEvenly || !inSets(w, around) {
		return nil, nil
	}
	factor := 1.0
	for _, g := range around {
		if g.Share != "" {
			return nil, nil
		}
	}
	if w.From == model.FromHead && (model.Repeating(around) == nil || model.Repeating(around).Repeat.Series != w.Dose) {
		return nil, nil // the count moves with other turns than the load
	}
	if w.Alternating {
		factor = 0.5
	}
	turns := totals.LineTurns(w, around)
	for _, t := range OverTurns(w, around, *ld, tier) {
		n, _, known := w.Dose.Value(t.turn, turns, tier)
		if !known {
			continue
		}
		if of, _, ok := w.SetsOf.Value(t.turn, turns, tier); ok {
			n = min(n, of)
		}
		if share, ok := ownShare(ld.Base, w.Moves[0].Movement, t.Lo, l.today); ok {
			sets = append(sets, LiftSet{n * factor, share, t.Lo})
		}
	}
	return ld, sets
}

// inSets says whether a line's count is done in one go: it is said to be, or nothing
// hurries it so that it would be broken up.
func inSets(w *model.Work, around []*model.Group) bool {
	return w.Unbroken || w.SetsOf != nil || !slices.ContainsFunc(around, func(g *model.Group) bool {
		return g.Mode == model.ForTime || g.Mode == model.AMRAP || g.CarryOn || g.Unread
	})
}

// ShareOf is the load of a line that is a share of something; nil where it has none.
func ShareOf(w *model.Work) *model.Load {
	i := slices.IndexFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Share && l.Amount != nil && l.Base != nil })
	if i < 0 {
		return nil
	}
	return &w.Loads[i]
}

// ownShare is a share of a base as a share of the movement's own one-repetition maximum.
// What another lift, the body's weight or a count says of it is not known.
func ownShare(b *model.Base, m *book.Movement, percent float64, today today) (float64, bool) {
	reps := 1.0
	switch {
	case b.Kind == model.OfRM && (b.Reps > 1 || m.Best == book.BestLoad):
		reps = float64(b.Reps)
	case b.Kind == model.OfMovement && b.Movement == m && m.Best == book.BestLoad:
	case b.Kind == model.OfToday && today[m] > 0:
		reps = today[m]
	default:
		return 0, false
	}
	of, err := strength.Share(reps)
	return percent * of / 100, err == nil
}

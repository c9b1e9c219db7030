package check

import (
	"math"
	"regexp"
	"slices"
	"strconv"

	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A turnLoad is what a load comes to in one turn, for one tier: its least and greatest.
type turnLoad struct {
	turn   int // from 0
	lo, hi float64
	by     *model.Quantity // what a head adds each turn, where that has moved it
}

// misread says whether an amount has more or fewer numbers between slashes than the house
// has tiers, so that it is not said which is whose. That is reported where it is read.
func (p *pass) misread(q *model.Quantity) bool {
	return q.Tiers() > 1 && q.Tiers() != len(p.Env.House.Tiers)
}

// maxTurns bounds the turns of a load that are looked at.
const maxTurns = 60

// overTurns are the loads of a line turn by turn, with what heads around it add each turn.
// Where it is not settled how many turns there are, it is those that the text spells out.
func overTurns(w *model.Work, around []*model.Group, ld model.Load, tier int) []turnLoad {
	turns := turnsOf(w, around)
	n := turns
	if n == 0 {
		n = max(1, ld.Amount.Turns())
	}
	var own *model.Group // whose turns the load moves with
	if w.Sets == nil {
		own = nearest(around)
	}
	var out []turnLoad
	for t := range min(n, maxTurns) {
		lo, hi, known := ld.Amount.Value(t, turns, tier)
		if !known {
			continue
		}
		now := []turnLoad{{turn: t, lo: lo, hi: hi}}
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
						for k := 1; k < min(ownTurns(g), maxTurns/len(now)); k++ {
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

func (l *turnLoad) move(by float64, e *model.Quantity) { l.lo, l.hi, l.by = l.lo+by, l.hi+by, e }

// A liftSet is one set of a lift, as light and as short as the text lets it be.
type liftSet struct {
	reps  float64 // of one side
	share float64 // % of the lift's one-repetition maximum
	load  float64 // % as written, of whatever it is of
}

// liftSets are the sets of a line of which the share of a one-repetition maximum is known,
// a turn each, for one tier. Work that may be broken up at will has none: for time, as
// many as possible, split, in any sets. Today's are the repetitions of the heaviest set of
// each movement so far.
func liftSets(w *model.Work, around []*model.Group, tier int, today map[*book.Movement]float64) (ld *model.Load, sets []liftSet) {
	ld = shareOf(w)
	if ld == nil || len(w.Moves) == 0 || w.Moves[0].Movement == nil || w.Dose == nil || w.Dose.Unit != "rep" || w.Dose.Max ||
		w.UpTo || w.RM > 0 || w.AnySets || w.Share == model.Split || w.Share == model.SplitEvenly || !inSets(w, around) {
		return nil, nil
	}
	factor := 1.0
	for _, g := range around {
		if g.Share != "" {
			return nil, nil
		}
	}
	if w.From == model.FromHead && (nearest(around) == nil || nearest(around).Repeat.Series != w.Dose) {
		return nil, nil // the count moves with other turns than the load
	}
	if w.Alternating {
		factor = 0.5
	}
	turns := turnsOf(w, around)
	for _, l := range overTurns(w, around, *ld, tier) {
		n, _, known := w.Dose.Value(l.turn, turns, tier)
		if !known {
			continue
		}
		if of, _, ok := w.SetsOf.Value(l.turn, turns, tier); ok {
			n = min(n, of)
		}
		if share, ok := ownShare(ld.Base, w.Moves[0].Movement, l.lo, today); ok {
			sets = append(sets, liftSet{n * factor, share, l.lo})
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

func shareOf(w *model.Work) *model.Load {
	i := slices.IndexFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Share && l.Amount != nil && l.Base != nil })
	if i < 0 {
		return nil
	}
	return &w.Loads[i]
}

// ownShare is a share of a base as a share of the movement's own one-repetition maximum.
// What another lift, the body's weight or a count says of it is not known.
func ownShare(b *model.Base, m *book.Movement, percent float64, today map[*book.Movement]float64) (float64, bool) {
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

// noteToday keeps the repetitions with which a line goes as heavy as it will.
func noteToday(w *model.Work, around []*model.Group, today map[*book.Movement]float64) {
	heavy := w.RM > 0 || slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Rising && l.Word == "rising" }) ||
		slices.ContainsFunc(around, func(g *model.Group) bool { return g.Mode == model.ForLoad })
	if !heavy || len(w.Moves) != 1 || w.Moves[0].Movement == nil || w.Dose == nil || w.Dose.Unit != "rep" || w.Dose.Max {
		return
	}
	m := w.Moves[0].Movement
	for _, row := range w.Dose.Terms {
		for _, n := range row {
			if today[m] == 0 || n < today[m] {
				today[m] = n
			}
		}
	}
}

// eachLoads calls f with the loads of every line, and of what is carried or worn beside its
// own kit. Kit is that thing's name, or empty for the line's own loads.
func eachLoads(s *model.Session, f func(w *model.Work, around []*model.Group, kit string, lds []model.Load)) {
	walk(s, func(step model.Step, around []*model.Group) {
		switch st := step.(type) {
		case *model.Group:
			for _, k := range st.With {
				f(&model.Work{}, append(slices.Clip(around), st), k.Name, k.Loads)
			}
		case *model.Work:
			f(st, around, "", st.Loads)
			for _, k := range st.With {
				f(st, around, k.Name, k.Loads)
			}
		}
	})
}

var numberText = regexp.MustCompile(`\d+(\.\d+)?`)

// rewrite is the edit that puts one number for another in an amount as written, wherever
// it stands there. It is false where the text has no such number: dots or steps made it.
func rewrite(q *model.Quantity, from, to float64) (diag.Fix, bool) {
	was, _ := number(from, q.Unit, q.Written)
	text, unit := number(to, q.Unit, q.Written)
	if _, in := number(from, q.Unit, q.Written); in != unit {
		return diag.Fix{}, false
	}
	old, err := strconv.ParseFloat(was, 64)
	if err != nil {
		return diag.Fix{}, false
	}
	fix := diag.Fix{Title: "write " + text + " " + unit}
	for _, at := range numberText.FindAllStringIndex(q.At.Text(), -1) {
		if v, err := strconv.ParseFloat(q.At.Text()[at[0]:at[1]], 64); err == nil && v == old {
			place := q.At.File.At(source.Span{Start: q.At.Start + at[0], End: q.At.Start + at[1]})
			fix.Edits = append(fix.Edits, diag.Edit{At: place, New: text})
		}
	}
	return fix, len(fix.Edits) > 0
}

// percent is a share as a sentence says it.
func percent(v float64) string { return units.FormatNumber(v) + "%" }

// tenth rounds what was worked out, such as a mean, for a sentence.
func tenth(v float64) string { return units.FormatNumber(math.Round(v*10) / 10) }

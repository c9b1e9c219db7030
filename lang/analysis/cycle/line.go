package cycle

import (
	"slices"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// A Line is a line of work of a part, with how heavy and how hard it is for the first tier.
type Line struct {
	Work *model.Work

	Sets   float64 // how often it is done; 0 where that is not settled
	Share  Heavy   // in % of the first movement's one-repetition maximum
	Mass   Heavy   // in kg, all implements together
	Effort float64 // %, by the line, a head or the session, whichever way they say it; 0 where nothing says
	UpTo   bool    // it is built up to the heaviest of the day
	Mixed  bool    // it is of a piece against the clock

	effort intensity.Effort // what says Effort

	share float64 // how much of the counts one member does: half, where two split it in turn
}

// Heavy is the heaviest load of a line, and its mean over the repetitions; 0 where it has
// none of that kind.
type Heavy struct{ Top, Mean float64 }

func lineOf(s *model.Session, w *model.Work, around []*model.Group, today map[*book.Movement]float64) *Line {
	l := &Line{Work: w, share: shareIn(w, around)}
	own, turns := turnsOf(w, around)
	l.Sets = float64(turns)
	for _, g := range around {
		if g != own && g.ComesRound() {
			t := totals.Turns(g, 0)
			if !t.Exact() {
				t.Lo = 0
			}
			l.Sets *= t.Lo
		}
	}
	for i := range w.Loads {
		ld := &w.Loads[i]
		if ld.Amount == nil {
			continue
		}
		heavy := heaviness(w, around, own, turns, ld.Amount)
		switch ld.Kind {
		case syntax.Share:
			if of, ok := shareOf(ld.Base, w.Moves[0].Movement, today); ok {
				l.Share = Heavy{heavy.Top * of, heavy.Mean * of}
			}
		case syntax.Mass:
			n := 1.0
			if v, ok := ld.Count.One(); ok {
				n = v
			}
			l.Mass = Heavy{heavy.Top * n, heavy.Mean * n}
		}
	}
	if e, ok := intensity.EffortOf(s, w, around); ok {
		l.Effort, l.effort = e.Middle(), e
	}
	l.Mixed = slices.ContainsFunc(around, func(g *model.Group) bool {
		return g.Mode == model.ForTime || g.Mode == model.AMRAP || g.Repeat.Clocked()
	})
	l.UpTo = w.RM > 0 || slices.ContainsFunc(w.Loads, func(ld model.Load) bool { return ld.Kind == syntax.Rising && ld.Word == "rising" }) ||
		slices.ContainsFunc(around, func(g *model.Group) bool { return g.Mode == model.ForLoad })
	l.UpTo = l.UpTo && len(w.Moves) == 1 && w.Dose != nil && w.Dose.Unit == "rep" && !w.Dose.Max
	if l.UpTo {
		m := w.Moves[0].Movement
		for _, row := range w.Dose.Terms {
			if today[m] == 0 || row[0] < today[m] {
				today[m] = row[0]
			}
		}
	}
	return l
}

// turnsOf is how many turns the values of a line move with, and the group whose turns they
// are; nil where they are the line's own sets, 0 where that is not settled.
func turnsOf(w *model.Work, around []*model.Group) (own *model.Group, turns int) {
	if w.Sets != nil {
		v, _ := w.Sets.One()
		return nil, int(v)
	}
	for _, g := range slices.Backward(around) {
		if !g.ComesRound() {
			continue
		}
		t := totals.Turns(g, 0)
		if !t.Exact() {
			return g, 0
		}
		n := int(t.Lo)
		if k := g.Slots(); k > 0 && g.Repeat.Clocked() && !g.Repeat.Laps {
			n = max(1, n/k)
		}
		return g, n
	}
	return nil, 1
}

// mostTurns bounds the turns that are looked at.
const mostTurns = 100

// heaviness is the heaviest and the mean of a load over its turns, with what heads add.
func heaviness(w *model.Work, around []*model.Group, own *model.Group, turns int, amount *model.Quantity) Heavy {
	n := turns
	if n == 0 {
		n = max(1, amount.Turns())
	}
	var h Heavy
	sum, reps := 0.0, 0.0
	for t := range min(n, mostTurns) {
		lo, hi, known := amount.Value(t, turns, 0)
		if !known {
			continue
		}
		top, mean := hi, (lo+hi)/2
		for _, g := range around {
			for _, e := range g.Each {
				by, _, known := e.Value(0, 1, 0)
				if e.Unit != amount.Unit || !known {
					continue
				}
				if g == own {
					top, mean = top+by*float64(t), mean+by*float64(t)
				} else if of := totals.Turns(g, 0); of.Exact() {
					top, mean = top+max(0, by*(of.Lo-1)), mean+by*(of.Lo-1)/2
				}
			}
		}
		weight := 1.0
		if v, _, ok := w.Dose.Value(t, turns, 0); ok && v > 0 {
			weight = v
		}
		h.Top = max(h.Top, top)
		sum, reps = sum+mean*weight, reps+weight
	}
	if reps > 0 {
		h.Mean = sum / reps
	}
	return h
}

// shareOf is what a percentage of a base has to be multiplied by to be one of the
// movement's own one-repetition maximum. What another lift, the body's weight or a count
// says of that is not known.
func shareOf(b *model.Base, m *book.Movement, today map[*book.Movement]float64) (float64, bool) {
	reps := 0.0
	switch {
	case b == nil:
		return 0, false
	case b.Kind == model.OfRM && (b.Reps > 1 || m.Best == book.BestLoad):
		reps = float64(max(1, b.Reps))
	case b.Kind == model.OfMovement && b.Movement == m && m.Best == book.BestLoad:
		reps = 1
	case b.Kind == model.OfToday:
		reps = today[m]
	}
	of, err := strength.Share(reps)
	return of / 100, err == nil
}

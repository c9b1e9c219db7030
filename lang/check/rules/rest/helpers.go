// Package rest has the rules about rest: between parts, sets and efforts.
package rest

import (
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
)

func groupIn(t *estimate.Timeline, g *model.Group) (*estimate.PartTime, *estimate.GroupTime) {
	for _, part := range t.Parts {
		if of, ok := part.GroupOf(g); ok {
			return part, of
		}
	}
	return nil, nil
}

// restBetweenTurns is the rest between the turns of a group, nil where there is none.
func restBetweenTurns(g *model.Group) *model.Rest {
	for _, st := range g.Steps {
		if r, ok := st.(*model.Rest); ok && r.Place == model.RestBetweenTurns && r.Of == "" && r.Bound == "" {
			return r
		}
	}
	return nil
}

// setTime is how long one set of a line takes the typical athlete.
func setTime(t *estimate.Timeline, w *model.Work) (float64, bool) {
	if w.Dose == nil || w.Dose.Max {
		return 0, false
	}
	n, _, ok := w.Dose.Value(0, 1, 0)
	if !ok {
		return 0, false
	}
	if w.Side {
		n *= 2
	}
	if w.Dose.Unit == "s" {
		return n, true
	}
	for _, part := range t.Parts {
		for _, l := range part.Lines {
			if l.Work == w && l.N.Typical > 0 && part.Proven() {
				s := l.Spent[1]
				return (s.Moving + s.Drift + s.SetUps + s.Breaks + s.Fixed + s.Handovers) * n / l.N.Typical, true
			}
		}
	}
	return 0, false
}

// Package load has the rules about loads: shares of a maximum, repetitions, weights that the house can make.
package load

import (
	"slices"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/model"
)

// effortImpossibleShare is the share of a maximum from which it is the number that is wrong.
var effortImpossibleShare = &check.Threshold{Name: "share", Unit: "%", Default: 105,
	Source: "no source: on a good day a maximum is beaten by a little"}

const effortImpossibleName = "effort-impossible"

// misread says whether an amount has more or fewer numbers between slashes than the house
// has tiers, so that it is not said which is whose. That is reported where it is read.
func misread(p *check.Pass, q *model.Quantity) bool {
	return q.Tiers() > 1 && q.Tiers() != len(p.Env.House.Tiers)
}

// eachLoads calls f with the loads of every line, and of what is carried or worn beside its
// own kit. Kit is that thing's name, or empty for the line's own loads.
func eachLoads(s *model.Session, f func(w *model.Work, around []*model.Group, kit string, lds []model.Load)) {
	s.Walk(model.Everything, func(step model.Step, around []*model.Group) bool {
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
		return true
	})
}

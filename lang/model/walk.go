package model

import (
	"iter"
	"slices"
)

// Inside says what Walk goes into beside the steps of groups.
type Inside uint8

// What a walk can go into.
const (
	OnlySteps    Inside = 0
	InsideEvents Inside = 1 << iota // what is dropped into other work
	InsideRests                     // what is done in a rest, such as a jog
	// Everything is all that somebody does.
	Everything = InsideEvents | InsideRests
)

// Walk visits a step and what it holds, outermost first, in the order of the text: the steps
// of a group, then those of its events. Around are the groups that hold a step, outermost
// first; whoever keeps them clones them. Where visit returns false, what the step holds is
// passed over.
func Walk(s Step, inside Inside, visit func(s Step, around []*Group) bool) {
	walk(s, nil, inside, visit)
}

func walk(s Step, around []*Group, inside Inside, visit func(s Step, around []*Group) bool) {
	if !visit(s, around) {
		return
	}
	switch s := s.(type) {
	case *Rest:
		if inside&InsideRests != 0 {
			for _, k := range s.Steps {
				walk(k, around, inside, visit)
			}
		}
	case *Group:
		inner := append(slices.Clip(around), s)
		for _, k := range s.Steps {
			walk(k, inner, inside, visit)
		}
		if inside&InsideEvents != 0 {
			for _, e := range s.Events {
				for _, k := range e.Steps {
					walk(k, inner, inside, visit)
				}
			}
		}
	}
}

// Walk visits the parts of a session, warm-up and cool-down among them, as Walk does.
func (s *Session) Walk(inside Inside, visit func(s Step, around []*Group) bool) {
	for _, g := range s.Parts {
		Walk(g, inside, visit)
	}
}

// Lines are the lines of work of a session, with the groups around each.
func (s *Session) Lines(inside Inside) iter.Seq2[*Work, []*Group] {
	return func(yield func(*Work, []*Group) bool) {
		for _, g := range s.Parts {
			for w, around := range g.Lines(inside) {
				if !yield(w, around) {
					return
				}
			}
		}
	}
}

// SharesTime is a line that shares with others what they leave of the time of the group, which lasts; nil
// where none does.
func (g *Group) SharesTime() *Work {
	for w, around := range g.Lines(OnlySteps) {
		if w.Shares && !slices.ContainsFunc(around[1:], func(o *Group) bool { return o.Lasts != nil }) {
			return w
		}
	}
	return nil
}

// Lines are the lines of work of a group, with the groups around each, itself among them.
func (g *Group) Lines(inside Inside) iter.Seq2[*Work, []*Group] {
	return func(yield func(*Work, []*Group) bool) {
		more := true
		Walk(g, inside, func(s Step, around []*Group) bool {
			if w, ok := s.(*Work); ok && more {
				more = yield(w, around)
			}
			return more
		})
	}
}

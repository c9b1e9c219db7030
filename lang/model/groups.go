package model

import "iter"

// Groups are the groups of a session, parts among them, outermost first and in the order of
// the text, with those around each.
func (s *Session) Groups(inside Inside) iter.Seq2[*Group, []*Group] {
	return func(yield func(*Group, []*Group) bool) {
		for _, p := range s.Parts {
			for g, around := range p.Groups(inside) {
				if !yield(g, around) {
					return
				}
			}
		}
	}
}

// Groups are a group and those inside it, outermost first, with those around each from it on.
func (g *Group) Groups(inside Inside) iter.Seq2[*Group, []*Group] {
	return func(yield func(*Group, []*Group) bool) {
		more := true
		Walk(g, inside, func(s Step, around []*Group) bool {
			if k, ok := s.(*Group); ok && more {
				more = yield(k, around)
			}
			return more
		})
	}
}

package model

import "slices"

// FindPart is the part of a kind and a letter, or the warm-up or the cool-down, which have
// none; nil where the session has no such part.
func (s *Session) FindPart(kind GroupKind, letter string) *Group {
	i := slices.IndexFunc(s.Parts, func(g *Group) bool { return g.Kind == kind && g.Letter == letter })
	if i < 0 {
		return nil
	}
	return s.Parts[i]
}

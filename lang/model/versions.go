package model

import (
	"slices"

	"stint.example/stint/lang/book"
)

// FindVersion is the session's version of a name, whatever its spelling; nil where it has
// none.
func (s *Session) FindVersion(name string) *Version {
	i := slices.IndexFunc(s.Versions, func(v *Version) bool { return book.Key(v.Name) == book.Key(name) })
	if i < 0 {
		return nil
	}
	return s.Versions[i]
}

// InVersion is the session in a version, or as written where the name is empty; nil where it
// has no version of that name, or is nil itself.
func (s *Session) InVersion(name string) *Session {
	if s == nil || name == "" {
		return s
	}
	if v := s.FindVersion(name); v != nil {
		return v.Session
	}
	return nil
}

// Variants are the session as written and in each of its versions, in the order of the text.
func (s *Session) Variants() []*Session {
	out := make([]*Session, 1, 1+len(s.Versions))
	out[0] = s
	for _, v := range s.Versions {
		out = append(out, v.Session)
	}
	return out
}

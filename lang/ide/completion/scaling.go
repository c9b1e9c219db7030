package completion

import (
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
)

// scalings offers the versions that the house declares, from a token on.
func (c *completer) scalings(from int) {
	c.name(c.commaOr(from))
	for i, s := range c.snap.Env.House.Scalings {
		rank := i
		if c.hasScaling(s.Name) {
			rank += 100
		}
		c.add(Suggestion{Label: s.Name, New: s.Name, Kind: Name, Detail: s.Note, rank: rank,
			Ref: refs.ID{Kind: refs.Scaling, Key: book.Key(s.Name)}})
	}
	if c.session != nil && c.behindWord("from") > 0 {
		c.versions(c.session)
	}
}

// hasScaling says whether the session writes a version of its own. That which is being
// written does not count.
func (c *completer) hasScaling(name string) bool {
	if c.session == nil {
		return false
	}
	v := c.session.FindVersion(name)
	return v != nil && v.At.File == c.file.Src && !v.At.Contains(c.off)
}

// versions offers the versions of a session.
func (c *completer) versions(s *model.Session) {
	for i, v := range s.Versions {
		if !slices.ContainsFunc(c.items, func(o Suggestion) bool { return o.Label == v.Name }) {
			c.add(Suggestion{Label: v.Name, New: v.Name, Kind: Name, Detail: v.Note, rank: i,
				Ref: refs.ID{Kind: refs.Scaling, Key: book.Key(v.Name), In: book.Key(s.Name)}})
		}
	}
}

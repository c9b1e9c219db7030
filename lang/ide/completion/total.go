package completion

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// total offers the totals of the session, movement by movement.
func (c *completer) total() {
	i := c.commaOr(1)
	c.span(i, func(t syntax.Tok) bool {
		return t.Kind != syntax.Comma && t.Kind != syntax.Note && t.Kind != syntax.Comment
	})
	s := c.session
	if c.version != nil {
		s = c.version.Session
	}
	if s == nil {
		return
	}
	t := totals.OfSession(s, len(c.snap.Env.House.Tiers))
	if c.ctx == syntax.InGroup && c.part != nil {
		t = totals.OfGroup(c.part, len(c.snap.Env.House.Tiers))
	}
	if t.Unread {
		if t = c.totalsWithoutLine(); t == nil || t.Unread {
			return
		}
	}
	stated := strings.ToLower(c.text)
	for _, r := range t.Rows {
		open := slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return !s.Exact() })
		if open || r.Unread || r.Unit == "s" {
			continue
		}
		text := prose.Sum(r) + " " + r.Movement
		rank := 0
		if strings.Contains(stated, strings.ToLower(r.Movement)) {
			rank = 5
		}
		c.add(Suggestion{Label: text, New: text, Kind: Line, Detail: "what the lines come to", rank: rank,
			keys: []string{r.Movement},
			Ref:  refs.ID{Kind: refs.Movement, Key: book.Key(r.Movement)}})
	}
}

// totalsWithoutLine are the totals of the session without the line that is being written, which may
// well be one that cannot be read yet.
func (c *completer) totalsWithoutLine() *totals.Totals {
	src := c.file.Src
	line := src.Line(src.LineAt(c.off))
	f := syntax.Parse(source.New(src.Name, src.Text[:line.Start]+src.Text[line.End:]))
	for _, s := range model.Resolve(f, c.snap.Env).Sessions {
		if s.Name == c.session.Name && c.version == nil && c.ctx == syntax.InFile {
			return totals.OfSession(s, len(c.snap.Env.House.Tiers))
		}
		for _, v := range s.Versions {
			if s.Name == c.session.Name && c.version != nil && v.Name == c.version.Name {
				return totals.OfSession(v.Session, len(c.snap.Env.House.Tiers))
			}
		}
		for _, p := range s.Parts {
			if s.Name == c.session.Name && c.part != nil && p.Kind == c.part.Kind && p.Letter == c.part.Letter {
				return totals.OfGroup(p, len(c.snap.Env.House.Tiers))
			}
		}
	}
	return nil
}

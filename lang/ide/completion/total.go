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
	parts := s.Parts
	if c.ctx == syntax.InGroup && c.part != nil {
		parts = []*model.Group{c.part}
	}
	rows, unread := totals.RowsOfEach(len(c.snap.Env.House.Tiers), parts...)
	if unread {
		parts = c.partsWithoutLine()
		if rows, unread = totals.RowsOfEach(len(c.snap.Env.House.Tiers), parts...); unread {
			return
		}
	}
	stated := strings.ToLower(c.text)
	for _, r := range rows {
		open := slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return !s.Exact() })
		if open || r.Unread || r.Unit == "s" {
			continue
		}
		text := strings.TrimSpace(string(r.Whose) + " " + prose.Sum(r.Row) + " " + r.Movement)
		rank := 0
		if strings.Contains(stated, strings.ToLower(r.Movement)) {
			rank = 5
		}
		c.add(Suggestion{Label: text, New: text, Kind: Line, Detail: "what the lines come to", rank: rank,
			keys: []string{r.Movement},
			Ref:  refs.ID{Kind: refs.Movement, Key: book.Key(r.Movement)}})
	}
}

// partsWithoutLine are the parts that a total is of without the line that is being written, which
// may well be one that cannot be read yet.
func (c *completer) partsWithoutLine() []*model.Group {
	src := c.file.Src
	line := src.Line(src.LineAt(c.off))
	f := syntax.Parse(source.New(src.Name, src.Text[:line.Start]+src.Text[line.End:]))
	for _, s := range model.Resolve(f, c.snap.Env).Sessions {
		if s.Name == c.session.Name && c.version == nil && c.ctx == syntax.InFile {
			return s.Parts
		}
		for _, v := range s.Versions {
			if s.Name == c.session.Name && c.version != nil && v.Name == c.version.Name {
				return v.Session.Parts
			}
		}
		for _, p := range s.Parts {
			if s.Name == c.session.Name && c.part != nil && p.Kind == c.part.Kind && p.Letter == c.part.Letter {
				return []*model.Group{p}
			}
		}
	}
	return nil
}

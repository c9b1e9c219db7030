package completion

import (
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
)

// kitNames offers kit from a token on: the house's own first.
func (c *completer) kitNames(from int) {
	c.name(from)
	own := map[string]int{}
	for _, k := range c.env.House.Kit {
		own[book.Key(k.Name)] += k.Count
		if name, ok := c.env.Book.Kit(k.Name); ok && book.Key(name) != book.Key(k.Name) {
			own[book.Key(name)] += k.Count
		}
	}
	for _, name := range c.kit() {
		it := Suggestion{Label: name, New: name, Kind: Kit, Ref: refs.ID{Kind: refs.Kit, Key: book.Key(name)}}
		if own[book.Key(name)] == 0 && len(own) > 0 {
			it.rank, it.Detail = noKit, "not on the house's list"
		}
		for _, s := range c.env.House.Scalings {
			if slices.Contains(s.Has, name) {
				it.rank-- // what versions are made for is likely
			}
		}
		c.add(it)
	}
	if c.ctx == syntax.InScaling || c.ctx == syntax.InHouseScaling || c.ctx == syntax.InMovement && c.before == 1 {
		c.add(Suggestion{Label: "nothing", New: "nothing", Kind: Value, Detail: "no kit at all", rank: 9})
	}
}

// kit are the pieces of kit that movements need and the house lists, but for one that is
// being written.
func (c *completer) kit() []string {
	var out []string
	for _, m := range c.env.Book.Movements() {
		for _, k := range m.Kit() {
			if m.At.File != c.file.Src || book.Key(k) != book.Key(c.file.Src.Text[c.from:c.off]) {
				out = append(out, k)
			}
		}
	}
	for _, k := range c.env.House.Kit {
		if k.At.File == c.file.Src && k.At.Contains(c.off) {
			continue
		}
		if name, ok := c.env.Book.Kit(k.Name); ok {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// kitLine offers what may stand on a line of the house's kit.
func (c *completer) kitLine() {
	switch {
	case c.word(0) == "allow":
		c.rules()
	case c.toks[0].Kind == syntax.Number && c.last(syntax.At) < 0:
		c.kitNames(1)
	}
}

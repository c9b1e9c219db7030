package completion

import (
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

func (c *completer) everyMovement(*book.Movement) (int, bool) { return 0, true }

// rankForWork ranks movements for a line of work: those first that there is kit for, in the
// version that is written or in the house, and that train what the part does not train yet.
func (c *completer) rankForWork(m *book.Movement) (int, bool) {
	rank := newPattern
	if slices.Contains(c.patterns(), m.Main()) {
		rank = repeatedPattern
	}
	easy := c.part != nil && c.part.Kind != model.Part
	if stretch := m.Main() == book.Mobility; m.Main() == "" || stretch && !easy {
		rank = unlikelyWork
	} else if stretch && c.part.Kind == model.CoolDown {
		rank = coolDownStretch
	}
	if !c.fitsUnit(m) {
		rank += wrongUnit
	}
	if !c.hasKit(m) {
		rank += noKit
	}
	return rank, true
}

// fitsUnit says whether a movement is counted in what stands before the cursor: a number
// with a unit, or without one.
func (c *completer) fitsUnit(m *book.Movement) bool {
	i := c.before
	for i > 0 && c.toks[i-1].Kind == syntax.Word {
		i--
	}
	if i == 0 {
		return true
	}
	per := ""
	switch t := c.toks[i-1]; t.Kind {
	case syntax.Number:
		per = "rep"
	case syntax.Unit:
		if u, ok := units.Lookup(t.Text); ok {
			switch u.Dimension() {
			case units.Length:
				per = "m"
			case units.Energy:
				per = "cal"
			}
		}
	}
	if len(m.Paces) == 0 { // a hold, a stretch or a duty
		return per == "" || per == "rep"
	}
	_, ok := m.Pace(per)
	return per == "" || ok
}

// patterns are the main patterns of the movements in the part.
func (c *completer) patterns() []book.Pattern {
	if c.part == nil {
		return nil
	}
	var out []book.Pattern
	for w := range c.part.Lines(model.InsideEvents) {
		if w.At.Contains(c.off) {
			continue
		}
		for _, m := range w.Moves {
			if m.Movement != nil {
				out = append(out, m.Movement.Main())
			}
		}
	}
	return out
}

// hasKit says whether there is the kit for a movement: in the version, or in the house,
// where that lists any.
func (c *completer) hasKit(m *book.Movement) bool {
	has := func(k string) bool { return true }
	switch {
	case c.version != nil && c.version.HasOnly:
		has = func(k string) bool {
			return slices.ContainsFunc(c.version.Has, func(o string) bool { return book.Key(o) == book.Key(k) })
		}
	case len(c.env.House.Kit) > 0:
		has = func(k string) bool {
			return slices.ContainsFunc(c.env.House.Kit, func(o model.KitItem) bool {
				name, _ := c.env.Book.Kit(o.Name)
				return book.Key(name) == book.Key(k)
			})
		}
	}
	return !slices.ContainsFunc(m.Ways(), func(ways []string) bool { return !slices.ContainsFunc(ways, has) })
}

// rankForSwap ranks movements for the right side of a swap: what the book has instead of the
// one on the left first, as far as there is kit for it, then the easier ones, then those of
// its pattern.
func (c *completer) rankForSwap(of *book.Movement) func(*book.Movement) (int, bool) {
	return func(m *book.Movement) (int, bool) {
		rank, ok := c.rankForWork(m)
		if of == nil {
			return rank, ok
		}
		named := func(names []string) int {
			return slices.IndexFunc(names, func(n string) bool { return book.Key(n) == book.Key(m.Name) })
		}
		switch {
		case m == of:
			return 2 * noKit, true
		case named(of.Instead) >= 0:
			rank = insteadOfIt + named(of.Instead)*insteadStep
		case named(of.Easier) >= 0:
			rank = easierThanIt + named(of.Easier)
		case m.Main() == of.Main():
			rank = samePatternAsIts
		default:
			rank = max(rank, 0)
		}
		if !c.hasKit(m) {
			rank += noKit
		}
		return rank, ok
	}
}

// maxSampledFiles is how many sessions are asked which movements are common.
const maxSampledFiles = 200

// frequencies counts how often movements are written, in some of the workspace's sessions. It is
// done once for a book: what is common does not change from one key press to the next.
func (c *completer) frequencies() map[string]int {
	out := map[string]int{}
	step := 1 + len(c.snap.Files)/maxSampledFiles
	for i := 0; i < len(c.snap.Files); i += step {
		f := c.snap.Files[i]
		if len(f.Decls.Sessions) == 0 {
			continue
		}
		for _, r := range f.Refs() {
			if r.Kind == refs.Movement {
				out[r.Key]++
			}
		}
	}
	return out
}

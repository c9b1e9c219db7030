package hover

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/syntax"
)

// kitCard is the card of a piece of kit.
func (s *target) kitCard(name string) *Card {
	called, ok := s.env().Book.Kit(name)
	if !ok {
		return nil
	}
	c := &Card{Title: called, Kind: "kit"}
	h := s.env().House
	has := s.houseHas(called)
	switch {
	case len(has) > 0 && h.Class > 0:
		c.row("the house has", fmt.Sprintf("%s, for a class of %d", wording.And(has), h.Class))
	case len(has) > 0:
		c.row("the house has", wording.And(has))
	case len(h.Kit) > 0:
		c.row("", "the house does not list any")
	}
	var in []string
	for _, v := range h.Scalings {
		if v.HasOnly && slices.ContainsFunc(v.Has, func(k string) bool { return book.Key(k) == book.Key(called) }) {
			in = append(in, v.Name)
		}
	}
	c.row("in the versions", wording.List(in))
	var need []string
	for _, m := range s.env().Book.NeededBy(called) {
		need = append(need, m.Name)
	}
	c.row("for", listOrCount(need, "movement"))
	return c
}

// listOrCount counts names, and lists them where they are few.
func listOrCount(names []string, noun string) string {
	switch {
	case len(names) == 0:
		return ""
	case len(names) <= 2*maxListed:
		return wording.List(names)
	}
	return wording.Count(len(names), noun)
}

// houseStock is what the house has of a piece of kit, behind its name: empty where the house
// lists no kit at all.
func (s *target) houseStock(name string) string {
	if len(s.env().House.Kit) == 0 {
		return ""
	}
	if has := s.houseHas(name); len(has) > 0 {
		return " (the house has " + wording.And(has) + ")"
	}
	return " (not on the house's list)"
}

// houseHas says how many of a piece of kit the house has, a text for each line of its list.
func (s *target) houseHas(name string) []string {
	var out []string
	for _, k := range s.env().House.Kit {
		called, ok := s.env().Book.Kit(k.Name)
		if !ok {
			called = k.Name
		}
		if book.Key(called) != book.Key(name) {
			continue
		}
		text := fmt.Sprint(k.Count)
		if len(k.Loads) > 0 {
			text += " of " + strings.TrimPrefix(strings.ReplaceAll(prose.Loads(k.Loads), " @ ", ", "), ", ")
		}
		out = append(out, text)
	}
	return out
}

// loadable are the pieces of kit of a movement that the house has in weights or heights.
func (s *target) loadable(m *book.Movement, kind syntax.LoadKind) (kit string, owned []equipment.Thing) {
	if m == nil {
		return "", nil
	}
	for _, k := range m.Kit() {
		if owned := equipment.Owned(s.env().Book, s.env().House, k, kind); len(owned) > 0 {
			return k, owned
		}
	}
	return "", nil
}

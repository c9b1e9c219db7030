package hover

import (
	"slices"

	"stint.example/stint/lang/book"
)

// patternCard is the card of a pattern.
func (s *target) patternCard(name string) *Card {
	c := &Card{Title: name, Kind: "pattern"}
	var main, also []string
	for _, m := range s.env().Book.Movements() {
		switch {
		case m.Main() == book.Pattern(name):
			main = append(main, m.Name)
		case slices.Contains(m.Trains, book.Pattern(name)):
			also = append(also, m.Name)
		}
	}
	c.row("chiefly", listOrCount(main, "movement"))
	c.row("also", listOrCount(also, "movement"))
	if len(c.Rows) == 0 {
		return nil
	}
	return c
}

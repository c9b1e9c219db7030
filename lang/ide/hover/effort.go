package hover

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/render/prose"
)

// effortCard is the card of a word for how hard.
func (s *target) effortCard(word string) *Card {
	q, ok := s.env().House.Efforts[book.Key(word)]
	if !ok {
		return nil
	}
	c := &Card{Title: word, Kind: "effort"}
	c.row("", prose.Amount(q)+" of the hardest that a member can go for so long")
	from := "stint's own, unless the house says otherwise"
	if f := s.env().House.At.File; f != nil && q.At.File == f {
		from = "the house's own"
	}
	c.row("from", from)
	return c
}

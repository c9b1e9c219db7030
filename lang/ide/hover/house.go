package hover

import (
	"fmt"

	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/render/prose"
)

// houseCard is the card of the house.
func (s *target) houseCard() *Card {
	h := s.env().House
	c := &Card{Title: h.Name, Kind: "house"}
	c.row("purpose", h.Purpose)
	if h.Class > 0 {
		c.row("class", fmt.Sprint(h.Class))
	}
	c.row("length", prose.Amount(h.Length))
	c.row("tiers", wording.List(h.Tiers))
	var needs []string
	for _, n := range h.Needs {
		needs = append(needs, n.Text)
	}
	c.row("every session needs", wording.List(needs))
	for _, r := range h.Rests {
		c.row("asks for", prose.Rest(r))
	}
	if h.Rounding != nil {
		c.row("loads", prose.Rounded(h.Rounding))
	}
	c.row("kit", wording.Count(len(h.Kit), "line"))
	c.row("sessions", fmt.Sprint(len(s.env().Sessions)))
	return c
}

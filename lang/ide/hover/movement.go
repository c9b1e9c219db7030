package hover

import (
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/render/prose"
)

// movementCard is the card of a movement.
func (s *target) movementCard(m *book.Movement) *Card {
	c := &Card{Title: m.Name, Kind: "movement"}
	c.row("standard", m.Standard...)
	c.row("set-up", m.SetUp...)
	c.row("cue", m.Cues...)
	c.row("fault", m.Faults...)
	c.row("caution", m.Cautions...)
	c.row("easier", wording.List(m.Easier))
	c.row("harder", wording.List(m.Harder))
	c.row("instead", wording.List(m.Instead))
	var trains []string
	for _, p := range m.Trains {
		trains = append(trains, string(p))
	}
	c.row("trains", wording.List(trains))
	var moves []string
	for _, j := range m.Joints {
		moves = append(moves, string(j))
	}
	c.row("moves", wording.List(moves))
	for _, ways := range m.Ways() {
		for i, k := range ways {
			ways[i] += s.houseStock(k)
		}
		c.row("needs", strings.Join(ways, " or "))
	}
	if m.Best == book.BestLoad {
		c.row("tested", "athletes know a one-repetition maximum of it, so a percentage can be of that")
	}
	for _, p := range m.Paces {
		c.row("pace", prose.Pace(p)+" (fast / typical / slow)")
	}
	if u := prose.Unbroken(m); u != "" {
		c.row("unbroken", u+" before a pause (fast / typical / slow)")
	}
	c.row("class", m.WhoCan())
	c.row("also", wording.List(m.Also))
	c.row("used", s.usage(m))
	return c
}

package hover

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// quantityCard is the card of a count, a load, a rest or a stated total.
func (s *target) quantityCard() *Card {
	switch st := s.step.(type) {
	case *model.Work:
		if c := s.workQuantityCard(st); c != nil {
			return c
		}
	case *model.Rest:
		return s.restCard(st)
	case *model.Group:
		if l := s.onLoadOf(st); l != nil {
			return s.loadCard(l, nil, nil)
		}
	}
	if s.session == nil {
		return s.kitLoadCard()
	}
	for _, t := range s.session.Totals {
		if s.on(t.At) {
			return s.totalCard(t, s.session.Parts)
		}
	}
	for _, p := range s.session.Parts {
		if t := s.totalCardIn(p); t != nil {
			return t
		}
	}
	return nil
}

// kitLoadCard is the card of a weight or a height on the house's list.
func (s *target) kitLoadCard() *Card {
	for _, k := range s.env().House.Kit {
		for i := range k.Loads {
			if s.on(k.Loads[i].At) {
				return s.loadCard(&k.Loads[i], nil, nil)
			}
		}
	}
	return nil
}

func (s *target) workQuantityCard(w *model.Work) *Card {
	var moved *book.Movement
	if len(w.Moves) > 0 {
		moved = w.Moves[0].Movement
	}
	for i := range w.Loads {
		if s.on(w.Loads[i].At) {
			return s.loadCard(&w.Loads[i], w, moved)
		}
	}
	for _, k := range w.With {
		for i := range k.Loads {
			if s.on(k.Loads[i].At) {
				return s.loadCard(&k.Loads[i], nil, nil)
			}
		}
	}
	if w.Rest != nil && s.on(w.Rest.At) {
		return s.restCard(w.Rest)
	}
	if s.onQuantity(w.Sets) || s.onQuantity(w.Dose) && w.From == model.FromLine {
		return s.countCard(w)
	}
	for _, m := range w.Moves {
		if s.onQuantity(m.Count) {
			return s.countCard(w)
		}
	}
	return s.tempoCard(w)
}

package model

import (
	"slices"
	"strings"
)

// Repeating is the innermost of some groups that comes round again, whose turns values move
// with; nil where none does.
func Repeating(around []*Group) *Group {
	for _, g := range slices.Backward(around) {
		if g.ComesRound() {
			return g
		}
	}
	return nil
}

// TeamOf is the innermost division of people among some groups; nil where there is none.
func TeamOf(around []*Group) *People {
	for _, g := range slices.Backward(around) {
		if g.People != nil {
			return g.People
		}
	}
	return nil
}

// PartName is what a sentence calls a part: part A, the warm-up.
func (g *Group) PartName() string {
	if g.Kind == Part {
		return strings.TrimSpace("part " + g.Letter)
	}
	return "the " + string(g.Kind)
}

// MoveNames are the names of the movements of a line as a sentence has them: those of a
// complex with plus between, those of a choice with or.
func (w *Work) MoveNames() string {
	names := make([]string, len(w.Moves))
	for i, m := range w.Moves {
		names[i] = m.Name
	}
	sep := " + "
	if w.Choice {
		sep = " or "
	}
	return strings.Join(names, sep)
}

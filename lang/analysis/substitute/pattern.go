package substitute

import (
	"slices"

	"stint.example/stint/lang/book"
)

// moving are the patterns that get somewhere, or would: to a coach one takes the place of
// another, as a run does of a row.
var moving = []book.Pattern{book.Run, book.Row, book.Bike, book.Ski, book.Swim}

// Pattern is what counts as the pattern of a movement where versions are compared: its main
// one, and one for all that moves along.
func Pattern(m *book.Movement) book.Pattern { return PatternOf(m.Main()) }

// PatternOf is the pattern that counts for one of the book's.
func PatternOf(p book.Pattern) book.Pattern {
	if slices.Contains(moving, p) {
		return "locomotion"
	}
	return p
}

// How near one movement is to another.
const (
	same   = iota // the same main pattern
	coarse        // the same of the five coarse ones, or both move along
	second        // it has the pattern too, but not as its main one
	other
)

func nearness(from, to *book.Movement) int {
	a, b := from.Main(), to.Main()
	switch {
	case a == b:
		return same
	case a.Coarse() != "" && a.Coarse() == b.Coarse(), Pattern(from) == Pattern(to):
		return coarse
	case slices.Contains(to.Trains, a):
		return second
	}
	return other
}

// Kept says whether a movement keeps the pattern of another as its main one.
func Kept(from, to *book.Movement) bool { return Pattern(from) == Pattern(to) }

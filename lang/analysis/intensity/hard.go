package intensity

import (
	"iter"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// HardThresholds are from where on a line is hard.
type HardThresholds struct {
	Share  float64 // % of a one-repetition maximum
	Effort float64 // % of the hardest that somebody could go, whichever way that is said
}

// HardLines are the lines of the warm-up and the parts of a session, in order, each with what
// makes it hard by some thresholds.
func HardLines(s *model.Session, from HardThresholds) iter.Seq[*Line] {
	return func(yield func(*Line) bool) {
		for l := range Lines(s) {
			if l.Around[0].Kind == model.CoolDown {
				continue
			}
			if l.Around[0].Kind == model.Part {
				l.Why = whyHard(s, l, from)
			}
			if !yield(l) {
				return
			}
		}
	}
}

// whyHard says what makes a line hard, as it stands in a sentence, and is empty where it is
// not.
func whyHard(s *model.Session, l *Line, from HardThresholds) string {
	if GoesHeavy(l.Work, l.Around) {
		return "as heavy as it goes"
	}
	if l.Share >= from.Share {
		return "at " + units.FormatTenth(l.Share) + "%"
	}
	if e, ok := EffortOf(s, l.Work, l.Around); ok && e.Hard(from, l.Share) {
		return e.Text()
	}
	if slices.ContainsFunc(l.Work.Moves, func(m model.Move) bool { return Leaps(m.Movement) || Sprints(m.Movement) }) {
		return "at full speed"
	}
	return ""
}

// GoesHeavy says whether a line goes as heavy as it will: for load, where it states none, by a
// rising load, or up to a maximum of some repetitions.
func GoesHeavy(w *model.Work, around []*model.Group) bool {
	return w.RM > 0 || len(w.Loads) == 0 && slices.ContainsFunc(around, func(g *model.Group) bool { return g.Mode == model.ForLoad }) ||
		rising(w)
}

// TestedLift is the first movement of a line of which people test a one-repetition maximum.
func TestedLift(w *model.Work) *book.Movement {
	for _, m := range w.Moves {
		if m.Movement != nil && m.Movement.Best == book.BestLoad {
			return m.Movement
		}
	}
	return nil
}

// FewestReps is the least count of repetitions that a line has in any turn, 0 where it has none.
func FewestReps(w *model.Work) float64 {
	if w.Dose == nil || w.Dose.Unit != "rep" {
		return 0
	}
	n := 0.0
	for _, row := range w.Dose.Terms {
		for _, v := range row {
			if n == 0 || v < n {
				n = v
			}
		}
	}
	return n
}

// leapPace is from how many seconds a repetition, its landing counted, a jump is a leap: skips,
// hops and jumping jacks are quicker. No source; it is what tells them apart in the book.
const leapPace = 1.1

func Leaps(m *book.Movement) bool {
	if m == nil || m.Main() != book.Jump {
		return false
	}
	pace, ok := m.Pace("rep")
	return ok && pace.Typical >= leapPace
}

func Sprints(m *book.Movement) bool { return m != nil && m.Called("sprint") }

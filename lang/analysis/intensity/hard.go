package intensity

import (
	"iter"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// HardThresholds are from where on a line is hard.
type HardThresholds struct {
	Share  float64 // % of a one-repetition maximum
	Effort float64 // %
	RPE    float64
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
	if q, whose := EffortOf(s, l.Work, l.Around); q != nil {
		switch v := Hardest(q); {
		case whose == "session" && l.Share > 0: // its own load says more closely how hard it is
		case q.Unit == "RPE" && v >= from.RPE:
			return "at RPE " + units.FormatTenth(v)
		case q.Unit == "RIR" && 10-v >= from.RPE:
			return "with " + units.FormatTenth(v) + " in reserve"
		case q.Unit == "%" && v >= from.Effort:
			return "at an effort of " + units.FormatTenth(v) + "%"
		}
	}
	if slices.ContainsFunc(l.Work.Moves, func(m model.Move) bool { return Leaps(m.Movement) || Sprints(m.Movement) }) {
		return "at full speed"
	}
	return ""
}

// EffortOf is what says how hard a line is, and whether that is the line, a head around it
// or the session.
func EffortOf(s *model.Session, w *model.Work, around []*model.Group) (q *model.Quantity, whose string) {
	q = w.Effort
	for _, ld := range w.Loads {
		switch ld.Kind {
		case syntax.RPE, syntax.RIR, syntax.Effort, syntax.Named:
			if ld.Amount != nil {
				q = ld.Amount
			}
		}
	}
	if q != nil {
		return q, "line"
	}
	for i := len(around) - 1; i >= 0; i-- {
		if q = around[i].Effort; q != nil {
			return q, "head"
		}
	}
	if s.Effort != nil && s.Effort.Unit == "RPE" {
		return nil, "" // of the session as a whole: it says nothing of one line
	}
	return s.Effort, "session"
}

// Hardest is the hardest value of a quantity in any turn and for any tier; of a range the
// middle.
func Hardest(q *model.Quantity) float64 {
	if q.Form == syntax.Range && len(q.Terms) == 2 {
		return (q.Terms[0][0] + q.Terms[1][0]) / 2
	}
	best := 0.0
	for i, row := range q.Terms {
		for _, v := range row {
			if first := i == 0 && best == 0; first || q.Unit == "RIR" && v < best || q.Unit != "RIR" && v > best {
				best = v
			}
		}
	}
	return best
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

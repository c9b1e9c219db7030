package intensity

import (
	"iter"
	"slices"

	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// Marks are from where on a line is hard.
type Marks struct {
	Share  float64 // % of a one-repetition maximum
	Effort float64 // %
	RPE    float64
}

// A Line is a line of the warm-up or of a part, and how hard it is for who does it.
type Line struct {
	Work   *model.Work
	Around []*model.Group
	Why    string  // what makes it hard: "at 85%", "at RPE 8"; empty where it is not, as in a warm-up
	Share  float64 // the most of a one-repetition maximum that it comes to; 0 where that is not said
}

// Lines are the lines of the warm-up and the parts of a session, in order. What is hard is by
// some marks.
func Lines(s *model.Session, marks Marks) iter.Seq[*Line] {
	return func(yield func(*Line) bool) {
		today := map[*book.Movement]float64{}
		for w, around := range s.Lines(model.Everything) {
			if around[0].Kind == model.CoolDown {
				continue
			}
			l := Line{Work: w, Around: around, Share: TopShare(w, around, today)}
			if around[0].Kind == model.Part {
				l.Why = whyHard(s, &l, marks)
			}
			if !yield(&l) {
				return
			}
			NoteToday(w, around, today)
		}
	}
}

// whyHard says what makes a line hard, as it stands in a sentence, and is empty where it is
// not.
func whyHard(s *model.Session, l *Line, marks Marks) string {
	if GoesHeavy(l.Work, l.Around) {
		return "as heavy as it goes"
	}
	if l.Share >= marks.Share {
		return "at " + units.FormatTenth(l.Share) + "%"
	}
	if q, whose := EffortOf(s, l.Work, l.Around); q != nil {
		switch v := Hardest(q); {
		case whose == "session" && l.Share > 0: // its own load says more closely how hard it is
		case q.Unit == "RPE" && v >= marks.RPE:
			return "at RPE " + units.FormatTenth(v)
		case q.Unit == "RIR" && 10-v >= marks.RPE:
			return "with " + units.FormatTenth(v) + " in reserve"
		case q.Unit == "%" && v >= marks.Effort:
			return "at an effort of " + units.FormatTenth(v) + "%"
		}
	}
	if slices.ContainsFunc(l.Work.Moves, func(m model.Move) bool { return Leaps(m.Movement) || Sprints(m.Movement) }) {
		return "at full speed"
	}
	return ""
}

// effortSaid is what says how hard a line is, and whether that is the line, a head around it
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

// hardest is the hardest that a quantity comes to in any turn and for any tier; of a range the
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

// topShare is the most of a one-repetition maximum that a line is known to come to, for the
// movement that it is of: by its percentage, or by its repetitions and what they leave in
// reserve. It is 0 where that is not known.
func TopShare(w *model.Work, around []*model.Group, today map[*book.Movement]float64) float64 {
	top := 0.0
	for _, share := range TurnShares(w, around, today) {
		top = max(top, share)
	}
	m := TestedLift(w)
	if top > 0 || m == nil {
		return top
	}
	n := FewestReps(w)
	reserve := 0.0
	for _, ld := range w.Loads {
		if ld.Amount == nil {
			continue
		}
		v := Hardest(ld.Amount)
		if ld.Kind == syntax.RPE {
			if least, _, err := strength.InReserve(v); err == nil && v >= 7 { // below it the scale has bands, and no points
				v = least
			} else {
				return 0
			}
		} else if ld.Kind != syntax.RIR {
			continue
		}
		reserve = v
		if share, err := strength.ShareWith(n, reserve); err == nil {
			return share
		}
	}
	if GoesHeavy(w, around) {
		if share, err := strength.Share(n); err == nil {
			return share
		}
	}
	return 0
}

// turnShares are the shares of a one-repetition maximum that a line comes to, turn by turn,
// for all tiers.
func TurnShares(w *model.Work, around []*model.Group, today map[*book.Movement]float64) []float64 {
	ld := ShareOf(w)
	if ld == nil {
		return nil
	}
	var out []float64
	for _, m := range w.Moves {
		if m.Movement == nil {
			continue
		}
		for tier := range ld.Amount.Tiers() {
			for _, l := range OverTurns(w, around, *ld, tier) {
				if share, ok := ownShare(ld.Base, m.Movement, l.Hi, today); ok {
					out = append(out, share)
				}
			}
		}
	}
	return out
}

// goesHeavy says whether a line goes as heavy as it will: for load, where it states none, by a
// rising load, or up to a maximum of some repetitions.
func GoesHeavy(w *model.Work, around []*model.Group) bool {
	return w.RM > 0 || len(w.Loads) == 0 && slices.ContainsFunc(around, func(g *model.Group) bool { return g.Mode == model.ForLoad }) ||
		slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Rising && l.Word == "rising" })
}

// testedLift is the first movement of a line of which people test a one-repetition maximum.
func TestedLift(w *model.Work) *book.Movement {
	for _, m := range w.Moves {
		if m.Movement != nil && m.Movement.Best == book.BestLoad {
			return m.Movement
		}
	}
	return nil
}

// fewestReps is the least count of repetitions that a line has in any turn, 0 where it has none.
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

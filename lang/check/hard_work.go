package check

import (
	"slices"

	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// hardSettings are from where work is hard, for the rules that ask something of it.
var hardSettings = []Setting{
	{Name: "share", Unit: "%", Default: 80, Source: "our own reading of " + ramp + ", which gives no figure: from here up the lighter form comes first"},
	{Name: "effort", Unit: "%", Default: 80, Source: "common practice, no source: strong, and up"},
	{Name: "rpe", Default: 7, Source: "our own reading of " + ramp + "; at 7 three repetitions are left (" + strength.ReserveSource + ")"},
}

// ramp is where the warm-up's phases come from. The minutes of each are later authors', for
// the original gives none that could be read.
const ramp = "I. Jeffreys, Warm up revisited, Professional Strength & Conditioning 2007;6:12-18 (raise, activate and mobilise, potentiate)"

// A doneLine is a line of the warm-up or of a part, and how hard it is for who does it.
type doneLine struct {
	work   *model.Work
	around []*model.Group
	why    string  // what makes it hard: "at 85%", "at RPE 8"; empty where it is not, as in a warm-up
	share  float64 // the most of a one-repetition maximum that it comes to; 0 where that is not said
}

// eachLine calls f with every line of the warm-up and the parts in order. What is hard is by
// the settings of the rule.
func (p *pass) eachLine(s *model.Session, f func(l *doneLine)) {
	today := map[*book.Movement]float64{}
	walk(s, func(step model.Step, around []*model.Group) {
		w, ok := step.(*model.Work)
		if !ok || len(around) == 0 || around[0].Kind == model.CoolDown {
			return
		}
		defer noteToday(w, around, today)
		l := doneLine{work: w, around: around, share: p.topShare(w, around, today)}
		if around[0].Kind == model.Part {
			l.why = p.whyHard(s, &l)
		}
		f(&l)
	})
}

// whyHard says what makes a line hard, as it stands in a sentence, and is empty where it is
// not.
func (p *pass) whyHard(s *model.Session, l *doneLine) string {
	if goesHeavy(l.work, l.around) {
		return "as heavy as it goes"
	}
	if l.share >= p.setting("share") {
		return "at " + tenth(l.share) + "%"
	}
	if q, whose := effortSaid(s, l.work, l.around); q != nil {
		switch v := hardest(q); {
		case whose == "session" && l.share > 0: // its own load says more closely how hard it is
		case q.Unit == "RPE" && v >= p.setting("rpe"):
			return "at RPE " + tenth(v)
		case q.Unit == "RIR" && 10-v >= p.setting("rpe"):
			return "with " + tenth(v) + " in reserve"
		case q.Unit == "%" && v >= p.setting("effort"):
			return "at an effort of " + tenth(v) + "%"
		}
	}
	if slices.ContainsFunc(l.work.Moves, func(m model.Move) bool { return leaps(m.Movement) || sprints(m.Movement) }) {
		return "at full speed"
	}
	return ""
}

// effortSaid is what says how hard a line is, and whether that is the line, a head around it
// or the session.
func effortSaid(s *model.Session, w *model.Work, around []*model.Group) (q *model.Quantity, whose string) {
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
func hardest(q *model.Quantity) float64 {
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
func (p *pass) topShare(w *model.Work, around []*model.Group, today map[*book.Movement]float64) float64 {
	top := 0.0
	for _, share := range p.turnShares(w, around, today) {
		top = max(top, share)
	}
	m := testedLift(w)
	if top > 0 || m == nil {
		return top
	}
	n := fewestReps(w)
	reserve := 0.0
	for _, ld := range w.Loads {
		if ld.Amount == nil {
			continue
		}
		v := hardest(ld.Amount)
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
	if goesHeavy(w, around) {
		if share, err := strength.Share(n); err == nil {
			return share
		}
	}
	return 0
}

// turnShares are the shares of a one-repetition maximum that a line comes to, turn by turn,
// for all tiers.
func (p *pass) turnShares(w *model.Work, around []*model.Group, today map[*book.Movement]float64) []float64 {
	ld := shareOf(w)
	if ld == nil {
		return nil
	}
	var out []float64
	for _, m := range w.Moves {
		if m.Movement == nil {
			continue
		}
		for tier := range ld.Amount.Tiers() {
			for _, l := range overTurns(w, around, *ld, tier) {
				if share, ok := ownShare(ld.Base, m.Movement, l.hi, today); ok {
					out = append(out, share)
				}
			}
		}
	}
	return out
}

// goesHeavy says whether a line goes as heavy as it will: for load, where it states none, by a
// rising load, or up to a maximum of some repetitions.
func goesHeavy(w *model.Work, around []*model.Group) bool {
	return w.RM > 0 || len(w.Loads) == 0 && slices.ContainsFunc(around, func(g *model.Group) bool { return g.Mode == model.ForLoad }) ||
		slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Rising && l.Word == "rising" })
}

// testedLift is the first movement of a line of which people test a one-repetition maximum.
func testedLift(w *model.Work) *book.Movement {
	for _, m := range w.Moves {
		if m.Movement != nil && m.Movement.Best == book.BestLoad {
			return m.Movement
		}
	}
	return nil
}

// fewestReps is the least count of repetitions that a line has in any turn, 0 where it has none.
func fewestReps(w *model.Work) float64 {
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

func leaps(m *book.Movement) bool {
	if m == nil || m.Main() != book.Jump {
		return false
	}
	pace, ok := m.Pace("rep")
	return ok && pace.Typical >= leapPace
}

func sprints(m *book.Movement) bool { return m != nil && m.Called("sprint") }

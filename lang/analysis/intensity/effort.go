package intensity

import (
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// An Effort is how hard work is meant to be, as a share of the hardest that somebody could go. It
// reads the same whichever way the text says it: in percent, by a word of the house, by a rating of
// perceived exertion (RPE), or by the repetitions that are left in reserve (RIR).
type Effort struct {
	As    *model.Quantity // as the text says it, in %, RPE or RIR
	Whose EffortSource
}

// An EffortSource is who says how hard a line is.
type EffortSource string

// Sources of an effort, the nearest to the line first.
const (
	OfLine    EffortSource = "line"
	OfHead    EffortSource = "head"
	OfSession EffortSource = "session"
)

// Scale says how the ways to say an effort compare.
const Scale = "RPE 10, nothing in reserve and all out are 100 %, and a point or a repetition is ten of it; no source"

// EffortOf is how hard a line is meant to be: as it says itself, else the nearest head around it,
// else the session. It is not ok where nobody says.
func EffortOf(s *model.Session, w *model.Work, around []*model.Group) (e Effort, ok bool) {
	for _, ld := range w.Loads {
		switch ld.Kind {
		case syntax.RPE, syntax.RIR, syntax.Effort, syntax.Named:
			if ld.Amount != nil {
				return Effort{ld.Amount, OfLine}, true
			}
		}
	}
	for _, g := range slices.Backward(around) {
		if g.Effort != nil {
			return Effort{g.Effort, OfHead}, true
		}
	}
	return EffortOfSession(s)
}

// EffortOfSession is how hard the whole of a session is meant to be. It is not ok where it does not
// say.
func EffortOfSession(s *model.Session) (e Effort, ok bool) {
	return Effort{s.Effort, OfSession}, s.Effort != nil
}

// At is the effort in a turn (from 0) of so many, for a tier: its least and greatest, in percent.
// Known is false where the text has no number for that turn. Over turns that nobody can count, even
// steps count as their middle.
func (e Effort) At(turn, turns, tier int) (lo, hi float64, known bool) {
	lo, hi, known = e.As.Value(turn, turns, tier)
	if !known && e.As.Form == syntax.FromTo && len(e.As.Terms) == 2 {
		known = true
	}
	lo, hi = e.percent(lo), e.percent(hi)
	return min(lo, hi), max(lo, hi), known
}

// Middle is the middle of the effort in the first turn, in percent.
func (e Effort) Middle() float64 {
	lo, hi, known := e.As.Value(0, 1, 0)
	if !known && len(e.As.Terms) > 0 {
		lo, hi = e.As.Terms[0][0], e.As.Terms[0][0]
	}
	return e.percent((lo + hi) / 2)
}

// Hardest is the effort in percent in the hardest turn and for the hardest tier; of a range the
// middle.
func (e Effort) Hardest() float64 {
	if e.As.Form == syntax.Range {
		return e.Middle()
	}
	hardest := 0.0
	for _, row := range e.As.Terms {
		for _, v := range row {
			hardest = max(hardest, e.percent(v))
		}
	}
	return hardest
}

// Hard says whether work is hard by its effort, with its greatest share of a maximum, 0 where it has
// none: that says more closely than the session how hard the work is.
func (e Effort) Hard(from HardThresholds, share float64) bool {
	return e.Hardest() >= from.Effort && (e.Whose != OfSession || share == 0)
}

// Text is the hardest of the effort as it stands in a sentence, in the way in which it is said: "at
// RPE 8", "with 2 in reserve", "at an effort of 80%".
func (e Effort) Text() string {
	switch v := e.Hardest(); e.As.Unit {
	case "RPE":
		return "at RPE " + units.FormatTenth(v/10)
	case "RIR":
		return "with " + units.FormatTenth(10-v/10) + " in reserve"
	default:
		return "at an effort of " + units.FormatTenth(v) + "%"
	}
}

// percent is a number of the effort's unit as a share of the hardest.
func (e Effort) percent(v float64) float64 {
	switch e.As.Unit {
	case "RPE":
		return 10 * v
	case "RIR":
		return 100 - 10*v
	default:
		return v
	}
}

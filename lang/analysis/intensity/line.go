// Package intensity works out how hard lines of work are: their share of a
// one-repetition maximum, set by set and turn by turn, and what they say of effort.
package intensity

import (
	"iter"
	"maps"
	"slices"

	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// A Line is a line of work of a session, and how hard it is for who does it.
type Line struct {
	Work   *model.Work
	Around []*model.Group // the groups that hold it, from the part on
	Share  float64        // its greatest share of a one-repetition maximum, in %; 0 where that is not said
	Why    string         // what makes it hard: "at 85%", "at RPE 8"; empty where it is not, as in a warm-up

	today today
}

// today has the repetitions of the heaviest set of each movement so far.
type today map[*book.Movement]float64

// Lines are the lines of work of a session in order, what is done in rests and events
// included.
func Lines(s *model.Session) iter.Seq[*Line] {
	return func(yield func(*Line) bool) {
		so := today{}
		for w, around := range s.Lines(model.Everything) {
			l := &Line{Work: w, Around: around, today: so}
			l.Share = l.topShare()
			if !yield(l) {
				return
			}
			so = so.and(l)
		}
	}
}

// and adds the repetitions with which a line goes as heavy as it will.
func (d today) and(l *Line) today {
	w := l.Work
	heavy := w.RM > 0 || rising(w) || slices.ContainsFunc(l.Around, func(g *model.Group) bool { return g.Mode == model.ForLoad })
	if !heavy || len(w.Moves) != 1 || w.Moves[0].Movement == nil || w.Dose == nil || w.Dose.Unit != "rep" || w.Dose.Max {
		return d
	}
	m := w.Moves[0].Movement
	out := maps.Clone(d)
	for _, row := range w.Dose.Terms {
		for _, n := range row {
			if out[m] == 0 || n < out[m] {
				out[m] = n
			}
		}
	}
	return out
}

// topShare is the greatest share of a one-repetition maximum that the line is known to have, for the
// movement that it is of: by its percentage, or by its repetitions and what they leave in
// reserve. It is 0 where that is not known.
func (l *Line) topShare() float64 {
	top := 0.0
	for _, share := range l.Shares() {
		top = max(top, share)
	}
	m := TestedLift(l.Work)
	if top > 0 || m == nil {
		return top
	}
	n := FewestReps(l.Work)
	for _, ld := range l.Work.Loads {
		if ld.Amount == nil || ld.Kind != syntax.RPE && ld.Kind != syntax.RIR {
			continue
		}
		hardest := Effort{As: ld.Amount}.Hardest()
		reserve := 10 - hardest/10
		if ld.Kind == syntax.RPE {
			least, _, err := strength.InReserve(hardest / 10)
			if err != nil || hardest < 70 { // below RPE 7 the scale has bands, and no points
				return 0
			}
			reserve = least
		}
		if share, err := strength.ShareWith(n, reserve); err == nil {
			return share
		}
	}
	if GoesHeavy(l.Work, l.Around) {
		if share, err := strength.Share(n); err == nil {
			return share
		}
	}
	return 0
}

// Shares are the shares of a one-repetition maximum, in %, of the line's loads, turn by
// turn, for all tiers.
func (l *Line) Shares() []float64 {
	ld := ShareOf(l.Work)
	if ld == nil {
		return nil
	}
	var out []float64
	for _, m := range l.Work.Moves {
		if m.Movement == nil {
			continue
		}
		for tier := range ld.Amount.Tiers() {
			for _, t := range OverTurns(l.Work, l.Around, *ld, tier) {
				if share, ok := ownShare(ld.Base, m.Movement, t.Hi, l.today); ok {
					out = append(out, share)
				}
			}
		}
	}
	return out
}

// rising says whether a line's load is to rise to the heaviest.
func rising(w *model.Work) bool {
	return slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Rising && l.Word == "rising" })
}

package substitute

import (
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// A bag is light beside a bar, so a heavy set becomes more repetitions, slower. All figures
// here are common practice, no source.
const (
	heavyShare = 65 // % of a maximum; below it a set is on the way up
	heavyReps  = 8  // more than these are not heavy
	heavyRPE   = 7  // out of ten
	lightRest  = 90 // s between such sets
	lightTempo = "31X1"
)

// isHeavy says whether a line is a set of strength work: few repetitions with a load that
// the kit at home cannot be.
func (m *maker) isHeavy(w *model.Work, around []*model.Group) bool {
	if w.Dose == nil || w.Dose.Unit != "rep" || w.Dose.Max || len(around) == 0 || around[0].Kind != model.Part {
		return false
	}
	for _, row := range w.Dose.Terms {
		if slices.Max(row) > heavyReps {
			return false
		}
	}
	if w.RM > 0 || slices.ContainsFunc(around, func(g *model.Group) bool { return g.Mode == model.ForLoad }) {
		return true
	}
	for _, ld := range w.Loads {
		lo, hi := bounds(ld.Amount)
		switch ld.Kind {
		case syntax.Share:
			if hi >= heavyShare || ld.Base != nil && ld.Base.Kind.IsPast() {
				return true
			}
		case syntax.Earlier:
			return true
		case syntax.RPE:
			if lo >= heavyRPE {
				return true
			}
		case syntax.RIR:
			return true
		case syntax.Rising:
			if ld.Word == "rising" {
				return true
			}
		}
	}
	// Sets of what few can do many of: pull-ups, dips.
	u := w.Moves[0].Movement.Unbroken
	return len(w.Loads) == 0 && w.Sets != nil && u != nil && u.Typical <= 5
}

// bounds is the least and the most of a quantity, whatever its turn and tier.
func bounds(q *model.Quantity) (lo, hi float64) {
	if q == nil {
		return 0, 0
	}
	for i, row := range q.Terms {
		for j, v := range row {
			if i+j == 0 {
				lo, hi = v, v
			}
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	return lo, hi
}

// heavyDose is the right side for a heavy line: more repetitions in a tempo, or a range of
// them where the line has one or says how hard it is.
func (m *maker) heavyDose(w *model.Work, around []*model.Group, to *book.Movement) (string, bool) {
	if !m.isHeavy(w, around) || w.From == model.FromHead || w.Dose.Form != syntax.One && w.Dose.Form != syntax.Range {
		return "", false
	}
	if _, ok := to.Pace("rep"); !ok {
		return "", false
	}
	reps := m.try.reps
	if len(w.Loads) == 0 && w.RM == 0 {
		reps = min(reps, 10) // it was the body's own weight
	}
	text := number(reps)
	ranged := w.Dose.Form == syntax.Range
	if ranged {
		text = number(reps-2) + "-" + text
	}
	if w.Side {
		text += "/side"
	}
	text += " " + to.Name
	switch {
	case ranged || hard(w) || explosive(to):
	case w.Tempo != "":
		text += ", tempo " + w.Tempo
	default:
		text += ", tempo " + lightTempo
	}
	if w.Sets != nil && w.Rest != nil && w.Rest.Work == nil {
		if lo, _ := bounds(w.Rest.Amount); lo > lightRest {
			text += ", rest 1:30"
		}
	}
	return text, true
}

// hard says whether a line says how hard it is, and so how many repetitions of a weight.
func hard(w *model.Work) bool {
	return slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.RPE || l.Kind == syntax.RIR })
}

// explosive says whether a movement is thrown or jumped under, so that a tempo has no
// meaning in it.
func explosive(m *book.Movement) bool {
	words := strings.FieldsFunc(m.Name, func(r rune) bool { return r == ' ' || r == '-' })
	return strings.Contains(m.Name, "push press") || slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains([]string{"clean", "snatch", "jerk", "swing", "thruster", "slam", "throw", "jump", "shoulder"}, w)
	})
}

// rewrite writes a part of heavy sets again where no line of it could be swapped by itself: its
// counts come from a head, go up by themselves or build up to a heaviest. It is
// empty where the part holds anything else.
func (m *maker) rewrite(g *model.Group) (key string, lines []string) {
	var works []*model.Work
	plain, sets, turns := true, 0, 1.0
	var read func(g *model.Group, times float64)
	each := false
	read = func(g *model.Group, times float64) {
		if len(g.Events) > 0 || g.People != nil || g.Heats != nil || g.Repeat.Clocked() || g.Repeat.Until != nil ||
			!slices.Contains([]model.RepeatKind{model.Once, model.Rounds, model.Ladder}, g.Repeat.Kind) || g.Mode == model.AMRAP || g.Mode == model.ForTime {
			plain = false
			return
		}
		each = each || len(g.Each) > 0
		if n, ok := g.Repeat.Count.One(); ok {
			times *= n
		}
		turns = times
		if q := g.Repeat.Series; q != nil {
			turns = times * float64(len(q.Terms))
			plain = plain && !q.Open
		}
		here := turns
		for _, s := range g.Steps {
			switch s := s.(type) {
			case *model.Group:
				read(s, here)
			case *model.Work:
				works = append(works, s)
				n := here
				if v, ok := s.Sets.One(); ok {
					n *= v
				}
				sets += int(n)
			}
		}
	}
	read(g, 1)
	if !plain || len(works) == 0 || g.Kind != model.Part {
		return "", nil
	}
	head := each || g.Mode == model.ForLoad
	for _, w := range works {
		if len(w.Moves) != 1 || w.Moves[0].Movement == nil || w.Moves[0].Movement != works[0].Moves[0].Movement || len(w.With) > 0 ||
			!m.isHeavy(w, []*model.Group{g}) || w.Side {
			return "", nil
		}
		head = head || w.From == model.FromHead || w.Dose.Form != syntax.One && w.Dose.Form != syntax.Range
	}
	from := works[0].Moves[0].Movement
	to := m.instead(from, "rep", false)
	if !head || to == nil {
		return "", nil
	}
	per, rep := 2.5, number(m.try.reps)+" "+to.Name
	if !explosive(to) {
		per, rep = 5, rep+", tempo "+lightTempo
	}
	title := "part " + g.Letter + " ->" // its start stays
	if g.Mode == model.ForLoad {
		sets = 5 // up to a heaviest
	}
	sets = max(3, min(5, sets))
	if lasts, ok := g.Lasts.One(); ok {
		title += " lasts " + g.Lasts.At.Text()
		sets = max(3, min(5, int((lasts+lightRest)/(m.try.reps*per+lightRest))))
	} else if m.try.reps < 10 {
		sets = max(3, sets-1)
	}
	return from.Name, []string{title, "  " + number(float64(sets)) + " x " + rep + ", rest 1:30"}
}

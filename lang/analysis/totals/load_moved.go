package totals

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// The load that a line moves is implements x mass x repetitions, added up over all that
// is done of it (the volume load of the literature on strength training). It is worked out
// on a copy of the work in which each count is multiplied by the weight of its turn, so that
// turns, sides, sets, tiers and choices come in as they do for repetitions.

// A movedLoad is the load moved under one name.
type movedLoad struct {
	label   string
	tiers   []Sum // nil where nothing of it is known
	unread  bool
	weighed []string      // movements that have a weight
	without []withoutLoad // what is left out, and why
	bare    []string      // movements with repetitions that have no load at all
}

// A withoutLoad is a movement whose load is not counted.
type withoutLoad struct {
	movement, reason string
	aside            bool // it is no weight: nothing is missing from the sum
}

// weightMark stands before the names of what a weight has been multiplied into.
const weightMark = "\x00kg "

// unclear is why a weight is left out that moves with other turns than its counts do.
const unclear = "its weights and its counts move with different turns"

func loadMoved(groups []*model.Group, label func(model.Move) string, split string, tiers int) []*movedLoad {
	var out []*movedLoad
	find := func(name string) *movedLoad {
		i := slices.IndexFunc(out, func(l *movedLoad) bool { return l.label == name })
		if i < 0 {
			i = len(out)
			out = append(out, &movedLoad{label: name})
		}
		return out[i]
	}
	for _, high := range []bool{false, true} {
		w := &weigher{label: label, tiers: tiers, high: high, find: find}
		r := &rewriter{label: label, merged: split != ByMovement, line: w.line}
		for _, row := range total(tiers, r.all(groups)...).Rows {
			name, ok := strings.CutPrefix(row.Movement, weightMark)
			if !ok {
				continue
			}
			l := find(name)
			l.unread = l.unread || row.Unread
			if l.tiers == nil {
				l.tiers = slices.Clone(row.Tiers)
			}
			for i, s := range row.Tiers { // the least of the low run, the most of the high one
				l.tiers[i].Hi, l.tiers[i].Open = s.Hi, l.tiers[i].Open || s.Open
			}
		}
	}
	return out
}

// A weigher multiplies weights into counts, at the low or the high end of their ranges.
type weigher struct {
	label func(model.Move) string
	tiers int
	high  bool
	find  func(string) *movedLoad
}

// line is a line with the weight multiplied into its counts.
func (w *weigher) line(k *model.Work, in surround) model.Step {
	out := *k
	out.Moves = slices.Clone(k.Moves)
	var weight *model.Load // a bound beside it only limits it
	for i := range k.Loads {
		if ld := &k.Loads[i]; ld.Kind == syntax.Mass && (weight == nil || weight.Amount.IsBound()) {
			weight = ld
		}
	}
	w.kit(k, in)
	if weight == nil {
		w.weightless(k)
		return &out
	}
	var around model.Quantity // a weight that stays, for counts that a head gives
	wrap := false
	for i := range out.Moves {
		m := &out.Moves[i]
		count := k.Dose
		if i > 0 && m.Count != nil {
			count = m.Count
		}
		reason := w.uncounted(k, count)
		if reason == "" {
			p, sets, why := w.product(k, count, weight, in)
			switch {
			case why != "":
				reason = why
			case k.From == model.FromHead && w.steady(weight, in):
				// The head's own series stays in place, so that it is found again; the
				// weight multiplies it from around.
				around, wrap = w.still(weight), true
			case k.From == model.FromHead && (in.near == nil || in.near.Repeat.Series != k.Dose):
				reason = unclear
			case i > 0 && m.Count != nil:
				m.Count, out.Sets = p, sets
			default:
				out.Dose, out.Sets = p, sets
			}
		}
		name := w.label(k.Moves[i])
		if reason != "" {
			w.without(k.Moves[i], reason, false)
			m.Name = "left out"
			continue
		}
		m.Name = weightMark + name
		if l := w.find(name); !slices.Contains(l.weighed, k.Moves[i].Name) {
			l.weighed = append(l.weighed, k.Moves[i].Name)
		}
	}
	if wrap {
		return &model.Group{Kind: model.Plain, At: k.At, Steps: []model.Step{&out}, Repeat: model.Repeat{Kind: model.Once, Count: &around, At: k.At}}
	}
	return &out
}

// kit notes what is carried or worn on top: nothing says how far it is lifted.
func (w *weigher) kit(k *model.Work, in surround) {
	all := k.With
	for _, g := range in.groups {
		all = append(slices.Clip(all), g.With...)
	}
	for _, kit := range all {
		if len(kit.Loads) > 0 {
			for _, m := range k.Moves {
				w.without(m, "kit on top ("+kit.Name+")", false)
			}
		}
	}
}

// weightless notes why a line has no weight to multiply by.
func (w *weigher) weightless(k *model.Work) {
	reps := k.Dose != nil && (k.Dose.Unit == "rep" || k.Dose.Unit == "%")
	said := false
	for _, ld := range k.Loads {
		reason, aside := "", false
		switch ld.Kind {
		case syntax.Share:
			reason = "a share, not a weight"
			if b := ld.Base; b != nil && (b.Kind == model.OfMaxReps || b.Kind == model.OfMaxTime || b.Kind == model.OfHeartRate || b.Kind == model.OfMaxSpeed || b.Kind == model.OfMaxPower) {
				reason, aside = "a share of "+string(b.Kind)+", not a weight", true
			}
		case syntax.Rising:
			if ld.Word == "rising" || ld.Word == "falling" {
				reason = "the athlete chooses the weight"
			}
		case syntax.Noted:
			reason = "a load in words"
		case syntax.Earlier:
			reason = "as heavy as before, which only the day will show"
		case syntax.RPE, syntax.RIR, syntax.Effort, syntax.Named:
			if reps {
				reason = "how hard, not a weight"
			}
		case syntax.Height:
			if reps {
				reason, aside = "a height, not a weight", true
			}
		}
		if reason == "" {
			continue
		}
		said = true
		for _, m := range k.Moves {
			w.without(m, reason, aside)
		}
	}
	if said || !reps {
		return
	}
	for _, m := range k.Moves {
		l := w.find(w.label(m))
		if !slices.Contains(l.bare, m.Name) {
			l.bare = append(l.bare, m.Name)
		}
	}
}

func (w *weigher) without(m model.Move, reason string, aside bool) {
	l := w.find(w.label(m))
	n := withoutLoad{m.Name, reason, aside}
	if !slices.Contains(l.without, n) {
		l.without = append(l.without, n)
	}
}

// uncounted says why a count has no repetitions to multiply, empty where it has.
func (w *weigher) uncounted(k *model.Work, count *model.Quantity) string {
	switch {
	case k.From == model.FromClock && k.Dose == nil:
		return "done for a time, not counted in repetitions"
	case count == nil:
		return "no count is given"
	}
	switch count.Unit {
	case "rep", "%":
		return ""
	case "s":
		return "done for a time, not counted in repetitions"
	case "m":
		return "moved over a distance, not counted in repetitions"
	}
	return fmt.Sprintf("counted in %s, not in repetitions", count.Unit)
}

// rises finds what the heads around a line put on its weight each turn; ok is false where
// that is not by the turns that the line's own values move with.
func (w *weigher) rises(in surround) (each *model.Quantity, ok bool) {
	for _, g := range in.groups {
		for _, e := range g.Each {
			if e.Unit != "kg" {
				continue
			}
			if each != nil || g != in.near || in.round || in.event || !steady(e) || slices.ContainsFunc(e.Terms, falls) {
				return e, false
			}
			each = e
		}
	}
	return each, true
}

// falls says whether a step takes weight off: what is left after many turns may be none.
func falls(tiers []float64) bool { return slices.Min(tiers) < 0 }

func (w *weigher) steady(weight *model.Load, in surround) bool {
	each, _ := w.rises(in)
	return each == nil && steady(weight.Amount) && steady(weight.Count)
}

// still is a weight that is the same in every turn: implements x mass.
func (w *weigher) still(weight *model.Load) model.Quantity {
	q := model.Quantity{Unit: "kg", Form: syntax.One, Terms: [][]float64{make([]float64, w.tiers)}, At: weight.At}
	for tier := range w.tiers {
		q.Terms[0][tier], _ = w.at(weight, 0, 1, tier)
	}
	return q
}

// end is a quantity in a turn, at the low or the high end.
func (w *weigher) end(q *model.Quantity, turn, turns, tier int) (float64, bool) {
	lo, hi, known := q.Value(turn, turns, tier)
	if w.high {
		return hi, known
	}
	return lo, known
}

// at is implements x mass in a turn.
func (w *weigher) at(weight *model.Load, turn, turns, tier int) (float64, bool) {
	v, ok := w.end(weight.Amount, turn, turns, tier)
	if weight.Count == nil {
		return v, ok
	}
	n, known := w.end(weight.Count, turn, turns, tier)
	return v * n, ok && known
}

// product is repetitions x implements x mass, turn by turn, and the sets that are left for
// it to be done in. Why says why that cannot be told, and is empty where it can.
func (w *weigher) product(k *model.Work, count *model.Quantity, weight *model.Load, in surround) (p, sets *model.Quantity, why string) {
	each, ok := w.rises(in)
	if !ok {
		return nil, nil, unclear
	}
	if weight.Amount == nil || weight.Amount.Uneven() || weight.Amount.Unit != "kg" {
		return nil, nil, "its weight cannot be read"
	}
	sets = k.Sets
	if count.Max || count.Unit == "%" {
		return count, sets, "" // as many as the athlete can: nothing bounds what they move
	}
	turns, fromTo, open := 0, 0, 0
	for _, q := range []*model.Quantity{count, weight.Amount, weight.Count} {
		switch {
		case q == nil:
		case q.Form == syntax.FromTo:
			fromTo++
		case q.Form == syntax.Series && q.Open:
			open++
		case q.Form == syntax.Series:
			if turns > 0 && turns != len(q.Terms) {
				return nil, nil, unclear
			}
			turns = len(q.Terms)
		}
	}
	c := *count
	n, of := 1, 1 // how many terms to work out, and of how many turns
	c.Form = syntax.One
	switch {
	case turns > 0:
		n, of, c.Form = turns, turns, syntax.Series
	case open+fromTo > 1 || each != nil && open+fromTo > 0:
		return nil, nil, unclear
	case open > 0:
		for _, q := range []*model.Quantity{count, weight.Amount, weight.Count} {
			if q != nil && q.Open {
				n = len(q.Terms)
			}
		}
		c.Form, c.Open = syntax.Series, true
	case fromTo > 0:
		n, of, c.Form = 2, 2, syntax.FromTo
	case each != nil:
		n, c.Form, c.Open = 2, syntax.Series, true // on and on, in steps as large
	}
	if c.Form != syntax.One && sets != nil {
		switch {
		case !steady(sets):
			return nil, nil, unclear
		case each != nil && turns+open+fromTo > 0:
			return nil, nil, unclear
		case each != nil: // the sets of a turn have one weight
			sets = nil
		}
	}
	c.Terms = make([][]float64, n)
	for t := range n {
		c.Terms[t] = make([]float64, w.tiers)
		for tier := range w.tiers {
			reps, known := w.end(count, t, of, tier)
			kg, knownToo := w.at(weight, t, of, tier)
			if !known || !knownToo {
				return nil, nil, "its weight is not given for every turn"
			}
			if each != nil {
				rise, _ := w.end(each, 0, 1, tier)
				kg += rise * float64(t)
			}
			if k.Sets != nil && sets == nil {
				s, _ := w.end(k.Sets, 0, 1, tier)
				reps *= s
			}
			c.Terms[t][tier] = reps * kg
		}
	}
	return &c, sets, ""
}

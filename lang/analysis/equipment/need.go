package equipment

import (
	"math"
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// needs is what one person needs for moves that are done as one: each with what stands in for it,
// where the house has that too.
func (w *classWalk) needs(s *model.Work, moves []model.Move, c crowd) [][]need {
	var out [][]need
	put := func(words []string, loads []model.Load, own bool) {
		var ways []need
		for _, word := range words {
			kit := Name(w.book, word)
			if slices.Contains(places, kit) && len(w.stock[kit]) > 0 {
				return
			}
			if len(w.stock[kit]) > 0 && !slices.ContainsFunc(ways, func(n need) bool { return n.kit == kit }) {
				ways = append(ways, w.need(kit, loads, c, own))
			}
		}
		same := func(o []need) bool {
			return slices.EqualFunc(o, ways, func(a, b need) bool { return a.kit == b.kit })
		}
		if len(ways) > 0 && !slices.ContainsFunc(out, same) {
			out = append(out, ways)
		}
	}
	for _, m := range moves {
		if m.Movement == nil {
			return nil
		}
		for _, ways := range m.Movement.Ways() {
			put(ways, s.Loads, false)
		}
	}
	for _, k := range slices.Concat(c.with, s.With) {
		put([]string{k.Name}, k.Loads, true)
	}
	return out
}

// plenty takes of each need that of its ways that the house has most of.
func (w *classWalk) plenty(ns [][]need) []need {
	var out []need
	for _, ways := range ns {
		out = append(out, slices.MaxFunc(ways, func(a, b need) int { return w.count(a.kit) - w.count(b.kit) }))
	}
	return out
}

func (w *classWalk) count(kit string) int {
	n := 0
	for _, it := range w.stock[kit] {
		n += it.count
	}
	return n
}

// most bounds how many of one thing a person takes, so that a slip of the keyboard ends in a
// number.
const most = 1000

// need is what one person needs of one kind of kit at the loads that stand behind it.
func (w *classWalk) need(kit string, loads []model.Load, c crowd, own bool) need {
	n := need{kit: kit, each: 1}
	inHand := own || slices.Contains(held, kit)
	for _, l := range loads {
		weight := inHand && (l.Kind == syntax.Mass || l.Kind == syntax.Share)
		if v, _, ok := l.Count.Value(0, 1, 0); ok && weight && v >= 1 {
			n.each = int(min(v, most))
		}
		if l.Amount == nil || l.Kind != syntax.Height && !(weight && l.Kind == syntax.Mass) || slices.Contains(c.moving, l.Amount.Unit) {
			continue
		}
		if l.Kind == syntax.Height && kit != "box" {
			continue
		}
		n = w.scarcest(n, l)
	}
	return n
}

// scarcest is a need at the turn whose weights the house has least of. Members choose which
// of a turn's weights they take, so any of them will do.
func (w *classWalk) scarcest(n need, l model.Load) need {
	turns := max(1, l.Amount.Turns())
	best, least := n, math.MaxInt
	for t := range turns {
		now := n
		now.wanted, now.to, now.high, now.text = nil, nil, l.Kind == syntax.Height, l.Amount.At.Text()
		for tier := range w.tiers {
			lo, hi, ok := l.Amount.Value(t, turns, tier)
			if !ok {
				return n
			}
			if l.Amount.OrMore() {
				hi = math.Inf(1)
			}
			now.wanted, now.to = append(now.wanted, value{lo, l.Amount.Written}), append(now.to, hi)
		}
		if !now.in(w.stock) {
			return n
		}
		has := 0
		for _, it := range w.stock[n.kit] {
			if now.does(it) {
				has += whole(it.count, n.each)
			}
		}
		if has < least {
			best, least = now, has
		}
	}
	return best
}

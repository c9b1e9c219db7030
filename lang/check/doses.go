package check

import (
	"math"

	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/program"
)

// eachDose calls f with every count that a line asks for at once: each turn that its
// values move with, each tier, the least and the greatest of a range. It stops at the
// first for which f says that it has found what it looks for.
func eachDose(w *program.Work, around []*program.Group, tiers int, f func(n float64) (found bool)) {
	if w.Dose == nil || w.Dose.Max {
		return
	}
	turns := max(1, len(w.Dose.Terms))
	if w.Dose.Form == "range" || w.Dose.Form == "one" {
		turns = 1
	} else if w.Dose.Form == "from-to" {
		if turns = turnsOf(w, around); turns == 0 {
			return
		}
	}
	for tier := range tiers {
		for t := range turns {
			lo, hi, known := w.Dose.Value(t, turns, tier)
			if !known {
				continue
			}
			if f(lo) || hi != lo && f(hi) {
				return
			}
		}
	}
}

// turnsOf is how many turns the values of a line move with: its own sets, or the turns
// of the nearest group that comes round. It is 0 where that is not settled, or is not
// the same for all.
func turnsOf(w *program.Work, around []*program.Group) int {
	if w.Sets != nil {
		lo, hi, known := w.Sets.Value(0, 1, 0)
		if !known || lo != hi || w.Sets.Tiers() > 1 {
			return 0
		}
		return int(lo)
	}
	return groupTurns(around)
}

// groupTurns is how many turns the nearest group that comes round has, 0 where that is
// not settled. With slots a turn is a lap. Where nothing comes round there is one.
func groupTurns(around []*program.Group) int {
	g := nearest(around)
	if g == nil {
		return 1
	}
	turns := clock.Turns(g, 0)
	if !turns.Exact() || g.Repeat.Count.Tiers() > 1 {
		return 0
	}
	n := turns.Lo
	if k := float64(g.Slots()); k > 0 && !g.Repeat.Laps {
		n /= k
	}
	if n != math.Trunc(n) {
		return 0
	}
	return int(n)
}

func isWhole(n float64) bool { return n == math.Trunc(n) }

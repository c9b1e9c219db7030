package check

import (
	"math"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// eachDose calls f with every count that a line asks for at once: of each movement with a
// count of its own, each turn that its values move with, each tier, the least and the
// greatest of a range. It stops at the first for which f says that it has found what it
// looks for. Counts that leave it to the athlete are left out: max, 5+, up to 12, a share
// of the most that they can do.
func eachDose(w *model.Work, around []*model.Group, tiers int, f func(n float64, q *model.Quantity) (found bool)) {
	if w.UpTo || w.RM > 0 {
		return
	}
	counts := []*model.Quantity{w.Dose}
	for _, m := range w.Moves {
		counts = append(counts, m.Count)
	}
	for _, q := range counts {
		if q == nil || q.Max || q.More || q.Unit == "%" {
			continue
		}
		turns := max(1, len(q.Terms))
		if q.Form == syntax.Range || q.Form == syntax.One {
			turns = 1
		} else if q.Form == syntax.FromTo {
			if turns = turnsOf(w, around); turns == 0 {
				continue
			}
		}
		for tier := range tiers {
			for t := range turns {
				lo, hi, known := q.Value(t, turns, tier)
				if known && (f(lo, q) || hi != lo && f(hi, q)) {
					return
				}
			}
		}
	}
}

// turnsOf is how many turns the values of a line move with: its own sets, or the turns
// of the nearest group that comes round. It is 0 where that is not settled, or is not
// the same for all.
func turnsOf(w *model.Work, around []*model.Group) int {
	if w.Sets != nil {
		v, ok := w.Sets.One()
		if !ok {
			return 0
		}
		return int(v)
	}
	return groupTurns(around)
}

// groupTurns is how many turns the nearest group that comes round has, 0 where that is
// not settled. Where nothing comes round there is one.
func groupTurns(around []*model.Group) int {
	g := nearest(around)
	if g == nil {
		return 1
	}
	n := ownTurns(g)
	// Under "round 2-3:" only those turns count.
	for i := len(around) - 1; i >= 0 && around[i] != g; i-- {
		if r := around[i]; r.Kind == model.RoundOf {
			last := r.Last
			if n > 0 {
				last = min(last, n)
			}
			return max(0, last-r.Number+1)
		}
	}
	return n
}

// ownTurns is how many turns a group has. With slots on a clock a turn is a lap.
func ownTurns(g *model.Group) int {
	turns := totals.Turns(g, 0)
	if !turns.Exact() || g.Repeat.Count.Tiers() > 1 {
		return 0
	}
	n := turns.Lo
	if k := float64(g.Slots()); k > 0 && g.Repeat.Clocked() && !g.Repeat.Laps {
		n /= k
	}
	if !isWhole(n) {
		return 0
	}
	return int(n)
}

func isWhole(n float64) bool { return n == math.Trunc(n) }

// same says whether two amounts are one but for what is lost in turning units: ten
// times 10 ft are 100 ft.
func same(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b), 1) }

// unitWord is what a total counts in a unit: seconds are told as time.
func unitWord(unit string) string {
	if unit == "s" {
		return "time"
	}
	return model.UnitName(unit)
}

// show is an amount of a base unit: a time as a clock value, a repetition without a word.
func show(v float64, unit string) string { return showIn(v, unit, "") }

// showIn is an amount as its author writes it, in the unit that they wrote.
func showIn(v float64, unit, written string) string {
	switch unit {
	case "s":
		return units.FormatClock(v)
	case "rep":
		return units.FormatNumber(v)
	}
	text, unit := number(v, unit, written)
	return text + " " + unit
}

// number is an amount without its unit, and the unit that it is in: the one that was
// written where the amount comes out in it to four decimals, else the base unit.
func number(v float64, unit, written string) (text, in string) {
	if u, ok := units.Lookup(written); ok && unit != "s" {
		w := u.FromBase(v)
		if math.Abs(math.Round(w*1e4)-w*1e4) < 1e-6 {
			return units.FormatNumber(w), written
		}
	}
	return units.FormatNumber(v), unit
}

// list joins words with commas and a last "or".
func list(words ...string) string { return joined(words, " or ") }

// and joins words with commas and a last "and".
func and(words ...string) string { return joined(words, " and ") }

func joined(words []string, last string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + last + words[n-1]
	}
	return strings.Join(words, "")
}

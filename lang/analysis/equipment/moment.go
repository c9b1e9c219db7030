package equipment

import (
	"math"
	"slices"

	"stint.example/stint/lang/model"
)

// An ask is what people on one line need of one kind of kit, or of several that will do
// instead of one another.
type ask struct {
	line    *model.Work
	people  float64
	each    int
	settled bool
	spread  bool
	inTurn  bool // two to an implement: one does a set while the other rests
	ways    []way
}

// A way is kit that will do: all of it is needed.
type way struct {
	needs []need
	stock stock
}

// A moment is all that is asked of one kind of kit at once.
type moment struct {
	kit  string
	asks []ask
}

// has is how many implements will do, each counted once, in as many as one person needs.
func (m moment) has(each int) int {
	if len(m.asks) == 1 && len(m.asks[0].ways) > 1 {
		return m.asks[0].choices()
	}
	n := 0
	for _, it := range m.asks[0].ways[0].stock[m.kit] {
		if slices.ContainsFunc(m.asks, func(a ask) bool { return a.ways[0].needs[0].does(it) }) {
			n += whole(it.count, each)
		}
	}
	return n
}

func whole(count, each int) int {
	if each > 1 {
		return count / each * each
	}
	return count
}

// choices is how many people find something to do of a choice; of ways that share kit the
// one that takes most.
func (a *ask) choices() int {
	n := 0
	var done []string
	for _, w := range a.ways {
		fits, shared := math.MaxInt, false
		for _, d := range w.needs {
			has := 0
			for _, it := range w.stock[d.kit] {
				if d.does(it) {
					has += it.count / d.each
				}
			}
			fits, shared = min(fits, has), shared || slices.Contains(done, d.kit)
			done = append(done, d.kit)
		}
		if shared {
			n = max(n, fits)
		} else {
			n += fits
		}
	}
	return n
}

// moments is what one line asks: of a choice one thing, and otherwise of each kind of kit.
func (a ask) moments() []moment {
	if len(a.ways) == 0 {
		return nil
	}
	if len(a.ways) > 1 {
		var of []string
		for _, w := range a.ways {
			of = append(of, w.needs[0].kit)
		}
		return []moment{{names(of), []ask{a}}}
	}
	var out []moment
	for _, n := range a.ways[0].needs {
		one := a
		one.each, one.ways = n.each, []way{{[]need{n}, a.ways[0].stock}}
		out = append(out, moment{n.kit, []ask{one}})
	}
	return out
}

// beside merges what is needed at once: of each kind of kit the worst moment of both.
func (w *classWalk) beside(a, b []moment) []moment {
	out := w.worst(a)
	for _, m := range w.worst(b) {
		i := slices.IndexFunc(out, func(o moment) bool { return o.kit == m.kit && !slices.ContainsFunc(o.asks, choice) })
		if i < 0 || slices.ContainsFunc(m.asks, choice) {
			out = append(out, m)
			continue
		}
		out[i].asks = slices.Concat(out[i].asks, m.asks)
	}
	return out
}

func choice(a ask) bool { return len(a.ways) > 1 }

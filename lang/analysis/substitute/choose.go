package substitute

import (
	"cmp"
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// far is how many steps of instead and easier are looked at: further away is another
// movement altogether. No source.
const far = 4

// nearBy are the movements that the book has for another, the nearest first: what it says
// to do instead, what is easier, and then the same of each of those.
func nearBy(env *model.Env, m *book.Movement) []*book.Movement {
	seen := map[*book.Movement]bool{m: true}
	var out []*book.Movement
	level := []*book.Movement{m}
	for range far {
		var next []*book.Movement
		add := func(names []string) {
			for _, n := range names {
				if t, _ := env.Book.Lookup(n); t != nil && !seen[t] {
					seen[t] = true
					next = append(next, t)
				}
			}
		}
		for _, o := range level {
			add(o.Instead)
		}
		for _, o := range level {
			add(o.Easier)
		}
		out = append(out, next...)
		level = next
	}
	return out
}

// choose picks what is done instead of a movement by those who have some kit: of what can
// be counted in place of a dose, the nearest by pattern, and then by the book. It is nil
// where the book has nothing of the pattern.
func choose(env *model.Env, m *book.Movement, kit []string, unit string, max bool) *book.Movement {
	best, rank := (*book.Movement)(nil), 0
	for _, t := range nearBy(env, m) {
		if len(missing(env, kit, t.Ways())) > 0 || t.Main() == "" {
			continue
		}
		near := nearness(m, t)
		if near == other {
			continue
		}
		u, ok := countedIn(env, t, unit, max)
		if !ok {
			continue
		}
		// A choice of the same pattern beats all; a count that carries over beats one that
		// has to be worked out.
		r := 2*near + 1
		if u == unit {
			r--
		}
		if best == nil || r < rank {
			best, rank = t, r
		}
	}
	return best
}

// Choose picks what is done instead of a movement by those who have some kit, where what is
// counted stays the same. It is nil where the book has nothing of the pattern.
func Choose(env *model.Env, m *book.Movement, kit []string, unit string) *book.Movement {
	t := choose(env, m, kit, unit, false)
	if t == nil {
		return nil
	}
	if u, ok := countedIn(env, t, unit, false); !ok || u != unit {
		return nil
	}
	return t
}

// countedIn is the unit that takes the place of another for a movement: the same where it
// has a pace in it, else metres, else repetitions, else the time of a hold. As many as possible of something that a
// monitor counts becomes as many repetitions.
func countedIn(env *model.Env, m *book.Movement, unit string, most bool) (string, bool) {
	if unit == "s" || unit == "%" {
		return unit, true
	}
	try := []string{unit, "m", "rep"}
	if most && unit == "cal" {
		try = []string{unit, "rep"}
	}
	for _, u := range try {
		if u == "m" && unit == "rep" {
			continue // twelve of something are no distance
		}
		if _, ok := estimate.Pace(env.House, m, u); ok {
			return u, true
		}
	}
	if len(m.Paces) == 0 && m.Unbroken != nil && !most {
		return "s", true // a hold
	}
	return "", false
}

// whole picks one movement for a complex that has no partner move by move: one that has all
// its main patterns, the first as its own.
func whole(env *model.Env, moves []model.Move, kit []string) *book.Movement {
	var want []book.Pattern
	for _, m := range moves {
		if p := m.Movement.Main(); !slices.Contains(want, p) {
			want = append(want, p)
		}
	}
	var found []*book.Movement
	for _, t := range env.Book.Movements() {
		has := !slices.ContainsFunc(want, func(p book.Pattern) bool { return !slices.Contains(t.Trains, p) })
		if _, counted := t.Pace("rep"); has && counted && t.Main() == want[0] && len(missing(env, kit, t.Ways())) == 0 {
			found = append(found, t)
		}
	}
	if len(found) == 0 {
		return nil
	}
	// A loaded one before one without, and the one that trains least beside.
	return slices.MinFunc(found, func(a, b *book.Movement) int {
		return cmp.Or(cmp.Compare(min(1, len(b.Needs)), min(1, len(a.Needs))), cmp.Compare(len(a.Trains), len(b.Trains)))
	})
}

package totals

import (
	"slices"
)

func (t *Totals) put(k key, tier int, s tallied) {
	rows := &t.Rows
	if k.movement == "" {
		rows = &t.all
	}
	i := slices.IndexFunc(*rows, func(r Row) bool { return r.Movement == k.movement && r.Unit == k.unit })
	if i < 0 {
		i = len(*rows)
		*rows = append(*rows, Row{Movement: k.movement, Duty: k.duty, Unit: k.unit, Tiers: make([]Sum, t.tiers)})
	}
	(*rows)[i].Tiers[tier] = s.Sum
	(*rows)[i].Unread = (*rows)[i].Unread || s.unread
}

// A tally is the sums of some work for one tier, by movement and unit, and with no
// movement over all of them.
type tally map[key]tallied

// A tallied is a sum, and whether a line of it is not what was meant.
type tallied struct {
	Sum
	unread bool
}

type key struct {
	movement, unit string
	duty           bool
}

func (t tally) add(o tally) {
	for k, s := range o {
		t[k] = tallied{t[k].plus(s.Sum), t[k].unread || s.unread}
	}
}

// or takes the other in as what may be done instead.
func (t tally) or(o tally) {
	for k, s := range o {
		t[k] = tallied{t[k].or(s.Sum), t[k].unread || s.unread}
	}
	for k, s := range t {
		if _, both := o[k]; !both {
			t[k] = tallied{s.or(Sum{}), s.unread}
		}
	}
}

// maybe is the tally of what a condition leaves out or not, all of it; of anything else it is the
// tally itself.
func (t tally) maybe(condition string) tally {
	if condition != "" {
		t.or(tally{})
	}
	return t
}

// either is the tally where one of several is done.
func either(ts []tally) tally {
	if len(ts) == 0 {
		return tally{}
	}
	out := ts[0]
	for _, t := range ts[1:] {
		out.or(t)
	}
	return out
}

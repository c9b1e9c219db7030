package clock

import "stint.example/stint/lang/program"

// Moved is the load that some work moves, in kg: repetitions x implements x mass.
type Moved struct {
	Tiers []Sum
	// Known says that all loads of it are stated as weights.
	Known bool
	// Bare are movements without any load: whether that leaves something out depends on
	// the kit that they need.
	Bare []string
}

// LoadMoved adds up the load that some parts move.
func LoadMoved(groups []*program.Group, tiers int) Moved {
	out := Moved{Tiers: make([]Sum, max(1, tiers)), Known: true}
	all := labels(ByPart)
	for _, l := range loadMoved(groups, all, ByPart, max(1, tiers)) {
		if l.tiers != nil {
			out.Tiers = l.tiers
		}
		out.Bare = append(out.Bare, l.bare...)
		out.Known = out.Known && !l.unread
		for _, w := range l.without {
			out.Known = out.Known && w.aside
		}
	}
	return out
}

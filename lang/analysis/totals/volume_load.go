package totals

import (
	"stint.example/stint/lang/model"
)

// VolumeLoad is the load that some work moves, in kg: repetitions x implements x mass.
type VolumeLoad struct {
	Tiers []Sum
	// Known says that all loads that are stated are weights, and can be added up.
	Known bool
}

// LoadMoved adds up the load that some parts move.
func LoadMoved(groups []*model.Group, tiers int) VolumeLoad {
	out := VolumeLoad{Tiers: make([]Sum, max(1, tiers)), Known: true}
	all := labels(ByPart)
	for _, l := range loadMoved(groups, all, ByPart, max(1, tiers)) {
		if l.tiers != nil {
			out.Tiers = l.tiers
		}
		out.Known = out.Known && !l.unread
		for _, w := range l.without {
			out.Known = out.Known && w.aside
		}
	}
	return out
}

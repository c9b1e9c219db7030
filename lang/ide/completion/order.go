package completion

import (
	"cmp"
	"slices"
)

// orderItems are the items in order, the best first.
func orderItems(items []Suggestion, typed string) []Suggestion {
	// Forgiveness is for when nothing fits better.
	if slices.ContainsFunc(items, func(it Suggestion) bool { return it.matchQuality <= innerWordMatch }) {
		items = slices.DeleteFunc(items, func(it Suggestion) bool { return it.matchQuality > innerWordMatch })
	}
	slices.SortStableFunc(items, func(a, b Suggestion) int {
		// Of names of which more than a letter or two are typed the shortest comes first, as far as there is kit.
		if long := len(a.Label) - len(b.Label); len(typed) > 2 && a.Kind == b.Kind && a.Kind >= Movement && a.Kind <= Kit {
			return cmp.Or(a.matchQuality-b.matchQuality, byOtherName(a)-byOtherName(b), a.rank/noKit-b.rank/noKit, long, a.rank-b.rank, cmp.Compare(a.Label, b.Label))
		}
		return cmp.Or(a.matchQuality-b.matchQuality, byOtherName(a)-byOtherName(b), a.rank-b.rank, cmp.Compare(a.Label, b.Label))
	})
	return items
}

// byOtherName is 1 for what was found by another name.
func byOtherName(it Suggestion) int { return min(1, len(it.Also)) }

// How likely a movement is on a line of work; less is likelier.
const (
	maxFrequency    = 999    // the most that being common counts
	newPattern      = 0      // its pattern is not in the part yet
	repeatedPattern = 1000   // it is
	unlikelyWork    = 3000   // a duty, or a stretch outside the warm-up
	wrongUnit       = 5000   // it is not counted so
	noKit           = 10_000 // the kit for it is not there
)

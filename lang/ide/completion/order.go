package completion

import (
	"cmp"
	"slices"
)

// orderItems sorts the items, the best first: by how well they match what is typed, then by rank.
// Loose matches are dropped where a strict one is found.
func orderItems(items []Suggestion, typed string) []Suggestion {
	if slices.ContainsFunc(items, func(it Suggestion) bool { return it.matchQuality <= innerWordMatch }) {
		items = slices.DeleteFunc(items, func(it Suggestion) bool { return it.matchQuality > innerWordMatch })
	}
	slices.SortStableFunc(items, func(a, b Suggestion) int {
		// Once more than two letters of a name are typed, the shortest comes first, where there is kit for it.
		if long := len(a.Label) - len(b.Label); len(typed) > 2 && a.Kind == b.Kind && a.Kind >= Movement &&
			a.Kind <= Kit {
			return cmp.Or(a.matchQuality-b.matchQuality, byOtherName(a)-byOtherName(b), a.rank/noKit-b.rank/noKit,
				long, a.rank-b.rank, cmp.Compare(a.Label, b.Label))
		}
		return cmp.Or(a.matchQuality-b.matchQuality, byOtherName(a)-byOtherName(b), a.rank-b.rank,
			cmp.Compare(a.Label, b.Label))
	})
	return items
}

// byOtherName is 1 for what was found by another name.
func byOtherName(it Suggestion) int { return min(1, len(it.Also)) }

// Ranks of movements on a line of work; less comes first. They add up.
const (
	maxFrequency    = 999    // the most that a frequent movement gains
	newPattern      = 0      // its pattern is not in the part yet
	repeatedPattern = 1000   // its pattern is in the part already
	unlikelyWork    = 3000   // a duty, or a stretch outside the warm-up
	wrongUnit       = 5000   // the count's unit is not the movement's
	noKit           = 10_000 // the version or the house lacks its kit
)

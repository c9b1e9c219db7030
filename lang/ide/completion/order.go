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
		kit, length := 0, 0
		if len(typed) > 2 && a.Kind == b.Kind && a.Kind >= Movement && a.Kind <= Kit {
			// Once more than two letters of a name are typed, the shortest comes first, where there is kit for it.
			kit, length = a.rank/noKit-b.rank/noKit, len(a.Label)-len(b.Label)
		}
		return cmp.Or(a.matchQuality-b.matchQuality, byOtherName(a)-byOtherName(b), kit, length, a.rank-b.rank,
			cmp.Compare(a.Label, b.Label))
	})
	return items
}

// byOtherName is 1 for what was found by another name.
func byOtherName(it Suggestion) int { return min(1, len(it.Also)) }

// Ranks of movements on a line of work; less comes first. They add up.
const (
	maxFrequency    = 999    // the most that a frequent movement gains
	coolDownStretch = -1000  // a stretch in the cool-down
	newPattern      = 0      // its pattern is not in the part yet
	repeatedPattern = 1000   // its pattern is in the part already
	unlikelyWork    = 3000   // a duty, or a stretch outside the warm-up
	wrongUnit       = 5000   // the count's unit is not the movement's
	noKit           = 10_000 // the version or the house lacks its kit
)

// Ranks of movements on the right side of a swap; all are likelier than on a line of work.
const (
	insteadOfIt      = -9000             // the book has it instead of the movement on the left
	insteadStep      = maxFrequency / 10 // from one of those to the next in the book's order
	easierThanIt     = -7000             // the book has it as an easier form
	samePatternAsIts = -4000             // it has the same main pattern
)

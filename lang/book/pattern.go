package book

// A Pattern is a way of moving that a movement trains.
type Pattern string

// Patterns are all of them. No published list is standard; this is the union that the
// coaching literature uses, with locomotion kept apart by what moves (the estimate has
// a pace for each).
var Patterns = []Pattern{"squat", "hinge", "lunge", "horizontal push", "vertical push", "horizontal pull", "vertical pull",
	"carry", "trunk", "rotation", "jump", "run", "row", "bike", "ski", "swim", "crawl", "mobility"}

// Coarse is the pattern among the five of the American Council on Exercise (bend and
// lift, single leg, push, pull, rotation) that p belongs to. Carries, locomotion, jumps
// and mobility belong to none of the five, and give an empty string.
func (p Pattern) Coarse() string {
	switch p {
	case "squat", "hinge":
		return "bend and lift"
	case "lunge":
		return "single leg"
	case "horizontal push", "vertical push":
		return "push"
	case "horizontal pull", "vertical pull":
		return "pull"
	case "rotation":
		return "rotation"
	}
	return ""
}

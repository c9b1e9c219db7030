package book

import "slices"

// A Pattern is a way of moving that a movement trains.
type Pattern string

// The patterns. No published list is standard; this is the union that the coaching
// literature uses, with locomotion kept apart by what moves (the estimate has a pace for
// each).
const (
	Squat          Pattern = "squat"
	Hinge          Pattern = "hinge"
	Lunge          Pattern = "lunge"
	HorizontalPush Pattern = "horizontal push"
	VerticalPush   Pattern = "vertical push"
	HorizontalPull Pattern = "horizontal pull"
	VerticalPull   Pattern = "vertical pull"
	Carry          Pattern = "carry"
	Trunk          Pattern = "trunk"
	Rotation       Pattern = "rotation"
	Jump           Pattern = "jump"
	Run            Pattern = "run"
	Row            Pattern = "row"
	Bike           Pattern = "bike"
	Ski            Pattern = "ski"
	Swim           Pattern = "swim"
	Crawl          Pattern = "crawl"
	Mobility       Pattern = "mobility"
)

// Patterns are all of them, in the order in which they are listed.
var Patterns = []Pattern{Squat, Hinge, Lunge, HorizontalPush, VerticalPush, HorizontalPull, VerticalPull,
	Carry, Trunk, Rotation, Jump, Run, Row, Bike, Ski, Swim, Crawl, Mobility}

// Coarse is the pattern among the five of the American Council on Exercise (bend and
// lift, single leg, push, pull, rotation) that p belongs to. Carries, locomotion, jumps
// and mobility belong to none of the five, and give an empty string.
func (p Pattern) Coarse() string {
	switch p {
	case Squat, Hinge:
		return "bend and lift"
	case Lunge:
		return "single leg"
	case HorizontalPush, VerticalPush:
		return "push"
	case HorizontalPull, VerticalPull:
		return "pull"
	case Rotation:
		return "rotation"
	}
	return ""
}

// Cyclic says whether the pattern is one that is gone on with at a pace: run, rowed, cycled,
// skied or swum.
func (p Pattern) Cyclic() bool { return slices.Contains(cyclic, p) }

var cyclic = []Pattern{Run, Row, Bike, Ski, Swim}

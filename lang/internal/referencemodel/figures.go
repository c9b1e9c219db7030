package referencemodel

import "math"

// The three standings that are always shown, and the ends of the range in which anything is said.
const (
	Fast    = -z90
	Typical = 0.0
	Slow    = z90

	z90  = 1.2815515655446004 // inverse normal of 0.90
	zMax = 2.0537489106318225 // inverse normal of 0.98
)

// Levels are the three standings in the order in which they are shown.
var Levels = [3]float64{Fast, Typical, Slow}

// Standing is the share of people at or below z, between 0 and 1.
func Standing(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// Z is the inverse of [Standing].
func Z(q float64) float64 { return math.Sqrt2 * math.Erfinv(2*q-1) }

// hold keeps a standing between the 2nd and the 98th percentile.
func hold(z float64) float64 { return clamp(z, -zMax, zMax) }

func clamp(x, low, high float64) float64 { return max(low, min(x, high)) }

// Three is a figure at the 10th, 50th and 90th percentile. The zero value is no figure.
type Three struct{ Fast, Mid, Slow float64 }

// At is the figure at a standing: two geometric halves that meet in the middle.
func (f Three) At(z float64) float64 {
	if f == (Three{}) {
		return 0
	}
	z = hold(z)
	if z < 0 {
		return f.Mid * math.Pow(f.Fast/f.Mid, -z/z90)
	}
	return f.Mid * math.Pow(f.Slow/f.Mid, z/z90)
}

// House has the figures that hold for every movement, in seconds.
type House struct {
	Change   Three // from one movement to another
	Break    Three // between unbroken sets
	Handover Three // from one member of a team to the next
	// ShortSet is the size below which a set is followed by a shorter break: half of it and a
	// part that grows with the set. 0 makes all breaks alike.
	ShortSet float64
}

// Standard has the figures as calibrated against twenty pieces of work with expected times. The
// tool's own are the same.
var Standard = House{
	Change:   Three{5, 8, 12},
	Break:    Three{9, 13, 16},
	Handover: Three{2, 3, 5},
	ShortSet: 3,
}

// breakAfter is the length of a break after a set of u.
func (h House) breakAfter(u, z float64) float64 {
	b := h.Break.At(z)
	if u < h.ShortSet {
		b *= 0.5 + 0.5*u/h.ShortSet
	}
	return b
}

// Movement is what the model needs to know of one.
type Movement struct {
	Name     string // work under another name needs a change
	Pattern  string // movements of one pattern share the unbroken run; without it the name serves
	Pace     Three  // seconds a unit: a repetition, a metre, a calorie
	Unbroken Three  // units done before a break; none: it is never put down
	SetUp    Three  // seconds at the rack before a set
	OnFoot   bool   // it is for metres, and needs no kit
	Rower    bool   // its pace is for metres, and calories follow from the power
}

func (m Movement) pattern() string {
	if m.Pattern == "" {
		return m.Name
	}
	return m.Pattern
}

// Book has the movements of the worked examples with the calibrated figures, by name.
var Book = byName(
	Movement{Name: "air squat", Pattern: "squat", Pace: Three{1.2, 1.6, 2.2}, Unbroken: Three{50, 30, 18}},
	Movement{Name: "goblet squat", Pattern: "squat", Pace: Three{1.9, 2.5, 3.3}, Unbroken: Three{25, 15, 9}},
	Movement{Name: "front squat", Pattern: "squat", Pace: Three{2.4, 3.2, 4.2}, Unbroken: Three{12, 8, 5}, SetUp: rack},
	Movement{Name: "back squat", Pattern: "squat", Pace: Three{2.4, 3.1, 4.2}, Unbroken: Three{15, 10, 6}, SetUp: rack},
	Movement{Name: "thruster", Pattern: "squat", Pace: Three{2.1, 2.8, 3.7}, Unbroken: Three{10, 6, 4}},
	Movement{Name: "wall ball", Pattern: "squat", Pace: Three{1.9, 2.3, 3.0}, Unbroken: Three{28, 15, 8}},
	Movement{Name: "lunge", Pattern: "lunge", Pace: Three{1.4, 1.8, 2.5}, Unbroken: Three{40, 24, 14}},
	Movement{Name: "step-up", Pattern: "lunge", Pace: Three{1.6, 2.2, 3.0}, Unbroken: Three{40, 24, 12}},
	Movement{Name: "deadlift", Pattern: "hinge", Pace: Three{1.9, 2.5, 3.4}, Unbroken: Three{18, 10, 6}},
	Movement{Name: "kettlebell swing", Pattern: "hinge", Pace: Three{1.5, 1.7, 2.1}, Unbroken: Three{30, 15, 9}},
	Movement{Name: "good morning", Pattern: "hinge", Pace: Three{1.8, 2.3, 3.0}, Unbroken: Three{30, 20, 12}},
	Movement{Name: "power clean", Pattern: "hinge", Pace: Three{2.3, 3.2, 4.8}, Unbroken: Three{8, 4, 2}},
	Movement{Name: "clean and jerk", Pattern: "hinge", Pace: Three{3.2, 4.6, 7}, Unbroken: Three{4, 2, 1}},
	Movement{Name: "dumbbell snatch", Pattern: "hinge", Pace: Three{1.7, 2.2, 3.0}, Unbroken: Three{30, 18, 10}},
	Movement{Name: "push-up", Pattern: "horizontal push", Pace: Three{1.1, 1.6, 2.4}, Unbroken: Three{20, 10, 4}},
	Movement{Name: "burpee", Pattern: "horizontal push", Pace: Three{2.8, 3.4, 5.0}, Unbroken: Three{15, 10, 6}},
	Movement{Name: "ring dip", Pattern: "horizontal push", Pace: Three{1.9, 2.5, 3.5}, Unbroken: Three{10, 5, 2}},
	Movement{Name: "dumbbell press", Pattern: "vertical push", Pace: Three{1.6, 2.1, 2.9}, Unbroken: Three{18, 11, 6}},
	Movement{Name: "ring row", Pattern: "horizontal pull", Pace: Three{1.5, 2.0, 2.8}, Unbroken: Three{20, 12, 7}},
	Movement{Name: "strict pull-up", Pattern: "vertical pull", Pace: Three{2.0, 2.8, 4.0}, Unbroken: Three{6, 3, 2}},
	Movement{Name: "swinging pull-up", Pattern: "vertical pull", Pace: Three{1.3, 1.7, 2.4}, Unbroken: Three{8, 5, 3}},
	Movement{Name: "rope climb", Pattern: "vertical pull", Pace: Three{13, 20, 28}, Unbroken: Three{3, 1.5, 1}},
	Movement{Name: "toes to bar", Pattern: "trunk", Pace: Three{1.7, 2.4, 3.5}, Unbroken: Three{12, 6, 3}},
	Movement{Name: "sit-up", Pattern: "trunk", Pace: Three{1.6, 2.2, 3.0}, Unbroken: Three{40, 25, 12}},
	Movement{Name: "box jump", Pattern: "jump", Pace: Three{2.4, 3.3, 4.4}, Unbroken: Three{25, 15, 8}},
	Movement{Name: "double-under", Pattern: "jump", Pace: Three{0.48, 0.56, 0.75}, Unbroken: Three{100, 35, 10}},
	Movement{Name: "single skip", Pattern: "jump", Pace: Three{0.44, 0.53, 0.65}, Unbroken: Three{150, 80, 40}},
	Movement{Name: "farmer carry", Pattern: "carry", Pace: Three{0.55, 0.75, 1.05}, Unbroken: Three{150, 100, 70}},
	Movement{Name: "run", Pattern: "run", OnFoot: true, Pace: Three{0.230, 0.290, 0.375}},
	Movement{Name: "row", Pattern: "row", Pace: Three{0.212, 0.250, 0.300}, Rower: true},
	Movement{Name: "bike", Pattern: "bike", Pace: Three{2.6, 3.6, 5.2}},
)

// rack is the set-up of what is lifted out of one.
var rack = Three{6, 8, 10}

func byName(ms ...Movement) map[string]Movement {
	out := map[string]Movement{}
	for _, m := range ms {
		out[m.Name] = m
	}
	return out
}

// Watts is the power on a rower at a pace in seconds a metre.
func Watts(perMetre float64) float64 { return 2.80 / math.Pow(perMetre, 3) }

// CaloriePace is the seconds a calorie takes on a rower at a pace in seconds a metre.
func CaloriePace(perMetre float64) float64 { return 3600 / (3.4416*Watts(perMetre) + 300) }

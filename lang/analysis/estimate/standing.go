package estimate

import (
	"math"

	"stint.example/stint/lang/book"
)

// z90 is how many standard deviations the 90th percentile lies above the middle of a
// normal distribution.
const z90 = 1.2815515655446004

// The standings that an estimate speaks of: how slow an athlete is, as a percentile of
// the house's members. Nothing is claimed of the outer two percent.
const (
	Quickest = 0.02
	Fast     = 0.10
	Typical  = 0.50
	Slow     = 0.90
	Slowest  = 0.98
)

// Standings are the three that are shown, from the fast to the slow.
var Standings = [3]float64{Fast, Typical, Slow}

// clamp holds a standing to what the estimate claims anything of.
func clamp(q float64) float64 {
	if !(q > Quickest) { // not a number, too
		return Quickest
	}
	return min(q, Slowest)
}

// zScore is how many standard deviations a standing, as a share from 0 to 1, lies above the middle.
func zScore(q float64) float64 { return math.Sqrt2 * math.Erfinv(2*clamp(q)-1) }

// standingOf is the standing, 0 to 1, that lies z standard deviations above the middle.
func standingOf(z float64) float64 { return 0.5 * (1 + math.Erf(z/math.Sqrt2)) }

// levelAt is a figure of an athlete whose standing is z: two half-lognormals that meet in the middle, so that it goes
// through all three of its values, never turns back between them and is always positive.
//
//	v(z) = m · (a/m)^(-z/z90) for z < 0, and m · (b/m)^(z/z90) for z ≥ 0
func levelAt(l book.Levels, z float64) float64 {
	a, m, b := l.Fast, l.Typical, l.Slow
	switch {
	case !(m > 0):
		return 0
	case z < 0 && a > 0:
		return m * math.Pow(a/m, -z/z90)
	case z > 0 && b > 0:
		return m * math.Pow(b/m, z/z90)
	}
	return m
}

// A person is an athlete of one standing, with what that athlete needs between repetitions.
type person struct {
	// z is the standing, in standard deviations above the middle of the house's members: 0 is the
	// typical member, z90 the slow one and -z90 the fast one.
	z                           float64
	change, breakTime, handover float64 // s: to another movement, between unbroken runs, in a team
	setUp                       float64 // s: under a bar in its rack
}

func (f *Figures) person(z float64) person {
	return person{z: z, change: levelAt(f.Change, z), breakTime: levelAt(f.Break, z), handover: levelAt(f.Handover, z), setUp: levelAt(f.SetUp, z)}
}

// held keeps a standing to what the estimate claims anything of.
func held(z float64) float64 { return min(zScore(1), max(zScore(0), z)) }

// zOfAverage is the z of the average of k people, drawn at random, whose team is at z among teams:
// the standard error of a mean of k is that of one over the square root of k.
func zOfAverage(z, k float64) float64 { return z / math.Sqrt(max(k, 1)) }

// zOfSlowest is the z of the slowest of k people, drawn at random, whose team is at z among teams:
// the maximum of k has the distribution function of one to the power of k.
func zOfSlowest(z, k float64) float64 {
	return zScore(math.Pow(standingOf(z), 1/max(k, 1)))
}

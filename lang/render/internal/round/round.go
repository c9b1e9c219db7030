// Package round rounds numbers that leave the tool, so that they are the same on every machine.
package round

import "math"

// Hundredths rounds to two decimal places.
func Hundredths(v float64) float64 { return To(v, 100) }

// To rounds to a fraction of one: to 1/10 where fraction is 10. Infinity and NaN, which JSON
// and SVG cannot hold, become 0.
func To(v, fraction float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return math.Round(v*fraction)/fraction + 0 // adding 0 turns -0 into 0
}

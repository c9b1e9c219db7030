package units

import (
	"math"
	"strconv"
	"strings"
)

// maxDecimals is how many decimals a printed number may have: 0.1 g in a kilogram,
// 0.1 mm in a metre, finer than anything in a gym.
const maxDecimals = 4

// FormatNumber writes a number with at most four decimals and no trailing zeros:
// 24, 22.5, 0.4536. What is not a finite number prints as "?".
func FormatNumber(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return unknown
	}
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', maxDecimals, 64), "0")
	s = strings.TrimSuffix(s, ".")
	if s == "-0" {
		return "0"
	}
	return s
}

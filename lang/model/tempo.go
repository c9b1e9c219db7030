package model

import (
	"strconv"
	"strings"
)

// TempoSeconds is how long a repetition in a tempo takes: the sum of its phases in s, and how many of
// them are as fast as can be. It is not ok where the text is no tempo.
func TempoSeconds(text string) (seconds float64, asFast int, ok bool) {
	phases := strings.Split(text, "")
	if strings.Contains(text, "-") {
		phases = strings.Split(text, "-")
	}
	for _, p := range phases {
		if strings.EqualFold(p, "x") {
			asFast++
			continue
		}
		v, err := strconv.ParseFloat(p, 64)
		if err != nil || !(v >= 0) || v > 1000 {
			return 0, 0, false
		}
		seconds += v
	}
	return seconds, asFast, len(phases) > 0
}

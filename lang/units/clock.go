package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

const (
	perMinute = 60
	perHour   = 60 * perMinute

	// longFrom is where a clock value gets its hours: up to 99:59 a coach reads
	// minutes and seconds from the wall, as the gym's own timer shows them.
	longFrom = 100 * perMinute

	// maxDigits bounds the digits before the first colon, well above any session
	// and well below what a float64 holds exactly.
	maxDigits = 6

	// unknown is what a value that is no number prints as.
	unknown = "?"
)

// A ClockError says that a text is not a clock value.
type ClockError struct {
	Text    string // what was read
	Reading string // what it would mean, read loosely: 2:15 for 1:75; empty if unclear
}

func (e *ClockError) Error() string {
	if e.Reading != "" {
		return fmt.Sprintf("%q is not a clock value: two digits, 00 to 59, follow a colon; did you mean %s?", e.Text, e.Reading)
	}
	return fmt.Sprintf("%q is not a clock value: write minutes and seconds as in 9:00, or hours too as in 1:30:00", e.Text)
}

// ParseClock reads m:ss or h:mm:ss and returns seconds: a whole number of them, or of tenths where a
// point and a digit stand behind the last. Two digits from 00 to 59 follow each colon; the first
// number may have any value and a leading zero. There is no sign and no blank. The error is a
// *ClockError.
func ParseClock(text string) (seconds float64, err error) {
	whole, fraction, split := strings.Cut(text, ".")
	tenths := 0
	if split {
		if len(fraction) != 1 || fraction[0] < '0' || fraction[0] > '9' {
			return 0, &ClockError{Text: text}
		}
		tenths = int(fraction[0] - '0')
	}
	groups := strings.Split(whole, ":")
	if len(groups) != 2 && len(groups) != 3 {
		return 0, &ClockError{Text: text}
	}
	strict := true
	for i, g := range groups {
		switch {
		case i == 0 && g == "":
			strict = false // :30 can only be 0:30
			continue
		case i == 0 && len(g) > maxDigits, i > 0 && len(g) != 2, strings.Trim(g, "0123456789") != "":
			return 0, &ClockError{Text: text}
		}
		n, err := strconv.Atoi(g)
		if err != nil {
			return 0, &ClockError{Text: text}
		}
		if i > 0 && n >= 60 {
			strict = false
		}
		// Each group is sixty of the next, so the loose reading of 1:75 comes free.
		seconds += float64(n) * math.Pow(60, float64(len(groups)-1-i))
	}
	seconds = (seconds*10 + float64(tenths)) / 10
	if !strict {
		return 0, &ClockError{Text: text, Reading: FormatTime(seconds)}
	}
	return seconds, nil
}

// FormatTime writes seconds as FormatClock does, with their tenth where they have one and nothing
// smaller: 1:05.4. It is for times that somebody wrote; what is estimated has no tenths.
func FormatTime(seconds float64) string { return FormatTimeBeside(seconds, seconds) }

// FormatTimeBeside is FormatTime in the form of the longest of several times that are written together, in seconds,
// so that all of them have the same one: 1:25:30 beside 1:52:30.
func FormatTimeBeside(seconds, longest float64) string {
	tenths := math.Round(seconds * 10)
	if math.Abs(tenths-seconds*10) > 1e-6 || math.Mod(tenths, 10) == 0 || math.Abs(tenths) > 1<<53 {
		return formatClock(seconds, longest)
	}
	if tenths < 0 {
		return "-" + FormatTimeBeside(-seconds, longest)
	}
	return fmt.Sprintf("%s.%d", formatClock(math.Floor(tenths/10), longest), int(math.Mod(tenths, 10)))
}

// FormatClock writes seconds as m:ss below 100:00 and as h:mm:ss from there on.
// It counts in hundredths, in which times are published, so that whoever reads a published time
// writes the same. Half a second is rounded up, towards the later time. What is negative has a
// leading hyphen; what is not a finite number prints as "?".
func FormatClock(seconds float64) string { return formatClock(seconds, seconds) }

// formatClock is FormatClock in the form that the longest time has.
func formatClock(seconds, longest float64) string {
	seconds = math.Round(seconds*100) / 100
	whole := math.Floor(seconds)
	if seconds-whole >= 0.5 {
		whole++
	}
	if math.IsNaN(whole) || math.Abs(whole) > 1<<53 {
		return unknown
	}
	sign, n := "", int64(whole)
	if n < 0 {
		sign, n = "-", -n
	}
	if n < longFrom && !(longest >= longFrom-0.5) {
		return fmt.Sprintf("%s%d:%02d", sign, n/perMinute, n%perMinute)
	}
	return fmt.Sprintf("%s%d:%02d:%02d", sign, n/perHour, n%perHour/perMinute, n%perMinute)
}

package units

import "math"

// Same says whether two amounts are one but for what is lost in turning units: ten times
// 10 ft are 100 ft.
func Same(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b), 1) }

// IsWhole says whether a number has no digits behind the point.
func IsWhole(n float64) bool { return n == math.Trunc(n) }

// FormatAs is an amount of a base unit as a number, and the unit that it is in: the one that
// its author wrote where the amount comes out in that to four decimals, else the base unit.
func FormatAs(v float64, base, written string) (number, unit string) {
	if u, ok := Lookup(written); ok && base != "s" {
		w := u.FromBase(v)
		if math.Abs(math.Round(w*1e4)-w*1e4) < 1e-6 {
			return FormatNumber(w), written
		}
	}
	return FormatNumber(v), base
}

// FormatAmount is an amount of a base unit with its unit, as its author writes it: a time as
// a clock value, a repetition without a word, all else in the unit that they wrote.
func FormatAmount(v float64, base, written string) string {
	switch base {
	case "s":
		return FormatTime(v)
	case "rep":
		return FormatNumber(v)
	}
	number, unit := FormatAs(v, base, written)
	return number + " " + unit
}

// FormatTenth is a number that was worked out, such as a mean, as a sentence says it: to a
// tenth.
func FormatTenth(v float64) string { return FormatNumber(math.Round(v*10) / 10) }

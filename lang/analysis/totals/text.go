package totals

import (
	"slices"
	"strings"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// UnitWord is what a total counts in a unit: seconds are told as time.
func UnitWord(unit string) string {
	if unit == "s" {
		return "time"
	}
	return model.UnitName(unit)
}

// Text is the amount of a row as a line total has it, in the unit that its author
// wrote if it comes out in that. The row is a movement's, or over all of them.
func Text(r Row, written string, movement bool) string {
	for _, s := range r.Tiers {
		for _, v := range []float64{s.Lo, s.Hi} {
			if _, in := units.FormatAs(v, r.Unit, written); in != written {
				written = ""
			}
		}
	}
	unit := r.Unit
	one := func(v float64) string {
		if r.Unit == "s" {
			return units.FormatAmount(v, "s", "")
		}
		var text string
		text, unit = units.FormatAs(v, r.Unit, written)
		return text
	}
	var lo, hi []string
	for _, s := range r.Tiers {
		lo, hi = append(lo, one(s.Lo)), append(hi, one(s.Hi))
	}
	text := tiered(lo)
	if to := tiered(hi); to != text {
		text += "-" + to
	}
	if r.Unit == "rep" && movement || r.Unit == "s" {
		return text
	}
	if r.Unit == "rep" {
		return text + " reps"
	}
	return text + " " + unit
}

// tiered joins the numbers of tiers: one number where they agree.
func tiered(ns []string) string {
	if allSame(ns) {
		return ns[0]
	}
	return strings.Join(ns, "/")
}

func allSame(ss []string) bool {
	return !slices.ContainsFunc(ss, func(s string) bool { return s != ss[0] })
}

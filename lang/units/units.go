// Package units knows the units that a session is written in: what they measure,
// how they are spelt and how they turn into one another. It also reads and writes
// clock values such as 9:00.
package units

import (
	"fmt"
	"slices"
	"strings"
)

// A Dimension is what a unit measures. Two units of one dimension can be turned
// into each other; the exception is Count, whose units count different things.
type Dimension uint8

// The dimensions, each with its base unit.
const (
	Nothing Dimension = iota // no unit at all
	Time                     // base: the second, s
	Length                   // base: the metre, m
	Mass                     // base: the kilogram, kg
	Energy                   // base: the kilocalorie, which the trade calls a calorie, cal
	Count                    // no base: repetitions and breaths stay what they are
)

var dimensionNames = [...]string{"nothing", "time", "length", "mass", "energy", "count"}

func (d Dimension) String() string { return dimensionNames[d] }

// A Unit is one of the units that the notation knows. The zero value is None.
type Unit uint8

// The units, dimension by dimension.
const (
	None Unit = iota
	Second
	Minute
	Hour
	Metre
	Kilometre
	Centimetre
	Foot
	Yard
	Mile
	Inch
	Kilogram
	Pound
	Calorie
	Rep
	Breath
)

// A fact is all that is known about one unit. A unit is num/den base units; both
// are whole, so that the factor is exact and a conversion rounds once, at its end.
type fact struct {
	printed   string // how the formatter writes it
	dimension Dimension
	num, den  int64
	spellings string // what else is read, apart from upper and lower case
}

// Factors: A. Thompson and B. N. Taylor, NIST Special Publication 811 (2008),
// appendix B.8, all of them exact; the foot, yard and mile are the international
// ones, the pound is the avoirdupois pound.
//
// The "calorie" on the display of a rower or a bike, and so in a session, is the
// kilocalorie: common practice, no source.
var facts = [...]fact{
	None:       {"", Nothing, 1, 1, ""},
	Second:     {"s", Time, 1, 1, "sec secs second seconds"},
	Minute:     {"min", Time, 60, 1, "mins minute minutes"},
	Hour:       {"h", Time, 3600, 1, "hr hrs hour hours"},
	Metre:      {"m", Length, 1, 1, "metre metres meter meters"},
	Kilometre:  {"km", Length, 1000, 1, "kms kilometre kilometres kilometer kilometers"},
	Centimetre: {"cm", Length, 1, 100, "cms centimetre centimetres centimeter centimeters"},
	Foot:       {"ft", Length, 3048, 10_000, "foot feet"},
	Yard:       {"yd", Length, 9144, 10_000, "yds yard yards"},
	Mile:       {"mile", Length, 1_609_344, 1000, "miles mi"},
	Inch:       {"in", Length, 254, 10_000, "inch inches"},
	Kilogram:   {"kg", Mass, 1, 1, "kgs kilo kilos kilogram kilograms kilogramme kilogrammes"},
	Pound:      {"lb", Mass, 45_359_237, 100_000_000, "lbs pound pounds"},
	Calorie:    {"cal", Energy, 1, 1, "cals calorie calories kcal kcals kilocalorie kilocalories"},
	Rep:        {"rep", Count, 1, 1, "reps repetition repetitions"},
	Breath:     {"breath", Count, 1, 1, "breaths"},
}

// bySpelling finds a unit by every lower-case spelling of it.
var bySpelling = func() map[string]Unit {
	m := map[string]Unit{}
	for _, u := range All() {
		for _, s := range u.Spellings() {
			m[s] = u
		}
	}
	return m
}()

// Lookup finds the unit that a word stands for. It forgives upper case and reads
// the usual spellings: "secs", "Minutes", "lbs". The letter m is always the metre.
//
// Whether a unit may stand in a given place is for the caller to say: "in" is a word
// of English before it is the inch.
func Lookup(word string) (Unit, bool) {
	u, ok := bySpelling[strings.ToLower(word)]
	return u, ok
}

// All lists the units, None left out.
func All() []Unit {
	all := make([]Unit, 0, len(facts)-1)
	for u := range facts {
		if Unit(u) != None {
			all = append(all, Unit(u))
		}
	}
	return all
}

// String is the spelling that the formatter writes, such as "min". None has none.
func (u Unit) String() string { return facts[u].printed }

// Dimension says what the unit measures.
func (u Unit) Dimension() Dimension { return facts[u].dimension }

// Spellings lists the words that Lookup reads as u, in lower case, String's first.
func (u Unit) Spellings() []string {
	if u == None {
		return nil
	}
	return slices.Concat([]string{facts[u].printed}, strings.Fields(facts[u].spellings))
}

// ToBase turns a value in u into the base unit of its dimension: seconds, metres,
// kilograms or kilocalories. Counts and bare numbers stay as they are.
func (u Unit) ToBase(value float64) float64 {
	return scale(value, facts[u].num, facts[u].den)
}

// FromBase turns a value in the base unit of u's dimension into u.
func (u Unit) FromBase(value float64) float64 {
	return scale(value, facts[u].den, facts[u].num)
}

// Convert turns a value in one unit into another. The error is a *ConversionError,
// when the two do not measure the same thing.
func Convert(value float64, from, to Unit) (float64, error) {
	if from == to {
		return value, nil
	}
	f, t := facts[from], facts[to]
	if f.dimension != t.dimension || f.dimension == Count {
		return 0, &ConversionError{from, to}
	}
	return scale(value, f.num*t.den, f.den*t.num), nil
}

// A ConversionError says that a value in one unit has no meaning in another.
type ConversionError struct{ From, To Unit }

func (e *ConversionError) Error() string {
	return fmt.Sprintf("%s cannot be turned into %s", e.From.describe(), e.To.describe())
}

func (u Unit) describe() string {
	if u == None {
		return "a bare number"
	}
	return fmt.Sprintf("%s (%s)", u, u.Dimension())
}

// scale is value * num / den. For everyday values the product is a whole number below
// 2^53 and so exact: only the division rounds.
func scale(value float64, num, den int64) float64 {
	return value * float64(num) / float64(den)
}

// namedPair is how far two weights of one name may lie apart, as a share of the
// smaller. The trade's pairs (20 kg and 45 lb, 24 and 53, 16 and 35, 43 and 95, 61
// and 135) differ by up to 2.1 %: common practice, no source.
const namedPair = 0.025

// SameByName reports whether two masses in kilograms may go by one name: a 20 kg plate
// and a 45 lb plate are the same plate to a coach, though 0.41 kg apart.
func SameByName(kg1, kg2 float64) bool {
	lo, hi := min(kg1, kg2), max(kg1, kg2)
	return hi-lo <= namedPair*lo
}

package equipment

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A Mass is exact: it counts steps of 2.5 micrograms, of which a gram and a quarter of a
// pound both have a whole number (0.25 lb is 45,359,237 of them).
type Mass int64

const (
	perGram = 400_000
	perKg   = 1000 * perGram

	// most is more than anything in a gym weighs: 1,000 t.
	heaviestMass = 1_000_000 * perKg
)

// Kg is the mass of so many kilograms, to the nearest step. What is less than
// nothing or no number is nothing; what is beyond 1,000 t is 1,000 t.
func Kg(kg float64) Mass {
	if !(kg > 0) {
		return 0
	}
	return Mass(math.Round(min(kg, heaviestMass/perKg) * perKg))
}

// Kg is the mass in kilograms.
func (m Mass) Kg() float64 { return float64(m) / perKg }

// Bars are what a house builds loads from: its bars, and how many pairs of each disc.
type Bars struct {
	Bars   []Mass // the heaviest first, each mass once
	Discs  []Disc // the heaviest first, each mass once
	Collar Mass   // of one; nothing where the house does not say
}

// BarKinds are the kinds of kit that discs go on.
var BarKinds = []string{"barbell", "trap bar"}

// A Disc is a mass of which there are so many pairs, one of each pair for either side.
type Disc struct {
	Mass  Mass
	Pairs int
}

// sleeve is how many discs of one mass go on a side at most: common practice, no source.
const sleeve = 10

// BarsOf gathers a house's bars of a kind ("barbell", "trap bar"), its discs and its
// collars from its lines of kit:
//
//	8 barbell @ 20 kg
//	16 disc @ 10 kg
//	16 collar @ 2.5 kg
//
// Collars that the house does not list weigh nothing; those that it lists with their mass
// are on every bar. It is false where the house lists no such bar, or no discs, with their
// mass: then nothing is known of what it can build.
func BarsOf(b *book.Book, h *model.House, bar string) (Bars, bool) {
	var out Bars
	for _, m := range Owned(b, h, bar, syntax.Mass) {
		out.Bars = append(out.Bars, Kg(m.Value))
	}
	pairs := map[Mass]int{}
	for _, m := range Owned(b, h, "disc", syntax.Mass) {
		pairs[Kg(m.Value)] += m.Count / 2
	}
	for m, n := range pairs {
		if m > 0 && n > 0 {
			out.Discs = append(out.Discs, Disc{m, min(n, sleeve)})
		}
	}
	if c := Owned(b, h, "collar", syntax.Mass); len(c) > 0 {
		out.Collar = Kg(c[0].Value)
	}
	slices.SortFunc(out.Bars, func(a, b Mass) int { return cmp.Compare(b, a) })
	out.Bars = slices.Compact(out.Bars)
	slices.SortFunc(out.Discs, func(a, b Disc) int { return cmp.Compare(b.Mass, a.Mass) })
	return out, len(out.Bars) > 0 && len(out.Discs) > 0
}

// Round rounds a weight that is worked out, in kg, as the house says: to its step, or to what a bar
// of a kind can be loaded to. False where it says nothing of it, or nothing can be loaded so.
func Round(b *book.Book, h *model.House, bar string, kg float64) (float64, bool) {
	r := h.Rounding
	if r == nil {
		return 0, false
	}
	if step, ok := r.Step.One(); ok {
		const slip = 1e-9 // what a float64 cannot hold
		n := math.Floor(kg/step + slip)
		if r.Up {
			n = math.Ceil(kg/step - slip)
		}
		return n * step, n > 0
	}
	bars, ok := BarsOf(b, h, bar)
	if !ok {
		return 0, false
	}
	fit, err := bars.Fit(Kg(kg))
	switch {
	case err != nil:
	case fit.Exact != nil:
		return fit.Exact.Total().Kg(), true
	case r.Up && fit.Above != nil:
		return fit.Above.Total().Kg(), true
	case !r.Up && fit.Below != nil:
		return fit.Below.Total().Kg(), true
	}
	return 0, false
}

// A Thing is a piece of kit in one weight or height, of which a house has so many.
type Thing struct {
	Value   float64 // kg or m
	Written string  // the unit that the house writes it in, where that is another
	Count   int
}

// Owned are the weights (syntax.Mass, in kg) or the heights (syntax.Height, in m) that a
// house lists of a piece of kit, the least first; none where it lists none.
func Owned(b *book.Book, h *model.House, kit string, kind syntax.LoadKind) []Thing {
	var out []Thing
	for _, k := range h.Kit {
		name, ok := b.Kit(k.Name)
		if !ok {
			name = k.Name
		}
		if book.Key(name) != book.Key(kit) {
			continue
		}
		for _, ld := range k.Loads {
			if ld.Kind != kind || ld.Amount == nil {
				continue
			}
			for _, term := range ld.Amount.Terms {
				for _, v := range term {
					out = append(out, Thing{v, ld.Amount.Written, k.Count})
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Thing) int { return cmp.Compare(a.Value, b.Value) })
	return out
}

// Nearest are the values of things at once below and above a value, or at it, which are
// one where a thing has just that value; found says whether there is one on that side.
func Nearest(ts []Thing, value float64) (below, above Thing, isBelow, isAbove bool) {
	for _, t := range ts {
		if t.Value <= value && (!isBelow || t.Value > below.Value) {
			below, isBelow = t, true
		}
		if t.Value >= value && (!isAbove || t.Value < above.Value) {
			above, isAbove = t, true
		}
	}
	return below, above, isBelow, isAbove
}

// SameByName says whether a weight (in kg) or a height (in m) goes by the name of another
// that is written in the other system: 53 lb is the kettlebell of 24 kg, but 23.5 kg is
// not. Pairs of the trade lie up to 2.5 % apart; in one system, two are the same or not.
func SameByName(value float64, written string, other float64, otherWritten string) bool {
	if Kg(value) == Kg(other) {
		return true
	}
	return Imperial(written) != Imperial(otherWritten) && units.SameByName(value, other)
}

// Imperial says whether a unit, as a quantity has it in Written, is the pound or an
// imperial length.
func Imperial(unit string) bool {
	switch u, _ := units.Lookup(unit); u {
	case units.Pound, units.Inch, units.Foot, units.Yard, units.Mile:
		return true
	}
	return false
}

// A Build is a loaded bar.
type Build struct {
	Bar     Mass
	Side    []Mass // the discs of either side, from the inside out: the heaviest first
	Collars Mass   // of both
}

// Total is what it weighs.
func (b Build) Total() Mass {
	m := b.Bar + b.Collars
	for _, d := range b.Side {
		m += 2 * d
	}
	return m
}

// A Fit is what a house can load a bar to, at a load or nearest to it. Each is nil where there is none.
type Fit struct {
	Exact        *Build
	Below, Above *Build // the nearest on either side, where there is no exact one
}

// ErrTooMany says that bars and discs make more different loads than are looked through.
var ErrTooMany = errors.New("these discs make too many different loads")

// maxSums bounds the loads that are looked through. Discs of every mass that is sold, in
// kilograms and pounds together, make some 25,000.
const maxSums = 60_000

// Fit looks for a load. Both sides of a bar are loaded alike. Of several ways it takes the
// one with the fewest discs, of those the one with the heaviest bar and the heaviest discs.
// The error is ErrTooMany.
func (b Bars) Fit(total Mass) (Fit, error) {
	var f Fit
	for _, bar := range b.Bars {
		builds, err := b.on(bar, total)
		if err != nil {
			return Fit{}, err
		}
		for _, build := range builds {
			switch t := build.Total(); {
			case t == total && (f.Exact == nil || len(build.Side) < len(f.Exact.Side)):
				f.Exact = &build
			case t < total && (f.Below == nil || t > f.Below.Total()):
				f.Below = &build
			case t > total && (f.Above == nil || t < f.Above.Total()):
				f.Above = &build
			}
		}
	}
	if f.Exact != nil {
		f.Below, f.Above = nil, nil
	}
	return f, nil
}

// on is what a bar can be loaded to: to a load exactly, or nearest below and above it.
func (b Bars) on(bar, total Mass) ([]Build, error) {
	empty := Build{Bar: bar, Collars: 2 * b.Collar}
	rest := total - empty.Total()
	if rest <= 0 || len(b.Discs) == 0 {
		return []Build{empty}, nil
	}
	// A side above the load by a whole disc is never the nearest: the one without that disc
	// is nearer.
	ways, err := b.sides(rest/2 + b.Discs[0].Mass)
	if err != nil {
		return nil, err
	}
	var below, above Mass = 0, -1
	for side := range ways {
		if 2*side <= rest {
			below = max(below, side)
		}
		if 2*side >= rest && (above < 0 || side < above) {
			above = side
		}
	}
	out := []Build{empty}
	out[0].Side = b.spell(ways[below])
	if above >= 0 && above != below {
		out = append(out, Build{Bar: bar, Collars: empty.Collars, Side: b.spell(ways[above])})
	}
	return out, nil
}

// A stack is how many of each disc are on a side.
type stack []uint8

// sides are the masses that a side can have, up to one, with the best way to each.
func (b Bars) sides(most Mass) (map[Mass]stack, error) {
	ways := map[Mass]stack{0: make(stack, len(b.Discs))}
	for i, d := range b.Discs {
		next := make(map[Mass]stack, len(ways))
		for side, w := range ways {
			for n := 0; n <= d.Pairs; n++ {
				sum := side + Mass(n)*d.Mass
				if sum > most {
					break
				}
				with := slices.Clone(w)
				with[i] = uint8(n)
				if old, ok := next[sum]; !ok || better(with, old) {
					next[sum] = with
				}
			}
		}
		if ways = next; len(ways) > maxSums {
			return nil, ErrTooMany
		}
	}
	return ways, nil
}

// better says whether a way has fewer discs than another or, with as many, heavier ones.
func better(a, b stack) bool {
	na, nb := 0, 0
	for i := range a {
		na, nb = na+int(a[i]), nb+int(b[i])
	}
	if na != nb {
		return na < nb
	}
	return slices.Compare(a, b) > 0
}

func (b Bars) spell(w stack) []Mass {
	out := []Mass{}
	for i, n := range w {
		for range n {
			out = append(out, b.Discs[i].Mass)
		}
	}
	return out
}

package prose

import (
	"math"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// pairs are the units that coaches of the other system think in, and how finely a figure
// in them is of use: a tenth of a kilogram, a whole pound.
var pairs = map[units.Unit]struct {
	to   units.Unit
	step float64
}{
	units.Kilogram:   {units.Pound, 1},
	units.Pound:      {units.Kilogram, 0.5},
	units.Centimetre: {units.Inch, 1},
	units.Inch:       {units.Centimetre, 1},
	units.Metre:      {units.Yard, 1},
	units.Kilometre:  {units.Mile, 0.01},
	units.Yard:       {units.Metre, 1},
	units.Mile:       {units.Metre, 1},
	units.Foot:       {units.Metre, 0.1},
}

// Other is a weight or a length in the other system, rounded to what is of use there: 53/35
// lb for 24/16 kg. It is empty for what has no other unit.
func Other(q *model.Quantity) string {
	if q == nil || len(q.Terms) == 0 {
		return ""
	}
	from, ok := units.Lookup(q.Unit)
	if q.Written != "" {
		from, ok = units.Lookup(q.Written)
	}
	to, pair := pairs[from]
	if !ok || !pair {
		return ""
	}
	if from == units.Metre && q.Terms[0][0] < 10 { // a target's height
		to.to, to.step = units.Foot, 0.1
	}
	if from == units.Metre && q.Terms[0][0] >= 1000 {
		to.to, to.step = units.Mile, 0.01
	}
	c := *q
	c.Written = to.to.String()
	c.Terms = make([][]float64, len(q.Terms))
	for i, row := range q.Terms {
		for _, v := range row {
			n := math.Round(to.to.FromBase(v)/to.step) * to.step
			c.Terms[i] = append(c.Terms[i], to.to.ToBase(n))
		}
	}
	return Amount(&c)
}

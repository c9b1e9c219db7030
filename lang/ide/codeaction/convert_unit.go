package codeaction

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// otherUnits are the units that a quantity may be written in instead, by how far a coach
// rounds a number in them: common practice, no source.
var otherUnits = map[units.Unit][]units.Unit{
	units.Kilogram:   {units.Pound},
	units.Pound:      {units.Kilogram},
	units.Centimetre: {units.Inch},
	units.Inch:       {units.Centimetre},
	units.Metre:      {units.Yard, units.Foot, units.Mile},
	units.Yard:       {units.Metre},
	units.Foot:       {units.Metre},
	units.Mile:       {units.Metre},
	units.Kilometre:  {units.Mile},
}

// otherHeightUnits are those of a length behind @: a box or a target.
var otherHeightUnits = map[units.Unit][]units.Unit{
	units.Centimetre: {units.Inch}, units.Inch: {units.Centimetre},
	units.Metre: {units.Foot}, units.Foot: {units.Metre},
}

// roundingSteps are what numbers are rounded to: plates and implements come in these, and nobody
// paces out less. Common practice, no source.
var roundingSteps = map[units.Unit]float64{
	units.Kilogram: 0.5, units.Pound: 1, units.Centimetre: 1, units.Inch: 1,
	units.Metre: 1, units.Yard: 1, units.Foot: 1, units.Mile: 0.05,
}

// heightStep is what a height in metres is rounded to, as in 3/2.7 m. Common practice, no
// source.
const heightStep = 0.1

// minMiles is where a distance in metres is worth saying in miles: a quarter of one.
const minMiles = 400

// Units are the other units that the quantity at an offset can be written in.
func Units(s *workspace.Snapshot, f *workspace.File, off int) []Action {
	l, _ := lineAt(f, off)
	if l == nil || l.Bad {
		return nil
	}
	var out []Action
	add := func(q *syntax.Quantity, c converter) {
		if text, ok := c.text(l, q); ok {
			out = append(out, Action{Title: fmt.Sprintf("write %s as %s", f.Src.Slice(l.Span(q.Span)), text),
				Edits: []diag.Edit{{At: f.Src.At(l.Span(q.Span)), New: text}}})
		}
	}
	at := func(q *syntax.Quantity) (units.Unit, bool) {
		from, known := units.Lookup(q.Unit)
		return from, known && q.UnitSpan.Len() > 0 && l.Span(q.Span).Contains(off)
	}
	doses, loads := quantities(l.Stmt)
	for _, q := range doses {
		if from, ok := at(q); ok {
			for _, to := range otherUnits[from] {
				if to != units.Mile || from != units.Metre || maxNumber(q) >= minMiles {
					add(q, converter{from: from, to: to, step: roundingSteps[to]})
				}
			}
		}
	}
	for _, q := range loads {
		from, ok := at(q)
		if !ok {
			continue
		}
		c := converter{from: from, kit: kitLoads(s, from.Dimension())}
		tos := otherUnits[from]
		if from.Dimension() == units.Length {
			tos = otherHeightUnits[from]
		}
		for _, to := range tos {
			c.to, c.step = to, roundingSteps[to]
			if to == units.Metre {
				c.step = heightStep
			}
			add(q, c)
		}
	}
	return out
}

// maxNumber is the greatest number of a quantity.
func maxNumber(q *syntax.Quantity) float64 {
	out := 0.0
	for _, st := range q.Steps {
		for _, n := range st.Tiers {
			out = max(out, n.Value)
		}
	}
	return out
}

// kitLoads are the loads or the heights of the house's kit, in the base unit.
func kitLoads(s *workspace.Snapshot, d units.Dimension) []float64 {
	unit := map[units.Dimension]string{units.Mass: "kg", units.Length: "m"}[d]
	var out []float64
	for _, k := range s.Env.House.Kit {
		for _, ld := range k.Loads {
			if v, ok := ld.Amount.One(); ok && ld.Amount.Unit == unit {
				out = append(out, v)
			}
		}
	}
	return out
}

// A converter writes quantities in another unit.
type converter struct {
	from, to units.Unit
	step     float64   // what is rounded to
	kit      []float64 // what the house has, which goes by the nearest number
}

// text is a quantity in the other unit, and whether it is one: a number that would come
// out as nothing is none.
func (c converter) text(l *syntax.Line, q *syntax.Quantity) (string, bool) {
	type piece struct {
		source.Span
		text string
	}
	ps := []piece{{q.UnitSpan, c.to.String()}}
	for _, st := range q.Steps {
		for _, n := range st.Tiers {
			v := c.number(n.Value)
			if v <= 0 && n.Value > 0 || n.Clock {
				return "", false
			}
			text := units.FormatNumber(v)
			if n.More {
				text += "+"
			}
			ps = append(ps, piece{n.Span, text})
		}
	}
	slices.SortFunc(ps, func(a, b piece) int { return a.Start - b.Start })
	var b strings.Builder
	at := q.Start
	for _, p := range ps {
		if p.Start < at {
			return "", false
		}
		b.WriteString(l.Text[at:p.Start])
		b.WriteString(p.text)
		at = p.End
	}
	b.WriteString(l.Text[at:q.End])
	return b.String(), true
}

func (c converter) number(v float64) float64 {
	out, err := units.Convert(v, c.from, c.to)
	if err != nil {
		return 0
	}
	base := c.from.ToBase(v)
	for _, k := range c.kit {
		if has := c.to.FromBase(k); units.SameByName(k, base) && c.round(has) == has {
			return has
		}
	}
	return c.round(out)
}

func (c converter) round(v float64) float64 {
	return math.Round(math.Round(v/c.step)*c.step*1e6) / 1e6
}

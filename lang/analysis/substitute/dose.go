package substitute

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// keeps is how far off in time a count may be and carry over all the same. No source.
const keeps = 0.25

// right is the right side of the swap of a line by another movement: the name alone where
// the count carries over, and the count with it where it would take another time. It is
// empty where the count neither carries over nor can be written again.
func (m *maker) right(w *model.Work, around []*model.Group, to *book.Movement) string {
	if len(w.Moves) > 1 && !w.Choice {
		return m.complex(w, around, to)
	}
	from := w.Moves[0].Movement
	unit := "s"
	if w.Dose != nil {
		unit = w.Dose.Unit
	}
	in, _ := countedIn(m.env, to, unit, w.Dose != nil && w.Dose.Max)
	if w.Dose == nil || w.From == model.FromClock {
		return to.Name
	}
	if w.Dose.Max {
		switch {
		case in == unit:
			return to.Name
		case in == "rep":
			return "max " + to.Name
		}
		return "max " + in + " " + to.Name
	}
	if text, ok := m.heavyDose(w, around, to); ok {
		return text
	}
	ratio := m.ratio(from, to, unit, in)
	counted := w.Dose.Form == syntax.One || w.Dose.Form == syntax.Range
	fixed := w.From == model.FromHead || w.SetsOf != nil || w.Past != nil || len(w.Terms) > 0 || !counted || w.Dose.More || w.Dose.Bound != ""
	switch {
	case unit == "s" || unit == "%" || unit == "breath" && in == unit, in == unit && (fixed || hard(w)):
		return to.Name
	case fixed:
		return "" // its counts are somebody else's to change
	case in == unit && len(around) > 0 && around[0].Kind != model.Part:
		return to.Name // nobody times a warm-up
	case in == unit && from.Main() == book.Jump && to.Main() == book.Jump:
		return to.Name // landings are counted: quicker jumps are no reason for more of them
	case in == unit && in != "s" && math.Abs(1/ratio-1) <= keeps && !(unit == "m" && from.Main() != to.Main()):
		return to.Name
	}
	return m.amount(w, ratio, in) + " " + to.Name + m.manner(w)
}

// ratio is how many of one movement take as long as one of another.
func (m *maker) ratio(from, to *book.Movement, unit, in string) float64 {
	a, ok := estimate.Pace(m.env.House, from, unit)
	b, known := estimate.Pace(m.env.House, to, in)
	if !ok || !known || b <= 0 {
		return 1
	}
	return a / b
}

// amount is the dose of a line, so many times, in a unit. A distance is one for all tiers:
// nobody at home runs with another.
func (m *maker) amount(w *model.Work, ratio float64, unit string) string {
	even := w.Alternating || w.Share == model.SplitEvenly
	var terms []string
	for _, row := range w.Dose.Terms {
		var tiers []string
		if unit == "m" {
			row = []float64{slices.Max(row)}
		}
		for _, v := range row {
			switch unit {
			case "m":
				tiers = append(tiers, number(m.metres(v*ratio)))
			case "s":
				tiers = append(tiers, units.FormatClock(max(5, 5*math.Round(v*ratio/5))))
			default:
				tiers = append(tiers, number(repetitions(v*ratio, even)))
			}
		}
		if !slices.ContainsFunc(tiers, func(s string) bool { return s != tiers[0] }) {
			tiers = tiers[:1]
		}
		terms = append(terms, strings.Join(tiers, "/"))
	}
	if len(terms) == 2 && terms[0] == terms[1] {
		terms = terms[:1]
	}
	text := strings.Join(terms, "-")
	if unit != "rep" && unit != "s" {
		text += " " + unit
	}
	if w.Side {
		text += "/side"
	}
	return text
}

// repetitions rounds a count as coaches do: whole, by two beyond a dozen and by five beyond
// thirty.
func repetitions(v float64, even bool) float64 {
	step := 1.0
	switch {
	case v > 30 && even:
		step = 10
	case v > 30:
		step = 5
	case v > 12 || even:
		step = 2
	}
	return max(step, math.Round(v/step)*step)
}

// metres rounds a distance as coaches do: by fifty, by a hundred from a thousand on, and
// finer only where that would be another distance. No source.
func (m *maker) metres(v float64) float64 {
	steps := []float64{50, 25, 10}
	if v >= 1000 {
		steps = []float64{100}
	}
	for i, step := range steps {
		n := max(1, math.Round(v/step)) * step
		if math.Abs(n/v-1) > 0.15 && i+1 < len(steps) {
			continue
		}
		if m.try.less && n > step {
			n -= step
		}
		return n
	}
	return v
}

// manner is what a line says of how it is done, which goes with its count.
func (m *maker) manner(w *model.Work) string {
	if w.Alternating {
		return ", alternating"
	}
	return ""
}

// complex is the right side for a complex that becomes one movement: as many as take the
// time, and twice that where it was heavy.
func (m *maker) complex(w *model.Work, around []*model.Group, to *book.Movement) string {
	took := 0.0
	for i, mv := range w.Moves {
		count := w.Dose
		if i > 0 && mv.Count != nil {
			count = mv.Count
		}
		n, _, known := count.Value(0, 1, 0)
		if !known {
			n = 1
		}
		if s, ok := estimate.Pace(m.env.House, mv.Movement, "rep"); ok {
			took += n * s
		}
	}
	per, ok := estimate.Pace(m.env.House, to, "rep")
	if !ok || per <= 0 {
		return to.Name
	}
	n := took / per
	if m.isHeavy(w, around) {
		n *= 2
	}
	return number(max(1, math.Round(n))) + " " + to.Name
}

package hover

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// loadCard is the card of a load: of a line, where w is not nil, and of a movement, where m is
// known.
func (s *target) loadCard(l *model.Load, w *model.Work, m *book.Movement) *Card {
	c := &Card{At: l.At, Title: prose.Load(*l), Kind: "load"}
	switch l.Kind {
	case syntax.Mass:
		s.addMass(c, l, m)
	case syntax.Height:
		c.Kind = "height"
		s.addTiers(c, l.Amount)
		if !s.hasOwnKit() {
			s.addKit(c, l, m)
		}
	case syntax.Share:
		s.addShare(c, l, w)
	case syntax.RPE:
		s.addExertion(c, l)
	case syntax.RIR:
		s.addReserve(c, l, w)
	case syntax.Rising:
		c.row("", map[string]string{
			"rising":  "it goes up each turn, by as much as the athlete chooses",
			"falling": "it comes down each turn, by as much as the athlete chooses",
			"faster":  "each turn is done faster than the one before",
			"slower":  "each turn is done slower than the one before",
		}[l.Word])
	case syntax.Earlier:
		c.row("", "so heavy as it was in an earlier turn, which only the day will show")
	case syntax.Noted:
		c.row("", "in words: nothing is worked out from it")
	case syntax.Named:
		if e := s.effortCard(l.Word); e != nil {
			e.At = l.At
			return e
		}
	case syntax.Effort:
		c.row("", "of the hardest that a member can go for so long; the estimate is slower by it")
	case syntax.Cadence:
		s.addCadence(c, l, w)
	case syntax.Reading:
		c.row("", "as the monitor or the strap shows it")
	case syntax.Pace:
		text := "as fast as a race over that distance"
		if l.Amount.Unit == "s" {
			text = "as hard as somebody can keep up for that time"
		}
		if l.Share != nil {
			text = prose.Amount(l.Share) + " of that: " + text
		}
		c.row("", text+prose.Slower(*l, prose.Amount))
	}
	if len(c.Rows) == 0 {
		return nil
	}
	return c
}

// addMass says what a weight is by tier and in the other unit, what the house has, and how to
// load the bar.
func (s *target) addMass(c *Card, l *model.Load, m *book.Movement) {
	s.addTiers(c, l.Amount)
	if n, ok := l.Count.One(); ok && n > 1 && l.Amount != nil {
		all := *l.Amount
		all.Terms = scaled(all.Terms, n)
		c.row("together", prose.Amount(&all))
	}
	if s.hasOwnKit() {
		return
	}
	if !s.addBar(c, l, m) {
		s.addKit(c, l, m)
	}
}

// hasOwnKit says whether the place is in a version with kit of its own, such as one for
// home, where nothing is known of the weights.
func (s *target) hasOwnKit() bool { return s.version != nil && s.version.HasOnly }

// addTiers says an amount tier by tier, each with the other unit.
func (s *target) addTiers(c *Card, q *model.Quantity) {
	if q == nil {
		return
	}
	tiers := s.env().House.Tiers
	if q.Tiers() == 1 || len(q.Terms) != 1 || len(tiers) != q.Tiers() {
		if other := prose.Other(q); other != "" {
			c.row("", "about "+other)
		}
		return
	}
	for i, tier := range tiers {
		one := *q
		one.Terms = [][]float64{{q.Terms[0][i]}}
		text := prose.Amount(&one)
		if other := prose.Other(&one); other != "" {
			text += ", about " + other
		}
		c.row(tier, text)
	}
}

// addKit says what the house has of the movement's kit in the weights or heights asked
// for.
func (s *target) addKit(c *Card, l *model.Load, m *book.Movement) {
	kit, owned := s.loadable(m, l.Kind)
	if kit == "" || l.Amount == nil {
		return
	}
	var has, lacks []string
	for _, v := range values(l.Amount) {
		n := 0
		for _, o := range owned {
			if equipment.SameByName(v, l.Amount.Written, o.Value, o.Written) {
				n += o.Count
			}
		}
		one := *l.Amount
		one.Terms, one.Form = [][]float64{{v}}, syntax.One
		if n > 0 {
			has = append(has, fmt.Sprintf("%d of %s", n, prose.Amount(&one)))
		} else {
			lacks = append(lacks, prose.Amount(&one))
		}
	}
	if len(has) > 0 {
		c.row(kit, "the house has "+wording.And(has))
	}
	if len(lacks) > 0 {
		c.row(kit, "the house has none of "+strings.Join(lacks, " or "))
	}
}

// addBar says how a bar is loaded, where the movement is done with one and the house
// lists its bars and discs.
func (s *target) addBar(c *Card, l *model.Load, m *book.Movement) bool {
	if m == nil || l.Amount == nil || l.Count != nil {
		return false
	}
	for _, k := range m.Needs {
		bars, ok := equipment.BarsOf(s.env().Book, s.env().House, k)
		if !ok || !slices.Contains(equipment.BarKinds, k) || slices.Contains(m.Needs, "landmine") {
			continue
		}
		vs := values(l.Amount)
		for _, v := range vs[:min(len(vs), maxListed)] {
			fit, err := bars.Fit(equipment.Kg(v))
			if err != nil {
				continue
			}
			label := k
			if len(vs) > 1 {
				label = units.FormatNumber(v) + " kg"
			}
			switch {
			case fit.Exact != nil:
				c.row(label, barText(*fit.Exact))
			case fit.Below != nil && fit.Above != nil:
				c.row(label, fmt.Sprintf("cannot be loaded exactly: %s kg or %s kg can",
					units.FormatNumber(fit.Below.Total().Kg()), units.FormatNumber(fit.Above.Total().Kg())))
			case fit.Above != nil:
				c.row(label, fmt.Sprintf("less than the lightest bar, which is %s kg",
					units.FormatNumber(fit.Above.Total().Kg())))
			case fit.Below != nil:
				c.row(label, fmt.Sprintf("more than the discs come to, which is %s kg",
					units.FormatNumber(fit.Below.Total().Kg())))
			}
		}
		return true
	}
	return false
}

// barText is a loaded bar: the 20 kg bar, and 15 + 2.5 kg on each side.
func barText(b equipment.Build) string {
	text := "the " + units.FormatNumber(b.Bar.Kg()) + " kg bar"
	if len(b.Side) == 0 {
		text += " alone"
	} else {
		var side []string
		for _, d := range b.Side {
			side = append(side, units.FormatNumber(d.Kg()))
		}
		text += ", and " + strings.Join(side, " + ") + " kg on each side"
	}
	if b.Collars > 0 {
		text += ", collars " + units.FormatNumber(b.Collars.Kg()) + " kg"
	}
	return text
}

// values are the numbers of an amount, each once, the least first.
func values(q *model.Quantity) []float64 {
	var out []float64
	for _, row := range q.Terms {
		out = append(out, row...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func scaled(terms [][]float64, by float64) [][]float64 {
	out := make([][]float64, len(terms))
	for i, row := range terms {
		for _, v := range row {
			out[i] = append(out[i], v*by)
		}
	}
	return out
}

// tableNote stands under figures of tables that hold for a typical athlete.
const tableNote = "Figures of a printed table, for a typical athlete; people differ widely."

// addShare says how many repetitions a percentage of a maximum allows.
func (s *target) addShare(c *Card, l *model.Load, w *model.Work) {
	switch b := l.Base; {
	case b == nil || l.Amount == nil:
	case b.Kind == model.OfRM || b.Kind == model.OfMovement:
		of := 1.0
		if b.Reps > 1 {
			p, err := strength.Share(float64(b.Reps))
			if err != nil {
				return
			}
			of = p / 100
		}
		vs := values(l.Amount)
		if len(vs) == 0 {
			return
		}
		text, ok := repsAt(vs[0]*of, vs[len(vs)-1]*of)
		if !ok {
			c.row("",
				"the tables of repetitions say nothing of it: they go from 65 to 100 % of a one-repetition maximum")
			return
		}
		c.row("", text+" can just be done with it")
		if n, one := doseOf(w); one {
			c.row("", "the line asks for "+units.FormatNumber(n))
		}
		s.addRounded(c, w, vs)
		c.Foot = tableNote
	case b.Kind == model.OfToday:
		c.row("", "of the heaviest that the athlete has lifted in this session")
	case b.Kind.IsPast():
		c.row("", "of what the athlete has lifted in "+string(b.Kind)+" turn")
	case b.Kind == model.OfBodyweight:
		c.row("", "of the athlete's own weight")
	default:
		c.row("", "of the most that the athlete has shown: "+string(b.Kind))
	}
}

// addRounded says what shares are of some maxima, as the house rounds them.
func (s *target) addRounded(c *Card, w *model.Work, shares []float64) {
	if s.env().House.Rounding == nil || w == nil || len(w.Moves) == 0 || w.Moves[0].Movement == nil {
		return
	}
	bar := ""
	for _, k := range w.Moves[0].Movement.Needs {
		if slices.Contains(equipment.BarKinds, k) {
			bar = k
		}
	}
	for _, maximum := range []float64{60, 80, 100, 120} {
		var out []string
		for _, share := range shares[:min(len(shares), maxListed)] {
			if kg, ok := equipment.Round(s.env().Book, s.env().House, bar, maximum*share/100); ok {
				out = append(out, units.FormatNumber(kg)+" kg")
			}
		}
		if len(out) > 0 {
			c.row("of "+units.FormatNumber(maximum)+" kg", strings.Join(slices.Compact(out), ", ")+", "+prose.Rounded(s.env().House.Rounding))
		}
	}
}

// repsAt is how many repetitions can just be done between two percentages of a maximum.
func repsAt(lo, hi float64) (string, bool) {
	most, err1 := strength.Reps(lo)
	least, err2 := strength.Reps(hi)
	if err1 != nil || err2 != nil {
		return "", false
	}
	a, b := units.FormatNumber(math.Round(least)), units.FormatNumber(math.Round(most))
	if a != b {
		a += " to " + b
	}
	if a == "1" {
		return "about 1 repetition", true
	}
	return "about " + a + " repetitions", true
}

// doseOf is how many repetitions a line asks for, where that is one number.
func doseOf(w *model.Work) (float64, bool) {
	if w == nil || w.Dose == nil || w.Dose.Unit != "rep" {
		return 0, false
	}
	return w.Dose.One()
}

// addExertion says how many repetitions a rating leaves.
func (s *target) addExertion(c *Card, l *model.Load) {
	c.Kind = "rating of perceived exertion"
	v, ok := l.Amount.One()
	if !ok {
		c.row("", "how hard the last repetition is, of 10")
		return
	}
	least, most, err := strength.InReserve(v)
	switch {
	case err != nil:
		c.row("", "a light effort, too far from the end to count what is left")
	case v == 9.5:
		c.row("", "no repetition left, but a little more load would have gone")
	case v == 10:
		c.row("", "nothing left: the last repetition that goes")
	case least == most:
		c.row("", "about "+wording.Count(int(least), "repetition")+" left")
	default:
		c.row("", fmt.Sprintf("%s to %s repetitions left", units.FormatNumber(least), units.FormatNumber(most)))
	}
}

// addReserve says what share of a maximum goes with so many repetitions left.
func (s *target) addReserve(c *Card, l *model.Load, w *model.Work) {
	c.Kind = "repetitions in reserve"
	v, ok := l.Amount.One()
	if !ok {
		c.row("", "so many repetitions could still have been done")
		return
	}
	c.row("", "stop when "+wording.Count(int(v), "more repetition")+" would still go")
	if w == nil || w.Dose == nil || w.Dose.Unit != "rep" || len(w.Dose.Terms) == 0 {
		return
	}
	reps := values(w.Dose)
	hi, err1 := strength.ShareWith(reps[0], v)
	lo, err2 := strength.ShareWith(reps[len(reps)-1], v)
	if err1 != nil || err2 != nil {
		return
	}
	text := fmt.Sprintf("%.0f", lo)
	if hi-lo >= 1 {
		text += fmt.Sprintf(" to %.0f", hi)
	}
	c.row("", fmt.Sprintf("%s with %s left is about %s %% of a one-repetition maximum", prose.Number(w.Dose),
		units.FormatNumber(v), text))
	c.Foot = tableNote
}

// addCadence says how long a line takes at a stated pace.
func (s *target) addCadence(c *Card, l *model.Load, w *model.Work) {
	c.Kind = "pace"
	v, ok := l.Amount.One()
	if !ok || l.Per <= 0 {
		return
	}
	if l.Per != 1 {
		c.row("", fmt.Sprintf("%.2f s per %s", v/l.Per, l.Unit))
	}
	if w != nil && w.Dose != nil && w.Dose.Unit == l.Unit {
		if d, one := w.Dose.One(); one {
			c.row("the line takes", units.FormatClock(v/l.Per*d)+" at it")
		}
	}
}

package format

import (
	"slices"
	"strings"

	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// item prints a line of work: dose, names, terms, loads, until, clauses.
func item(it *syntax.Item) string {
	text, behind := dose(it.Dose, it.Moves)
	for i, m := range it.Moves {
		switch {
		case i > 0 && it.Or:
			text += " or "
		case i > 0:
			text += " + "
		}
		text += moveCount(&m) + m.Name.Text
		if i == 0 {
			text += behind
		}
	}
	for i, t := range it.Terms {
		text += pick(i == 0, " = ", " + ") + piece(&t, it.Dose)
		if t.Label.Text != "" {
			text += " " + keyword(t.Label, labels...)
		}
	}
	// Behind a rest, until would be when that ends.
	clauses := ordered(it.Clauses, false)
	last := noted(it.Until) && !slices.ContainsFunc(clauses, func(c syntax.Clause) bool { return c.Kind == syntax.RestOf })
	text += loads(it.Loads, false)
	if !last {
		text += until(it.Until)
	}
	for _, c := range clauses {
		text += ", " + clause(&c)
	}
	if last {
		text += until(it.Until)
	}
	return text + loads(it.Loads, true)
}

// piece prints a piece of a dose: in the dose's unit, which is left out, but for a duration that is
// printed as a clock value.
func piece(t *syntax.Term, dose *syntax.Dose) string {
	q := &syntax.Quantity{Amount: syntax.Amount{Form: syntax.One, Steps: []syntax.Step{{Value: t.Count}}}, Unit: t.Unit}
	if q.Unit == "" && dose != nil && dose.Amount != nil && !q.Clocked() {
		if _, time := factors[dose.Amount.Unit]; time {
			q.Unit = dose.Amount.Unit
		}
	}
	return quantity(q)
}

// moveCount prints the count that a movement has for itself, inside a complex or a
// choice. As before a line's first movement, it says that it counts repetitions where
// the name begins with a word that would be read as a unit.
func moveCount(m *syntax.Move) string {
	if m.Count == nil {
		return ""
	}
	text := quantity(m.Count)
	if m.Count.Unit == "" {
		text = count(&m.Count.Amount)
		if unitOrX(m.Name.Text) && taken(text, m.Name.Text) {
			text += unit(units.Rep.String())
		}
	}
	return text + " "
}

// labels are the words of the notation for the terms of a dose.
var labels = []string{"left", "right", "forward", "back", "in", "out"}

// dose prints a dose before the name of the first movement. Where that begins with a
// word that would be read as part of the dose, such as "foot" or "rounds", the dose
// says that it counts repetitions, or stands behind the name.
func dose(d *syntax.Dose, moves []syntax.Move) (before, behind string) {
	if d == nil {
		return "", ""
	}
	sets, side, what := "", "", "max"
	if d.Sets != nil {
		sets = count(d.Sets) + " x "
	}
	if d.Side {
		side = "/side"
	}
	united := d.Max && d.Unit != ""
	switch {
	case d.RM > 0:
		what, united = num(syntax.Num{Value: d.RM})+"RM", true
	case d.Past != nil && d.Amount == nil:
		what = past(d.Past)
	case d.Past != nil:
		what = quantity(d.Amount) + " of " + past(d.Past)
	case d.Amount == nil:
		what += unit(d.Unit)
	case d.Max:
		what = quantity(d.Amount) + " max" + unit(d.Unit)
	case d.OfMax:
		what, united = quantity(d.Amount)+" of max", true
	case d.Amount.Unit == "":
		what = count(&d.Amount.Amount)
	default:
		what, united = quantity(d.Amount), true
	}
	text := sets + what
	if first, _, _ := strings.Cut(strings.ToLower(moves[0].Name.Text), " "); first == "round" && d.Amount != nil && d.Amount.Unit != "" {
		if sets, last := strings.CutSuffix(text, quantity(d.Amount)); last {
			text = sets + written(d.Amount) // with the time behind the name, it would be that round
		}
	}
	switch {
	case d.Past != nil && !unitOrX(moves[0].Name.Text): // behind an earlier turn no rounds are read
	case !taken(text+side, moves[0].Name.Text):
	case united || side != "" || strings.HasSuffix(text, "...") || strings.Contains(lastField(text), ":"):
		return "", " " + text + side
	default:
		text += unit(units.Rep.String())
	}
	return text + side + " ", ""
}

// taken reports whether the first word of a name would be read as part of the dose that
// stands before it.
func taken(dose, name string) bool {
	words := strings.Fields(strings.ToLower(name))
	first := words[0]
	counted := words[min(len(words)-1, prefix(words, "to"))] // "5 to rounds" is a head that lacks a number
	last := dose[len(dose)-1]
	step := lastField(strings.TrimSuffix(dose, "-..."))
	number := '0' <= last && last <= '9' || last == '+'
	clock := strings.Contains(step, ":")
	switch {
	case syntax.RoundsBehindCount(counted):
		return number || last == '.'
	case first == "x":
		behind := number || last == '.' || strings.HasSuffix(dose, "/side") || slices.Contains([]string{"s", "min", "h"}, lastField(dose))
		return behind && len(words) > 1 && slices.Contains([]string{"work", "max", "up", "at"}, words[1])
	case unitWord(first):
		return (number || last == '.') && !clock || strings.HasSuffix(dose, "max")
	}
	return false
}

// prefix is how many of the words at the start are the one word.
func prefix(words []string, word string) int {
	n := 0
	for n < len(words) && words[n] == word {
		n++
	}
	return n
}

// unitWord reports whether a word is a unit behind a number. Those of loads are units
// behind @ only.
func unitWord(word string) bool {
	u, ok := units.Lookup(word)
	return ok && u.Dimension() != units.Mass && u != units.Centimetre && u != units.Inch
}

// unitOrX reports whether a name begins with a word that is a unit behind a number, or the
// x between two.
func unitOrX(name string) bool {
	first, _, _ := strings.Cut(strings.ToLower(name), " ")
	return first == "x" || unitWord(first)
}

// lastField is the last step of an amount as printed.
func lastField(text string) string { return text[strings.LastIndexAny(text, " -/")+1:] }

func pick[T any](yes bool, a, b T) T {
	if yes {
		return a
	}
	return b
}

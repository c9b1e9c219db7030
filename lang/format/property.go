package format

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

func scaling(s *syntax.Scaling) string {
	if len(s.From) == 0 {
		return "scaling " + s.Name.Text
	}
	return "scaling " + s.Name.Text + " from " + names(s.From)
}

func swap(s *syntax.Swap) string {
	from, to := place(s.Part, s.Letter), "nothing"
	switch {
	case s.From == nil: // the whole part
	case s.Part == "":
		from = statement(s.From)
	default:
		from += ": " + statement(s.From)
	}
	if !s.Nothing {
		to = statement(s.To)
	}
	return from + " -> " + to
}

// property prints a line that is no work: its keyword and what belongs to it.
func property(p *syntax.Property) string {
	out := []string{p.Key}
	add := func(text string) {
		if text != "" {
			out = append(out, text)
		}
	}
	switch p.Key {
	case "pace", "unbroken":
		add(pace(p))
	case "score":
		if p.Score.What != syntax.ScoreNote {
			add(p.Score.Agg)
			add(p.Score.What + penalties(p.Score.Penalties))
		}
	case "aim":
		add(aim(p))
	case "total":
		add(pick(p.After > 0, fmt.Sprintf("after round %d:", p.After), ""))
		add(totals(p.Items))
	case "rule":
		add(rule(p))
	case "effort":
		add(names(p.Names))
		if p.Quantity.Unit == "RPE" {
			add("RPE " + amount(&p.Quantity.Amount))
		} else {
			add(quantity(p.Quantity))
		}
	case "progress":
		if p.Sets != nil {
			add(amount(p.Sets) + " x")
		}
		if p.Quantity != nil {
			add(before(p.Quantity, p.Names[0].Text))
		}
		add(names(p.Names))
	case "week":
		add(quantity(p.Quantity))
		add(names(p.Names))
	case "mon", "tue", "wed", "thu", "fri", "sat", "sun":
		if p.Time != nil {
			add(value(*p.Time))
		}
		add(names(p.Names) + pick(p.Version.Text != "", ", "+p.Version.Text, ""))
	case "round":
		add("loads " + pick(p.Up, "up", "down") + " to")
		if p.Quantity == nil {
			add("discs")
		} else {
			add(quantity(p.Quantity))
		}
	case "needs":
		add(needs(p))
	case "start":
		add(value(*p.Time))
	default: // names, an amount, a date: no line has more than two of them
		add(names(p.Names))
		if p.Quantity != nil {
			add(quantity(p.Quantity))
		}
		add(p.Date)
	}
	return strings.Join(out, " ") + loads(p.Loads, false)
}

func names(ns []syntax.Name) string {
	out := make([]string, len(ns))
	for i, n := range ns {
		out[i] = n.Text
	}
	return strings.Join(out, ", ")
}

func penalties(ps []syntax.Penalty) string {
	text := ""
	for _, p := range ps {
		text += ", " + pick(p.Minus, "-", "+") + quantity(p.Amount) + " per " + p.Per.Text
	}
	return text
}

// needs prints pieces of kit, each with what stands in for it.
func needs(p *syntax.Property) string {
	out := make([]string, len(p.Names))
	for i, n := range p.Names {
		out[i] = n.Text
		if i < len(p.Or) {
			for _, o := range p.Or[i] {
				out[i] += " or " + o.Text
			}
		}
	}
	return strings.Join(out, ", ")
}

// pace prints three values, their unit and what it is per. The unit stays as it is
// written, in whatever part of a second the values are.
func pace(p *syntax.Property) string {
	text := paces(p.Quantity.Steps[0].Value) + unit(p.Quantity.Unit)
	if p.Per != "" {
		text += " per " + p.Per
	}
	return text
}

// counted are the words of the notation for what an aim counts.
var counted = []string{"rounds", "reps", "load", "time", "distance", "calories"}

func aim(p *syntax.Property) string {
	if p.Rest != nil {
		return rest(p.Rest)
	}
	if p.At {
		return "at " + quantity(p.Quantity)
	}
	if len(p.Names) == 0 {
		return sum(p.Quantity)
	}
	return sum(p.Quantity) + " " + keyword(p.Names[0], counted...)
}

func totals(items []*syntax.Item) string {
	out := make([]string, len(items))
	for i, it := range items {
		q := it.Dose.Amount
		if len(it.Moves) == 0 {
			out[i] = sum(q)
		} else {
			out[i] = before(q, it.Moves[0].Name.Text) + " " + it.Moves[0].Name.Text
		}
		out[i] = strings.TrimSpace(it.Whose+" "+out[i]) + loads(it.Loads, false)
	}
	return strings.Join(out, ", ")
}

// sum prints a quantity that stands for itself: 90 reps, 800 m, 12:00.
func sum(q *syntax.Quantity) string {
	if q.Unit == units.Rep.String() {
		return amount(&q.Amount) + " " + plural(q.Unit, once(&q.Amount))
	}
	return quantity(q)
}

// before prints a quantity that stands before a name. Where the name begins with a word
// that would be read as its unit, it says that it counts repetitions.
func before(q *syntax.Quantity, name string) string {
	text := sum(q)
	if q.Unit == "" && unitOrX(name) && taken(text, name) {
		return text + unit(units.Rep.String())
	}
	return text
}

func rule(p *syntax.Property) string {
	text := names(p.Names) + pick(p.Error, " error", "")
	for i := range p.Settings {
		s := &p.Settings[i]
		text += ", " + s.Key.Text + " " + quantity(&s.Value)
	}
	return text
}

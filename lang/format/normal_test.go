package format

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"unicode"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// normal writes down what a file means, as far as one line can say: the tree without
// its spans, with what may be written in several ways brought to one. It shares no code
// with the formatter, whose guard it is.
func normal(f *syntax.File) []string {
	out := make([]string, len(f.Lines))
	for i, l := range f.Lines {
		switch {
		case l.Bad:
			out[i] = fmt.Sprint(l.Depth, " as written: ", strings.TrimRightFunc(l.Text, unicode.IsSpace))
		case l.Stmt == nil && l.Note == nil && l.Comment == nil:
		default:
			out[i] = fmt.Sprint(l.Depth, " ", dump(reflect.ValueOf(l.Stmt)))
		}
	}
	return out
}

// texts are the notes and comments of a file, in order.
func texts(f *syntax.File) (out []string) {
	for _, l := range f.Lines {
		if l.Note != nil {
			out = append(out, "> "+l.Note.Text)
		}
		if l.Comment != nil {
			out = append(out, "# "+l.Comment.Text)
		}
	}
	return out
}

var spanType = reflect.TypeFor[source.Span]()

func dump(v reflect.Value) string {
	if !v.IsValid() {
		return "-"
	}
	if v.Kind() == reflect.Interface || v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return "-"
		}
		return dump(v.Elem())
	}
	switch x := v.Interface().(type) {
	case syntax.Quantity:
		return quantityOf(x)
	case syntax.Amount:
		return amountOf(x, 1)
	case syntax.Name:
		return x.Text
	case syntax.Value:
		return valueOf(x, 1)
	case syntax.Item:
		return itemOf(x)
	case syntax.Repeat:
		return repeatOf(x)
	case syntax.Load:
		return loadOf(x)
	case syntax.Head:
		x.Clauses = sortedClauses(x.Clauses, "each side|cap|lasts|in|one works|split|split evenly|with|carry on|each +|effort|rest")
		return fields(reflect.ValueOf(x))
	case syntax.Clause:
		if x.Kind == syntax.TempoOf {
			return "tempo " + phases(x.Tempo)
		}
	case syntax.Rest:
		x.Between.Text = strings.ToLower(x.Between.Text)
		return fields(reflect.ValueOf(x))
	case syntax.Lead:
		if x.Kind == "at each" && x.Amount != nil {
			return fmt.Sprint("at each ", amountOf(x.Amount.Amount, 1), x.Amount.Unit, dump(reflect.ValueOf(x.From)), dump(reflect.ValueOf(x.Inline)))
		}
	case syntax.Term:
		return valueOf(x.Count, 1) + strings.ToLower(x.Label.Text)
	case syntax.Property:
		if x.Key == "aim" && len(x.Names) > 0 {
			x.Names = []syntax.Name{{Text: strings.ToLower(x.Names[0].Text)}}
		}
		return fields(reflect.ValueOf(x))
	}
	switch v.Kind() {
	case reflect.Struct:
		return fields(v)
	case reflect.Slice:
		var parts []string
		for i := range v.Len() {
			parts = append(parts, dump(v.Index(i)))
		}
		return "[" + strings.Join(parts, "; ") + "]"
	}
	return fmt.Sprintf("%#v", v.Interface())
}

func fields(v reflect.Value) string {
	var parts []string
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Type == spanType || f.Anonymous || v.Field(i).IsZero() {
			continue
		}
		parts = append(parts, f.Name+"="+dump(v.Field(i)))
	}
	return v.Type().Name() + "{" + strings.Join(parts, " ") + "}"
}

func numOf(n syntax.Num, factor float64) string {
	more := ""
	if n.More {
		more = " or more"
	}
	if n.Clock || factor != 1 {
		return fmt.Sprintf("%.9g seconds", n.Value*factor) + more
	}
	return fmt.Sprintf("%.17g", n.Value) + more
}

func valueOf(v syntax.Value, factor float64) string {
	var parts []string
	for _, n := range v.Tiers {
		parts = append(parts, numOf(n, factor))
	}
	return strings.Join(parts, "/")
}

func amountOf(a syntax.Amount, factor float64) string {
	parts := []string{string(a.Form)}
	for _, s := range a.Steps {
		if s.Dots {
			parts = append(parts, "dots")
		} else {
			parts = append(parts, valueOf(s.Value, factor))
		}
	}
	return "(" + strings.Join(parts, " ") + ")"
}

// quantityOf takes a duration in seconds, whatever its unit. A second alone has a
// factor of one all the same, and a clock and a number in one amount are no duration.
func quantityOf(q syntax.Quantity) string {
	factor, isTime := map[string]float64{"s": 1 + 1e-15, "min": 60, "h": 3600}[q.Unit]
	for _, s := range q.Steps {
		for _, n := range s.Tiers {
			if n.Clock {
				isTime = false
			}
		}
	}
	if isTime {
		return amountOf(q.Amount, factor)
	}
	return amountOf(q.Amount, 1) + q.Unit
}

// countOf spells out every number from one count to another.
func countOf(a *syntax.Amount, series bool) string {
	if a == nil {
		return "-"
	}
	if a.Form == syntax.FromTo && len(a.Steps[0].Tiers) == 1 && len(a.Steps[1].Tiers) == 1 {
		x, y := a.Steps[0].Tiers[0], a.Steps[1].Tiers[0]
		d := math.Abs(y.Value - x.Value)
		plain := !x.Clock && !y.Clock && !x.More && !y.More && math.Mod(x.Value, 1) == 0 && math.Mod(y.Value, 1) == 0
		if plain && d > 0 && (series || d > 1 || y.Value < x.Value) {
			way := math.Copysign(1, y.Value-x.Value)
			switch d {
			case 1:
				return fmt.Sprintf("(series %.17g %.17g)", x.Value, y.Value)
			case 2:
				return fmt.Sprintf("(series %.17g %.17g %.17g)", x.Value, x.Value+way, y.Value)
			}
			return fmt.Sprintf("(series %.17g %.17g dots %.17g)", x.Value, x.Value+way, y.Value)
		}
	}
	return amountOf(*a, 1)
}

func itemOf(it syntax.Item) string {
	var parts []string
	clauses := it.Clauses
	if d := it.Dose; d != nil {
		side := d.Side
		clauses = slices.DeleteFunc(slices.Clone(clauses), func(c syntax.Clause) bool { return c.Kind == syntax.EachSide })
		side = side || len(clauses) < len(it.Clauses)
		parts = append(parts, fmt.Sprint("dose ", dump(reflect.ValueOf(d.Sets)), " of ", howMuch(d.Amount), d.Max, d.Unit, d.OfMax, d.RM, side))
	}
	for _, m := range it.Moves {
		parts = append(parts, fmt.Sprint("move ", howMuch(m.Count), m.Name.Text))
	}
	clauses = sortedClauses(clauses, "each side|alternating|tempo|hold|unbroken|any sets|sets of|split|split evenly|together|with|every|rest|effort")
	for _, t := range it.Terms {
		parts = append(parts, pieceOf(t, it.Dose))
	}
	for _, x := range []any{it.Loads, it.Until, clauses} {
		parts = append(parts, dump(reflect.ValueOf(x)))
	}
	return fmt.Sprint("item ", it.Or, strings.Join(parts, " "))
}

// pieceOf takes a piece in the unit of its dose, where it has none of its own.
func pieceOf(t syntax.Term, dose *syntax.Dose) string {
	q := syntax.Quantity{Amount: syntax.Amount{Form: syntax.One, Steps: []syntax.Step{{Value: t.Count}}}, Unit: t.Unit}
	if q.Unit == "" && !q.Clocked() && dose != nil && dose.Amount != nil {
		q.Unit = dose.Amount.Unit
	}
	return fmt.Sprint("piece ", quantityOf(q), strings.ToLower(t.Label.Text))
}

// howMuch says how much of a movement is done: a count, or an amount in a unit.
func howMuch(q *syntax.Quantity) string {
	switch {
	case q == nil:
		return "-"
	case q.Unit == "":
		return countOf(&q.Amount, false)
	}
	return quantityOf(*q)
}

// sortedClauses are the clauses kind by kind. One of a kind that is not listed is kept
// at the end, so that it cannot be lost unseen.
func sortedClauses(cs []syntax.Clause, order string) (out []syntax.Clause) {
	kinds := strings.Split(order, "|")
	for _, kind := range kinds {
		for _, c := range cs {
			if string(c.Kind) == kind {
				out = append(out, c)
			}
		}
	}
	for _, c := range cs {
		if !slices.Contains(kinds, string(c.Kind)) {
			out = append(out, c)
		}
	}
	return out
}

func repeatOf(r syntax.Repeat) string {
	if r.Kind == syntax.Every && !r.Laps && r.Until == nil && r.Times != nil && r.Times.Form == syntax.One &&
		quantityOf(*r.Every) == "(one 60 seconds)" && len(r.Times.Steps[0].Tiers) == 1 {
		if n := r.Times.Steps[0].Tiers[0]; !n.Clock && !n.More && n.Value >= 1 && n.Value < 6e7 && math.Mod(n.Value, 1) == 0 {
			return fmt.Sprintf("Repeat{Kind=\"emom\" Every=(one %.9g seconds)}", n.Value*60)
		}
	}
	if r.Kind == syntax.Ladder {
		count := countOf(r.Count, true)
		if r.Unit != "" {
			count = quantityOf(syntax.Quantity{Amount: *r.Count, Unit: r.Unit})
		}
		return fmt.Sprint(r.Kind, count, dump(reflect.ValueOf(r.Times)), dump(reflect.ValueOf(r.Until)))
	}
	return fields(reflect.ValueOf(r))
}

func loadOf(l syntax.Load) string {
	switch base := strings.ToLower(l.Base.Text); base {
	case "today", "bodyweight", "max reps", "max time", "max heart rate", "max speed", "max power":
		l.Base.Text = base
	}
	switch l.Kind {
	case syntax.Rising:
		return "changes " + strings.ToLower(l.Word.Text)
	case syntax.RPE:
		return "RPE " + dump(reflect.ValueOf(l.Count)) + amountOf(l.Amount.Amount, 1)
	case syntax.Cadence:
		return fmt.Sprint("cadence ", dump(reflect.ValueOf(l.Count)), amountOf(l.Amount.Amount, 1), l.Amount.Unit, l.Per, l.Unit)
	}
	return fields(reflect.ValueOf(l))
}

// phases are the four of a tempo.
func phases(text string) string {
	ps := strings.Split(text, "-")
	if len(ps) == 1 {
		ps = strings.Split(text, "")
	}
	for i, p := range ps {
		for len(p) > 1 && p[0] == '0' {
			p = p[1:]
		}
		ps[i] = p
	}
	return strings.Join(ps, "-")
}

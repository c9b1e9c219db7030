package format

import (
	"slices"
	"strings"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// statement prints what a line says, or a piece of it behind a colon or an arrow.
func statement(s syntax.Stmt) string {
	switch s := s.(type) {
	case *syntax.Entry:
		return s.Kind + " " + s.Name.Text
	case *syntax.Head:
		return head(s)
	case *syntax.Lead:
		return lead(s)
	case *syntax.Item:
		return item(s)
	case *syntax.Rest:
		return rest(s)
	case *syntax.Tag:
		return "tag"
	case *syntax.Scaling:
		return scaling(s)
	case *syntax.Swap:
		return swap(s)
	case *syntax.ClauseSide:
		return clause(&s.Clause)
	case *syntax.LoadSide:
		return strings.TrimPrefix(loads(s.Loads, false)+loads(s.Loads, true), " ")
	case *syntax.Property:
		return property(s)
	}
	return "" // a Bad is printed as it is written
}

// head prints a head: section, repeat, mode, clauses. The first clause stands behind a
// comma, unless only the section stands before it.
func head(h *syntax.Head) string {
	var out []string
	if h.Part != "" {
		out = append(out, h.Part)
	}
	if h.Letter.Text != "" {
		out = append(out, h.Letter.Text)
	}
	if h.Replaces {
		out = append(out, "->")
	}
	if h.At != nil {
		out = append(out, "at "+value(*h.At))
	}
	sets := h.Sets != (source.Span{})
	switch {
	case sets && h.Repeat != nil:
		out = append(out, "sets "+ladder(h.Repeat)+early(h.Repeat.Until))
	case sets:
		out = append(out, "sets")
	case h.Repeat != nil:
		out = append(out, repeat(h.Repeat))
	}
	if h.Mode != nil {
		out = append(out, mode(h.Mode))
	}
	text := strings.Join(out, " ")
	clauses := ordered(h.Clauses, true)
	if text == "" {
		clauses = started(clauses)
	}
	for i, c := range clauses {
		if i > 0 || sets || h.Repeat != nil || h.Mode != nil {
			text += ","
		}
		if text != "" {
			text += " "
		}
		text += clause(&c)
	}
	if text += until(h.Until); h.Repeat != nil && noted(h.Repeat.Until) {
		text += until(h.Repeat.Until)
	}
	return text + inline(h.Inline)
}

// started puts the first clause that can start a line before the others.
func started(cs []syntax.Clause) []syntax.Clause {
	i := slices.IndexFunc(cs, func(c syntax.Clause) bool { return c.Kind.OpensHead() })
	if i <= 0 {
		return cs
	}
	return slices.Concat(cs[i:i+1], cs[:i], cs[i+1:])
}

// inline prints what stands behind the colon of a head or a lead.
func inline(s syntax.Stmt) string {
	if s == nil {
		return ""
	}
	return ": " + statement(s)
}

func repeat(r *syntax.Repeat) string {
	text := string(r.Kind)
	switch r.Kind {
	case "": // a side of a swap: the turns of whatever clock
		return strings.TrimPrefix(times(r), " ")
	case syntax.Rounds:
		text = count(r.Count) + " " + plural("round", once(r.Count))
	case syntax.Ladder:
		if r.Count != nil {
			text += " " + ladder(r)
		}
	case syntax.Emom, syntax.Every:
		if whole, ok := emom(r); ok {
			return "emom " + num(whole)
		}
		text += " " + quantity(r.Every)
	case syntax.OnOff:
		text += " " + quantity(r.On)
		if r.Off != nil {
			text += " off " + quantity(r.Off)
		}
	}
	return text + times(r) + early(r.Until)
}

// times prints how often a clock starts something.
func times(r *syntax.Repeat) string {
	switch {
	case r.Times == nil:
		return ""
	case r.Laps:
		return " x " + count(r.Times) + " " + plural("round", once(r.Times))
	}
	return " x " + count(r.Times)
}

// ladder prints the series of a ladder, which may be in any unit.
func ladder(r *syntax.Repeat) string {
	if r.Unit == "" {
		return rungs(r.Count)
	}
	return quantity(&syntax.Quantity{Amount: *r.Count, Unit: r.Unit})
}

// emom is the whole time of starts that are a minute apart and of which nothing but
// their number is said.
func emom(r *syntax.Repeat) (syntax.Num, bool) {
	if r.Kind != syntax.Every || r.Times == nil || r.Laps || r.Until != nil {
		return syntax.Num{}, false
	}
	every := r.Every.Amount
	if a, ok := clocked(r.Every); ok {
		every = *a
	} else if r.Every.Unit != "" {
		return syntax.Num{}, false
	}
	interval, one := single(&every)
	starts, plain := single(r.Times)
	if !one || !plain || !interval.Clock || interval.Value != 60 || starts.Clock || interval.More || starts.More || !whole(starts.Value) || starts.Value < 1 {
		return syntax.Num{}, false
	}
	total := syntax.Num{Value: 60 * starts.Value, Clock: true}
	return total, total.Value < longestClock
}

// single is the only number of an amount, if there is but one.
func single(a *syntax.Amount) (syntax.Num, bool) {
	if a.Form != syntax.One || a.Bound != "" || len(a.Steps[0].Tiers) != 1 {
		return syntax.Num{}, false
	}
	return a.Steps[0].Tiers[0], true
}

func plural(word string, one bool) string {
	if one {
		return word
	}
	return word + "s"
}

func mode(m *syntax.Mode) string {
	if m.Time != nil {
		return m.Kind + " " + quantity(m.Time)
	}
	return m.Kind
}

// early prints what something ends at, but where the line's note says it: that is printed last.
func early(e *syntax.End) string {
	if noted(e) {
		return ""
	}
	return until(e)
}

// noted reports whether the line's note says what something ends at.
func noted(e *syntax.End) bool { return e != nil && e.Kind == syntax.EndNote }

func until(e *syntax.End) string {
	switch {
	case e == nil:
		return ""
	case noted(e):
		return " until"
	case e.Past != nil:
		return " until " + past(e.Past)
	case e.Amount != nil:
		return " until " + quantity(e.Amount)
	}
	return " until " + string(e.Kind)
}

// past prints what was done before, and what is added to it.
func past(p *syntax.Past) string {
	if p.Offset == nil {
		return p.What
	}
	return p.What + " " + pick(p.Minus, "-", "+") + quantity(p.Offset)
}

// lead prints a lead. What comes back is printed in the unit that it is written in: "at
// each 2 min" is a span and not a time on the clock. A part in a scaling keeps its
// colon: without one, what stands under it would replace the part.
func lead(l *syntax.Lead) string {
	text := l.Kind
	switch {
	case l.Kind == "label":
		text = l.Label
	case l.Event != "":
		text += " " + l.Event
	case l.Amount != nil && l.Kind == "at each":
		if text += " " + written(l.Amount); l.Amount.Unit == units.Rep.String() {
			text = l.Kind + " " + sum(l.Amount)
		}
		if l.From != nil {
			text += " from " + quantity(l.From)
		}
	case l.Amount != nil:
		text += " " + quantity(l.Amount)
	case l.Kind == "part", l.Kind == "warm-up", l.Kind == "cool-down":
		return place(l.Kind, l.Letter) + ":"
	}
	if l.Inline == nil && (l.Kind == "label" || l.Kind == "part") {
		return text + ":"
	}
	return text + inline(l.Inline)
}

// place prints the section that a swap is for.
func place(part string, letter syntax.Name) string {
	if letter.Text == "" {
		return part
	}
	return part + " " + letter.Text
}

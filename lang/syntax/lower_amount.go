package syntax

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

func (r *reader) num(t tok) Num { return numOf(r.tok(t)) }

// numOf is the value of a number or a clock value.
func numOf(at Tok) Num {
	n := Num{Span: at.Span, Clock: at.Kind == Clock, More: at.More}
	if n.Clock {
		n.Value, _ = units.ParseClock(at.Text)
	} else {
		n.Value, _ = strconv.ParseFloat(at.Text, 64)
	}
	return n
}

func (r *reader) value(g gValue) Value {
	v := Value{Tiers: make([]Num, 0, len(g.Nums)/2+1)}
	for i := 0; i < len(g.Nums); i += 2 { // every second one is a slash
		v.Tiers = append(v.Tiers, r.num(g.Nums[i]))
	}
	v.Span = v.Tiers[0].Span.Join(v.Tiers[len(v.Tiers)-1].Span)
	return v
}

// rejectMore reports an "or more" where a number is the number that it is.
func (r *reader) rejectMore(vs ...Value) {
	for _, v := range vs {
		for _, n := range v.Tiers {
			if n.More {
				bare := source.Span{Start: n.End - 1, End: n.End}
				r.report(lineDiag{rule: number, span: n.Span,
					message: "a plus says or more, and here a number is what it is", help: "take the plus out",
					fix: &lineFix{title: "take the plus out", span: bare}})
				return
			}
		}
	}
}

// amount settles the form. Two numbers are a range, and it rises; three or more are a series.
func (r *reader) amount(g *gAmount) *Amount {
	if g == nil {
		return nil
	}
	first := r.value(g.First)
	a := &Amount{Form: One, Steps: []Step{{Value: first}}, Span: first.Span}
	if g.Bound != nil {
		b := r.tok(*g.Bound)
		a.Bound, a.Start = b.Text, b.Start
	}
	if g.To != nil {
		to := r.value(*g.To)
		a.Form = FromTo
		a.Steps = append(a.Steps, Step{Value: to})
		a.Span = a.Span.Join(to.Span)
		r.plus(a)
		return a
	}
	for _, s := range g.Rest {
		step := Step{}
		if s.Dots != nil {
			step.Dots, step.Span = true, r.tok(*s.Dots).Span
		} else {
			step.Value = r.value(*s.Val)
		}
		a.Steps = append(a.Steps, step)
		a.Span = a.Span.Join(step.Span)
	}
	switch {
	case len(a.Steps) == 2 && !a.Steps[1].Dots && a.Steps[1].Tiers[0].Value > first.Tiers[0].Value:
		a.Form = Range
	case len(a.Steps) > 1:
		a.Form = Series
	}
	if len(a.Steps) == 2 && !a.Steps[1].Dots && a.Form == Series && !r.pairs {
		r.fallingPair(a)
	}
	r.plus(a)
	return a
}

// plus reads the plus of a single number, "5+", as the bound at least, and reports bounds that
// contradict what they stand with.
func (r *reader) plus(a *Amount) {
	more := slices.ContainsFunc(a.Steps, func(s Step) bool {
		return slices.ContainsFunc(s.Tiers, func(n Num) bool { return n.More })
	})
	text := r.body[a.Steps[0].Start:a.End]
	switch {
	case a.Form == Range && (more || a.Bound != ""):
		low, _, _ := strings.Cut(text, "-")
		least := strings.TrimSuffix(strings.TrimSpace(low), "+") + "+"
		ranged := strings.ReplaceAll(text, "+", "")
		r.report(lineDiag{rule: number, span: a.Span, message: "a range is both bounds already, the least and the most",
			help:   "write " + ranged + ", or one number with its bound, such as " + least,
			fix:    &lineFix{title: "write " + ranged, span: a.Span, text: ranged},
			others: []lineFix{{title: "write " + least, span: a.Span, text: least}}})
		a.Bound = ""
	case more && a.Bound == AtMost:
		bare := strings.ReplaceAll(text, "+", "")
		r.report(lineDiag{rule: number, span: a.Span, message: "a plus says at least, and at most stands before it", help: "keep one of the two",
			fix:    &lineFix{title: "write at most " + bare, span: a.Span, text: "at most " + bare},
			others: []lineFix{{title: "write " + text, span: a.Span, text: text}}})
	case more && (a.Form == One || a.Bound != ""):
		a.Bound = AtLeast
	default:
		return
	}
	for i := range a.Steps { // the bound says it
		for j := range a.Steps[i].Tiers {
			a.Steps[i].Tiers[j].More = false
		}
	}
}

// rejectBound reports a bound where a number is the number that it is.
func (r *reader) rejectBound(a *Amount, what string) {
	if a == nil || a.Bound == "" {
		return
	}
	text := r.body[a.Steps[0].Start:a.End]
	bare := strings.ReplaceAll(text, "+", "")
	message := what + " is one number, and no bound stands before it"
	if strings.HasSuffix(text, "+") {
		message = what + " is one number, and a plus says or more"
	}
	a.Bound = ""
	r.report(lineDiag{rule: number, span: a.Span, message: message, help: "write " + bare,
		fix: &lineFix{title: "write " + bare, span: a.Span, text: bare}})
}

// rejectFromNothing reports a range from nothing, which is a bound.
func (r *reader) rejectFromNothing(a *Amount) {
	if a == nil || a.Form != Range || slices.ContainsFunc(a.Steps[0].Tiers, func(n Num) bool { return n.Value != 0 }) {
		return
	}
	text := AtMost + " " + r.body[a.Steps[1].Value.Start:a.Steps[1].Value.End]
	r.report(lineDiag{rule: number, span: a.Span, message: "a range from 0 is a bound: so much, or less",
		help: "write " + text + "; where all of it or nothing is done, say what that depends on: if > You are fresh",
		fix:  &lineFix{title: "write " + text, span: a.Span, text: text}})
}

// fallingPair reports two numbers with a hyphen that do not rise: they may be a range the wrong way
// round, or go from the first turn to the last.
func (r *reader) fallingPair(a *Amount) {
	text := func(v Value) string { return r.body[v.Start:v.End] }
	from, to := a.Steps[0].Value, a.Steps[1].Value
	d := lineDiag{rule: number, span: a.Span}
	if from.Tiers[0].Value == to.Tiers[0].Value {
		d.message, d.help = text(from)+" stands on both sides of the hyphen", "write it once"
		d.fix = &lineFix{title: "write " + text(from), span: a.Span, text: text(from)}
	} else {
		ranged, steps := text(to)+"-"+text(from), text(from)+" to "+text(to)
		d.message = "two numbers with a hyphen are a range, which rises, and these fall"
		d.help = "write " + ranged + " for anything between them, or " + steps + " for even steps from the first turn to the last"
		d.fix = &lineFix{title: "write the range " + ranged, span: a.Span, text: ranged}
		d.others = []lineFix{{title: "write " + steps + ", from the first turn to the last", span: a.Span, text: steps}}
	}
	r.report(d)
}

// series is an amount right after ladder, where any number of terms is one.
func (r *reader) series(p *Repeat, g *gQuantity) {
	if g == nil {
		return
	}
	r.pairs = true
	q := r.quantity(g)
	r.pairs = false
	r.rejectBound(&q.Amount, "a rung")
	if q.Form == Range {
		q.Form = Series
	}
	p.Count, p.Unit = &q.Amount, q.Unit
	if q.Unit == "rep" {
		p.Unit = ""
	}
	if q.Unit == "%" {
		r.report(lineDiag{rule: unitWrong, span: q.Span, message: "a count is no percentage",
			help: "write the counts; a share of a maximum is a load: @ 80%"})
	}
}

func (r *reader) quantity(g *gQuantity) *Quantity {
	if g == nil {
		return nil
	}
	a := r.amount(&g.Amount)
	q := &Quantity{Span: a.Span, Amount: *a}
	if g.Unit != nil {
		u := r.tok(*g.Unit)
		q.Unit, q.UnitSpan = u.Text, u.Span
		q.Span = q.Span.Join(u.Span)
	}
	return q
}

// Clocked reports whether every number of the amount is a clock value.
func (a *Amount) Clocked() bool {
	for _, s := range a.Steps {
		for _, n := range s.Tiers {
			if !n.Clock {
				return false
			}
		}
	}
	return true
}

// duration is a quantity that has to be one: a clock value, or a number of seconds,
// minutes or hours.
func (r *reader) duration(g *gQuantity, what string) *Quantity {
	q := r.boundedDuration(g, what)
	if q != nil {
		r.rejectBound(&q.Amount, what)
	}
	return q
}

// boundedDuration is a duration that a bound may stand before, such as that of a rest.
func (r *reader) boundedDuration(g *gQuantity, what string) *Quantity {
	q := r.quantity(g)
	if q == nil {
		return nil
	}
	switch q.Unit {
	case "s", "min", "h":
		return q
	case "":
		if q.Clocked() {
			return q
		}
	}
	d := lineDiag{rule: unitWrong, span: q.Span,
		message: what + " is a duration: a clock value such as 1:30, or a number of s, min or h"}
	offerClock(&d, q)
	r.p.timeless = true
	r.report(d)
	return q
}

// offerClock offers the two clock values that a bare number where a time belongs may be: minutes or seconds.
func offerClock(d *lineDiag, q *Quantity) {
	if q.Form != One || len(q.Steps[0].Tiers) != 1 || q.Unit != "" && q.Unit != "rep" || q.Steps[0].Tiers[0].Clock {
		return
	}
	v := q.Steps[0].Tiers[0].Value
	minutes, seconds := units.FormatClock(60*v), units.FormatClock(v)
	if v == 0 {
		d.help = "write " + minutes
		d.fix = &lineFix{title: d.help, span: q.Span, text: minutes}
		return
	}
	d.help = fmt.Sprintf("write %s for minutes, or %s for seconds", minutes, seconds)
	if v == math.Trunc(v) {
		d.fix = &lineFix{title: "write " + minutes + ", for minutes", span: q.Span, text: minutes}
		d.others = []lineFix{{title: "write " + seconds + ", for seconds", span: q.Span, text: seconds}}
	}
}

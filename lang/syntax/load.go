package syntax

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

func (r *reader) loads(gs []gLoad) []Load {
	if len(gs) == 0 {
		return nil
	}
	out := make([]Load, len(gs))
	for i := range gs {
		out[i] = r.load(&gs[i])
	}
	return out
}

func (r *reader) load(g *gLoad) Load {
	l := Load{Span: r.span(g.tokenRange)}
	switch {
	case g.RPE != nil:
		l.Kind, l.Amount = RPE, r.bare(g.RPE, "")
	case g.Effort != nil:
		l.Kind, l.Amount = Effort, r.bare(g.Effort, "%")
	case g.Past != nil:
		l.Kind, l.Past = Earlier, r.past(g.Past)
	case g.Word != nil:
		l.Kind, l.Word = Named, r.name(*g.Word)
		switch w := strings.ToLower(l.Word.Text); w {
		case "rising", "falling", "faster", "slower":
			l.Kind = Rising
		case "rpe", "rir", "effort":
			r.report(lineDiag{rule: unreadable, span: l.Word.Span,
				message: fmt.Sprintf("%s needs a number", l.Word.Text),
				help:    "write it like @ RPE 8, @ 2 RIR or @ effort 80%"})
		}
	case g.Num == nil:
		r.loadInWords(&l)
	default:
		r.loadNumber(&l, g.Num)
	}
	r.loadBound(&l, g.Bound)
	return l
}

// loadInWords reads a load that the line's note says, so that its @ is the last of its line.
func (r *reader) loadInWords(l *Load) {
	const help = "behind @ stands a load: " + loadForms
	l.Kind = Noted
	switch {
	case r.ctx != InGroup && r.ctx != InScaling && r.ctx != InHouseScaling:
		r.numbered([]Load{*l})
	case slices.ContainsFunc(r.p.Toks, func(t Tok) bool { return t.Start >= l.End && t.Kind != Note && t.Kind != Comment }):
		r.report(lineDiag{rule: unreadable, span: l.Span, message: "it is not said what load this is", help: help})
	default:
		l.Note = r.wordsOf(l.Span, "what load this is", help)
	}
}

// numbered reports loads in words where only work has some.
func (r *reader) numbered(loads []Load) {
	for _, l := range loads {
		if l.Kind == Noted {
			r.report(lineDiag{rule: misplaced, span: l.Span, message: "only a line of work has a load that is said in words", help: "write a number behind the @, or take it out",
				fix: &lineFix{title: "take the @ out", span: l.Span}})
		}
	}
}

// loadBound puts the bound that stands straight behind an @ before the load's number.
func (r *reader) loadBound(l *Load, bound *tok) {
	if bound == nil {
		return
	}
	at := r.tok(*bound)
	if l.Past != nil {
		l.Past.Bound = at.Text
		return
	}
	if l.Amount == nil {
		r.report(lineDiag{rule: number, span: at.Span, message: at.Text + " stands before a number, and here is none",
			help: "write it like @ " + at.Text + " 70%, or take it out"})
		return
	}
	q := l.Amount
	if l.Share != nil {
		q = l.Share
	}
	a := &q.Amount
	if a.Bound = at.Text; l.Count == nil {
		a.Start, q.Start = at.Start, at.Start
	}
	r.plus(a)
}

func (r *reader) bare(g *gAmount, unit string) *Quantity {
	a := r.amount(g)
	return &Quantity{Span: a.Span, Amount: *a, Unit: unit}
}

func (r *reader) loadNumber(l *Load, g *gNumber) {
	l.Count = r.amount(g.Count)
	r.rejectBound(l.Count, "how many they hold")
	l.Amount = r.quantity(&g.Qty)
	if g.Of != nil && g.Of.Pace != nil && l.Amount.Unit == "%" && g.Per == nil && g.Unit2 == nil {
		l.Share = l.Amount
		l.Kind, l.Amount = Pace, r.quantity(g.Of.Pace)
		r.paceOf(l)
		return
	}
	if g.Unit2 != nil {
		q := r.quantity(g.Unit2)
		r.report(lineDiag{rule: unitWrong, span: l.Amount.Span.Join(q.Span), message: "a load has one unit",
			help: "write one number, such as 1.8 m or 22.5 kg, or a second @ before another load"})
		return
	}
	switch l.Amount.Unit {
	case "kg", "lb":
		l.Kind = Mass
	case "cm", "in", "m", "ft":
		l.Kind = Height
	case "%":
		l.Kind = Share
	case "RPE", "RIR":
		l.Kind = LoadKind(l.Amount.Unit)
	case "bpm", "spm", "W":
		l.Kind = Reading
	case "km", "mile":
		l.Kind = Pace
		if g.Pace == nil {
			r.report(lineDiag{rule: unitWrong, span: l.Amount.Span, message: "a distance is no load",
				help: "how fast is written @ 5 km pace, or @ 2:05 per 500 m"})
		}
	case "s", "min", "h", "":
		if g.Per != nil || g.Pace != nil {
			break
		}
		fallthrough
	default:
		d := lineDiag{rule: unitWrong, span: l.Amount.Span, message: "this load has no unit"}
		text := r.body[l.Amount.Amount.Start:l.Amount.Amount.End]
		switch {
		case l.Amount.Unit != "":
			d.message = fmt.Sprintf("%s is no unit of a load", l.Amount.Unit)
		case l.Amount.Clocked():
			d.help = "a pace is written @ " + text + " per 500 m"
		}
		if d.help == "" {
			d.help = fmt.Sprintf("write @ %s kg, @ %s lb, @ %s%%, @ RPE 8 or @ 2 RIR", text, text, text)
		}
		r.report(d)
		l.Kind = Mass
	}
	if g.Pace != nil {
		l.Kind = Pace
		r.paceOf(l)
	}
	switch {
	case g.By != nil:
		l.Minus, l.Offset = r.tok(*g.Sign).Kind == Dash, r.quantity(g.By)
		r.paceOffset(l, g.Per)
	case g.Per != nil:
		r.cadence(l, g.Per)
	}
	if g.Of != nil {
		r.base(l, g.Of)
	}
}

// paceOf reports a pace that is that of no distance and of no time.
func (r *reader) paceOf(l *Load) {
	switch u := l.Amount.Unit; {
	case u == "m", u == "km", u == "mile", u == "s", u == "min", u == "h", u == "" && l.Amount.Clocked():
	default:
		r.report(lineDiag{rule: unitWrong, span: l.Span,
			message: "a pace is that of a distance or of a time, or a time per distance",
			help:    "write it like @ 5 km pace, @ 60:00 pace or @ 2:05 per 500 m"})
	}
}

// paceOffset reads how much slower or faster than a race some work is.
func (r *reader) paceOffset(l *Load, g *gPer) {
	q := l.Offset
	more := slices.ContainsFunc(q.Steps, func(s Step) bool {
		return slices.ContainsFunc(s.Tiers, func(n Num) bool { return n.More })
	})
	d := lineDiag{rule: unitWrong, span: q.Span, help: "write it like @ 2 km pace +0:22-0:26 per 500 m"}
	switch u := q.Unit; {
	case q.Bound != "" || more:
		d.rule, d.message = number, "how much slower or faster is a number, a range or a series, and no bound"
	case u != "s" && u != "min" && !(u == "" && q.Clocked()):
		d.message = "how much slower or faster than a race is a time"
		if u == "" {
			d.fix = r.asSeconds(q)
		}
	}
	if d.message != "" {
		q.Bound = ""
		r.report(d)
	}
	if g == nil {
		return
	}
	if r.per(l, g); !slices.Contains([]string{"m", "km", "mile"}, l.Unit) {
		r.report(lineDiag{rule: unitWrong, span: r.tok(g.Unit).Span, message: "a race goes over a distance, and so it is slower or faster per distance",
			help: "write per km, per mile or per 500 m"})
	}
}

// asSeconds writes bare numbers below a minute as clock values: 22-26 as 0:22-0:26.
func (r *reader) asSeconds(q *Quantity) *lineFix {
	var out []string
	for _, s := range q.Steps {
		if s.Dots || len(s.Tiers) != 1 || s.Tiers[0].Value >= 60 || s.Tiers[0].Value != math.Trunc(s.Tiers[0].Value) {
			return nil
		}
		out = append(out, fmt.Sprintf("0:%02.0f", s.Tiers[0].Value))
	}
	if q.Form == FromTo {
		return nil
	}
	text := strings.Join(out, "-")
	return &lineFix{title: "write " + text, span: q.Span, text: text}
}

// per reads what a pace is per.
func (r *reader) per(l *Load, g *gPer) {
	l.Per, l.Unit = 1, r.tok(g.Unit).Text
	if g.Count != nil {
		n := r.num(*g.Count)
		r.rejectMore(Value{Tiers: []Num{n}})
		l.Per = n.Value
	}
	if l.Per <= 0 {
		r.report(lineDiag{rule: number, span: l.Span, message: "a pace is per one or more, not per 0",
			help: "write it like 3 s per rep, or 2:05 per 500 m"})
		l.Per = 1
	}
}

func (r *reader) cadence(l *Load, g *gPer) {
	l.Kind = Cadence
	r.per(l, g)
	if u := l.Amount.Unit; u != "s" && u != "min" && !l.Amount.Clocked() {
		r.report(lineDiag{rule: unitWrong, span: l.Amount.Span, message: "a pace is a duration per something",
			help: "write it like 3 s per rep, or 2:05 per 500 m"})
	}
}

func (r *reader) base(l *Load, g *gBase) {
	if g.RM != nil {
		at := r.tok(*g.RM)
		l.Base = Name{Span: at.Span, Text: at.Text}
	} else if g.Past != nil {
		p := r.past(g.Past)
		l.Base = Name{Span: p.Span, Text: p.What}
		if p.Offset != nil {
			r.report(lineDiag{rule: unitWrong, span: p.Span, message: "a share of what was done before has no offset",
				help: "write " + r.body[l.Amount.Start:l.Amount.End] + " of " + p.What + ", or " + p.What + " with the offset"})
		}
	} else if g.Pace != nil {
		l.Base = Name{Span: r.quantity(g.Pace).Span}
	} else {
		l.Base = r.name(*g.Name)
	}
	if l.Kind != Share {
		r.report(lineDiag{rule: unitWrong, span: l.Span, message: "only a percentage is of something",
			help: "write it like 80% of 5RM, 75% of today or 50% of bodyweight"})
	}
}

package syntax

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// The methods of this file turn participle's structs into the tree. A token's offset
// in those is its index in the reader's tokens.

func (r *reader) tok(t tok) Tok { return r.toks[t.Pos.Offset] }

func (r *reader) num(t tok) Num {
	at := r.tok(t)
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
				r.report(lineDiag{rule: number, span: n.Span, message: "a plus says or more, and here a number is what it is", help: "take the plus out",
					fix: &lineFix{title: "take the plus out", span: bare}})
				return
			}
		}
	}
}

// rejectMoreIn is rejectMore for the steps of an amount.
func (r *reader) rejectMoreIn(a *Amount) {
	if a != nil {
		for _, s := range a.Steps {
			r.rejectMore(s.Value)
		}
	}
}

// amount settles the form. Two rising terms are a range, any others a series: two
// falling terms cannot be a range, so a typing mistake there shows in the count of turns.
func (r *reader) amount(g *gAmount) *Amount {
	if g == nil {
		return nil
	}
	first := r.value(g.First)
	a := &Amount{Form: One, Steps: []Step{{Value: first}}, Span: first.Span}
	if g.To != nil {
		to := r.value(*g.To)
		a.Form = FromTo
		a.Steps = append(a.Steps, Step{Value: to})
		a.Span = a.Span.Join(to.Span)
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
	return a
}

// series is an amount right after ladder or sets, where any number of terms is one.
func (r *reader) series(p *Repeat, g *gQuantity) {
	if g == nil {
		return
	}
	q := r.quantity(g)
	if q.Form == Range {
		q.Form = Series
	}
	p.Count, p.Unit = &q.Amount, q.Unit
	if q.Unit == "rep" {
		p.Unit = ""
	}
	if q.Unit == "%" {
		r.report(lineDiag{rule: unitWrong, span: q.Span, message: "a count is no percentage", help: "write the counts; a share of a maximum is a load: @ 80%"})
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

// Clocked says whether every number of the amount is a clock value.
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
	d := lineDiag{rule: unitWrong, span: q.Span, message: what + " is a duration: a clock value such as 1:30, or a number of s, min or h"}
	if q.Form == One && len(q.Steps[0].Tiers) == 1 && q.Unit == "" {
		v := units.FormatNumber(q.Steps[0].Tiers[0].Value)
		d.help = fmt.Sprintf("write %s:00 for minutes, or %s s for seconds", v, v)
	}
	r.report(d)
	return q
}

func (r *reader) name(g gName) Name {
	n := Name{}
	var b strings.Builder
	for i, t := range g.Words {
		at := r.tok(t)
		if i == 0 {
			n.Span = at.Span
		} else {
			b.WriteByte(' ')
		}
		n.End = at.End
		b.WriteString(plainWord(at.Raw))
	}
	n.Text = b.String()
	return n
}

// plainWord is a word with plain hyphens and apostrophes, its case kept.
func plainWord(raw string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case isDash(c):
			return '-'
		case isApostrophe(c):
			return '\''
		case isInvisible(c):
			return -1
		}
		return c
	}, raw)
}

func (r *reader) names(gs []gName) []Name {
	out := make([]Name, len(gs))
	for i, g := range gs {
		out[i] = r.name(g)
	}
	return out
}

func (r *reader) wordName(t tok) Name { return r.name(gName{Words: []tok{t}}) }

func (r *reader) until(g *gUntil) *End {
	if g == nil {
		return nil
	}
	e := &End{Span: r.tok(g.Word).Span}
	if g.At != nil {
		e.Kind, e.At = "clock", r.value(*g.At)
		e.End = e.At.End
		r.rejectMore(e.At)
		for _, n := range e.At.Tiers {
			if !n.Clock {
				r.report(lineDiag{rule: unitWrong, span: e.At.Span, message: "until is followed by a clock value", help: "write it like until 2:40"})
				break
			}
		}
		return e
	}
	n := r.name(*g.End)
	e.End, e.Kind = n.End, strings.ToLower(n.Text)
	if !slices.Contains(Ends, e.Kind) {
		r.report(lineDiag{rule: unknownWord, span: n.Span, message: fmt.Sprintf("%q is nothing that work can go on until", n.Text),
			help: "write until 2:40 (the clock), or until " + strings.Join(Ends, ", until ")})
	}
	return e
}

func (r *reader) dose(g *gDose) *Dose {
	if g == nil {
		return nil
	}
	d := &Dose{Sets: r.amount(g.Sets)}
	switch {
	case g.Max != nil:
		at := r.tok(g.Max.Max)
		d.Max, d.Span = true, at.Span
		if g.Max.Unit != nil {
			u := r.tok(*g.Max.Unit)
			d.End = u.End
			if u.Text != "rep" { // as for a number: repetitions are what is counted without a word
				d.Unit = u.Text
			}
		}
	case g.RM != nil:
		at := r.tok(*g.RM)
		d.Span = at.Span
		d.RM, _ = strconv.ParseFloat(strings.TrimSuffix(at.Text, "RM"), 64)
		if d.RM < 1 || d.RM > 30 {
			r.report(lineDiag{rule: number, span: at.Span, message: fmt.Sprintf("nobody tests a maximum of %s repetitions", strings.TrimSuffix(at.Text, "RM")), help: "write 1RM to 30RM"})
		}
	default:
		r.doseAmount(d, g)
	}
	if g.UpTo != nil {
		d.Span = d.Span.Join(r.tok(*g.UpTo).Span)
		if d.UpTo = d.Amount != nil && d.Amount.Form == One; !d.UpTo {
			r.report(lineDiag{rule: unreadable, span: d.Span, message: "up to is followed by one number", help: "write it like up to 10 bar muscle-up"})
		}
	}
	if g.Sets != nil {
		d.Span = d.Span.Join(d.Sets.Span)
	}
	if g.Side != nil {
		d.Side = true
		d.End = r.tok(*g.Side).End
	}
	return d
}

// doseAmount lowers an amount that is a dose: a count, a share of a maximum count, or
// the time that a max has.
func (r *reader) doseAmount(d *Dose, g *gDose) {
	d.Amount = r.quantity(g.Qty)
	d.Span = d.Amount.Span
	if d.Amount.Unit == "rep" {
		d.Amount.Unit = ""
	}
	if g.Of != nil {
		d.OfMax, d.End = true, r.tok(*g.Of).End
	}
	if (d.Amount.Unit == "%") != d.OfMax {
		help := "write it like 60% of max push-up; a share of a weight is a load and stands behind @: 5 back squat @ 80%"
		if d.Amount.Unit == "%" && d.Sets != nil {
			share := r.body[d.Amount.Start:d.Amount.End]
			help = fmt.Sprintf("write how many and then the load, such as %s x 5 back squat @ %s; where the share is of repetitions, %s of max",
				r.body[d.Sets.Start:d.Sets.End], share, share)
		}
		r.report(lineDiag{rule: unitWrong, span: d.Span, message: "a count is a percentage of the most that an athlete can do, and of nothing else", help: help})
	}
	if g.Window == nil {
		return
	}
	d.Max, d.End = true, r.tok(g.Window.Max).End
	if g.Window.Unit != nil {
		u := r.tok(*g.Window.Unit)
		d.End = u.End
		if u.Text != "rep" {
			d.Unit = u.Text
		}
	}
	if u := d.Amount.Unit; u != "s" && u != "min" && u != "h" && !d.Amount.Clocked() {
		r.report(lineDiag{rule: unitWrong, span: d.Amount.Span, message: "before max stands how long it goes on",
			help: "write it like 0:30 max burpee, or leave the number out"})
	}
}

func (r *reader) clauses(gs []gClause) []Clause {
	var out []Clause
	for i := range gs {
		out = append(out, r.clause(&gs[i]))
	}
	return out
}

func (r *reader) clause(g *gClause) Clause {
	c := Clause{}
	switch {
	case g.Tempo != nil:
		c.Kind, c.Tempo = TempoOf, r.tok(*g.Tempo).Text
		c.Span = r.before(*g.Tempo, 1).Join(r.tok(*g.Tempo).Span)
	case g.SetsOf != nil:
		c.Kind, c.Amount = SetsOf, r.bare(g.SetsOf, "")
		c.Span = r.before(g.SetsOf.First.Nums[0], 2).Join(c.Amount.Span)
	case g.With != nil:
		c.Kind, c.Kit, c.Loads = With, r.name(g.With.Name), r.loads(g.With.Loads)
		c.Span = r.before(g.With.Name.Words[0], 1).Join(c.Kit.Span)
		if n := len(c.Loads); n > 0 {
			c.End = c.Loads[n-1].End
		}
	case g.Rest != nil:
		c.Kind, c.Rest = RestOf, r.restOf(g.Rest)
		c.Span = c.Rest.Span
	case g.In != nil:
		c.Kind, c.People = In, r.people(g.In)
		c.Span = c.People.Span
	case g.Side != nil:
		c.Kind = EachSide
		c.Span = r.before(*g.Side, 1).Join(r.tok(*g.Side).Span)
	case len(g.Word) > 0:
		texts := make([]string, len(g.Word))
		for i, t := range g.Word {
			texts[i] = t.Value
		}
		c.Kind = ClauseKind(strings.Join(texts, " "))
		c.Span = r.tok(g.Word[0]).Span.Join(r.tok(g.Word[len(g.Word)-1]).Span)
	case g.Hold != nil:
		c.Kind, c.Amount = HoldOf, r.duration(g.Hold, "a hold")
		c.Span = r.before(g.Hold.Amount.First.Nums[0], 1).Join(c.Amount.Span)
	case g.Every != nil:
		c.Kind, c.Amount = EveryOf, r.duration(g.Every, "an interval")
		c.Span = r.before(g.Every.Amount.First.Nums[0], 1).Join(c.Amount.Span)
	default:
		r.amountClause(&c, g)
	}
	return c
}

// before is the span of the token n places before t.
func (r *reader) before(t tok, n int) source.Span { return r.toks[t.Pos.Offset-n].Span }

func (r *reader) amountClause(c *Clause, g *gClause) {
	lead := 1
	q := g.Cap
	switch {
	case g.Cap != nil:
		c.Kind, c.Amount = Cap, r.duration(q, "a cap")
	case g.Lasts != nil:
		q = g.Lasts
		c.Kind, c.Amount = Lasts, r.duration(q, "what follows lasts")
	case g.At != nil:
		q = g.At
		c.Kind, c.Amount = StartAt, r.duration(q, "a start")
	case g.Effort != nil:
		q = g.Effort
		c.Kind, c.Amount = EffortOf, r.percent(q)
	default:
		q = g.EachUp
		if q == nil {
			q, c.Minus = g.EachOff, true
		}
		lead = 2
		c.Kind, c.Amount = EachPlus, r.quantity(q)
		if u := c.Amount.Unit; u == "" && !c.Amount.Clocked() {
			r.report(lineDiag{rule: unitWrong, span: c.Amount.Span, message: "what is added each turn has no unit",
				help: "write each +5 kg, or each +2.5%"})
		}
	}
	c.Span = r.before(q.Amount.First.Nums[0], lead).Join(c.Amount.Span)
}

func (r *reader) percent(g *gQuantity) *Quantity {
	q := r.quantity(g)
	if q.Unit != "%" {
		r.report(lineDiag{rule: unitWrong, span: q.Span, message: "an effort is a percentage", help: "write it like effort 80% or effort 80-85%"})
		q.Unit = "%"
	}
	return q
}

func (r *reader) people(g *gPeople) *People {
	p := &People{}
	if g.Named != nil {
		at := r.tok(*g.Named)
		p.Kind, p.Span = at.Text, r.before(*g.Named, 1).Join(at.Span)
		return p
	}
	at := r.tok(*g.Kind)
	p.Kind, p.Size = at.Text, r.amount(g.Size)
	p.Span = r.before(*g.Kind, 1).Join(p.Size.Span)
	if g.Every != nil {
		p.Every = r.duration(g.Every, "the time from heat to heat")
		p.End = p.Every.End
	}
	return p
}

func (r *reader) restOf(g *gRest) *Rest {
	s := &Rest{node: node{r.tok(g.Word).Span}}
	if g.Bound != nil {
		at := r.tok(*g.Bound)
		s.Bound, s.End = "at "+at.Text, at.End
	}
	switch {
	case g.Needed != nil:
		s.Needed, s.End = true, r.toks[g.Needed.Pos.Offset+1].End
	case g.Work != nil:
		v := r.value(*g.Work)
		s.Work = &v
		r.rejectMore(v)
		s.End = r.toks[g.Work.Nums[len(g.Work.Nums)-1].Pos.Offset+2].End
	case g.Qty != nil:
		s.Amount = r.duration(g.Qty, "a rest")
		r.restRatio(r.tok(g.Qty.Amount.First.Nums[0]))
		s.End = s.Amount.End
	}
	if g.Parts != nil && g.Between != nil {
		at := r.tok(*g.Between)
		r.report(lineDiag{rule: unreadable, span: r.before(*g.Between, 1).Join(at.Span), message: "this rest says twice where it stands",
			help: "write one of the two: rest 1:30 between laps"})
	}
	if g.After != nil {
		s.After, s.End = true, max(s.End, r.tok(*g.After).End)
	}
	for _, t := range []*tok{g.Parts, g.Between} {
		if t != nil {
			s.Between = r.wordName(*t)
			s.End = max(s.End, s.Between.End)
		}
	}
	return s
}

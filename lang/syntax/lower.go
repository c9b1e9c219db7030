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

// span is where the tokens of a range stand.
func (r *reader) span(g tokenRange) source.Span {
	return r.tok(g.Tokens[0]).Join(r.tok(g.Tokens[len(g.Tokens)-1]).Span)
}

func (r *reader) name(g gName) Name {
	n := Name{}
	var b strings.Builder
	for i, t := range g.Words {
		at := r.tok(t)
		if i == 0 {
			n.Span = at.Span
		} else if at.Raw != "" { // a spelling may stand for several words, the first of which has its text
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

// twoSets says whether a dose is done in two sets, so that two numbers are one for each.
func (g *gDose) twoSets() bool {
	return g != nil && g.Sets != nil && g.Sets.To == nil && len(g.Sets.Rest) == 0 && len(g.Sets.First.Nums) == 1 &&
		g.Sets.First.Nums[0].Value == "2"
}

func (r *reader) dose(g *gDose) *Dose {
	if g == nil {
		return nil
	}
	d := &Dose{Sets: r.amount(g.Sets)}
	r.rejectFromNothing(d.Sets)
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
			r.report(lineDiag{rule: number, span: at.Span,
				message: fmt.Sprintf("nobody tests a maximum of %s repetitions", strings.TrimSuffix(at.Text, "RM")),
				help:    "write 1RM to 30RM"})
		}
	case g.Past != nil:
		d.Past = r.past(g.Past)
		d.Span = d.Past.Span
	default:
		r.doseAmount(d, g)
	}
	if g.Sets != nil {
		d.Span = d.Span.Join(d.Sets.Span)
		d.sameSets()
	}
	if g.Side != nil {
		d.Side = true
		d.End = r.tok(*g.Side).End
	}
	return d
}

// sameSets reads a series of one number for as many sets, 3 x 5-5-5, as that number: 3 x 5.
func (d *Dose) sameSets() {
	a := d.Amount
	if a == nil || a.Form != Series || d.Sets.Form != One || d.Sets.Bound != "" || len(d.Sets.Steps[0].Tiers) != 1 ||
		d.Sets.Steps[0].Tiers[0].Value != float64(len(a.Steps)) {
		return
	}
	same := func(x, y Num) bool { return x.Value == y.Value && x.Clock == y.Clock && !x.More && !y.More }
	for _, s := range a.Steps {
		if s.Dots || !slices.EqualFunc(s.Tiers, a.Steps[0].Tiers, same) {
			return
		}
	}
	a.Form, a.Steps = One, a.Steps[:1]
}

// doseAmount lowers an amount that is a dose: a count, a share of a maximum count, or
// the time that a max has.
func (r *reader) doseAmount(d *Dose, g *gDose) {
	d.Amount = r.quantity(g.Qty)
	d.Span = d.Amount.Span
	r.rejectFromNothing(&d.Amount.Amount)
	if d.Amount.Unit == "rep" {
		d.Amount.Unit = ""
	}
	if g.Of != nil {
		d.OfMax, d.End = true, r.tok(*g.Of).End
	}
	if g.OfPast != nil {
		d.Past = r.past(g.OfPast)
		d.End = d.Past.End
	}
	if (d.Amount.Unit == "%") != (d.OfMax || d.Past != nil) {
		help := "write it like 60% of max push-up; a share of a weight is a load and stands behind @: 5 back squat @ 80%"
		if d.Amount.Unit == "%" && d.Sets != nil {
			share := r.body[d.Amount.Start:d.Amount.End]
			help = fmt.Sprintf("write how many and then the load, such as %s x 5 back squat @ %s; where the share is of repetitions, %s of max",
				r.body[d.Sets.Start:d.Sets.End], share, share)
		}
		r.report(lineDiag{rule: unitWrong, span: d.Span,
			message: "a count is a percentage of the most that an athlete can do, or of what was done before", help: help})
	}
	if g.Window == nil {
		return
	}
	r.rejectBound(&d.Amount.Amount, "the time of a max")
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
	if len(gs) == 0 {
		return nil
	}
	out := make([]Clause, 0, len(gs))
	for i := range gs {
		if c := r.clause(&gs[i]); c.Kind != notScored && !c.timeless() {
			out = append(out, c)
		}
	}
	return out
}

func (r *reader) clause(g *gClause) Clause {
	c := Clause{Kind: g.kind(), Span: r.span(g.tokenRange)}
	switch {
	case g.Tempo != nil:
		c.Tempo = r.tok(g.Tempo[1]).Text
	case g.SetsOf != nil:
		c.Amount = r.bare(g.SetsOf, "")
		r.rejectBound(&c.Amount.Amount, "the size of a set")
	case g.With != nil:
		c.Kit, c.Loads = r.name(g.With.Name), r.loads(g.With.Loads)
		r.nameUnfit(c.Kit)
		r.numbered(c.Loads)
	case g.Rest != nil:
		c.Rest = r.restOf(g.Rest)
	case g.In != nil:
		c.People = r.people(g.In, c.Span)
	case g.Qty != nil:
		if t := c.Kind.clauseType(); t.takes == takesPercent {
			c.Amount = r.percent(g.Qty, t.noun)
		} else {
			c.Amount = r.duration(g.Qty, t.noun)
		}
	case g.OfEach != nil:
		c.Amount = r.quantity(g.OfEach)
		r.shareOfEach(c.Amount)
	case g.By != nil:
		c.Minus, c.Amount = r.tok(*g.Sign).Kind == Dash, r.quantity(g.By)
		r.rejectBound(&c.Amount.Amount, "what is added each turn")
		if u := c.Amount.Unit; u == "" && !c.Amount.Clocked() {
			r.report(lineDiag{rule: unitWrong, span: c.Amount.Span, message: "what is added each turn has no unit",
				help: "write each +5 kg, or each +2.5%"})
		}
	}
	r.refusedClause(&c)
	return c
}

// shareOfEach reports how much each does of a split that is neither a bound nor a range.
func (r *reader) shareOfEach(q *Quantity) {
	bounded := q.Bound != "" || q.Form == Range
	for _, n := range q.Steps[0].Tiers {
		bounded = bounded || n.More
	}
	switch {
	case q.Unit == "%":
		r.report(lineDiag{rule: unitWrong, span: q.Span, message: "how much each does of a split is a count, and no percentage", help: "write it like each at least 20"})
	case q.Form != One && q.Form != Range:
		r.report(lineDiag{rule: number, span: q.Span, message: "how much each does of a split is one bound, or a range", help: "write it like each at least 20, or each 20-30"})
	case !bounded:
		r.report(lineDiag{rule: number, span: q.Span, message: "how much each does of a split is at least or at most so much",
			help: "write each at least " + r.body[q.Start:q.End] + " or each at most " + r.body[q.Start:q.End] + "; where all do the same, split evenly"})
	}
	if q.Unit == "rep" {
		q.Unit = ""
	}
}

// timeless reports whether a duration of the clause has no unit. That has been said, and it is
// taken for none meanwhile.
func (c *Clause) timeless() bool {
	a := c.Amount
	if c.Rest != nil {
		a = c.Rest.Amount
	}
	t := c.Kind.clauseType()
	return a != nil && a.Unit == "" && !a.Clocked() && (t.takes == takesDuration || c.Rest != nil)
}

// kind is the kind of clause that was read.
func (g *gClause) kind() ClauseKind {
	switch {
	case g.Tempo != nil:
		return TempoOf
	case g.SetsOf != nil:
		return SetsOf
	case g.With != nil:
		return With
	case g.Rest != nil:
		return RestOf
	case g.In != nil:
		return In
	case g.Word != nil:
		return ClauseKind(g.Word.Value)
	case g.By != nil:
		return EachPlus
	case g.OfEach != nil:
		return ShareOfEach
	case g.Side != nil:
		return EachSide
	}
	if g.Words[0].Value == "synchronised" {
		return Together
	}
	words := g.Words[0].Value
	for _, t := range g.Words[1:] {
		words += " " + t.Value
	}
	return ClauseKind(words)
}

func (r *reader) percent(g *gQuantity, what string) *Quantity {
	q := r.quantity(g)
	if q.Unit != "%" {
		r.report(lineDiag{rule: unitWrong, span: q.Span, message: what + " is a percentage",
			help: "write it like effort 80% or effort 80-85%"})
		q.Unit = "%"
	}
	return q
}

func (r *reader) people(g *gPeople, span source.Span) *People {
	p := &People{Span: span}
	if g.Named != nil {
		named := r.tok(*g.Named)
		p.Kind = named.Text
		if n := map[string]float64{"threes": 3, "fours": 4}[p.Kind]; n > 0 {
			p.Kind = "teams"
			one := Value{Span: named.Span, Tiers: []Num{{Span: named.Span, Value: n}}}
			p.Size = &Amount{Span: named.Span, Form: One, Steps: []Step{{Value: one}}}
		}
		return p
	}
	p.Kind, p.Size = r.tok(*g.Kind).Text, r.amount(g.Size)
	more := p.Size.Bound == AtLeast && p.Size.Form == One
	r.rejectBound(p.Size, "how many they are")
	if more {
		n := p.Size.Steps[0].Tiers[0].Value
		text := units.FormatNumber(n) + "-" + units.FormatNumber(n+1)
		d := &r.p.diags[len(r.p.diags)-1]
		d.help += ", or a range: " + text
		d.others = append(d.others, lineFix{title: "write " + text, span: p.Size.Span, text: text})
	}
	if g.Every != nil {
		p.Every = r.duration(g.Every, "the time from heat to heat")
	}
	return p
}

func (r *reader) restOf(g *gRest) *Rest {
	s := &Rest{node: node{r.span(g.tokenRange)}, Needed: g.Needed != nil, After: g.After != nil}
	if g.Bound != nil {
		s.Bound = r.tok(*g.Bound).Text
	}
	switch {
	case g.Work != nil:
		v := r.value(*g.Work)
		s.Work = &v
		r.rejectMore(v)
	case g.Qty != nil:
		s.Amount = r.boundedDuration(g.Qty, "a rest")
		s.Bound = s.Amount.Bound
		r.restRatio(r.tok(g.Qty.Amount.First.Nums[0]))
	}
	s.Until = r.until(g.Until)
	r.restEnd(s)
	if g.Parts != nil && g.Between != nil {
		second := r.toks[g.Between.Pos.Offset-1].Join(r.tok(*g.Between).Span)
		r.report(lineDiag{rule: unreadable, span: second, message: "this rest says twice where it stands",
			help: "write one of the two: rest 1:30 between rounds"})
	}
	for _, t := range []*tok{g.Parts, g.Between} {
		if t != nil {
			s.Between = r.wordName(*t)
		}
	}
	if slices.Contains([]string{"laps", "turns"}, strings.ToLower(s.Between.Text)) {
		s.Between.Text = "rounds"
	}
	return s
}

package syntax

import (
	"fmt"
	"math"
	"strings"

	"stint.example/stint/lang/units"
)

// durations are the properties of one amount that are a time, with what it is called.
var durations = map[string]string{"length": "a length"}

func (r *reader) amountProperty(p *Property, a *reader) int {
	g, at := amountGrammar.parse(a.toks)
	if g == nil {
		if a.word(0) != "" && p.Key != "effort" {
			return 0
		}
		return at
	}
	if g.Name != nil {
		p.Names = []Name{a.name(*g.Name)}
		if p.Key != "effort" {
			return 0
		}
	}
	switch what, isDuration := durations[p.Key]; {
	case isDuration:
		p.Quantity = a.duration(&g.Qty, what)
	case p.Key == "effort" && len(p.Names) > 0 && strings.EqualFold(p.Names[0].Text, "RPE"):
		p.Names = nil
		p.Quantity = a.quantity(&g.Qty)
		p.Quantity.Unit = "RPE"
	case p.Key == "effort":
		p.Quantity = a.percent(&g.Qty, EffortOf.clauseType().noun)
	case p.Key == "class" && r.ctx == InMovement:
		p.Quantity = a.quantity(&g.Qty)
		a.shareOfClass(p.Quantity)
	default:
		p.Quantity = a.quantity(&g.Qty)
		q := p.Quantity
		a.rejectBound(&q.Amount, p.Key)
		if n := q.Steps[0].Tiers; q.Unit != "" || q.Form != One || len(n) != 1 || n[0].Clock || n[0].Value != math.Trunc(n[0].Value) {
			a.report(lineDiag{rule: unitWrong, span: q.Span, message: p.Key + " is one whole number",
				help: "write it like " + keywords[r.ctx][p.Key].form})
		}
	}
	return -1
}

// shareOfClass reports what is no share of the class that can do a movement: one percentage, or at most
// one.
func (r *reader) shareOfClass(q *Quantity) {
	v := q.Steps[0].Tiers
	one := q.Form == One && len(v) == 1 && !v[0].Clock && !v[0].More
	if one && q.Unit == "%" && q.Bound != AtLeast && v[0].Value > 0 && v[0].Value <= 100 {
		return
	}
	d := lineDiag{rule: unitWrong, span: q.Span, message: "the class of a movement is the share of people who can do it, more than nothing and at most 100%",
		help: "write it like class 30%, or class at most 30% where nobody has counted"}
	if one && q.Unit == "" && v[0].Value > 1 && v[0].Value <= 100 {
		share := r.body[q.Start:q.End] + "%"
		d.fix = &lineFix{title: "write " + share, span: q.Span, text: share}
	}
	r.report(d)
}

// heatProperty reads how hot it is: one number, in degrees Celsius.
func (r *reader) heatProperty(p *Property, a *reader) int {
	g, at := heatGrammar.parse(a.toks)
	if g != nil {
		v := a.value(gValue{Nums: []tok{g.Number}})
		a.rejectMore(v)
		unit := a.tok(g.Unit).Span
		p.Quantity = &Quantity{Span: v.Span.Join(unit), Amount: Amount{Span: v.Span, Form: One, Steps: []Step{{Value: v}}}, Unit: "C", UnitSpan: unit}
		return -1
	}
	if len(r.p.diags) > 0 {
		return at
	}
	d := lineDiag{rule: unitWrong, span: a.extent(),
		message: "heat is one number of degrees Celsius, of the wet-bulb globe temperature (WBGT)",
		help:    "write it like heat 29 C"}
	if len(a.toks) == 2 && a.kind(0) == Number && strings.HasPrefix(a.word(1), "f") {
		// A tenth is what the tables of heat are drawn in.
		text := units.FormatNumber(math.Round((numOf(a.toks[0]).Value-32)/1.8*10)/10) + " C"
		d.help = "write heat " + text
		d.fix = &lineFix{title: "write " + text, span: a.extent(), text: text}
	}
	r.report(d)
	return reported
}

func (r *reader) paceProperty(p *Property, a *reader) int {
	g, at := paceGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	v := a.value(g.Value)
	a.rejectMore(v)
	q := &Quantity{Span: v.Span, Amount: Amount{Span: v.Span, Form: One, Steps: []Step{{Value: v}}}}
	p.Quantity = q
	if g.Unit != nil {
		u := a.tok(*g.Unit)
		q.Unit, q.UnitSpan, q.End = u.Text, u.Span, u.End
	}
	p.Loads = a.loads(g.Loads)
	if g.Per != nil {
		p.Per = a.tok(g.Per.Unit).Text
		if g.Per.Count != nil {
			a.report(lineDiag{rule: unitWrong, span: a.tok(*g.Per.Count).Span,
				message: "a movement's pace is per one rep, m, cal or breath",
				help:    "write it like pace 0.212 / 0.25 / 0.3 s per m"})
		}
	}
	d := lineDiag{rule: unitWrong, span: v.Span}
	switch {
	case len(v.Tiers) != 3:
		d.message = fmt.Sprintf("%s is three numbers, for a fast, a typical and a slow member; here are %d", p.Key, len(v.Tiers))
		d.help = "write it like " + keywords[r.ctx][p.Key].form
	case p.Key == "pace" && (p.Per == "" || q.Unit != "s"):
		d.message = "a pace is in seconds per rep, m, cal or breath"
		d.help = "write it like pace 2.0 / 2.8 / 4.0 s per rep"
	case p.Key == "unbroken" && (q.Unit != "" && q.Unit != "m" || p.Per != ""):
		d.message = "unbroken is counts, metres, or clock values for holds"
		d.help = "write it like unbroken 8 / 4 / 2, unbroken 150 / 100 / 70 m, or unbroken 1:20 / 0:45 / 0:20"
	case p.Key != "pace" && p.Key != "unbroken" && q.Unit != "s":
		d.message, d.help = p.Key+" is in seconds", "write it like "+keywords[r.ctx][p.Key].form
	default:
		return -1
	}
	a.report(d)
	return -1
}

func (r *reader) aimProperty(p *Property, a *reader) int {
	g, at := aimGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	if g.Rest != nil {
		p.Rest = a.restOf(g.Rest)
		return -1
	}
	p.Quantity = a.quantity(g.Qty)
	a.rejectFromNothing(&p.Quantity.Amount)
	if g.At != nil {
		p.At = true
		if t, ok := a.aimAt(p.Quantity, g.Name); !ok {
			a.report(t)
			return reported
		}
		return -1
	}
	if g.Name != nil {
		n := a.name(*g.Name)
		if w := strings.ToLower(n.Text); w == "laps" || w == "rungs" || w == "sets" {
			n.Text = "rounds"
		}
		p.Names = []Name{n}
	}
	if len(p.Names) == 0 && p.Quantity.Unit == "" && !p.Quantity.Clocked() {
		a.report(lineDiag{rule: unitWrong, span: p.Quantity.Span, message: "it is not said what this aim counts",
			help: "write aim 7:00-9:00, aim 5-6 rounds, aim 100 reps or aim rest 2 x work"})
	}
	return -1
}

// aimAt reports what stands behind "aim at" and is no time on the clock.
func (r *reader) aimAt(q *Quantity, name *gName) (lineDiag, bool) {
	d := lineDiag{rule: unitWrong, span: q.Span, message: "aim at says when it is over, as a time on the clock",
		help: "write it like aim at 47:30, or aim at 45:00-47:30"}
	if name != nil {
		text := r.body[q.Start:r.name(*name).End]
		d.help = "write aim " + text + " for what is aimed at, or aim at 47:30 for when it is over"
		return d, false
	}
	return d, q.Clocked() && (q.Form == One || q.Form == Range)
}

func (r *reader) totalProperty(p *Property, a *reader) int {
	g, at := totalGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	if g.After != nil {
		n := a.num(*g.After)
		p.After = int(n.Value)
		if n.More || n.Value < 1 || n.Value != float64(p.After) {
			a.report(lineDiag{rule: number, span: n.Span, message: "a round has a number of its own",
				help: "write it like total after round 7: 84 dip"})
		}
	}
	for i := range g.Items {
		gi := &g.Items[i]
		q := a.quantity(&gi.Qty)
		it := &Item{node: node{q.Span}, Dose: &Dose{Span: q.Span, Amount: q}, Loads: a.loads(gi.Loads)}
		a.numbered(it.Loads)
		if gi.Whose != nil {
			whose := a.tok(*gi.Whose)
			it.Whose, it.Start = whose.Text, whose.Start
		}
		if gi.Name != nil {
			n := a.name(*gi.Name)
			it.Moves = []Move{{Span: n.Span, Name: n}}
			it.End = n.End
			if q.Unit == "rep" { // as in a line of work
				q.Unit = ""
			}
		} else if q.Unit == "" && !q.Clocked() {
			a.report(lineDiag{rule: unitWrong, span: q.Span, message: "it is not said what this total counts",
				help: "write it like total 45 burpee, 800 m row; all repetitions together are 90 reps"})
		}
		if n := len(it.Loads); n > 0 {
			it.End = it.Loads[n-1].End
		}
		p.Items = append(p.Items, it)
	}
	return -1
}

package syntax

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/units"
)

// Scores are the words for what a score counts, and ScoreOrders those that may stand before
// one.
var (
	Scores      = []string{"reps", "load", "time", "distance", "cal", "rounds"}
	ScoreOrders = []string{"total", "best", "worst", "last", "each"}
)

// ScoreNote is what a score counts where the line's note says it.
const ScoreNote = "note"

// scoreSpellings are other words for what a score counts.
var scoreSpellings = map[string]string{"calories": "cal", "laps": "rounds", "rungs": "rounds", "sets": "rounds"}

// scoreUnits are the units that a score is in, by what it counts. Repetitions and rounds have none.
var scoreUnits = map[string][]string{"reps": {"", "rep"}, "rounds": {""}, "cal": {"cal"}, "load": {"kg", "lb"},
	"distance": {"m", "km", "ft", "yd", "mile"}, "time": {"s", "min", "h"}}

// penaltyForms are examples of what is added, by what a score counts.
var penaltyForms = map[string]string{"reps": "-2 per slip", "rounds": "-1 per slip", "cal": "+3 cal per late tag",
	"load": "-2.5 kg per step", "distance": "-10 m per drop", "time": "+0:07 per wet foot"}

// penalty is what is added to a score: one number in its unit.
func (r *reader) penalty(g gPenalty, score string) Penalty {
	sign, q, per := r.tok(g.Sign), r.quantity(&g.Qty), r.name(g.Per)
	r.rejectBound(&q.Amount, "what is added to a score")
	fits := slices.Contains(scoreUnits[score], q.Unit) && !q.Clocked() || score == "time" && q.Unit == "" && q.Clocked()
	if !fits || q.Form != One {
		d := lineDiag{rule: unitWrong, span: q.Span, message: "what is added to a score is one number, in the unit of the score: " + score,
			help: "write it like score " + score + ", " + penaltyForms[score]}
		if v := q.Steps[0].Tiers[0].Value; score == "time" && q.Unit == "" && q.Form == One && len(q.Steps[0].Tiers) == 1 && v > 0 {
			text := units.FormatClock(v)
			d.fix = &lineFix{title: "write " + text + ", for seconds", span: q.Span, text: text}
		}
		r.report(d)
	}
	if q.Unit == "rep" {
		q.Unit = ""
	}
	return Penalty{Span: sign.Join(per.Span), Minus: sign.Kind == Dash, Amount: q, Per: per}
}

func (r *reader) scoreProperty(p *Property, a *reader) int {
	g, at := scoreGrammar.parse(a.toks)
	if g == nil && (a.kind(at) == Plus || a.kind(at) == Dash) && at > 0 && a.kind(at-1) == Word {
		r.report(lineDiag{rule: commaMissing, span: a.toks[at].Span, message: "a comma is missing before what is added to the score",
			help: "put a comma before it", fix: insertion("put a comma before it", a.toks[at-1].End, ",")})
		return reported
	}
	if g == nil && a.kind(at) == Unit && a.word(at-1) == "per" {
		r.report(lineDiag{rule: unreadable, span: a.toks[at].Span, message: fmt.Sprintf("%q is a unit, and behind per stands in words what is counted", a.toks[at].Raw),
			help: "say of what they are: +1:00 per burpee left"})
		return reported
	}
	if g == nil {
		return at
	}
	p.Score = &Score{What: a.tok(g.What).Text}
	if to, ok := scoreSpellings[p.Score.What]; ok {
		p.Score.What = to
	}
	switch p.Score.What {
	case "breaks", "points", "level", "power":
		d := lineDiag{rule: unknownWord, span: a.tok(g.What).Span, message: fmt.Sprintf("%s are nothing that a score of the notation counts", p.Score.What),
			help: "say it in words, behind a >: score > " + sentence(r.body[a.toks[0].Start:a.toks[len(a.toks)-1].End])}
		if p.Score.What == "level" || p.Score.What == "power" {
			d.message = fmt.Sprintf("%s is nothing that a score of the notation counts", p.Score.What)
		}
		d.fix = insertion("put > before it", a.toks[0].Start, "> ")
		d.fix.safe = false
		r.report(d)
		return reported
	}
	for _, add := range g.Penalties {
		p.Score.Penalties = append(p.Score.Penalties, a.penalty(add, p.Score.What))
	}
	if g.Agg == nil {
		return -1
	}
	agg := a.tok(*g.Agg)
	switch p.Score.Agg = agg.Text; p.Score.Agg {
	case "lowest", "fewest": // the best of times, and the worst of everything else
		p.Score.Agg = "worst"
		if p.Score.What == "time" {
			p.Score.Agg = "best"
		}
	case "slowest":
		r.report(lineDiag{rule: unknownWord, span: agg.Span, message: `"slowest" means nothing before what a score counts`,
			help: "write worst, which is the slowest of times and the least of anything else", fix: &lineFix{title: "write worst", span: agg.Span, text: "worst"}})
		return reported
	}
	return -1
}

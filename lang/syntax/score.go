package syntax

import "fmt"

// Scores are the words for what a score counts, and ScoreOrders those that may stand before
// one.
var (
	Scores      = []string{"reps", "load", "time", "distance", "cal", "rounds"}
	ScoreOrders = []string{"total", "best", "worst", "last", "each"}
)

// scoreSpellings are other words for what a score counts.
var scoreSpellings = map[string]string{"calories": "cal", "laps": "rounds", "rungs": "rounds", "sets": "rounds"}

func (r *reader) scoreProperty(p *Property, a *reader) int {
	g, at := scoreGrammar.parse(a.toks)
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
			help: "say it in a note, as text behind >"}
		if p.Score.What == "level" || p.Score.What == "power" {
			d.message = fmt.Sprintf("%s is nothing that a score of the notation counts", p.Score.What)
		}
		d.fix = r.asNote()
		r.report(d)
		return reported
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

package arithmetic

import (
	"fmt"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var SeriesTurns = check.Rule{Name: "series-turns", Family: "arithmetic", Severity: diag.Error,
	Summary: "a series with more or fewer numbers than there are turns, steps that miss the last, no end where nothing ends it; a round that never comes",
	Session: func(p *check.Pass, s *model.Session) {
		s.Walk(model.Everything, func(step model.Step, around []*model.Group) bool {
			switch st := step.(type) {
			case *model.Group:
				groupSeries(p, s, st, around)
			case *model.Work:
				workSeries(p, st, around)
			case *model.Rest:
				restSeries(p, st, around)
			}
			return true
		})
	}}

// groupSeries looks at what a head says of its own turns.
func groupSeries(p *check.Pass, s *model.Session, g *model.Group, around []*model.Group) {
	r := g.Repeat
	if r.Series != nil && r.Series.Open && !ends(append(around[:len(around):len(around)], g)) {
		p.Report(endless(r.Series))
	}
	if g.Kind == model.RoundOf && len(around) > 0 && !(s.Version != "" && len(model.WorkSteps(g.Steps)) == 0) { // all of it may be left out
		of := model.Repeating(around)
		if of == nil {
			of = around[len(around)-1]
		}
		roundComes(p, s, g, of)
	}
	if g.Slots() == 0 && !r.Laps {
		for _, q := range []*model.Quantity{r.Interval, r.On, r.Off} {
			checkTurns(p, q, totals.GroupStarts(g), "intervals")
		}
	}
	turns := 1
	if g.ComesRound() {
		turns = totals.GroupTurns(g)
	}
	checkTurns(p, g.Effort, turns, "turns")
	for _, k := range g.With {
		for _, ld := range k.Loads {
			checkTurns(p, ld.Amount, turns, "turns")
		}
	}
}

// roundComes reports what stands under "round 5:" where there are only four.
func roundComes(p *check.Pass, s *model.Session, r, of *model.Group) {
	d := diag.Diagnostic{At: r.At, Help: "write a round that there is, or change how often the head comes round"}
	turns := totals.Turns(of, 0)
	switch {
	case of.Unread:
		return
	case !of.ComesRound():
		d.Message = fmt.Sprintf("nothing here comes round, so there is no round %d", r.Number)
		d.Help = "say how often on the head above it, such as 3 rounds, or take the round out"
	case r.Number < 1 || r.Last < r.Number:
		d.Message = fmt.Sprintf("round %d comes before the first", r.Number)
	case !turns.Open && float64(r.Last) > turns.Hi:
		d.Message = fmt.Sprintf("round %d never comes: there are %s", r.Last, phrase.Many(turns.Hi, "turn"))
		if s.Version != "" {
			d.Help = "leave out in this version what that round holds" + leftOut(r) + ", or keep as many rounds as the session has"
		}
	default:
		return
	}
	p.Report(d)
}

// leftOut is how a version leaves out the first line of a group.
func leftOut(g *model.Group) string {
	for w := range g.Lines(model.OnlySteps) {
		return ", such as " + w.Written.Text() + " -> nothing"
	}
	return ""
}

func workSeries(p *check.Pass, w *model.Work, around []*model.Group) {
	turns, what := totals.LineTurns(w, around), "turns"
	if w.Sets != nil {
		what = "sets"
		checkTurns(p, w.Sets, totals.TurnsAround(around), "turns")
	}
	if w.From == model.FromLine {
		if w.Dose != nil && w.Dose.Open && w.Sets == nil && w.Until == nil && model.Repeating(around) == nil && !ends(around) {
			p.Report(endless(w.Dose))
		}
		checkTurns(p, w.Dose, turns, what)
		if of := model.Repeating(around); w.Dose != nil && w.Dose.Form == syntax.FromTo && w.Sets == nil && of != nil && totals.Turns(of, 0).Open {
			p.Report(diag.Diagnostic{At: w.Dose.At, Message: fmt.Sprintf("%s goes from the first turn to the last, and nothing says which is the last", w.Dose.At.Text()),
				Help: "write the steps, such as 1-2-..., which go on for as long as the clock lets them"})
		}
	}
	for _, m := range w.Moves {
		checkTurns(p, m.Count, turns, what)
	}
	loads := w.Loads
	for _, k := range w.With {
		loads = append(loads[:len(loads):len(loads)], k.Loads...)
	}
	for _, ld := range loads {
		checkTurns(p, ld.Amount, turns, what)
	}
	if w.Rest != nil && turns > 1 {
		checkTurns(p, w.Rest.Amount, turns-1, "rests between them")
	}
}

func restSeries(p *check.Pass, r *model.Rest, around []*model.Group) {
	turns := totals.TurnsAround(around)
	switch r.Place {
	case model.RestBetweenTurns:
		switch of := r.Between(around); {
		case r.BetweenSlots():
			turns = of.Slots()
		case r.Of != model.NearestTurns:
			turns = totals.GroupTurns(of)
		}
		if turns > 1 {
			checkTurns(p, r.Amount, turns-1, "rests between turns")
		}
	case model.RestHere, model.RestInInterval:
		checkTurns(p, r.Amount, turns, "turns")
	default: // once, or once a set: no turns to have numbers for
	}
}

// ends says whether anything ends work that goes on and on: a clock, a cap, an event.
func ends(around []*model.Group) bool {
	for _, g := range around {
		if g.Mode == model.AMRAP || g.Cap != nil || g.Lasts != nil || g.Repeat.Until != nil || g.Repeat.Clocked() || g.Unread {
			return true
		}
	}
	return false
}

func endless(q *model.Quantity) diag.Diagnostic {
	return diag.Diagnostic{At: q.At, Message: fmt.Sprintf("%s goes on and on, and nothing here ends it", q.At.Text()),
		Label: "no clock, no cap, no until", Help: "write its last number, such as 2-4-...-12, or bound it: amrap 9:00, cap 12:00, until missed"}
}

// checkTurns reports a series that is not as long as its turns. Turns below 1 are not
// settled by the text.
func checkTurns(p *check.Pass, q *model.Quantity, turns int, what string) {
	if q == nil || turns < 1 || q.Uneven() {
		return
	}
	if q.Form == syntax.FromTo && turns == 1 {
		p.Report(diag.Diagnostic{At: q.At, Message: fmt.Sprintf("%s goes from turn to turn, but this is done once", q.At.Text()),
			Help: "a range has a hyphen, such as 8-12; steps need a head that comes round, such as 3 rounds, or sets on the line (3 x ...)"})
		return
	}
	if q.Form == syntax.FromTo && q.Unit == "rep" && !wholeSteps(q, turns) {
		p.Report(diag.Diagnostic{At: q.At, Message: fmt.Sprintf("%s in %d %s does not come to whole repetitions", q.At.Text(), turns, what),
			Help: "write the number of each turn, such as 12-10-9-7"})
		return
	}
	n := q.Turns()
	if n == 0 || n == turns {
		return
	}
	d := diag.Diagnostic{At: q.At, Message: fmt.Sprintf("%s has %d numbers, but there %s", q.At.Text(), n, are(turns, what)),
		Label: fmt.Sprintf("%d numbers for %d", n, turns), Help: fmt.Sprintf("write %s, or change how often it is done", phrase.Many(float64(turns), "number"))}
	if turns == 1 {
		d.Message = fmt.Sprintf("%s has %d numbers, but this is done once", q.At.Text(), n)
		d.Help = "a series needs a head that comes round, such as 3 rounds, or sets on its line (3 x ...)"
		if what != "turns" {
			d.Message = fmt.Sprintf("%s has %d numbers, but there is 1 of the %s", q.At.Text(), n, what)
		}
	}
	p.Report(d)
}

// wholeSteps says whether even steps from one count to another are whole.
func wholeSteps(q *model.Quantity, turns int) bool {
	for i := range q.Terms[0] {
		last := q.Terms[1][min(i, len(q.Terms[1])-1)]
		if !units.IsWhole((last - q.Terms[0][i]) / float64(turns-1)) {
			return false
		}
	}
	return true
}

func are(n int, what string) string {
	if n == 1 {
		return "is 1 of the " + what
	}
	return fmt.Sprintf("are %d %s", n, what)
}

package cycles

import (
	"fmt"
	"math"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/edit"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var ProgressBroken = check.Rule{Name: "progress-broken", Family: "cycle", Severity: diag.Error,
	Summary: "a progress from week to week that the sessions do not follow, or that has more or fewer steps than there are weeks",
	Cycle: func(p *check.Pass, of *model.Cycle) {
		c := plan(p, of)
		for _, pr := range c.Progress {
			q := pr.Load.Amount
			if pr.Move.Movement == nil || q == nil || q.Uneven() || !heldAgainst(pr.Load) {
				continue
			}
			if n := q.Turns(); n > 1 && c.Last() > 0 && n != c.Last() {
				p.Report(diag.Diagnostic{At: q.At,
					Message: fmt.Sprintf("the progress of %s has %d loads, and the cycle has %d weeks", pr.Move.Name, n,
						c.Last()),
					Label: fmt.Sprintf("%d loads", n),
					Help:  "write a load for every week, or dots at the end if it goes on the same way"})
				continue
			}
			for _, w := range c.Weeks {
				checkWeek(p, c, w, pr)
			}
		}
	}}

// heldAgainst says whether a load is one of which a session's line can be more or less: a
// weight, or a share of the lift's own one-repetition maximum.
func heldAgainst(l model.Load) bool {
	return l.Kind == syntax.Mass ||
		l.Kind == syntax.Share && l.Base != nil && l.Base.Kind == model.OfRM && l.Base.Reps <= 1
}

// checkWeek holds the heaviest of a lift in a week against what the progress says of it.
func checkWeek(p *check.Pass, c *cycle.Analysis, w *cycle.WeekAnalysis, pr *model.Progress) {
	q := pr.Load.Amount
	lo, hi, known := q.Value(w.Number-1, c.Last(), 0)
	if !known || len(w.Days) == 0 || !w.Known() {
		return
	}
	top, line, day, seen := topOf(w, pr)
	said := amountOf(lo, hi, q)
	d := diag.Diagnostic{At: q.At, Label: fmt.Sprintf("week %d", w.Number)}
	switch {
	case line == nil && seen:
		return // its load is of another kind: nothing to hold it against
	case line == nil:
		d.Severity = diag.Warning
		d.Message = fmt.Sprintf("the progress of %s comes to %s in week %d, and no session of that week has it",
			pr.Move.Name, said, w.Number)
		d.Help = "plan it in that week, or end the progress before"
		d.Related = []diag.Related{{At: w.At, Message: "the week"}}
	case top < lo-1e-6 || top > hi+1e-6:
		d.Message = fmt.Sprintf("the progress of %s comes to %s in week %d, and the heaviest that is planned there is %s", pr.Move.Name, said, w.Number, amountOf(top, top, q))
		d.Help = "mend the session if it is wrong there, or write what it has"
		d.Related = []diag.Related{{At: line.Work.At, Message: "the heaviest of the week"},
			{At: day.At, Message: "on this day"}}
		if fix, ok := rewriteStep(q, w.Number-1, top); ok {
			d.Fixes = []diag.Fix{fix}
		}
		if fix, ok := rewriteSession(p, line, day, pr, top, lo, lo == hi); ok {
			d.Fixes = append(d.Fixes, fix)
		}
	default:
		return
	}
	p.Report(d)
}

// topOf is the heaviest load of the progress's kind that a week has of its movement; seen
// says that it has the movement at all.
func topOf(w *cycle.WeekAnalysis, pr *model.Progress) (
	top float64, line *cycle.Line, day *cycle.DayAnalysis, seen bool) {
	for _, d := range w.Days {
		for _, l := range d.Of.Lines {
			if l.Work.Moves[0].Movement != pr.Move.Movement || len(l.Work.Moves) > 1 {
				continue
			}
			seen = true
			v := l.Mass.Top
			if pr.Load.Kind == syntax.Share {
				v = l.Share.Top
			}
			if v > top {
				top, line, day = v, l, d
			}
		}
	}
	return top, line, day, seen
}

// rewriteSession is the edit that puts the load of the progress in the session, where its line says
// just one and the session is planned for that week alone.
func rewriteSession(p *check.Pass, l *cycle.Line, day *cycle.DayAnalysis, pr *model.Progress, was, to float64,
	exact bool) (diag.Fix, bool) {
	if !exact || len(p.Workspace.Planned(day.Session)) > 1 {
		return diag.Fix{}, false
	}
	for _, ld := range l.Work.Loads {
		v, one := ld.Amount.One()
		if ld.Kind != pr.Load.Kind || !one || ld.Count != nil || math.Abs(v-was) > 1e-9 {
			continue
		}
		fix, ok := edit.Number(ld.Amount, v, to)
		fix.Title = "write " + amountOf(to, to, ld.Amount) + " in " + day.Session
		return fix, ok
	}
	return diag.Fix{}, false
}

// amountOf is a load as a sentence says it, between two numbers or at one.
func amountOf(lo, hi float64, q *model.Quantity) string {
	one := func(v float64) string {
		text, unit := units.FormatAs(v, q.Unit, q.Written)
		if unit == "%" {
			return tenthOr(text, v) + "%"
		}
		return text + " " + unit
	}
	if lo == hi {
		return one(lo)
	}
	return one(lo) + " to " + one(hi)
}

// tenthOr keeps a share that was worked out short.
func tenthOr(text string, v float64) string {
	if len(text) > 6 {
		return units.FormatTenth(v)
	}
	return text
}

// rewriteStep is the edit that puts a number in the place of one step of a series, where
// all its steps are spelt out and are the same for all tiers.
func rewriteStep(q *model.Quantity, step int, to float64) (diag.Fix, bool) {
	at := edit.NumberText.FindAllStringIndex(q.At.Text(), -1)
	if q.Form != syntax.Series || len(at) != len(q.Terms) || q.Tiers() > 1 || step >= len(at) ||
		units.FormatTenth(to) != units.FormatNumber(to) {
		return diag.Fix{}, false
	}
	text, unit := units.FormatAs(to, q.Unit, q.Written)
	if q.Written != "" && unit != q.Written {
		return diag.Fix{}, false
	}
	span := source.Span{Start: q.At.Start + at[step][0], End: q.At.Start + at[step][1]}
	return diag.Fix{Title: fmt.Sprintf("write %s for week %d", text, step+1),
		Edits: []diag.Edit{{At: q.At.File.At(span), New: text}}}, true
}

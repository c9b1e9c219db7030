package cycles

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

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
			if pr.Move.Movement != nil && stepsFit(p, c, pr) {
				checkProgress(p, c, pr)
			}
		}
	}}

// stepsFit says whether the series of a progress can be read, with one number for each week.
func stepsFit(p *check.Pass, c *cycle.Analysis, pr *model.Progress) bool {
	fit := true
	for _, of := range []struct {
		q    *model.Quantity
		what string
	}{{pr.Sets, "numbers of sets"}, {pr.Dose, "counts"}, {pr.Load.Amount, "loads"}} {
		n := of.q.Turns()
		switch {
		case of.q.Uneven():
			fit = false
		case n > 1 && c.Last() > 0 && n != c.Last():
			fit = false
			p.Report(diag.Diagnostic{At: of.q.At,
				Message: fmt.Sprintf("the progress of %s has %d %s, and the cycle has %d weeks", pr.Move.Name, n, of.what, c.Last()),
				Label:   fmt.Sprintf("%d %s", n, of.what),
				Help:    "write one for every week, or dots at the end if it goes on the same way"})
		}
	}
	return fit
}

// checkProgress holds the weeks of a cycle against what a progress says of them. A session follows it
// from the first week that plans it, so that what is broken there is so in those behind it: it is
// reported once.
func checkProgress(p *check.Pass, c *cycle.Analysis, pr *model.Progress) {
	loads, counts := map[source.Place]bool{}, map[source.Place]bool{} // lines that are reported
	if pr.Load.Word == "rising" || pr.Load.Word == "falling" {
		checkRising(p, c, pr)
	}
	for _, w := range c.Weeks {
		if len(w.Days) == 0 || !w.Known() {
			continue
		}
		if pr.Load.Amount != nil && heldAgainst(pr.Load) {
			checkLoad(p, c, w, pr, loads)
		}
		checkCounts(p, c, w, pr, counts)
	}
}

// checkCounts asks that a line of the movement has the sets and the count that the progress says of a
// week. What a version does in the place of one has its share of them.
func checkCounts(p *check.Pass, c *cycle.Analysis, w *cycle.WeekAnalysis, pr *model.Progress, broken map[source.Place]bool) {
	if pr.Sets == nil && pr.Dose == nil {
		return
	}
	var line *cycle.Line
	var day *cycle.DayAnalysis
	for _, d := range w.Days {
		for _, l := range d.Of.Lines {
			if !c.Follows(l.Work, pr) {
				continue
			}
			if l.Work.At != l.Work.Written && l.Work.Written.File != nil || pr.HasCounts(l.Work, w.Number, c.Last()) {
				return
			}
			if line == nil {
				line, day = l, d
			}
		}
	}
	at := cmp.Or(pr.Sets, pr.Dose).At
	said := saidOf(pr, w.Number, c.Last())
	switch {
	case line == nil && pr.Load.Amount == nil:
		p.Report(diag.Diagnostic{At: at, Severity: diag.Warning, Label: fmt.Sprintf("week %d", w.Number),
			Message: fmt.Sprintf("the progress of %s comes to %s in week %d, and no session of that week has it", pr.Move.Name, said, w.Number),
			Help:    "plan it in that week, or end the progress before",
			Related: []diag.Related{{At: w.At, Message: "the week"}}})
	case line != nil && !broken[line.Work.At]:
		broken[line.Work.At] = true
		p.Report(diag.Diagnostic{At: at, Label: fmt.Sprintf("week %d", w.Number),
			Message: fmt.Sprintf("the progress of %s comes to %s in week %d, and no line of that week has these sets and counts", pr.Move.Name, said, w.Number),
			Help:    "a session has what the progress says of the first week that plans it: mend one of the two",
			Related: []diag.Related{{At: line.Work.At, Message: "a line of that movement"}, {At: day.At, Message: "on this day"}}})
	}
}

// saidOf is what a progress says of the sets and the count of a week: 4 x 5.
func saidOf(pr *model.Progress, week, weeks int) string {
	var out []string
	for _, q := range []*model.Quantity{pr.Sets, pr.Dose} {
		if lo, hi, known := q.Value(week-1, weeks, 0); known {
			text := amountOf(lo, hi, q)
			switch {
			case q == pr.Sets:
				text = units.FormatNumber(lo) + " x"
			case q.Unit == "rep" && lo == hi:
				text = units.FormatNumber(lo)
			case q.Unit == "rep":
				text = units.FormatNumber(lo) + "-" + units.FormatNumber(hi)
			}
			out = append(out, text)
		}
	}
	return strings.Join(out, " ")
}

// heldAgainst says whether a load is one of which a session's line can be more or less: a
// weight, or a share of the lift's own one-repetition maximum.
func heldAgainst(l model.Load) bool {
	return l.Kind == syntax.Mass || l.OfOwnMaximum()
}

// checkLoad holds the heaviest of a lift in a week against what the progress says of it.
func checkLoad(p *check.Pass, c *cycle.Analysis, w *cycle.WeekAnalysis, pr *model.Progress, broken map[source.Place]bool) {
	q := pr.Load.Amount
	lo, hi, known := q.Value(w.Number-1, c.Last(), 0)
	if !known {
		return
	}
	top, line, day, seen := topOf(c, w, pr, pr.Load.Kind)
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
		if broken[line.Work.At] {
			return
		}
		broken[line.Work.At] = true
		d.Message = fmt.Sprintf("the progress of %s comes to %s in week %d, and the heaviest that is planned there is %s", pr.Move.Name, said, w.Number, amountOf(top, top, q))
		d.Help = "mend the session if it is wrong there, or write what it has"
		if weeks := c.WeeksOf(day.Session); len(weeks) > 0 && weeks[0] < w.Number {
			d.Help = fmt.Sprintf("%s follows the progress from week %d on: mend what the progress or the session says there", day.Session, weeks[0])
		}
		d.Related = []diag.Related{{At: line.Work.At, Message: "the heaviest of the week"},
			{At: day.At, Message: "on this day"}}
		if fix, ok := rewriteStep(q, w.Number-1, top); ok {
			d.Fixes = []diag.Fix{fix}
		}
		if fix, ok := rewriteSession(p, c, line, day, pr, top, lo, lo == hi); ok {
			d.Fixes = append(d.Fixes, fix)
		}
	default:
		return
	}
	p.Report(d)
}

// topOf is the heaviest load of a kind that a week has of a progress's movement; seen says that it has
// the movement, or what a version does in its place, at all.
func topOf(c *cycle.Analysis, w *cycle.WeekAnalysis, pr *model.Progress, kind syntax.LoadKind) (
	top float64, line *cycle.Line, day *cycle.DayAnalysis, seen bool) {
	for _, d := range w.Days {
		for _, l := range d.Of.Lines {
			seen = seen || c.Follows(l.Work, pr)
			if l.Work.Moves[0].Movement != pr.Move.Movement || len(l.Work.Moves) > 1 {
				continue
			}
			v := l.Mass.Top
			if kind == syntax.Share {
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
// just one and this is the first week, or the only one, that plans the session.
func rewriteSession(p *check.Pass, c *cycle.Analysis, l *cycle.Line, day *cycle.DayAnalysis, pr *model.Progress,
	was, to float64, exact bool) (diag.Fix, bool) {
	if !exact || !first(p, day, c) {
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

// first says whether a day is in the first week of the one cycle that plans its session.
func first(p *check.Pass, day *cycle.DayAnalysis, c *cycle.Analysis) bool {
	planned := p.Workspace.Planned(day.Session)
	weeks := c.WeeksOf(day.Session)
	return len(planned) == 1 || len(weeks) > 0 && weeks[0] == day.Week.Number &&
		!slices.ContainsFunc(planned, func(o check.Planned) bool { return o.Cycle.At != c.At })
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

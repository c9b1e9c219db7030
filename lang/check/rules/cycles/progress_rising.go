package cycles

import (
	"fmt"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// A weekTop is the heaviest of a movement in a week, as a share of its maximum and as a weight; a line
// is nil where the week has no load of that kind.
type weekTop struct {
	week *cycle.WeekAnalysis
	tops [2]loadTop // by progressKinds
}

type loadTop struct {
	load float64
	line *cycle.Line
	day  *cycle.DayAnalysis
}

var progressKinds = [2]syntax.LoadKind{syntax.Share, syntax.Mass}

// checkRising holds a progress that says no numbers against the weeks that are neither easy nor a
// test: each has to be heavier than the one before, or lighter where the progress falls.
func checkRising(p *check.Pass, c *cycle.Analysis, pr *model.Progress) {
	var last *weekTop
	for _, w := range c.Weeks {
		if w.Kind == cycle.Easy || w.Kind == cycle.Test || len(w.Days) == 0 || !w.Known() {
			continue
		}
		now := &weekTop{week: w}
		has := false
		for i, kind := range progressKinds {
			top, line, day, seen := topOf(c, w, pr, kind)
			now.tops[i], has = loadTop{top, line, day}, has || seen
		}
		d := compareWeeks(pr, last, now, has)
		if has {
			last = now
		}
		if d != nil {
			p.Report(*d)
		}
	}
}

// compareWeeks is what is wrong with a week behind another, nil where nothing is.
func compareWeeks(pr *model.Progress, last, now *weekTop, has bool) *diag.Diagnostic {
	d := &diag.Diagnostic{At: pr.Load.At, Severity: diag.Warning, Label: fmt.Sprintf("week %d", now.week.Number),
		Related: []diag.Related{{At: now.week.At, Message: "the week"}}}
	if !has {
		d.Message = fmt.Sprintf("the progress of %s is %s, and no session of week %d has it", pr.Move.Name, pr.Load.Word, now.week.Number)
		d.Help = "plan it in that week, or call the week easy or a test"
		return d
	}
	if last == nil {
		return nil
	}
	for i := range progressKinds {
		a, b := last.tops[i], now.tops[i]
		if a.line == nil || b.line == nil {
			continue
		}
		if pr.Load.Word == "rising" && b.load > a.load+1e-6 || pr.Load.Word == "falling" && b.load < a.load-1e-6 {
			return nil
		}
		q := loadAmount(b.line, progressKinds[i])
		order := "heavier"
		if pr.Load.Word == "falling" {
			order = "lighter"
		}
		d.Severity = diag.Error
		d.Message = fmt.Sprintf("the progress of %s is %s, and the heaviest of week %d, %s, is not %s than the %s of week %d",
			pr.Move.Name, pr.Load.Word, now.week.Number, amountOf(b.load, b.load, q), order, amountOf(a.load, a.load, q), last.week.Number)
		d.Help = "mend one of the two sessions, or call the week easy or a test"
		d.Related = []diag.Related{{At: b.line.Work.At, Message: "the heaviest of the week"}, {At: b.day.At, Message: "on this day"},
			{At: a.line.Work.At, Message: "the heaviest of the week before"}}
		return d
	}
	d.Message = fmt.Sprintf("the progress of %s is %s, and weeks %d and %d have no loads of it that can be compared",
		pr.Move.Name, pr.Load.Word, last.week.Number, now.week.Number)
	d.Help = "write weights or shares of a maximum in both"
	return d
}

// loadAmount is the load of a kind as a line writes it.
func loadAmount(l *cycle.Line, kind syntax.LoadKind) *model.Quantity {
	for _, ld := range l.Work.Loads {
		if ld.Kind == kind && ld.Amount != nil {
			return ld.Amount
		}
	}
	return &model.Quantity{Unit: "%"}
}

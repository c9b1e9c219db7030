package clock

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

var capGenerousShare = &check.Threshold{Name: "share", Unit: "%", Default: 2,
	Source: "no source; nothing is claimed of the outer two in a hundred"}

var CapGenerous = check.Rule{Name: "cap-generous", Family: "clock", Severity: diag.Suggestion,
	Summary:     "a cap that nobody can miss, even if everyone is slower than the estimate",
	Thresholds:  []*check.Threshold{capGenerousShare},
	AfterOthers: true,
	Session: func(p *check.Pass, s *model.Session) {
		eachCap(p, s, func(t *estimate.Timeline, part *estimate.PartTime, limit float64) {
			of, slower := p.Value(capGenerousShare)/100, 1+t.Figures.Margin
			if part.FillsCap {
				return // who is done early works until the cap
			}
			if of <= 1-estimate.Slow && part.Work.Slow*slower > limit {
				return
			}
			g := part.Group
			if p.Version != nil && g.Cap.At.Within(written(p.Written)) {
				return // it is written for the session, and a version may be over sooner
			}
			if t.At(part, 1-of)*slower > limit {
				return
			}
			d := diag.Diagnostic{At: g.Cap.At, Label: phrase.Typical(part.Work) + ", an estimate",
				Message: fmt.Sprintf("hardly anyone can miss the cap of %s", units.FormatClock(limit)),
				Help:    "write an earlier cap, or take it out; where the time is meant, waive this and say why"}
			if least := estimate.RoundUp(part.Work.Slow, 30); least < limit && t.At(part, 1-of)*slower > least {
				d.Help = fmt.Sprintf("write cap %s, in which nine in ten finish, or take it out; where the time is meant, waive this and say why", units.FormatClock(least))
				d.Fixes = []diag.Fix{{Title: "write cap " + units.FormatClock(least),
					Edits: []diag.Edit{{At: g.Cap.At, New: units.FormatClock(least)}}}}
			}
			p.Report(d)
		})
	}}

// written is where the parts of a session as written stand.
func written(s *model.Session) source.Place {
	var at source.Place
	for i, g := range s.Parts {
		if i == 0 {
			at = source.Place{File: g.At.File, Span: g.Block}
		}
		at.Span = at.Join(g.Block)
	}
	return at
}

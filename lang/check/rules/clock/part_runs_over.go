package clock

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var PartRunsOver = check.Rule{Name: "part-runs-over", Family: "clock", Severity: diag.Error,
	Thresholds: []*check.Threshold{check.LateShare},
	Summary:    "a part that is not over when the next one starts by the clock; a warning where only some are late",
	Session: func(p *check.Pass, s *model.Session) {
		for _, g := range p.Timeline(s).Gaps() {
			if !g.Next.Pinned || g.Backwards() || !g.Known() || !p.PartReadWithoutErrors(g.Part.Group) {
				continue
			}
			verdict, who := g.Judge(g.Window, p.Value(check.LateShare)/100)
			if verdict == estimate.InTime {
				continue
			}
			a, b := g.Part.Group.PartName(), g.Next.Group.PartName()
			d := diag.Diagnostic{At: g.Part.Group.At, Severity: check.SeverityOf(verdict),
				Label:   phrase.PartTook(g, verdict),
				Related: []diag.Related{{At: g.Next.Group.Start.At, Message: b + " starts here"}}}
			over := g.Took(g.Part.Work.Typical) - g.Window
			at := units.FormatClock(g.Next.Start)
			switch {
			case over > estimate.Tolerance:
				d.Message = fmt.Sprintf("%s runs %s into %s, which starts at %s", a, units.FormatClock(over), b, at)
			default:
				n, span := who.Words()
				d.Message = fmt.Sprintf("%s %s still at %s when %s starts at %s%s", n, phrase.Verb(who, "is", "are"), a,
					b, at, span)
			}
			p.Report(p.OfferRestart(d, g.Next.Group, "ask for less work in "+a))
		}
	}}

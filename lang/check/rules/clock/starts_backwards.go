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

var StartsBackwards = check.Rule{Name: "starts-backwards", Family: "clock", Severity: diag.Error,
	Summary: "a part that starts no later than one that stands before it, or work that is to end before it can start",
	Session: func(p *check.Pass, s *model.Session) {
		var last *model.Group
		latest := 0.0
		for _, g := range s.Parts {
			at, ok := g.Start.One()
			switch {
			case !ok:
				continue
			case at == 0 || last == nil: // it starts the clock anew
			case at <= latest:
				p.Report(startedBefore(p, s, g, last))
				continue
			}
			last, latest = g, at
		}
		endsBeforeStart(p, s)
	}}

// endsBeforeStart reports heads that go on until a time that is over on the clock around them when they are come to.
func endsBeforeStart(p *check.Pass, s *model.Session) {
	t := p.Timeline(s)
	for _, part := range t.Parts {
		if !part.Proven() || !p.PartReadWithoutErrors(part.Group) {
			continue
		}
		for _, of := range part.Groups {
			end := of.Group.Repeat.Until
			if end == nil || end.Clock == nil {
				continue
			}
			least := of.AtLeast().Began
			_, at, ok := end.Clock.Value(0, 1, part.Tier)
			if !ok || least.Typical < at-estimate.Tolerance {
				continue
			}
			d := diag.Diagnostic{At: end.At, Severity: diag.Warning, Label: "it starts at " + phrase.Typical(least),
				Message: fmt.Sprintf("this is not begun before %s on the clock around it, and goes on until %s", units.FormatClock(least.Typical), units.FormatClock(at)),
				Help:    "write a later time; until is on the clock around the head, and x says how often: every 1:00 x 8"}
			if least.Fast == least.Slow {
				d.Severity, d.Label = diag.Error, "so nothing of it is done"
			}
			p.Report(d)
		}
	}
}

func startedBefore(p *check.Pass, s *model.Session, g, last *model.Group) diag.Diagnostic {
	at, _ := g.Start.One()
	before, _ := last.Start.One()
	d := diag.Diagnostic{At: g.Start.At,
		Related: []diag.Related{{At: last.Start.At, Message: last.PartName() + " starts here"}}}
	if at == before {
		d.Message = fmt.Sprintf("%s starts at %s, just when %s does", g.PartName(), units.FormatClock(at),
			last.PartName())
	} else {
		d.Message = fmt.Sprintf("%s starts at %s, before %s, which starts at %s", g.PartName(), units.FormatClock(at),
			last.PartName(), units.FormatClock(before))
	}
	for _, o := range p.Timeline(s).Parts {
		if o.Group == g {
			return p.OfferRestart(d, o.Group, "write the parts in the order in which they are done")
		}
	}
	return d
}

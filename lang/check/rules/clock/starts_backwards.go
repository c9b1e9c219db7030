package clock

import (
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var StartsBackwards = check.Rule{Name: "starts-backwards", Family: "clock", Severity: diag.Error,
	Summary: "a part that starts no later than one that stands before it",
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
	}}

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

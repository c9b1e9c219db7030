// Package clock has the rules about the clock: starts, caps, intervals, aims and lengths.
package clock

import (
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// eachCap calls f with every capped part of a session that does not simply go on until its cap. A
// head on which something else is wrong is left out: its work may not be what was meant.
func eachCap(p *check.Pass, s *model.Session, f func(t *estimate.Timeline, part *estimate.PartTime, limit float64)) {
	t := p.Timeline(s)
	for _, part := range t.Parts {
		g := part.Group
		limit, ok := g.Cap.One()
		if _, window := totals.Whole(g, part.Tier); !ok || limit <= 0 || window || part.Outlasts || !part.Proven() ||
			part.Work.Slow <= 0 {
			continue
		}
		if p.ErrorOnLine(g.Cap.At) || !p.PartReadWithoutErrors(g) ||
			units.Same(part.Work.Fast, limit) && units.Same(part.Work.Slow, limit) {
			continue
		}
		f(t, part, limit)
	}
}

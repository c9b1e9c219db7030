package check

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var capTight = Rule{Name: "cap-tight", Family: "clock", Severity: diag.Warning,
	Summary:  "a cap that few can beat, even if everyone is quicker than the estimate",
	Settings: []Setting{{Name: "share", Unit: "%", Default: 75, Source: "no source: a race that three in four do not finish is none for them"}},
	session: func(p *pass, s *model.Session) {
		p.eachCap(s, func(t *estimate.Timeline, part *estimate.PartTime, limit float64) {
			of := p.setting("share") / 100
			quicker := 1 - t.Figures.Margin
			if of >= estimate.Typical && part.Work.Typical*quicker <= limit || t.At(part, 1-of)*quicker <= limit {
				return
			}
			who := t.Share(part, limit)
			g := part.Group
			n, span := people(who)
			d := diag.Diagnostic{At: g.Cap.At, Label: typical(part.Work) + ", an estimate",
				Message: fmt.Sprintf("%s %s the cap of %s%s", n, verb(who, "misses", "miss"), units.FormatClock(limit), span),
				Help:    "write a later cap, or ask for less work"}
			if most := up(t.At(part, 0.75)); most > limit && t.At(part, 1-of)*quicker <= most {
				d.Help = fmt.Sprintf("write cap %s, with which three in four finish, or ask for less work", units.FormatClock(most))
				if p.capMayBe(g, most) {
					d.Fixes = []diag.Fix{{Title: "write cap " + units.FormatClock(most), Edits: []diag.Edit{{At: g.Cap.At, New: units.FormatClock(most)}}}}
				}
			}
			p.report(d)
		})
	}}

// eachCap calls f with every capped part of a session that does not simply go on until its cap. A
// head on which something else is wrong is left out: its work may not be what was meant.
func (p *pass) eachCap(s *model.Session, f func(t *estimate.Timeline, part *estimate.PartTime, limit float64)) {
	t := p.timeline(s)
	for _, part := range t.Parts {
		g := part.Group
		limit, ok := g.Cap.One()
		if _, window := totals.Whole(g, part.Tier); !ok || limit <= 0 || window || part.Outlasts || !part.Proven() || part.Work.Slow <= 0 {
			continue
		}
		if p.faulty(g.Cap.At) || !p.sound(g) || same(part.Work.Fast, limit) && same(part.Work.Slow, limit) {
			continue
		}
		f(t, part, limit)
	}
}

// capMayBe says whether a part's cap may be so long, as written and in every version that
// it holds for: the next part does not start before, and the rest that is asked for is left.
func (p *pass) capMayBe(of *model.Group, limit float64) bool {
	for _, s := range p.variants() {
		for _, g := range gaps(p.timeline(s)) {
			if c := g.part.Group.Cap; c == nil || c.At != of.Cap.At || !g.next.Pinned {
				continue
			}
			if limit+g.waits(limit)+g.asked().rest > g.window {
				return false
			}
		}
	}
	return true
}

package clock

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var capTightShare = &check.Threshold{Name: "share", Unit: "%", Default: 75,
	Source: "no source: a race that three in four do not finish is none for them"}

var CapTight = check.Rule{Name: "cap-tight", Family: "clock", Severity: diag.Error,
	Summary:     "a cap that few can beat, or a length that few can do the work in, even if everyone is quicker than the estimate",
	Thresholds:  []*check.Threshold{capTightShare},
	AfterOthers: true,
	Session: func(p *check.Pass, s *model.Session) {
		capsMissed(p, s)
		headLimits(p, s)
		eachCap(p, s, func(t *estimate.Timeline, part *estimate.PartTime, limit float64) {
			of := p.Value(capTightShare) / 100
			quicker := 1 - t.Figures.Margin
			if of >= estimate.Typical && part.Work.Typical*quicker <= limit || t.At(part, 1-of)*quicker <= limit {
				return
			}
			who := t.Share(part, limit)
			g := part.Group
			n, span := who.Words()
			d := diag.Diagnostic{At: g.Cap.At, Severity: diag.Warning, Label: phrase.Typical(part.Work) + ", an estimate",
				Message: fmt.Sprintf("%s %s the cap of %s%s", n, phrase.Verb(who, "misses", "miss"),
					units.FormatClock(limit), span),
				Help: "write a later cap, or ask for less work"}
			if most := estimate.RoundUp(t.At(part, 0.75), 30); most > limit && t.At(part, 1-of)*quicker <= most {
				d.Help = fmt.Sprintf("write cap %s, with which three in four finish, or ask for less work",
					units.FormatClock(most))
				if capMayBe(p, g, most) {
					d.Fixes = []diag.Fix{{Title: "write cap " + units.FormatClock(most),
						Edits: []diag.Edit{{At: g.Cap.At, New: units.FormatClock(most)}}}}
				}
			}
			p.Report(d)
		})
	}}

// capsMissed reports caps that the typical miss even by the least time that a part can take, which is sure
// though how long it takes is not proven.
func capsMissed(p *check.Pass, s *model.Session) {
	for _, part := range p.Timeline(s).Parts {
		g := part.Group
		limit, ok := g.Cap.One()
		_, window := totals.Whole(g, part.Tier)
		if !ok || limit <= 0 || window || part.Proven() || !part.SurelyOver(limit) || p.ErrorOnLine(g.Cap.At) ||
			!p.PartReadWithoutErrors(g) {
			continue
		}
		p.Report(diag.Diagnostic{At: g.Cap.At, Severity: diag.Error,
			Message: fmt.Sprintf("the typical take longer than the cap of %s, even by the least time that is known", units.FormatClock(limit)),
			Label:   "at least " + phrase.Typical(part.Near),
			Help:    "write a later cap, or ask for less work"})
	}
}

// headLimits reports caps of heads inside parts, and what heads are to last, as a cap of a part is. Where all of
// the work is stated in times, these are added up, and too many of them are an error.
func headLimits(p *check.Pass, s *model.Session) {
	t := p.Timeline(s)
	for _, part := range t.Parts {
		if part.Outlasts || !p.PartReadWithoutErrors(part.Group) {
			continue
		}
		for _, l := range t.HeadLimits(part) {
			if l.Unproven && (part.Beyond() || l.Needed.Typical <= l.Seconds+estimate.Tolerance) || p.ErrorOnLine(l.Limit.At) {
				continue
			}
			limit := units.FormatClock(l.Seconds)
			d := diag.Diagnostic{At: l.Limit.At, Severity: diag.Warning, Label: phrase.Typical(l.Needed) + ", an estimate", Help: "write a longer time, or ask for less work"}
			if l.Cap {
				d.Help = "write a later cap, or ask for less work"
			}
			switch {
			case l.Unproven:
				d.Label = "at least " + phrase.Typical(l.Needed) + ", an estimate"
				d.Message = fmt.Sprintf("the typical are not done with this in %s, even by the least time that is known", limit)
			case l.InTimes && l.Needed.Slow > l.Seconds+estimate.Tolerance:
				d.Severity, d.Label = diag.Error, "the changes between them are not counted"
				d.Message = fmt.Sprintf("the times add up to %s, and there are %s for them", units.FormatClock(l.Needed.Slow), limit)
			case l.InTimes || l.Missed.Low < p.Value(capTightShare)/100:
				continue
			case l.Cap:
				n, span := l.Missed.Words()
				d.Message = fmt.Sprintf("%s %s the cap of %s%s", n, phrase.Verb(l.Missed, "misses", "miss"), limit, span)
			default:
				n, span := l.Missed.Words()
				d.Message = fmt.Sprintf("%s %s not done with this in %s%s", n, phrase.Verb(l.Missed, "is", "are"), limit, span)
			}
			p.Report(d)
		}
	}
}

// capMayBe says whether a part's cap may be so long, as written and in every version that
// it holds for: the next part does not start before, and the rest that is asked for is left.
func capMayBe(p *check.Pass, of *model.Group, limit float64) bool {
	for _, s := range p.Written.Variants() {
		for _, g := range p.Timeline(s).Gaps() {
			if c := g.Part.Group.Cap; c == nil || c.At != of.Cap.At || !g.Next.Pinned {
				continue
			}
			if limit+g.Waits(limit)+g.Asked().Rest > g.Window {
				return false
			}
		}
	}
	return true
}

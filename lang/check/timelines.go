package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// sums are what sessions and groups come to. The rules of a file share them too.
type sums map[any]*totals.Totals // by session or group

// totals are what a session comes to, as written or in a version.
func (p *pass) totals(s *model.Session) *totals.Totals {
	return p.sums.of(s, func() *totals.Totals { return totals.OfSession(s, len(p.Env.House.Tiers)) })
}

// totalsOf are what a part, or any group, comes to.
func (p *pass) totalsOf(g *model.Group) *totals.Totals {
	return p.sums.of(g, func() *totals.Totals { return totals.OfGroup(g, len(p.Env.House.Tiers)) })
}

func (m sums) of(what any, add func() *totals.Totals) *totals.Totals {
	t := m[what]
	if t == nil {
		t = add()
		m[what] = t
	}
	return t
}

// timelines are how long sessions and their versions take. The rules of a file share
// them, so that each is worked out once.
type timelines map[*model.Session]*estimate.Timeline

// timeline is how long a session takes, as written or in a version.
func (p *pass) timeline(s *model.Session) *estimate.Timeline {
	t := p.times[s]
	if t == nil {
		t = estimate.Of(s, p.Env)
		p.times[s] = t
	}
	return t
}

// variants are the session at hand as written and in all its versions: what an edit of its
// lines may change.
func (p *pass) variants() []*model.Session {
	out := []*model.Session{p.written}
	for _, v := range p.written.Versions {
		out = append(out, v.Session)
	}
	return out
}

// sound says whether all lines of a part mean what they say: no error stands on one that
// comes from reading it. Else nothing is said of how long it takes until that is mended.
func (p *pass) sound(part *model.Group) bool {
	in := func(d diag.Diagnostic) bool {
		return d.Severity == diag.Error && within(d.At, source.Place{File: part.At.File, Span: part.Block})
	}
	return !slices.ContainsFunc(p.given, in) && !slices.ContainsFunc(p.File.Syntax.Diags, in)
}

// partName is what a sentence calls a part.
func partName(g *model.Group) string {
	if g.Kind == model.Part {
		return strings.TrimSpace("part " + g.Letter)
	}
	return "the " + string(g.Kind)
}

// typical is a time for the three athletes, as a label says it.
func typical(t estimate.Times) string {
	fast, mid, slow := units.FormatClock(t.Fast), units.FormatClock(t.Typical), units.FormatClock(t.Slow)
	if fast == mid && mid == slow {
		return mid
	}
	return fmt.Sprintf("typical %s (%s fast, %s slow)", mid, fast, slow)
}

// people is how many of the class miss something: who, and the range in brackets, which may
// be empty.
func people(s estimate.ClassShare) (who, span string) {
	n, low, high := s.People()
	switch {
	case s.Nearly():
		return "nearly everyone", ""
	case s.Hardly():
		return "hardly anyone", ""
	case s.Class <= 0:
		of := func(v float64) string { return percent(math.Round(100 * v)) }
		return "about " + of(s.Of) + " of the class", fmt.Sprintf(" (%s to %s)", of(s.Low), of(s.High))
	case low == high:
		return fmt.Sprintf("about %d of %d", n, s.Class), ""
	}
	return fmt.Sprintf("about %d of %d", n, s.Class), fmt.Sprintf(" (%d to %d)", low, high)
}

// verb makes a verb agree with who does it: about 1 of 16 misses, 3 of 16 miss.
func verb(s estimate.ClassShare, one, more string) string {
	if n, _, _ := s.People(); s.Nearly() || s.Hardly() || s.Class > 0 && n == 1 {
		return one
	}
	return more
}

// up rounds a time up to the next half minute, as a plan is written.
func up(s float64) float64 { return upTo(s, 30) }

func upTo(s, step float64) float64 { return step * math.Ceil(s/step-1e-9) }

// A gap is what lies between a part and the one that follows it on the same clock.
type gap struct {
	t          *estimate.Timeline
	part, next *estimate.PartTime
	window     float64 // s from the start of the part to that of the next
	before     float64 // s that the clock has run until the part, where it starts whenever the one before is done
}

// gaps are those of a session, but for a part that starts the clock anew.
func gaps(t *estimate.Timeline) []gap {
	var out []gap
	pinned := 0.0
	for i, p := range t.Parts {
		at, ok := p.Group.Start.One()
		if i > 0 && !(ok && at == 0) {
			g := gap{t: t, part: t.Parts[i-1], next: p}
			g.window = p.Began - g.part.Began
			if !g.part.Pinned {
				g.before = max(0, g.part.Began-pinned)
			}
			out = append(out, g)
		}
		if ok {
			pinned = p.Began
		}
	}
	return out
}

// backwards says whether the next part is said to start before the one before it.
func (g gap) backwards() bool { return g.next.Pinned && g.part.Pinned && g.window <= 0 }

// known says whether it can be told when the part is over.
func (g gap) known() bool { return g.part.Proven() && g.part.Settled }

// waits is how long the room waits for the next part from the end of one athlete's work:
// for the heats that start after the first.
func (g gap) waits(took float64) float64 {
	p := g.part
	h := p.Group.Heats
	if h == nil {
		return 0
	}
	longest := max(p.CappedWork.Fast, p.CappedWork.Typical, p.CappedWork.Slow)
	extra := max(0, p.Room-longest)
	if _, ok := h.Every.One(); ok || longest <= 0 {
		return extra
	}
	return extra * took / longest
}

// took is how long the part has the room for somebody who works so long, all heats and the
// cap counted.
func (g gap) took(work float64) float64 {
	if limit, ok := g.part.Group.Cap.One(); ok {
		work = min(work, limit)
	}
	return work + g.waits(work)
}

// exact says whether the part takes everybody the same time, so that no estimate is in it.
func (g gap) exact() bool { return same(g.part.Work.Fast, g.part.Work.Slow) }

// late judges whether a part is over too late for a limit, in s from its start: an error
// where the typical athlete is late even when everything goes so much quicker as estimates
// are off, a warning where they are late or more than a share of the class is.
func (p *pass) late(g gap, limit float64) (diag.Severity, estimate.ClassShare) {
	var none estimate.ClassShare
	work, margin := g.part.Work, g.t.Figures.Margin
	mid := g.took(work.Typical)
	switch {
	case g.took(math.Inf(1)) <= limit: // its cap ends it in time
		return diag.Off, none
	case g.exact():
		if mid > limit+second {
			return diag.Error, none
		}
		return diag.Off, none
	case g.took(work.Typical*(1-margin)-g.before*margin) > limit+second:
		return diag.Error, p.share(g, limit)
	case mid > limit+second:
		return diag.Warning, p.share(g, limit)
	case g.part.Outlasts: // nothing is known of a share of those who go on longest
		return diag.Off, none
	}
	of := p.setting("share") / 100
	if of >= 1-estimate.Slow && g.took(work.Slow) <= limit+second || g.took(g.t.At(g.part, 1-of)) <= limit+second {
		return diag.Off, none
	}
	return diag.Warning, p.share(g, limit)
}

// second is half of what a clock shows: less than that is not late.
const second = 0.5

// share is how many of the class are over a limit of a part.
func (p *pass) share(g gap, limit float64) estimate.ClassShare {
	if g.part.Outlasts {
		return estimate.ClassShare{}
	}
	if wait := g.waits(1); g.part.Group.Heats != nil { // by a share of the work, or by the clock
		if _, ok := g.part.Group.Heats.Every.One(); ok {
			limit -= wait
		} else {
			limit /= 1 + wait
		}
	}
	return g.t.Share(g.part, limit)
}

// quarter is the time in which three in four of the class are done with a part.
func (g gap) quarter() float64 {
	if g.part.Outlasts {
		return g.took(max(g.part.Work.Fast, g.part.Work.Slow))
	}
	return g.took(g.t.At(g.part, 0.75))
}

// An ask is a rest that somebody asks for.
type ask struct {
	rest float64 // s
	by   string
	at   source.Place
}

// asked is the longest rest that is asked for behind a part, by itself, the session or the
// house; its rest is 0 where nobody asks.
func (g gap) asked() ask {
	a, ok := g.t.Asked(slices.Index(g.t.Parts, g.part))
	if !ok {
		return ask{}
	}
	by := "the " + a.By
	if a.By == "part" {
		by = partName(g.part.Group)
	}
	return ask{a.Rest, by, a.From.At}
}

// restart is a fix that starts a part so late that three in four of the class are done
// with the one before and have the rest that is asked for, as written and in every version
// that this start holds for. What follows on the same clock starts as much later, so that
// no other gap shrinks. At is when it starts then.
func (p *pass) restart(next *estimate.PartTime) (fix diag.Fix, at float64, ok bool) {
	start, pinned := next.Group.Start.One()
	if !pinned {
		return fix, 0, false
	}
	place := next.Group.Start.At
	var edits []diag.Edit
	for _, s := range p.variants() {
		for _, g := range gaps(p.timeline(s)) {
			if g.next.Group.Start == nil || g.next.Group.Start.At != place || !g.known() {
				continue
			}
			at = max(at, up(g.part.Start+g.quarter()+g.asked().rest))
		}
	}
	if at <= start {
		return fix, 0, false
	}
	for _, s := range p.variants() {
		found := false
		for _, o := range p.timeline(s).Parts {
			v, ok := o.Group.Start.One()
			found = found || ok && o.Group.Start.At == place
			if !found || !ok {
				continue
			}
			if v == 0 {
				break // another clock
			}
			e := diag.Edit{At: o.Group.Start.At, New: units.FormatClock(v + at - start)}
			if !slices.Contains(edits, e) {
				edits = append(edits, e)
			}
		}
	}
	fix = diag.Fix{Title: fmt.Sprintf("start %s at %s", partName(next.Group), units.FormatClock(at)), Edits: edits}
	if len(edits) > 1 {
		fix.Title += fmt.Sprintf(", and what follows %s later", units.FormatClock(at-start))
	}
	return fix, at, true
}

// withRestart adds that fix to a finding, and says it in its help.
func (p *pass) withRestart(d diag.Diagnostic, next *estimate.PartTime, or string) diag.Diagnostic {
	fix, at, ok := p.restart(next)
	if !ok {
		d.Help = fmt.Sprintf("start %s later, or %s", partName(next.Group), or)
		return d
	}
	d.Help = fmt.Sprintf("start %s at %s, or %s", partName(next.Group), units.FormatClock(at), or)
	d.Fixes = []diag.Fix{fix}
	return d
}

package readback

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// A Holds is how a stated number or condition was held to be true.
type Holds string

// The ways in which something that is stated can hold, or not.
const (
	Proven    Holds = "proven"             // by what the text states
	Refuted   Holds = "refuted"            // the text says otherwise
	Estimated Holds = "estimated"          // by how long people take: the share of the class that misses it
	BothEnds  Holds = "taken at both ends" // it may be done or not, and what depends on it is counted as both
	OnlyShown Holds = "only shown"         // nothing that the text says can prove it
)

// A Claim is something that the text states, and how it was held to be true.
type Claim struct {
	At    source.Place `json:"at"`
	Of    string       `json:"of,omitempty"` // the part; empty for the session
	What  string       `json:"states"`
	Holds Holds        `json:"holds"`
	Why   string       `json:"why"`

	people int // of the class that miss it
}

// An accountant goes through all that a session states.
type accountant struct {
	teller
	session *model.Session
	clock   *timeline.Clock
	times   *estimate.Timeline
	found   []diag.Diagnostic
	claims  []Claim
}

func (a *accountant) all() []Claim {
	a.claims = []Claim{}
	a.length()
	for i, g := range a.session.Parts {
		a.part(g, a.clock.Parts[i])
	}
	for _, m := range a.session.Aims {
		a.aim("", m, a.session.Parts, nil)
	}
	for _, t := range a.session.Totals {
		a.total("", t, a.session.Parts)
	}
	return a.claims
}

// claim adds one. An error that was found at its place refutes it, and a finding that it cannot be
// proven leaves it open, whatever else was worked out.
func (a *accountant) claim(at source.Place, of, what string, holds Holds, why string) {
	for _, d := range a.found {
		if !overlap(d.At, at) {
			continue
		}
		if d.Severity == diag.Error {
			holds, why = Refuted, d.Message
			break
		}
		if strings.HasSuffix(d.Rule, "-unproven") {
			holds, why = OnlyShown, d.Message
		}
	}
	a.claims = append(a.claims, Claim{At: at, Of: of, What: what, Holds: holds, Why: why})
}

// overlap says whether two places share some words.
func overlap(a, b source.Place) bool { return a.File == b.File && a.Start < b.End && b.Start < a.End }

func (a *accountant) length() {
	l := a.session.Length
	if l == nil {
		l = a.house.Length
	}
	if l == nil {
		return
	}
	of := a.clock.Length
	if of.Settled {
		a.claim(l.At, "", "length "+prose.Amount(l), Estimated, of.Text())
		return
	}
	a.claim(l.At, "", "length "+prose.Amount(l), OnlyShown, of.Text()+a.because(a.clock.Parts))
}

// because are the words for which nothing is proven, of the first part that has some.
func (a *accountant) because(parts []*timeline.Part) string {
	for _, p := range parts {
		if why := because(p); why != "" {
			return ": " + why
		}
	}
	return ""
}

func because(p *timeline.Part) string {
	for _, m := range p.Missing {
		if !m.Held {
			return reason(m)
		}
	}
	return ""
}

// reason is why something is missing, without the words that say that it is.
func reason(m timeline.Missing) string {
	return strings.TrimPrefix(m.Text(), "not proven, because of ")
}

func (a *accountant) part(g *model.Group, p *timeline.Part) {
	of := p.Name
	a.capped(g, p)
	if g.Lasts != nil {
		a.lasts(g, p)
	}
	for _, l := range p.Limits {
		if l.Kind == "rounds" { // an aim, which says so itself
			continue
		}
		holds := Estimated
		why := strings.TrimPrefix(l.Text, l.What+": ")
		if !l.Proven {
			holds, why = OnlyShown, because(p)
			switch {
			case why != "":
			case p.Outlasts:
				why = "it goes on until somebody misses a turn"
			case len(p.Missing) > 0: // it moves no end, and yet nobody knows what a turn takes
				why = reason(p.Missing[0])
			default:
				why = "nobody knows how much of it is done in a turn"
			}
		}
		within := of
		if l.Kind == "start" || strings.Contains(l.What, " before ") { // it is between two parts
			within = ""
		}
		a.claim(a.placeOf(g, l), within, l.What, holds, why)
		if l.People != nil {
			a.claims[len(a.claims)-1].people = l.People.About
		}
	}
	held := slices.ContainsFunc(p.Limits, func(l timeline.Limit) bool { return l.Kind == "rest" })
	model.Walk(g, model.Everything, func(s model.Step, around []*model.Group) bool {
		a.step(of, s)
		if inner, ok := s.(*model.Group); ok {
			a.asked(of, inner, held && inner == g)
		}
		return true
	})
}

// asked are the rests that a group asks for and that no limit of its part tells.
func (a *accountant) asked(of string, g *model.Group, held bool) {
	for _, r := range g.Rests {
		if held && r.Bound == model.AtLeast && r.Of == model.NearestTurns {
			continue
		}
		why := "what is left there is not worked out"
		if g.IsSection() && r.Bound == model.AtLeast && r.Of == model.NearestTurns {
			why = "nothing behind it starts at a stated time, so nothing cuts it short"
		}
		a.claim(r.At, of, oneLine(r.At.Text()), OnlyShown, why)
	}
}

// longest is the greater end of a time, in s.
func longest(q *model.Quantity, tier int) float64 {
	_, hi, _ := q.Value(0, 1, tier)
	return hi
}

// capped is a cap that nobody can miss, because the clock alone ends the work.
func (a *accountant) capped(g *model.Group, p *timeline.Part) {
	if g.Cap == nil || slices.ContainsFunc(p.Limits, func(l timeline.Limit) bool { return l.Kind == "cap" }) {
		return
	}
	a.claim(g.Cap.At, p.Name, "cap "+prose.Amount(g.Cap), Proven, "nothing else ends the work")
}

// lasts is a stated length of a part, against what the work in it takes.
func (a *accountant) lasts(g *model.Group, p *timeline.Part) {
	holds, why := Proven, "it is over then, whatever anybody does"
	switch {
	case p.Needs != nil:
		holds, why = Estimated, "the work itself takes "+levels(p.Needs.Times())+" of it"
	case g.Mode == model.ForLoad:
		why = "there are as many sets as it leaves time for"
	case len(p.Missing) > 0:
		m := p.Missing[0]
		holds, why = OnlyShown, fmt.Sprintf("whether the work fits into it is not known, because of %q: %s", oneLine(m.Words), m.Why)
	}
	a.claim(g.Lasts.At, p.Name, "lasts "+prose.Amount(g.Lasts), holds, why)
}

// step are the claims that stand on or under one step of a part.
func (a *accountant) step(of string, s model.Step) {
	switch s := s.(type) {
	case *model.Group:
		for _, m := range s.Aims {
			a.aim(of, m, []*model.Group{s}, s)
		}
		if s.Cap != nil && !s.IsSection() {
			// The simulation stops at the cap, so the times that it has do not say who would miss it.
			a.claim(s.Cap.At, of, "cap "+prose.Amount(s.Cap), OnlyShown, "who would miss a cap inside a part is not worked out")
		}
		a.window(of, s)
		if s.Lasts != nil && !s.IsSection() {
			a.innerLasts(of, s)
		}
		for _, t := range s.Totals {
			a.total(of, t, []*model.Group{s})
		}
		a.end(of, s.Repeat.Until, s.Repeat.Count != nil || s.Repeat.Series != nil)
		a.condition(of, s)
		if s.Chooses() {
			a.claim(s.At, of, "choose one", BothEnds, "what only some of them do is counted from none to all")
		}
	case *model.Work:
		a.end(of, s.Until, s.HasCount())
		a.past(of, s)
		if s.Rest != nil {
			a.end(of, s.Rest.Until, s.Rest.Amount != nil && !s.Rest.Amount.OrMore())
		}
		a.condition(of, s)
	case *model.Rest:
		a.end(of, s.Until, s.Amount != nil && !s.Amount.OrMore())
	}
}

// innerLasts is a stated length inside a part. Whether counted work fits into it is not worked out.
func (a *accountant) innerLasts(of string, g *model.Group) {
	holds, why := Proven, "it is over then, whatever anybody does"
	for w, around := range g.Lines(model.OnlySteps) {
		overAndOver := slices.ContainsFunc(around, func(o *model.Group) bool { return o.Mode == model.AMRAP })
		if !overAndOver && w.From != model.FromClock && w.Dose != nil && !w.Dose.Max {
			holds, why = OnlyShown, "it is over then; whether the work in it is done by then is not worked out"
		}
	}
	a.claim(g.Lasts.At, of, "lasts "+prose.Amount(g.Lasts), holds, why)
}

// window is whether what is counted in the windows of a group is done in each of them.
func (a *accountant) window(of string, g *model.Group) {
	part, times := a.timesOf(g)
	if g.Repeat.Kind != model.On || g.Mode == model.AMRAP || g.CarryOn || times == nil || times.Turns[1].Number == 0 {
		return
	}
	for w := range g.Lines(model.OnlySteps) {
		if w.From != model.FromClock && w.Dose != nil && !w.Dose.Max {
			share := a.times.ShareOfTurns(part, g, longest(g.Repeat.On, part.Tier))
			a.share(g.Repeat.At, of, "on "+prose.Amount(g.Repeat.On), share, "would not be done in it", part)
			return
		}
	}
}

// condition is what it depends on whether a step is done.
func (a *accountant) condition(of string, s model.Step) {
	if text := model.Condition(s); text != "" {
		a.claim(s.Where(), of, "if > "+strings.TrimSuffix(text, "."), BothEnds, "what depends on it is counted as left out and as done")
	}
}

// end is what work, a rest or what comes round goes on until. Bounded says that the text says at most
// how long or how much.
func (a *accountant) end(of string, e *model.End, bounded bool) {
	if e == nil || e.Clock != nil {
		return
	}
	holds, why := OnlyShown, "when that is, nothing in the text can say"
	if bounded && e.Untold() {
		holds, why = BothEnds, "when that is, nothing in the text can say, so what it ends is counted from the least to all of it"
	}
	all := a.found // what is wrong with the head or the line around it says nothing of its end
	a.found = slices.DeleteFunc(slices.Clone(all), func(d diag.Diagnostic) bool { return d.At.Start < e.At.Start })
	a.claim(e.At, of, strings.TrimSpace(until(e, nil)), holds, why)
	a.found = all
}

// past is what a line takes from earlier work.
func (a *accountant) past(of string, w *model.Work) {
	claim := func(p *model.Past, told *model.Quantity) {
		if told != nil && len(told.Terms) > 0 && told.Unit != "%" {
			a.claim(p.At, of, prose.Past(p), Proven, "by what is written before it: "+prose.Amount(told))
			return
		}
		a.claim(p.At, of, prose.Past(p), OnlyShown, "how much that is, only what they do today will show")
	}
	if w.Past != nil {
		claim(w.Past, w.Dose)
	}
	for _, l := range w.Loads {
		if l.Past != nil {
			claim(l.Past, l.Amount)
		}
	}
}

// aim is what the coach expects of some work: of a group, or of the session where that is nil.
func (a *accountant) aim(of string, m *model.Aim, work []*model.Group, g *model.Group) {
	what := oneLine(m.At.Text())
	part, times := a.timesOf(g)
	switch {
	case m.Rest != nil && g == nil:
		a.claim(m.At, of, what, OnlyShown, "a session's rests are not added up")
		return
	case m.Rest != nil:
		a.claim(m.At, of, what, Estimated, "held against what the work leaves")
		return
	case m.Amount == nil:
	case g == nil && m.What == "time" && m.Amount.Unit == "s":
		if o, any := a.times.Over(); any {
			a.aimedOver(m, of, o, "it takes ")
			return
		}
	case m.What == model.AimedEnd && g == nil && len(a.times.Parts) > 0:
		a.aimedOver(m, of, a.times.OverOnClock(a.times.Parts[len(a.times.Parts)-1]), "it is over at ")
		return
	case m.What == model.AimedEnd && part != nil && part.Group == g:
		a.aimedOver(m, of, a.times.OverOnClock(part), "it is over at ")
		return
	case m.Sum() != nil:
		sum := m.Sum()
		holds, why := proof(sum, rowOf(sum, totals.View{}.Of(len(a.house.Tiers), work...)))
		a.claim(m.At, of, what, holds, why)
		return
	case times == nil:
	case m.What == "time" && m.Amount.Unit == "s":
		if lo, hi, ok := m.Amount.Value(0, 1, part.Tier); ok {
			a.aimedTime(m, of, part, times, lo, hi)
			return
		}
	case m.What == "rounds" && times.Counted && g.Mode == model.AMRAP:
		if lo, _, ok := m.Amount.Value(0, 1, part.Tier); ok && lo >= 1 {
			share := a.times.ShareOfRounds(part, g, int(math.Ceil(lo)))
			a.share(m.At, of, what, share, "would get fewer", part)
			return
		}
	}
	a.claim(m.At, of, what, OnlyShown, "no estimate says what it comes to")
}

// aimedOver holds an aim against when something is over, on the clock that the aim is on.
func (a *accountant) aimedOver(m *model.Aim, of string, o estimate.Over, over string) {
	what := oneLine(m.At.Text())
	lo, hi, ok := m.Amount.Value(0, 1, 0)
	switch {
	case !ok || !o.Proven:
		a.claim(m.At, of, what, OnlyShown, "not all that it depends on is known"+a.because(a.clock.Parts))
	case o.Fixed:
		holds := Proven
		if early, late := a.times.Beyond(o, lo, hi); early && !m.Amount.IsMost() || late && !m.Amount.OrMore() {
			holds = Refuted
		}
		a.claim(m.At, of, what, holds, over+units.FormatClock(o.Slow)+", by the clock alone")
	default:
		after, before := a.times.ShareAfter(o, hi), opposite(a.times.ShareAfter(o, lo))
		why := timeline.Crowd(after) + " would be later"
		switch {
		case m.Amount.OrMore():
			after, why = before, timeline.Crowd(before)+" would be earlier"
		case lo < hi && !m.Amount.IsMost():
			why += ", " + timeline.Crowd(before) + " earlier"
		}
		a.claim(m.At, of, what, Estimated, why)
		a.claims[len(a.claims)-1].people, _, _ = after.People()
	}
}

// timesOf are the times of a group and of its part; nil where there are none.
func (a *accountant) timesOf(g *model.Group) (*estimate.PartTime, *estimate.GroupTime) {
	for _, p := range a.times.Parts {
		if t, ok := p.GroupOf(g); ok {
			return p, t
		}
	}
	return nil, nil
}

// aimedTime holds an aimed time, from lo to hi s, against how long a group takes.
func (a *accountant) aimedTime(m *model.Aim, of string, p *estimate.PartTime, g *estimate.GroupTime, lo, hi float64) {
	share := func(limit float64) estimate.ClassShare {
		if g.Group == p.Group {
			return a.times.Share(p, limit)
		}
		return a.times.ShareOfTurns(p, g.Group, limit)
	}
	what := oneLine(m.At.Text())
	slower, quicker := share(hi), opposite(share(lo))
	switch {
	case m.Amount.OrMore():
		a.share(m.At, of, what, quicker, "would take less", p)
	case !slower.Proven || lo == hi || m.Amount.IsMost():
		a.share(m.At, of, what, slower, "would take longer", p)
	default:
		why := timeline.Crowd(slower) + " would take longer, " + timeline.Crowd(quicker) + " less"
		a.claim(m.At, of, what, Estimated, why)
		a.claims[len(a.claims)-1].people, _, _ = slower.People()
	}
}

// opposite is the share of the class that does not miss a limit.
func opposite(s estimate.ClassShare) estimate.ClassShare {
	s.Of, s.Low, s.High = 1-s.Of, 1-s.High, 1-s.Low
	return s
}

// share is a claim that some of the class miss.
func (a *accountant) share(at source.Place, of, what string, s estimate.ClassShare, miss string, p *estimate.PartTime) {
	if !s.Proven {
		why := "the time that it depends on is not proven"
		for _, m := range p.Missing {
			why = m.Why
		}
		a.claim(at, of, what, OnlyShown, why)
		return
	}
	a.claim(at, of, what, Estimated, timeline.Crowd(s)+" "+miss)
	a.claims[len(a.claims)-1].people, _, _ = s.People()
}

// total is a sum, against the lines of some work.
func (a *accountant) total(of string, t *model.Total, groups []*model.Group) {
	sums := totals.View{Whose: t.Whose, After: t.After}.Of(len(a.house.Tiers), groups...)
	holds, why := proof(t, rowOf(t, sums))
	if holds == Proven && of == "" {
		why = a.pieces(t)
	}
	if sums.Unread || rowOf(t, sums).Unread {
		holds, why = OnlyShown, "some lines cannot be read"
	}
	stated := *t
	stated.Notes = nil
	a.claim(t.At, of, prose.Stated(&stated), holds, why)
}

// rowOf is the row of a sum that a total is of.
func rowOf(t *model.Total, sums *totals.Totals) totals.Row {
	if t.Name == "" {
		return sums.All(t.Amount.Unit)
	}
	row, _ := sums.Row(t.Name, t.Amount.Unit)
	return row
}

// proof holds a stated total against the sum of the lines.
func proof(t *model.Total, row totals.Row) (Holds, string) {
	sum := prose.Sum(row)
	for tier, s := range row.Tiers {
		lo, hi, known := t.Amount.Value(0, 1, tier)
		switch {
		case !known:
			return Refuted, "a total is one number, or a range"
		case t.Amount.OrMore() && (s.Lo >= lo || units.Same(s.Lo, lo)):
		case t.Amount.IsMost() && !s.Open && (s.Hi <= hi || units.Same(s.Hi, hi)):
		case t.Amount.IsMost() && s.Lo > hi && !units.Same(s.Lo, hi):
			return Refuted, "the lines add up to " + sum
		case s.Open:
			if s.Lo > 0 {
				return OnlyShown, "how much there is depends on work without a settled count: " + sum
			}
			return OnlyShown, "how much there is depends on work without a settled count"
		case !units.Same(s.Lo, lo), !units.Same(s.Hi, hi):
			return Refuted, "the lines add up to " + sum
		}
	}
	if slices.ContainsFunc(row.Tiers, func(s totals.Sum) bool { return s.Lo != s.Hi }) {
		return BothEnds, "the lines add up to " + sum
	}
	return Proven, "the lines add up to it"
}

// pieces says which parts a proven total comes from: 30 in part A and 27 in part C.
func (a *accountant) pieces(t *model.Total) string {
	var out []string
	for i, p := range a.session.Parts {
		row := rowOf(t, totals.View{Whose: t.Whose}.OfGroup(p, len(a.house.Tiers)))
		if slices.ContainsFunc(row.Tiers, func(s totals.Sum) bool { return s != totals.Sum{} }) {
			out = append(out, prose.Sum(row)+" in "+a.clock.Parts[i].Name)
		}
	}
	if len(out) == 1 {
		return "all of it" + out[0][strings.Index(out[0], " in "):]
	}
	return and(out)
}

// placeOf is where a limit stands in the text: the clause or line that states it, or else the head.
func (a *accountant) placeOf(g *model.Group, l timeline.Limit) source.Place {
	at := g.At
	switch l.Kind {
	case "cap":
		return g.Cap.At
	case "start":
		if next := a.after(g); next != nil {
			return next.Start.At
		}
	case "rest", "turn":
		model.Walk(g, model.OnlySteps, func(s model.Step, _ []*model.Group) bool {
			k, ok := s.(*model.Group)
			switch {
			case !ok:
			case l.Kind == "rest" && len(k.Rests) > 0:
				at = k.Rests[0].At
			case l.Kind == "turn" && k.Repeat.Interval != nil:
				at = k.Repeat.At
			}
			return true
		})
	}
	return at
}

// after is the part behind a part.
func (a *accountant) after(g *model.Group) *model.Group {
	i := slices.Index(a.session.Parts, g)
	if i < 0 || i+1 == len(a.session.Parts) {
		return nil
	}
	return a.session.Parts[i+1]
}

// oneLine is a text with single blanks.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

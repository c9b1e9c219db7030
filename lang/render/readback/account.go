package readback

import (
	"fmt"
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
	if s := p.Skill; s != nil {
		a.claim(s.At, of, s.Movement, Estimated, s.Text)
		a.claims[len(a.claims)-1].people = s.Others
	}
	if g.Lasts != nil {
		a.lasts(of, g, a.times.Parts[slices.Index(a.session.Parts, g)])
	}
	for _, l := range p.Limits {
		if l.Kind == "rounds" || l.Kind == "time" || l.At.File != nil { // what an aim or a head inside states, which are claims of their own
			continue
		}
		holds := Estimated
		why := strings.TrimPrefix(l.Text, l.What+": ")
		if !l.Proven {
			holds, why = OnlyShown, because(p)
			switch {
			case l.Sure == timeline.Met:
				holds, why = Proven, strings.TrimPrefix(l.Text, l.What+": ")
			case l.Sure == timeline.Missed:
				holds, why = Refuted, strings.TrimPrefix(l.Text, l.What+": ")
			case why != "":
			case p.Outlasts:
				why = "it goes on until somebody misses a turn"
			case len(p.Missing) > 0: // it moves no end, and yet nobody knows what a turn takes
				why = reason(p.Missing[0])
			case !p.Settled:
				why = "nobody knows when " + of + " starts"
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

// capped is a cap that nobody can miss, because the clock alone ends the work.
func (a *accountant) capped(g *model.Group, p *timeline.Part) {
	if g.Cap == nil || slices.ContainsFunc(p.Limits, func(l timeline.Limit) bool { return l.Kind == "cap" && l.At.File == nil }) {
		return
	}
	a.claim(g.Cap.At, p.Name, "cap "+prose.Amount(g.Cap), Proven, "nothing else ends the work")
}

// lasts is a stated length of a head, against what the work under it takes.
func (a *accountant) lasts(of string, g *model.Group, p *estimate.PartTime) {
	holds, why := Proven, "it is over then, whatever anybody does"
	l, counted := a.times.HeadLimit(p, g, g.Lasts)
	switch {
	case !counted:
		if g.Mode == model.ForLoad {
			why = "there are as many sets as it leaves time for"
		}
	case l.Unproven:
		holds, why = OnlyShown, "it is over then; whether the work in it is done by then is not proven"
		if m := missingIn(p, g); m != nil {
			why = fmt.Sprintf("whether the work fits into it is not known, because of %q: %s", oneLine(m.At.Text()), m.Why)
		}
	case l.InTimes:
		why = "the times in it add up to " + units.FormatClock(l.Needed.Slow)
	default:
		a.share(g.Lasts.At, of, "lasts "+prose.Amount(g.Lasts), l.Missed, "would need longer: the work itself takes "+
			levels(timeline.Three(l.Needed))+" of it", p)
		return
	}
	if g.SharesTime() != nil {
		why += "; how long each line without a count goes on is left open"
	}
	a.claim(g.Lasts.At, of, "lasts "+prose.Amount(g.Lasts), holds, why)
}

// innerCap is a cap of a head inside a part.
func (a *accountant) innerCap(of string, g *model.Group, p *estimate.PartTime) {
	what := "cap " + prose.Amount(g.Cap)
	switch l, missable := a.times.HeadLimit(p, g, g.Cap); {
	case !missable:
		a.claim(g.Cap.At, of, what, Proven, "nothing else ends the work")
	case l.InTimes && !l.Unproven:
		a.claim(g.Cap.At, of, what, Proven, "the times in it add up to "+units.FormatClock(l.Needed.Slow))
	default:
		a.share(g.Cap.At, of, what, l.Missed, "would miss it", p)
	}
}

// missingIn is the first thing that is missing of what a head holds; nil where nothing is.
func missingIn(p *estimate.PartTime, g *model.Group) *estimate.Missing {
	for i, m := range p.Missing {
		if m.At.Within(source.Place{File: g.At.File, Span: g.Block}) {
			return &p.Missing[i]
		}
	}
	return nil
}

// step are the claims that stand on or under one step of a part.
func (a *accountant) step(of string, s model.Step) {
	switch s := s.(type) {
	case *model.Group:
		for _, m := range s.Aims {
			a.aim(of, m, []*model.Group{s}, s)
		}
		part, _ := a.timesOf(s)
		if s.Cap != nil && !s.IsSection() {
			a.innerCap(of, s, part)
		}
		if s.Lasts != nil && !s.IsSection() {
			a.lasts(of, s, part)
		}
		for _, t := range s.Totals {
			a.total(of, t, []*model.Group{s})
		}
		a.untilClock(of, s)
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

// untilClock is a head that goes on until some time on the clock around it: from when to when that is.
func (a *accountant) untilClock(of string, g *model.Group) {
	end := g.Repeat.Until
	if end == nil || end.Clock == nil {
		return
	}
	what := "until " + prose.Amount(end.Clock)
	part, times := a.timesOf(g)
	if times == nil || !part.Proven() {
		why := "when it starts is not known"
		if times != nil {
			if m := missingIn(part, g); m != nil {
				why = fmt.Sprintf("when its work is done is not known, because of %q: %s", oneLine(m.At.Text()), m.Why)
			}
		}
		a.claim(end.At, of, what, OnlyShown, why)
		return
	}
	holds := Estimated
	if times.Began.Slow == times.Began.Fast {
		holds = Proven
	}
	why := "it goes on from " + levels(timeline.Three(times.Began)) + " to " + prose.Amount(end.Clock)
	if !times.Counted { // its work may be done before
		from, over := times.Began, estimate.Times{Fast: times.Began.Fast + times.Took.Fast,
			Typical: times.Began.Typical + times.Took.Typical, Slow: times.Began.Slow + times.Took.Slow}
		if part.Outlasts || over.Fast != over.Slow || from.Fast != from.Slow {
			holds = Estimated
		}
		why = "it goes on from " + levels(timeline.Three(from)) + " until its work is done, at " + levels(timeline.Three(over)) +
			", and no longer than to " + prose.Amount(end.Clock)
	}
	a.claim(end.At, of, what, holds, why+" on the clock around it")
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
	switch {
	case m.Rest != nil && g == nil:
		a.claim(m.At, of, what, OnlyShown, "a session's rests are not added up")
		return
	case m.Rest != nil:
		a.claim(m.At, of, what, Estimated, "held against what the work leaves")
		return
	case m.Sum() != nil:
		sum := m.Sum()
		holds, why := aimedSum(sum.Amount, rowOf(sum, totals.View{}.Of(len(a.house.Tiers), work...)))
		a.claim(m.At, of, what, holds, why)
		return
	}
	var aimed estimate.Aimed
	known := false
	part, times := a.timesOf(g)
	switch {
	case m.Amount == nil:
	case g == nil:
		aimed, known = a.times.AimOfSession(m)
	case part != nil:
		aimed, known = a.times.Aim(part, g, m)
	}
	switch {
	case known:
		a.aimed(m, of, &aimed)
	case g == nil || m.What == model.AimedEnd:
		a.claim(m.At, of, what, OnlyShown, "not all that it depends on is known"+a.because(a.clock.Parts))
	case times != nil && !times.Proven && len(part.Missing) > 0:
		a.claim(m.At, of, what, OnlyShown, part.Missing[len(part.Missing)-1].Why)
	default:
		a.claim(m.At, of, what, OnlyShown, "no estimate says what it comes to")
	}
}

// aimed is an aim that the estimate says something of.
func (a *accountant) aimed(m *model.Aim, of string, aimed *estimate.Aimed) {
	what := oneLine(m.At.Text())
	if aimed.Fixed {
		takes, holds := "it takes ", Proven
		if aimed.Kind == estimate.AimedEnd {
			takes = "it is over at "
		}
		if aimed.TooFew || aimed.TooMany {
			holds = Refuted
		}
		a.claim(m.At, of, what, holds, takes+units.FormatClock(aimed.Took.Slow)+", by the clock alone")
		return
	}
	missed, why := timeline.AimMissed(aimed, m.Amount, levels)
	a.claim(m.At, of, what, Estimated, why)
	a.claims[len(a.claims)-1].people, _, _ = missed.People()
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
	a.claim(at, of, what, Estimated, s.Text()+" "+miss)
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
	if slices.ContainsFunc(groups, model.AnySharesInVain) {
		holds, why = OnlyShown, "whose the turns are cannot be told"
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

// aimedSum holds an aim for so much in all against the sum of the lines, which may be anywhere in its range.
func aimedSum(aimed *model.Quantity, row totals.Row) (Holds, string) {
	sum := "the lines add up to " + totals.Text(row, aimed.Written, false)
	inside := true
	for tier, s := range row.Tiers {
		lo, hi, known := aimed.Value(0, 1, tier)
		atLeast := s.Lo >= lo || units.Same(s.Lo, lo)
		atMost := aimed.OrMore() || !s.Open && (s.Hi <= hi || units.Same(s.Hi, hi))
		switch {
		case !known:
			return OnlyShown, sum
		case !s.Open && s.Hi < lo && !units.Same(s.Hi, lo), s.Lo > hi && !units.Same(s.Lo, hi) && !aimed.OrMore():
			return Refuted, sum
		case s.Open && (!atLeast || !atMost):
			return OnlyShown, "how much there is depends on work without a settled count: " + sum
		}
		inside = inside && atLeast && atMost
	}
	if !inside {
		return BothEnds, sum
	}
	return Proven, sum
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
			case l.Kind == "turn" && k.Repeat.Clocked():
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

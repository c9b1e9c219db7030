// Package timeline shows how long the parts of a session take: as data for other programs, as
// sentences and as a picture. The estimates are made by lang/analysis/estimate.
package timeline

import (
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/internal/round"
	"stint.example/stint/lang/render/prose"
)

// Caution is printed under everything that shows an estimate.
var Caution = "Paces are this house's guesses for members at the 10th, 50th and 90th percentile; " +
	"times may well be " + estimate.MarginText() + " off."

// LevelNames are what the levels are called.
var LevelNames = [3]string{"fast", "typical", "slow"}

// NewClocks collects timelines. With open, they hold how every time is made up, and the
// parameters of the estimate.
func NewClocks(cs []*Clock, open bool) *Clocks {
	out := &Clocks{Version: 1, Sessions: cs, Caution: Caution}
	if out.Sessions == nil {
		out.Sessions = []*Clock{}
	}
	if !open {
		return out
	}
	seen := map[*book.Movement]bool{}
	for i, c := range cs {
		if i == 0 {
			for _, f := range c.timeline.Figures.List() {
				out.Figures = append(out.Figures, Figure{f.Name, f.Value, f.Source})
			}
		}
		for _, p := range c.Parts {
			p.open()
			for _, l := range p.of.Lines {
				for _, m := range l.Work.Moves {
					if m.Movement != nil && !seen[m.Movement] {
						seen[m.Movement] = true
						out.Paces = append(out.Paces, paces(m.Movement)...)
					}
				}
			}
		}
	}
	slices.SortStableFunc(out.Paces, func(a, b Pace) int { return strings.Compare(a.Movement, b.Movement) })
	return out
}

func paces(m *book.Movement) []Pace {
	var out []Pace
	for _, p := range m.Paces {
		out = append(out, Pace{m.Name, "pace", prose.Pace(p), p.Source})
	}
	if u := m.Unbroken; u != nil {
		out = append(out, Pace{m.Name, "unbroken", prose.Unbroken(m), u.Source})
	}
	return out
}

// open fills in how the part's time is made up.
func (p *Part) open() {
	p.Spent = spent(p.of.Spent)
	p.Lines = nil
	for _, l := range p.of.Lines {
		line := Line{Movement: l.Movement, Unit: l.Unit, N: levels(l.N), Spent: spent(l.Spent)}
		if m := movementOf(l); m != nil && l.MostEffort > 0 {
			if pace, ok := m.Pace(l.Unit); ok {
				line.Pace = pace.Typical
				line.Effort = []float64{round.To(l.LeastEffort, 1000), round.To(l.MostEffort, 1000)}
			}
		}
		p.Lines = append(p.Lines, line)
	}
}

// movementOf is the one movement of a line; nil where it is of several, or no book has it.
func movementOf(l estimate.LineTime) *book.Movement {
	for _, m := range l.Work.Moves {
		if m.Movement != nil && m.Name == l.Movement {
			return m.Movement
		}
	}
	return nil
}

func spent(of [3]estimate.Spent) []Spent {
	out := make([]Spent, 3)
	for i, s := range of {
		out[i] = Spent{Level: LevelNames[i],
			Moving: round.Hundredths(s.Moving), Drift: round.Hundredths(s.Drift),
			Changes: round.Hundredths(s.Changes), ChangeCount: s.ChangeCount,
			SetUps: round.Hundredths(s.SetUps), Breaks: round.Hundredths(s.Breaks), Handovers: round.Hundredths(s.Handovers),
			Fixed: round.Hundredths(s.Fixed), Rest: round.Hundredths(s.Rest),
			Over: round.Hundredths(s.Over), Total: round.Hundredths(s.Total())}
	}
	return out
}

// Three are three times in words: 2:37 / 3:55 / 6:20, or one where they are the same.
func Three(t estimate.Times) string { return levels(t).Times() }

func levels(t estimate.Times) Levels {
	return Levels{round.Hundredths(t.Fast), round.Hundredths(t.Typical), round.Hundredths(t.Slow)}
}

// NewClock is a session's timeline as it is published.
func NewClock(t *estimate.Timeline, house *model.House) *Clock {
	c := NewTimes(t, house)
	for i, p := range c.Parts {
		p.Limits = c.limits(i)
	}
	return c
}

// NewTimes is a session's timeline without its limits, which take most of the work: the times, the
// counts and what is missing.
func NewTimes(t *estimate.Timeline, house *model.House) *Clock {
	s := t.Session
	c := &Clock{Session: s.Name, Scaling: s.Version, Week: s.Week.String(), At: s.At, Class: t.Class, Parts: []*Part{}, timeline: t,
		Length: Length{Taken: round.Hundredths(t.Length), Settled: t.Settled, Beyond: t.LengthBeyond}}
	stated := s.Length
	if stated == nil {
		stated = house.Length
	}
	if v, ok := stated.One(); ok {
		c.Length.Stated = &v
	}
	for i := range t.Parts {
		c.Parts = append(c.Parts, c.part(i, house))
	}
	return c
}

// BeganSettled says whether nothing that is missing moves Began.
func (p *Part) BeganSettled() bool { return p.of.BeganSettled }

// Title is what the timeline is called.
func (c *Clock) Title() string {
	title := c.Session + ", as written"
	if c.Scaling != "" {
		title = c.Session + ", version " + c.Scaling
	}
	if c.Week != "" {
		title += ", in " + c.Week
	}
	return title
}

func (c *Clock) part(i int, house *model.House) *Part {
	t := c.timeline.Parts[i]
	p := &Part{
		Name: partName(t.Group), How: how(t.Group),
		Start: round.Hundredths(t.Start), Began: round.Hundredths(t.Began),
		Pinned: t.Pinned, Settled: t.Settled, Proven: t.Proven(), Beyond: t.Beyond(),
		Work: levels(t.Work), Cut: levels(t.CappedWork), Rest: levels(t.Rest), End: levels(t.End),
		Room: round.Hundredths(t.Room), WorkEnd: levels(t.WorkEnd), Outlasts: t.Outlasts,
		Rounds: []Rounds{}, Counts: []Counted{}, Turns: []Turns{},
		Limits: []Limit{}, Missing: []Missing{}, Notes: []Note{},
		of: t,
	}
	if t.HedgeEnd() == "at least " { // so that it does not start later than its least end
		p.Early = round.Hundredths(t.Early)
	}
	if h := t.Heats; h != nil && len(h.Starts) > 1 {
		p.Heats = &Heats{Sizes: h.Sizes}
		for _, s := range h.Starts {
			p.Heats.Starts = append(p.Heats.Starts, round.Hundredths(s))
		}
	}
	if q := t.Queue; q != nil {
		p.Queue = &Queue{Most: levels(q.Most)}
		for _, g := range q.Groups {
			p.Queue.Groups = append(p.Queue.Groups, levels(g))
		}
	}
	if a, ok := c.timeline.Able(t); ok {
		p.Skill = &Skill{a.Skill.Movement.Name, a.Share, a.AtMost, a.People, a.Others, a.NeedText(), a.Skill.At}
	}
	if t.Near != t.Work {
		n := levels(t.Near)
		p.Near = &n
	}
	soonest := levels(t.SoonestEnd())
	p.soonest = &soonest
	if t.Group.Lasts != nil && t.WorkToCompletion != (estimate.Times{}) && t.WorkToCompletion != t.Work {
		n := levels(t.WorkToCompletion)
		p.Needs = &n
	}
	if v, ok := least(t.Group.Cap, t.Tier); ok {
		p.Cap = round.Hundredths(v)
	}
	if i+1 < len(c.timeline.Parts) {
		l := levels(t.RestBeforeNext)
		p.Left = &l
	}
	if len(t.Tiers) > 1 {
		p.Tier = tierName(house, t.Tier)
		for k, w := range t.Tiers {
			p.Tiers = append(p.Tiers, TierWork{tierName(house, k), levels(w)})
		}
	}
	p.counted()
	p.turns()
	for _, m := range t.Missing {
		p.Missing = append(p.Missing, Missing{m.At, m.At.Text(), m.Why, m.Add, m.Held, m.Beyond})
	}
	for _, n := range t.Notes {
		p.Notes = append(p.Notes, Note{n.At, n.At.Text(), n.Text})
	}
	return p
}

func tierName(h *model.House, tier int) string {
	if tier < len(h.Tiers) {
		return h.Tiers[tier]
	}
	return ""
}

// counted puts in how far everybody gets.
func (p *Part) counted() {
	p.Choices = slices.ContainsFunc(p.of.Others, func(l estimate.LineTime) bool { return l.N != estimate.Times{} })
	inRounds := map[*model.Work]bool{}
	for _, g := range p.of.Groups {
		if !g.Counted {
			continue
		}
		works(g.Group.Steps, func(w *model.Work) { inRounds[w] = true })
		r := Rounds{Of: p.nameOf(g.Group), Unit: "round"}
		open := slices.ContainsFunc(g.Rounds[:], func(d estimate.Done) bool { return d.Open })
		if !g.Proven && !open { // what takes no time that is known would be done far too often
			p.Uncounted = append(p.Uncounted, Uncounted{r.Of, r.Unit})
			continue
		}
		if g.Group.Repeat.Kind == model.Every {
			r.Unit = "turn"
		}
		for l, d := range []*Done{&r.Fast, &r.Typical, &r.Slow} {
			*d = done(g.Rounds[l])
		}
		p.Rounds = append(p.Rounds, r)
	}
	for i, l := range slices.Concat(p.of.Lines, p.of.Others) {
		or := i >= len(p.of.Lines)
		if l.CountedUnit != "" && !inRounds[l.Work] && p.of.Group.Kind == model.Part {
			p.Counts = append(p.Counts, Counted{l.Movement, l.CountedUnit, or, levels(l.Counted), windowsOf(p.of.Group, l.Work)})
		}
		open := l.Work.From == model.FromClock || l.Work.Dose != nil && l.Work.Dose.Max
		if !open || inRounds[l.Work] || l.Unit == "s" || l.N == (estimate.Times{}) {
			continue
		}
		n := Levels{math.Floor(l.N.Fast + 1e-6), math.Floor(l.N.Typical + 1e-6), math.Floor(l.N.Slow + 1e-6)}
		p.Counts = append(p.Counts, Counted{l.Movement, l.Unit, or, n, windowsOf(p.of.Group, l.Work)})
	}
}

// windowsOf is in how many windows or turns of one clock a line comes; 0 where there is one, or nobody can
// tell.
func windowsOf(part *model.Group, w *model.Work) int {
	n := 0.0
	for of, around := range part.Lines(model.OnlySteps) {
		if of != w {
			continue
		}
		for _, g := range around {
			if !g.ComesRound() {
				continue
			}
			times, ok := g.Repeat.Count.One()
			if n != 0 || !ok || !g.Repeat.Clocked() {
				return 0
			}
			if n = times; !g.Repeat.Laps {
				n /= float64(max(1, g.Slots()))
			}
		}
	}
	if n != math.Trunc(n) || n < 2 {
		return 0
	}
	return int(n)
}

// done is how far somebody gets, in whole repetitions: half a one is none.
func done(of estimate.Done) Done {
	d := Done{Rounds: of.Rounds, Then: []Count{}, Open: of.Open}
	for _, n := range of.Then {
		if whole := math.Floor(n.N + 1e-6); whole > 0 {
			d.Then = append(d.Then, Count{whole, n.Unit, n.Movement})
		}
	}
	for _, w := range of.Windows {
		d.Windows = append(d.Windows, done(w))
	}
	return d
}

// works walks over the lines of work under some steps.
func works(steps []model.Step, f func(*model.Work)) {
	for _, s := range steps {
		switch s := s.(type) {
		case *model.Work:
			f(s)
		case *model.Group:
			works(s.Steps, f)
		}
	}
}

// started says whether a clock starts the turns of a group, and each holds work that may not fit into
// it: every 2:30, or windows with work by count.
func started(g *estimate.GroupTime) bool {
	none := slices.ContainsFunc(g.Turns[:], func(t estimate.Turn) bool { return t.Number == 0 })
	switch {
	case none:
		return false
	case g.Group.Repeat.Kind == model.Every:
		return true
	case g.Group.Repeat.Kind != model.On || g.Group.Mode == model.AMRAP || g.Group.CarryOn && !g.Group.OnceOverWindows():
		return false
	}
	for w := range g.Group.Lines(model.OnlySteps) {
		if w.From != model.FromClock && w.Dose != nil && !w.Dose.Max {
			return true
		}
	}
	return false
}

// turns puts in the longest turn that a clock starts.
func (p *Part) turns() {
	for _, g := range p.of.Groups {
		if !started(g) {
			continue
		}
		f := func(of func(estimate.Turn) float64) Levels {
			return Levels{round.Hundredths(of(g.Turns[0])), round.Hundredths(of(g.Turns[1])), round.Hundredths(of(g.Turns[2]))}
		}
		p.Turns = append(p.Turns, Turns{Of: p.nameOf(g.Group), Slot: slotIn(g.Group, g.Turns[1].Number), List: g.Group.OnceOverWindows(),
			Took:     f(func(t estimate.Turn) float64 { return t.Took }),
			Interval: f(func(t estimate.Turn) float64 { return t.Interval }),
			Least:    f(func(t estimate.Turn) float64 { return t.LeastRest }),
			Number:   [3]int{g.Turns[0].Number, g.Turns[1].Number, g.Turns[2].Number}})
	}
}

// slotIn is the slot or station whose turn is turn n of a group on a clock, with what it holds; empty where
// all turns are the same.
func slotIn(g *model.Group, n int) string {
	var slots []*model.Group
	for _, s := range g.Steps {
		if slot, ok := s.(*model.Group); ok && slot.IsSlot() {
			slots = append(slots, slot)
		}
	}
	if len(slots) == 0 {
		return ""
	}
	slot := slots[(n-1)%len(slots)]
	var holds []string
	for w := range slot.Lines(model.OnlySteps) {
		line := *w
		line.Notes = nil
		holds = append(holds, prose.Work(&line))
	}
	name := prose.Head(&model.Group{Kind: slot.Kind, Number: slot.Number, Last: slot.Last})
	if len(holds) > 0 {
		name += " (" + strings.Join(holds, ", ") + ")"
	}
	return name
}

// partName is how a part is called: warm-up, part A.
func partName(g *model.Group) string {
	return strings.Join(strings.Fields(string(g.Kind)+" "+g.Letter+" "+g.Label), " ")
}

// nameOf is how a group of the part is called: the part itself, or the words of its head.
func (p *Part) nameOf(g *model.Group) string {
	if g == p.of.Group {
		return p.Name
	}
	if text := strings.TrimSpace(g.At.Text()); text != "" {
		return text
	}
	return strings.TrimSpace(string(g.Kind) + " " + g.Label)
}

// how is all that the head of a part says but its name and its start: 3 rounds for time, cap 9:00.
func how(g *model.Group) string {
	head := *g
	head.Kind, head.Letter, head.Label, head.Number, head.Last, head.Start = model.Plain, "", "", 0, 0, nil
	if text := prose.Head(&head); text != "once" {
		return text
	}
	return ""
}

// least is the limit that a quantity sets for a tier: the greater end where it is a range,
// as the estimate reads it.
func least(q *model.Quantity, tier int) (float64, bool) {
	_, hi, ok := q.Value(0, 1, tier)
	return hi, ok && hi > 0
}

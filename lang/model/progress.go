package model

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// Progress is what a movement is to be in each week of a cycle: how many sets of how much, and at what
// load. The turn of its quantities is the week.
type Progress struct {
	Move Move         `json:"move"`
	Sets *Quantity    `json:"sets,omitempty"`
	Dose *Quantity    `json:"dose,omitempty"`
	Load Load         `json:"load,omitzero"`
	At   source.Place `json:"at"`
}

// A PlannedWeek is the week of a cycle that a session is looked at in.
type PlannedWeek struct {
	Cycle  string `json:"cycle"`
	Number int    `json:"number"` // from 1
}

// String is the week in words, such as week 3 of Spring Tide; empty for none.
func (w *PlannedWeek) String() string {
	if w == nil {
		return ""
	}
	return fmt.Sprintf("week %d of %s", w.Number, w.Cycle)
}

// LastWeek is the number of the cycle's last week: what it states, or else what it plans.
func (c *Cycle) LastWeek() int {
	last := c.Weeks
	for _, w := range c.Plan {
		if c.Weeks == 0 {
			last = max(last, w.Number)
		}
	}
	return last
}

// WeeksOf are the weeks that plan a session, in order: it is written as it is done in the first of them.
// A session that is planned in weeks of tests only has none, since it comes back as it is.
func (c *Cycle) WeeksOf(session string) []int {
	var out []int
	tests := true
	for _, w := range c.Plan {
		if slices.ContainsFunc(w.Days, func(d *Day) bool { return d.Session != "" && book.Key(d.Session) == book.Key(session) }) {
			out = append(out, w.Number)
			tests = tests && w.Kind == TestWeek
		}
	}
	if tests {
		return nil
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// InWeek is a session, as written and in its versions, as it is done in a week of the cycle: its lines
// follow what the cycle's progress says of their movements, from the first week that plans the session
// on. It is the session itself where nothing of it moves.
func (c *Cycle) InWeek(s *Session, week int) *Session {
	if s == nil || len(c.Progress) == 0 {
		return s
	}
	weeks := c.WeeksOf(s.Name)
	if !slices.Contains(weeks, week) || weeks[0] == week {
		return s
	}
	m := &weekShift{cycle: c, from: weeks[0], to: week}
	out := m.session(s)
	out.Versions = nil
	moved := m.moved
	for _, v := range s.Versions {
		if c.asPlanned(v.Session, week) {
			out.Versions = append(out.Versions, v)
			continue
		}
		m.moved = false
		version := *v
		version.Session = m.session(v.Session)
		out.Versions = append(out.Versions, &version)
		moved = moved || m.moved
	}
	if !moved {
		return s
	}
	return out
}

// onlyVersion is the key of the version in which all days of a week plan a session, empty as written; not
// one where they plan it in several, or not at all.
func (c *Cycle) onlyVersion(session string, week int) (key string, one bool) {
	keys := map[string]bool{}
	for _, w := range c.Plan {
		for _, d := range w.Days {
			if w.Number == week && book.Key(d.Session) == book.Key(session) {
				key = book.Key(d.Version)
				keys[key] = true
			}
		}
	}
	return key, len(keys) == 1
}

// asPlanned says whether a week plans a session in a version only that has, as it stands, what the progress
// says of the week: then the version is how the session gets there.
func (c *Cycle) asPlanned(version *Session, week int) bool {
	if version.Version == "" {
		return false
	}
	if only, one := c.onlyVersion(version.Name, week); !one || only != book.Key(version.Version) {
		return false
	}
	held := false
	for _, p := range c.Progress {
		to, _, known := p.Load.Amount.Value(week-1, c.LastWeek(), 0)
		top := 0.0
		for w := range version.Lines(Everything) {
			if len(w.Moves) != 1 || w.Moves[0].Movement != p.Move.Movement {
				continue
			}
			for _, ld := range w.Loads {
				if p.sameKind(ld) {
					for _, row := range ld.Amount.Terms {
						top = max(top, row[0])
					}
				}
			}
		}
		if known && top > 0 {
			if !units.Same(top, to) {
				return false
			}
			held = true
		}
	}
	return held
}

// MovedBy names what a cycle moves in a session from the first week that plans it to another: empty where
// it moves nothing, and the same for weeks, and cycles, that move it alike.
func (c *Cycle) MovedBy(session string, week int) string {
	if len(c.Progress) == 0 {
		return ""
	}
	weeks := c.WeeksOf(session)
	if !slices.Contains(weeks, week) {
		return ""
	}
	s := shift{weeks[0], week, c.LastWeek()}
	var out strings.Builder
	for _, p := range c.Progress {
		for i, q := range []*Quantity{p.Sets, p.Dose, p.Load.Amount} {
			for tier := range q.Tiers() {
				if from, to, ok := s.of(q, tier); ok && from != to {
					fmt.Fprintf(&out, "%s %d %d %g %g %g;", p.Move.Name, i, tier, from, to, p.step(tier, s.weeks))
				}
			}
		}
	}
	if version, one := c.onlyVersion(session, week); one && version != "" && out.Len() > 0 {
		out.WriteString(version) // which may have what the progress says as it stands
	}
	return out.String()
}

// A Following is a line of a session that follows a progress from week to week.
type Following struct {
	Session *Session // as written, or in a version
	Line    *Work    // in the first week; nil where no line of the session follows
	Weeks   []int    // that plan the session, by their numbers
	Lines   []*Work  // in each of these weeks
	Stays   []string // what of it does not move, and why
}

// Followings are the lines of a session and of its versions that follow a progress.
func (c *Cycle) Followings(p *Progress, s *Session) []Following {
	weeks := c.WeeksOf(s.Name)
	if len(weeks) < 2 || p.Move.Movement == nil {
		return nil
	}
	var out []Following
	for _, variant := range s.Variants() {
		n := len(out)
		for w := range variant.Lines(Everything) {
			if !c.Follows(w, p) {
				continue
			}
			f := Following{Session: variant, Line: w, Weeks: weeks, Lines: []*Work{w}}
			for _, week := range weeks[1:] {
				moved, stays := w, []string(nil)
				if !c.asPlanned(variant, week) {
					moved, stays = p.follow(w, shift{weeks[0], week, c.LastWeek()})
				}
				f.Lines = append(f.Lines, moved)
				for _, why := range stays {
					if !slices.Contains(f.Stays, why) {
						f.Stays = append(f.Stays, why)
					}
				}
			}
			out = append(out, f)
		}
		if len(out) == n && n > 0 {
			out = append(out, Following{Session: variant, Stays: []string{"none of its lines is done in the place of one that follows"}})
		}
	}
	return out
}

// Follows says whether a line follows a progress: by the movement that the session as written has there, or
// else by its own.
func (c *Cycle) Follows(w *Work, p *Progress) bool {
	of := func(w *Work, p *Progress) bool {
		return w != nil && len(w.Moves) == 1 && w.Moves[0].Movement != nil && w.Moves[0].Movement == p.Move.Movement
	}
	if slices.ContainsFunc(c.Progress, func(o *Progress) bool { return of(w.original, o) }) {
		return of(w.original, p)
	}
	return of(w, p)
}

// A weekShift makes a session of one week of a cycle from that of another.
type weekShift struct {
	cycle    *Cycle
	from, to int
	moved    bool // a line has changed
	counts   bool // how much is done has changed
}

func (m *weekShift) session(s *Session) *Session {
	out := *s
	m.counts = false
	out.Parts = nil
	for _, g := range s.Parts {
		out.Parts = append(out.Parts, m.step(g).(*Group))
	}
	if m.counts {
		out.Totals = nil // they are of the first week
	}
	out.Week = &PlannedWeek{m.cycle.Name, m.to}
	return &out
}

func (m *weekShift) step(s Step) Step {
	switch s := s.(type) {
	case *Work:
		return m.work(s)
	case *Rest:
		out := *s
		out.Steps = m.steps(s.Steps)
		return &out
	case *Group:
		out := *s
		before := m.counts
		m.counts = false
		out.Steps = m.steps(s.Steps)
		out.Events = nil
		for _, e := range s.Events {
			event := *e
			event.Steps = m.steps(e.Steps)
			out.Events = append(out.Events, &event)
		}
		if m.counts {
			out.Totals = nil
		}
		m.counts = m.counts || before
		return &out
	}
	return s
}

func (m *weekShift) steps(steps []Step) []Step {
	if steps == nil {
		return nil
	}
	out := make([]Step, len(steps))
	for i, s := range steps {
		out[i] = m.step(s)
	}
	return out
}

func (m *weekShift) work(w *Work) *Work {
	out := w
	for _, p := range m.cycle.Progress {
		if m.cycle.Follows(w, p) {
			out, _ = p.follow(out, shift{m.from, m.to, m.cycle.LastWeek()})
		}
	}
	m.moved = m.moved || out != w
	m.counts = m.counts || out.Sets != w.Sets || out.Dose != w.Dose
	return out
}

// A shift is from one week of a cycle to another, by their numbers, of so many.
type shift struct{ from, to, weeks int }

// of is what a quantity is in the two weeks, in a tier. It is not ok where one of them has no one number.
func (s shift) of(q *Quantity, tier int) (from, to float64, ok bool) {
	lo, hi, known := q.Value(s.from-1, s.weeks, tier)
	lo2, hi2, known2 := q.Value(s.to-1, s.weeks, tier)
	return lo, lo2, known && known2 && lo == hi && lo2 == hi2 && lo > 0
}

// follow is a line in another week of its progress, and what of it stays as it is where the progress
// moves, with the reason. It is the line itself where nothing moves.
func (p *Progress) follow(w *Work, s shift) (moved *Work, stays []string) {
	out := *w
	changed := false
	set := func(q **Quantity, to *Quantity) { *q, changed = to, true }
	if p.Load.Amount != nil && s.moves(p.Load.Amount) {
		if loads, ok := p.loads(w.Loads, s); ok {
			out.Loads, changed = loads, true
		} else {
			stays = append(stays, p.loadStays(w))
		}
	}
	original := w
	if w.original != nil {
		original = w.original
	}
	if s.moves(p.Sets) || s.moves(p.Dose) {
		if !p.HasCounts(original, s.from, s.weeks) {
			return p.result(w, &out, changed), append(stays, fmt.Sprintf("its sets and counts stay: they are not those of the progress in week %d", s.from))
		}
		if s.moves(p.Sets) {
			if to := s.share(w.Sets, p.Sets); to != nil {
				set(&out.Sets, to)
			} else {
				stays = append(stays, "how many sets stays: the line says none of its own")
			}
		}
		if s.moves(p.Dose) {
			if to := s.share(w.Dose, p.Dose); to != nil && w.From == FromLine && w.RM == 0 {
				set(&out.Dose, to)
				out.Terms = nil // they are pieces of the other count
			} else {
				stays = append(stays, "how much stays: the line says no number of its own")
			}
		}
	}
	return p.result(w, &out, changed), stays
}

func (p *Progress) result(w, out *Work, changed bool) *Work {
	if !changed {
		return w
	}
	return out
}

// moves says whether a quantity is another number in the second week, in some tier.
func (s shift) moves(q *Quantity) bool {
	for tier := range q.Tiers() {
		if from, to, ok := s.of(q, tier); ok && from != to {
			return true
		}
	}
	return false
}

// HasCounts says whether a line has the sets and the count that the progress says of a week, of so many; a
// range is kept by anything inside it.
func (p *Progress) HasCounts(w *Work, week, weeks int) bool {
	return keptInWeek(w.Sets, p.Sets, week, weeks) && keptInWeek(w.Dose, p.Dose, week, weeks)
}

// keptInWeek says whether a quantity is within what a progress says of a week, in every tier.
func keptInWeek(q, stated *Quantity, week, weeks int) bool {
	if stated == nil {
		return true
	}
	if q == nil || q.Unit != stated.Unit {
		return false
	}
	for tier := range max(q.Tiers(), stated.Tiers()) {
		lo, hi, known := q.Value(0, 1, tier)
		least, most, ok := stated.Value(week-1, weeks, tier)
		if !known || !ok || lo < least && !units.Same(lo, least) || hi > most && !units.Same(hi, most) {
			return false
		}
	}
	return true
}

// share is a count that has the same share of the progress in the second week as in the first, rounded
// up; nil where it is no number.
func (s shift) share(q, of *Quantity) *Quantity {
	return s.each(q, of, func(v, from, to float64, _ int) float64 { return math.Ceil(v*to/from - 1e-9) })
}

// each is a quantity with every number of it moved; nil where it has none, or a tier of the progress has none.
func (s shift) each(q, of *Quantity, move func(v, from, to float64, tier int) float64) *Quantity {
	if q == nil || len(q.Terms) == 0 {
		return nil
	}
	out := *q
	out.Terms, out.moved = nil, true
	for _, row := range q.Terms {
		var moved []float64
		for tier := range max(len(row), of.Tiers()) {
			from, to, ok := s.of(of, tier)
			if !ok {
				return nil
			}
			moved = append(moved, move(row[min(tier, len(row)-1)], from, to, tier))
		}
		out.Terms = append(out.Terms, moved)
	}
	return &out
}

// loads are a line's loads with those moved that are of the progress's kind: a share of a maximum by as
// many points, a weight by its share, rounded down to the progress's own step. It is not ok where the
// line has none.
func (p *Progress) loads(loads []Load, s shift) (moved []Load, ok bool) {
	for _, ld := range loads {
		if p.sameKind(ld) {
			amount := s.each(ld.Amount, p.Load.Amount, func(v, from, to float64, tier int) float64 {
				if ld.Kind == syntax.Share {
					return max(0, v+to-from)
				}
				by := v * (to/from - 1)
				if step := p.step(tier, s.weeks); step > 0 {
					by = math.Floor(by/step+1e-9) * step
				}
				return max(0, v+by)
			})
			if amount != nil {
				ld.Amount, ok = amount, true
			}
		}
		moved = append(moved, ld)
	}
	return moved, ok
}

// step is the smallest change of the progress's load from one of its weeks to the next, in a tier.
func (p *Progress) step(tier, weeks int) float64 {
	least := math.Inf(1)
	for week := 1; week < weeks; week++ {
		if from, to, ok := (shift{week, week + 1, weeks}).of(p.Load.Amount, tier); ok && from != to {
			least = min(least, math.Abs(to-from))
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// Text is the load as it stands in the text; of one that a cycle has moved, what it has become.
func (l Load) Text() string {
	if l.Amount == nil || !l.Amount.moved {
		return l.At.Text()
	}
	text := l.Amount.Text()
	if l.Count != nil {
		text = l.Count.Text() + "x" + text
	}
	return "@ " + text
}

// OfOwnMaximum says whether a load is a share of the movement's own one-repetition maximum.
func (l Load) OfOwnMaximum() bool {
	return l.Kind == syntax.Share && l.Base != nil && l.Base.Kind == OfRM && l.Base.Reps <= 1
}

// sameKind says whether a load is of the kind that the progress moves: a weight, or a share of a
// one-repetition maximum.
func (p *Progress) sameKind(l Load) bool {
	return l.Kind == syntax.Mass && p.Load.Kind == syntax.Mass || l.OfOwnMaximum() && p.Load.OfOwnMaximum()
}

// loadStays says why the load of a line does not move with the progress.
func (p *Progress) loadStays(w *Work) string {
	said := "a weight"
	switch {
	case p.Load.OfOwnMaximum():
		said = "a share of a maximum"
	case p.Load.Kind != syntax.Mass:
		return "the load stays: only weights and shares of a one-repetition maximum move with a progress"
	}
	if len(w.Loads) == 0 {
		return "there is no load to move: the progress is in " + said + ", and the line has none"
	}
	return "the load stays: the progress is " + said + ", and this is none"
}

// progress adds a line of progress to a cycle.
func (l *lowerer) progress(c *Cycle, line *syntax.Line, p *syntax.Property) {
	g := &Progress{At: l.place(line, p.Span), Move: l.move(line, p.Names[0], nil)}
	if p.Sets != nil {
		g.Sets = l.amount(line, p.Sets, p.Sets.Span, "set")
	}
	g.Dose = l.quantity(line, p.Quantity, "rep")
	loads := l.loads(line, p.Loads, &g.Move)
	if len(loads) > 0 {
		g.Load = loads[0]
	}
	same := func(o *Progress) bool {
		return o.Move.Movement != nil && o.Move.Movement == g.Move.Movement &&
			(o.Load.Kind != "" && o.Load.Kind == g.Load.Kind || (o.Sets != nil || o.Dose != nil) && (g.Sets != nil || g.Dose != nil))
	}
	if i := slices.IndexFunc(c.Progress, same); i >= 0 {
		l.reportRelated(book.PropertyTwice, g.At, fmt.Sprintf("the cycle says the progress of %s already", g.Move.Name),
			"write its sets, its count and its load in one line", c.Progress[i].At)
		return
	}
	c.Progress = append(c.Progress, g)
}

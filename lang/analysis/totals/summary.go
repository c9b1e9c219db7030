package totals

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// What a summary has a row for.
const (
	ByMovement = "movement"
	ByPattern  = "pattern"
	ByPart     = "part"
	ByDay      = "day"
	ByWeek     = "week"
)

// A Summary adds up sessions. By movement, pattern and part each session
// counts once; by day and week, as often as a cycle has it.
type Summary struct {
	Version     int          `json:"version"` // of this shape: 1
	By          string       `json:"by"`
	Tiers       []string     `json:"tiers"`
	Scaling     string       `json:"scaling,omitempty"` // the version that was asked for; empty as written
	Sessions    []string     `json:"sessions"`          // those that are counted
	Rows        []SummaryRow `json:"rows"`
	Unscheduled []SummaryRow `json:"unscheduled"` // by day and week: sessions that no cycle has
	LeftOut     []LeftOut    `json:"leftOut"`
}

// A SummaryRow is one movement, pattern, part, day or week.
type SummaryRow struct {
	Name     string    `json:"name"`
	Session  string    `json:"session,omitempty"` // of a part, and of what no cycle has
	Part     string    `json:"part,omitempty"`
	Cycle    string    `json:"cycle,omitempty"`
	Week     int       `json:"week,omitempty"`    // of the cycle, from 1
	ISOWeek  string    `json:"isoWeek,omitempty"` // 2026-W53
	Date     string    `json:"date,omitempty"`
	Weekday  string    `json:"weekday,omitempty"`
	Sessions []string  `json:"sessions,omitempty"` // of a day or a week, in order, as often as they come
	Versions []string  `json:"versions,omitempty"` // that each of those counts in; empty as written
	Measures []Measure `json:"measures"`
}

// A Measure is one kind of total.
type Measure struct {
	Name  string   `json:"measure"` // repetitions, distance, time, calories, breaths, load
	Unit  string   `json:"unit"`    // rep, m, s, cal, breath, kg
	Tiers []Amount `json:"tiers"`   // one for each tier
	// Each and Team are what one athlete does of it, and what a team does, where a group is divided and the two differ.
	Each    []Amount `json:"each,omitempty"`
	Team    []Amount `json:"team,omitempty"`
	Partial bool     `json:"partial"` // a load that is left out belongs here
	Unsure  bool     `json:"unsure"`  // a line of it cannot be read, or has no count
}

// An Amount is a total between two numbers. Most is nil where the text sets no bound.
type Amount struct {
	Least float64  `json:"least"`
	Most  *float64 `json:"most,omitempty"`
}

// LeftOut is something that no total has in it.
type LeftOut struct {
	What     string   `json:"what"` // "load" or "session"
	Name     string   `json:"name"` // of the movement or the session
	Reason   string   `json:"reason"`
	Sessions []string `json:"sessions"` // where a load is left out
}

var measureNames = []struct{ unit, name string }{
	{"rep", "repetitions"}, {"m", "distance"}, {"s", "time"}, {"cal", "calories"}, {"breath", "breaths"}, {"kg", "load"},
}

// The names of rows that are no pattern.
const (
	noPattern      = "no pattern" // a duty
	unknownPattern = "unknown"
)

// Summarise adds up the sessions that the named files hold, and those that their cycles
// have. All are the files of the workspace: its cycles say when a session is done. Where
// a scaling is named, each session counts in that version, and one without it is left out.
func Summarise(by, scaling string, tiers []string, named, all []*model.File) *Summary {
	s := &summing{by: by, scaling: scaling, tiers: max(1, len(tiers)), sessions: map[string]*model.Session{},
		weighed: map[string]bool{}, left: map[string]*LeftOut{}, counted: map[string]bool{}}
	for _, f := range all {
		for _, x := range f.Sessions {
			if _, taken := s.sessions[book.Key(x.Name)]; !taken {
				s.sessions[book.Key(x.Name)] = x
			}
		}
	}
	s.out = &Summary{Version: 1, By: by, Tiers: tiers, Scaling: scaling, Sessions: []string{}, Rows: []SummaryRow{}, Unscheduled: []SummaryRow{}, LeftOut: []LeftOut{}}
	once := s.named(named)
	if by == ByDay || by == ByWeek {
		s.plan(once, named, all)
	} else {
		for _, x := range once {
			if v := s.version(x, ""); v != nil {
				s.session(v)
			}
		}
	}
	s.finish()
	return s.out
}

// A summing is a summary being made.
type summing struct {
	by, scaling string
	tiers       int
	sessions    map[string]*model.Session // of the workspace, by key
	rows        []*sumRow
	apart       []*sumRow       // what no cycle has
	weighed     map[string]bool // movements that have a weight somewhere
	left        map[string]*LeftOut
	counted     map[string]bool
	out         *Summary
}

// A sumRow is a row being made.
type sumRow struct {
	SummaryRow
	sums    map[string]unitSum // by unit
	partial bool
	bare    []bareLine
}

type unitSum struct {
	tiers, each, team []Sum // as it stands on the board, one athlete's, and a team's
	unread            bool
}

// A bareLine is work with no load on it, of a movement that may have one elsewhere.
type bareLine struct{ movement, session string }

// named are the sessions of the named files, and those that their cycles have.
func (s *summing) named(files []*model.File) []*model.Session {
	var out []*model.Session
	add := func(x *model.Session) {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	for _, f := range files {
		for _, x := range f.Sessions {
			add(x)
		}
	}
	for _, f := range files {
		for _, c := range f.Cycles {
			eachDay(c, func(_ *model.Week, d *model.Day) {
				if x := s.sessions[book.Key(d.Session)]; x != nil {
					add(x)
				}
			})
		}
	}
	return out
}

func eachDay(c *model.Cycle, f func(*model.Week, *model.Day)) {
	for _, w := range c.Plan {
		for _, d := range w.Days {
			if !d.Rest {
				f(w, d)
			}
		}
	}
}

// plan adds up the days that count: those of a named cycle, and those of a named session.
func (s *summing) plan(sessions []*model.Session, named, all []*model.File) {
	own := map[*model.Session]bool{}
	for _, f := range named {
		for _, x := range f.Sessions {
			own[x] = true
		}
	}
	scheduled := map[*model.Session]bool{}
	for _, f := range all {
		for _, c := range f.Cycles {
			eachDay(c, func(w *model.Week, d *model.Day) {
				x := s.sessions[book.Key(d.Session)]
				if x == nil {
					if slices.Contains(named, f) {
						s.leave("session", d.Session, "a cycle has it, and no file does", "")
					}
					return
				}
				if !own[x] && !slices.Contains(named, f) {
					return
				}
				scheduled[x] = true
				if v := s.version(c.InWeek(x, w.Number), d.Version); v != nil {
					r := s.dayRow(c, w, d)
					r.Sessions, r.Versions = append(r.Sessions, d.Session), append(r.Versions, v.Version)
					s.add(r, v, v.Parts, "")
				}
			})
		}
	}
	for _, x := range sessions {
		if scheduled[x] {
			continue
		}
		if v := s.version(x, ""); v != nil {
			r := newRow(SummaryRow{Name: x.Name, Session: x.Name})
			s.apart = append(s.apart, r)
			s.add(r, v, v.Parts, "")
		}
	}
}

func newRow(r SummaryRow) *sumRow { return &sumRow{SummaryRow: r, sums: map[string]unitSum{}} }

// dayRow is the row that a day of a cycle belongs to.
func (s *summing) dayRow(c *model.Cycle, w *model.Week, d *model.Day) *sumRow {
	r := SummaryRow{Cycle: c.Name, Week: w.Number, ISOWeek: ISOWeek(d.Date), Name: fmt.Sprintf("%s week %d", c.Name, w.Number)}
	if s.by == ByDay {
		r.Date, r.Weekday = d.Date, d.Weekday
		r.Name += " " + d.Weekday
	}
	return s.row(r)
}

func (s *summing) row(r SummaryRow) *sumRow {
	i := slices.IndexFunc(s.rows, func(o *sumRow) bool { return o.Name == r.Name && o.Session == r.Session })
	if i < 0 {
		i = len(s.rows)
		s.rows = append(s.rows, newRow(r))
	}
	return s.rows[i]
}

// ISOWeek is the week of a date (year-month-day) by ISO 8601, such as 2026-W53; empty
// where it is no date.
func ISOWeek(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return ""
	}
	year, week := t.ISOWeek()
	return fmt.Sprintf("%04d-W%02d", year, week)
}

// version is the session as it counts: as the summary asks, else as the day says.
func (s *summing) version(x *model.Session, day string) *model.Session {
	name := cmp.Or(s.scaling, day)
	v := x.InVersion(name)
	if v == nil {
		s.leave("session", x.Name, "it has no version "+name, "")
		return nil
	}
	if !s.counted[v.Name] {
		s.counted[v.Name] = true
		s.out.Sessions = append(s.out.Sessions, v.Name)
	}
	return v
}

// session adds a session to the rows by movement, pattern or part.
func (s *summing) session(x *model.Session) {
	switch s.by {
	case ByPart:
		for _, p := range x.Parts {
			name := strings.Join(strings.Fields(string(p.Kind)+" "+p.Letter+" "+p.Label), " ")
			r := newRow(SummaryRow{Name: x.Name + ", " + name, Session: x.Name, Part: name})
			s.rows = append(s.rows, r)
			s.add(r, x, []*model.Group{p}, "")
		}
	case ByPattern:
		s.add(nil, x, x.Parts, ByPattern)
	default:
		s.add(nil, x, x.Parts, ByMovement)
	}
}

// add adds groups of a session to a row, or to the rows that their movements go to.
func (s *summing) add(r *sumRow, x *model.Session, groups []*model.Group, split string) {
	label := labels(split)
	rowOf := func(name string) *sumRow {
		if r != nil {
			return r
		}
		return s.row(SummaryRow{Name: name})
	}
	counts := relabel(groups, label, split)
	t := total(s.tiers, counts...)
	rowsOf := func(t *Totals) []Row {
		if r != nil {
			return t.all
		}
		return t.Rows
	}
	each, team := t, t
	if len(TeamSizes(groups...)) > 0 {
		each, team = View{Whose: model.EachOne}.total(s.tiers, counts...), View{Whose: model.OfTeam}.total(s.tiers, counts...)
	}
	for _, c := range rowsOf(t) {
		same := func(of *Totals) []Sum {
			if i := slices.IndexFunc(rowsOf(of), func(o Row) bool { return o.Movement == c.Movement && o.Unit == c.Unit }); i >= 0 {
				return rowsOf(of)[i].Tiers
			}
			return c.Tiers
		}
		rowOf(c.Movement).plus(c.Unit, unitSum{c.Tiers, same(each), same(team), c.Unread || t.Unread})
	}
	for _, l := range loadMoved(groups, label, split, s.tiers) {
		to := rowOf(l.label)
		if l.tiers != nil {
			to.plus("kg", unitSum{l.tiers, l.tiers, l.tiers, l.unread || t.Unread})
		}
		for _, m := range l.weighed {
			s.weighed[m] = true
		}
		for _, n := range l.without {
			s.leave("load", n.movement, n.reason, x.Name)
			to.partial = to.partial || !n.aside
		}
		for _, m := range l.bare {
			to.bare = append(to.bare, bareLine{m, x.Name})
		}
	}
}

// labels says which row a movement goes to; all go to one where the rows are not split by
// what moves.
func labels(split string) func(model.Move) string {
	switch split {
	case ByMovement:
		return func(m model.Move) string { return m.Name }
	case ByPattern:
		return func(m model.Move) string {
			switch {
			case m.Movement == nil:
				return unknownPattern
			case m.Movement.Main() == "":
				return noPattern
			}
			return string(m.Movement.Main())
		}
	}
	return func(model.Move) string { return "all" }
}

func (r *sumRow) plus(unit string, more unitSum) {
	u := r.sums[unit]
	if u.tiers == nil {
		n := len(more.tiers)
		u.tiers, u.each, u.team = make([]Sum, n), make([]Sum, n), make([]Sum, n)
	}
	for i := range more.tiers {
		u.tiers[i] = u.tiers[i].plus(more.tiers[i])
		u.each[i], u.team[i] = u.each[i].plus(more.each[i]), u.team[i].plus(more.team[i])
	}
	u.unread = u.unread || more.unread
	r.sums[unit] = u
}

// leave notes what is left out, once for each reason.
func (s *summing) leave(what, name, reason, session string) {
	k := what + "\n" + name + "\n" + reason
	l := s.left[k]
	if l == nil {
		l = &LeftOut{What: what, Name: name, Reason: reason, Sessions: []string{}}
		s.left[k] = l
	}
	if session != "" && !slices.Contains(l.Sessions, session) {
		l.Sessions = append(l.Sessions, session)
	}
}

func (s *summing) finish() {
	switch s.by {
	case ByMovement:
		slices.SortFunc(s.rows, func(a, b *sumRow) int { return strings.Compare(a.Name, b.Name) })
	case ByPattern:
		place := func(r *sumRow) int {
			if i := slices.Index(book.Patterns, book.Pattern(r.Name)); i >= 0 {
				return i
			}
			return len(book.Patterns)
		}
		slices.SortFunc(s.rows, func(a, b *sumRow) int { return cmp.Or(place(a)-place(b), strings.Compare(a.Name, b.Name)) })
	}
	for _, rows := range []struct {
		from []*sumRow
		to   *[]SummaryRow
	}{{s.rows, &s.out.Rows}, {s.apart, &s.out.Unscheduled}} {
		for _, r := range rows.from {
			for _, b := range r.bare {
				if s.weighed[b.movement] {
					s.leave("load", b.movement, "no load is given", b.session)
					r.partial = true
				}
			}
			r.Measures = r.measures()
			if len(r.Measures) > 0 || s.by == ByDay || s.by == ByWeek || s.by == ByPart {
				*rows.to = append(*rows.to, r.SummaryRow)
			}
		}
	}
	for _, k := range slices.Sorted(maps.Keys(s.left)) {
		slices.Sort(s.left[k].Sessions)
		s.out.LeftOut = append(s.out.LeftOut, *s.left[k])
	}
	slices.SortStableFunc(s.out.LeftOut, func(a, b LeftOut) int {
		return cmp.Or(strings.Compare(b.What, a.What), strings.Compare(a.Reason, b.Reason), strings.Compare(a.Name, b.Name))
	})
}

func (r *sumRow) measures() []Measure {
	out := []Measure{}
	for _, n := range measureNames {
		u, ok := r.sums[n.unit]
		if !ok {
			continue
		}
		m := Measure{Name: n.name, Unit: n.unit, Unsure: u.unread, Partial: n.unit == "kg" && r.partial, Tiers: amounts(u.tiers)}
		if !slices.Equal(u.each, u.team) {
			m.Each, m.Team = amounts(u.each), amounts(u.team)
		}
		out = append(out, m)
	}
	return out
}

// amounts are sums as they are published.
func amounts(sums []Sum) []Amount {
	var out []Amount
	for _, t := range sums {
		a := Amount{Least: rounded(t.Lo)}
		if !t.Open {
			most := rounded(t.Hi)
			a.Most = &most
		}
		out = append(out, a)
	}
	return out
}

// rounded takes off what is lost in turning units and adding up: a tenth of a gram in a
// kilogram, of a millimetre in a metre.
func rounded(v float64) float64 { return math.Round(v*1e4) / 1e4 }

// A rewriter copies some work so that every line's movements stand under the names
// that they are added up by, so that a choice between two of one name is no choice.
type rewriter struct {
	label  func(model.Move) string
	merged bool // several movements may go by one name
	line   func(w *model.Work, around surround) model.Step
}

// A surround is what a line of work stands in.
type surround struct {
	groups []*model.Group // outermost first
	near   *model.Group   // the nearest whose turns values may move with
	round  bool           // under "round 2-3:" of it
	event  bool           // dropped in by the clock, by a count or by a break
}

func relabel(groups []*model.Group, label func(model.Move) string, split string) []*model.Group {
	if split != ByPattern {
		return groups
	}
	r := &rewriter{label: label, merged: true}
	r.line = func(w *model.Work, _ surround) model.Step { return calledAs(w, r.label) }
	return r.all(groups)
}

// calledAs is a line with its movements called as they are added up.
func calledAs(w *model.Work, label func(model.Move) string) *model.Work {
	c := *w
	c.Moves = slices.Clone(w.Moves)
	for i := range c.Moves {
		c.Moves[i].Name = label(c.Moves[i])
	}
	return &c
}

func (r *rewriter) all(groups []*model.Group) []*model.Group {
	out := make([]*model.Group, len(groups))
	for i, g := range groups {
		out[i] = r.group(g, surround{})
	}
	return out
}

func (r *rewriter) group(g *model.Group, in surround) *model.Group {
	c := *g
	in.groups = append(slices.Clip(in.groups), g)
	switch {
	case g.Kind == model.RoundOf:
		in.round = true
	case g.ComesRound() || g.Slots() > 0:
		in.near, in.round = g, false
	}
	c.Steps = r.steps(g.Steps, in)
	c.Events = nil
	for _, e := range g.Events {
		n := *e
		at := in
		at.event = true
		n.Steps = r.steps(e.Steps, at)
		c.Events = append(c.Events, &n)
	}
	if r.merged && g.Repeat.Kind == model.ChooseOne && moves(&c) {
		// Who takes the first in one turn may take the second in the next: what that comes
		// to is between neither's sums.
		unbound(&c)
	}
	return &c
}

func (r *rewriter) steps(steps []model.Step, in surround) []model.Step {
	out := make([]model.Step, len(steps))
	for i, s := range steps {
		switch s := s.(type) {
		case *model.Group:
			out[i] = r.group(s, in)
		case *model.Work:
			out[i] = r.line(s, in)
		case *model.Rest:
			n := *s
			n.Steps = r.steps(s.Steps, in)
			out[i] = &n
		default:
			out[i] = s
		}
	}
	return out
}

// unbound leaves open how much of the steps of a copy is done.
func unbound(c *model.Group) {
	for w := range c.Lines(model.OnlySteps) {
		w.Sets = nil
		if w.Dose != nil {
			w.Dose = &model.Quantity{Unit: w.Dose.Unit, Form: syntax.One, Max: true, At: w.Dose.At}
		}
	}
}

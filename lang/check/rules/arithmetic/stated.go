package arithmetic

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// A stated total is one that a session, a part of it, a week or a cycle states, with the sum of
// its lines.
type stated struct {
	*model.Total
	row   totals.Row
	found bool // some line has the movement in that unit
	sums  *totals.Totals
	what  string         // "this session comes to"
	parts []*model.Group // that it is over
	tiers int
	teams []float64 // the sizes of the teams that work in them

	each, team totals.Row // what one athlete does, and what a team does
	turns      totals.Sum // of the group, where it is of some of them
	unclear    bool       // the two differ, and the total does not say of which it is
}

// A summing is some work that totals are stated of.
type summing struct {
	what   string
	groups []*model.Group // all of the work
	parts  []*model.Group // those of them that a message points at
	sum    func(totals.View) *totals.Totals
}

// eachTotal calls f for every total that a session or one of its parts states. A version
// is compared with the totals that it states itself: those of the session are of the
// session as written.
func eachTotal(p *check.Pass, s *model.Session, f func(*stated)) {
	var before []*model.Total
	if p.Version != nil {
		if swapsBad(p) {
			return
		}
		for g := range p.Written.Groups(model.Everything) {
			before = append(before, g.Totals...)
		}
	}
	if len(s.Totals) > 0 {
		work := summing{what: "the session comes to", groups: s.Parts, parts: s.Parts,
			sum: func(v totals.View) *totals.Totals { return p.Totals(v, s) }}
		work.compare(p, s.Totals, f)
	}
	s.Walk(model.Everything, func(st model.Step, around []*model.Group) bool {
		g, ok := st.(*model.Group)
		if !ok || len(g.Totals) == 0 {
			return true
		}
		own := slices.DeleteFunc(slices.Clone(g.Totals), func(t *model.Total) bool {
			return slices.ContainsFunc(before, func(b *model.Total) bool { return b.At == t.At })
		})
		g = inTeam(g, around)
		work := summing{what: "this comes to", groups: []*model.Group{g},
			sum: func(v totals.View) *totals.Totals { return p.TotalsOf(v, g) }}
		work.compare(p, own, f)
		return true
	})
}

// inTeam is a group that divides people as the nearest group around it does, where it does not
// itself.
func inTeam(g *model.Group, around []*model.Group) *model.Group {
	for i := len(around) - 1; i >= 0 && g.People == nil; i-- {
		if p := around[i].People; p != nil {
			divided := *g
			divided.People = p
			return &divided
		}
	}
	return g
}

// eachPlannedTotal calls f for every total that a cycle or one of its weeks states. One that is
// over a session which no file has is left out: that is reported with its day.
func eachPlannedTotal(p *check.Pass, c *model.Cycle, f func(*stated)) {
	add := func(ts []*model.Total, what string, groups []*model.Group, known bool) {
		if len(ts) == 0 || !known {
			return
		}
		work := summing{what: what, groups: groups,
			sum: func(v totals.View) *totals.Totals { return v.Of(len(p.Env.House.Tiers), groups...) }}
		work.compare(p, ts, f)
	}
	var parts []*model.Group
	all := true
	seen := map[*model.Total][]*model.Group{} // the parts that a total was held against
	for _, w := range c.Plan {
		groups, known := planned(p, c, w)
		if w.Kind != model.TestWeek {
			all = all && known
			for _, g := range groups {
				if g.Kind == model.Part {
					parts = append(parts, g)
				}
			}
		}
		if len(w.Totals) > 0 && !slices.Equal(seen[w.Totals[0]], groups) { // a line for several weeks
			seen[w.Totals[0]] = groups
			add(w.Totals, "the week comes to", groups, known)
		}
	}
	add(c.Totals, "the cycle comes to", parts, all)
}

// planned are the parts of all sessions of a week, as the cycle has them there, in the versions that its
// days ask for.
// Known says that there are all of them.
func planned(p *check.Pass, c *model.Cycle, w *model.Week) (groups []*model.Group, known bool) {
	known = true
	for _, d := range w.Days {
		if d.Rest {
			continue
		}
		s := p.Workspace.Session(d.Session)
		if s != nil {
			s = c.InWeek(s, w.Number).InVersion(d.Version)
		}
		if s == nil {
			known = false
			continue
		}
		groups = append(groups, s.Parts...)
	}
	return groups, known
}

// compare calls f for each of the totals that are stated of some work.
func (w *summing) compare(p *check.Pass, ts []*model.Total, f func(*stated)) {
	if slices.ContainsFunc(w.groups, model.AnySharesInVain) {
		return // whose the turns are is refused, and any sum with it
	}
	for _, total := range ts {
		view := totals.View{Whose: total.Whose, After: total.After}
		t := &stated{Total: total, sums: w.sum(view), what: w.what, parts: w.parts, tiers: len(p.Env.House.Tiers)}
		if t.sums.Unread {
			continue // a line is wrong, and any sum with it
		}
		if t.Name != "" && t.Movement == nil {
			continue // reported as unknown
		}
		t.row, t.found = t.rowOf(t.sums)
		t.divide(w.groups)
		if t.After > 0 {
			t.turns = totals.Turns(w.groups[0], 0)
			if !t.turns.Open {
				t.turns = totals.Starts(w.groups[0], 0)
			}
		}
		f(t)
	}
}

// divide works out what one athlete and a team do of the total, where the work that counts for it
// is divided.
func (t *stated) divide(groups []*model.Group) {
	var counts []*model.Group
	for _, g := range groups {
		if _, some := t.rowOf(totals.OfGroup(g, t.tiers)); some {
			counts = append(counts, g)
		}
	}
	if t.teams = totals.TeamSizes(counts...); len(t.teams) == 0 {
		t.teams = totals.TeamSizes(groups...) // of which each does what divides nobody
		return
	}
	row := func(v totals.View) totals.Row {
		v.After = t.After
		r, _ := t.rowOf(v.Of(t.tiers, counts...))
		return r
	}
	t.each, t.team = row(totals.View{Whose: model.EachOne}), row(totals.View{Whose: model.OfTeam})
	asked := row(totals.View{Whose: model.OfTeam, Once: true})
	t.unclear = t.Whose == model.OfAnyone && !slices.Equal(t.each.Tiers, asked.Tiers)
	if t.Whose == model.OfTeam {
		t.row = t.team
	}
}

// rowOf is the row of a sum that the total is of.
func (t *stated) rowOf(sums *totals.Totals) (row totals.Row, found bool) {
	if t.Name != "" {
		return sums.Row(t.Name, t.Amount.Unit)
	}
	return sums.All(t.Amount.Unit), slices.ContainsFunc(sums.Rows, func(r totals.Row) bool { return r.Unit == t.Amount.Unit && !r.Duty })
}

// pieces points at the parts that a session's total comes from, where there are several.
func (t *stated) pieces() []diag.Related {
	var out []diag.Related
	for _, g := range t.parts {
		row, _ := t.rowOf(totals.View{Whose: t.Whose}.OfGroup(g, t.tiers))
		if slices.ContainsFunc(row.Tiers, func(s totals.Sum) bool { return s != totals.Sum{} }) {
			out = append(out, diag.Related{At: g.At, Message: t.show(row) + " here"})
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

func (t *stated) of() string {
	switch {
	case t.Name != "" && t.Whose != model.OfAnyone:
		return t.Name + " (" + string(t.Whose) + ")"
	case t.Name != "":
		return t.Name
	case t.Amount.Unit == "s":
		return "all that is done for a time"
	}
	return "all " + totals.UnitWord(t.Amount.Unit)
}

// says is the total as it is stated.
func (t *stated) says() string {
	r := totals.Row{Unit: t.Amount.Unit}
	for tier := range t.Amount.Tiers() {
		lo, hi, _ := t.Amount.Value(0, 1, tier)
		r.Tiers = append(r.Tiers, totals.Sum{Lo: lo, Hi: hi})
	}
	switch {
	case t.Amount.OrMore():
		return "at least " + t.show(r)
	case t.Amount.IsMost():
		for i := range r.Tiers {
			r.Tiers[i].Lo = r.Tiers[i].Hi
		}
		return "at most " + t.show(r)
	}
	return t.show(r)
}

// show is a row for all tiers: one amount where they agree.
func (t *stated) show(r totals.Row) string {
	var out []string
	for _, s := range r.Tiers {
		out = append(out, t.showSum(s, r.Unit))
	}
	if len(slices.Compact(slices.Clone(out))) == 1 {
		return out[0]
	}
	return strings.Join(out, " / ")
}

func (t *stated) showSum(s totals.Sum, unit string) string {
	written := t.Amount.Written
	from, in := units.FormatAs(s.Lo, unit, written)
	to, of := units.FormatAs(s.Hi, unit, written)
	switch {
	case s.Open && s.Lo == 0:
		return "an open number"
	case s.Open:
		return "at least " + units.FormatAmount(s.Lo, unit, written)
	case units.Same(s.Lo, s.Hi):
		return units.FormatAmount(s.Lo, unit, written)
	case unit == "s":
		return units.FormatAmount(s.Lo, unit, "") + "-" + units.FormatAmount(s.Hi, unit, "")
	case unit == "rep":
		return from + "-" + to
	case in != of:
		return units.FormatAmount(s.Lo, unit, in) + " to " + units.FormatAmount(s.Hi, unit, of)
	}
	return from + "-" + to + " " + in
}

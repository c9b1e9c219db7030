package hover

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// sessionCard is the card of a session, or of one version of it.
func (s *spot) sessionCard(x *model.Session, f *workspace.File, version string) *Card {
	in := *s
	in.session, in.written = x, x
	c := &Card{Title: x.Name, Kind: "session", Foot: estimateOf}
	if v := versionOf(x, version); v != nil && version != "" {
		in.session, in.version = v.Session, v
		c.Kind = "session, version " + v.Name
	}
	x = in.session
	c.row("purpose", x.Purpose)
	c.row("date", x.Date)
	c.row("effort", prose.Amount(x.Effort))
	t := estimate.Of(x, s.env())
	p := timeline.NewClock(t, s.env().House)
	c.row("length", p.Length.Says())
	for _, part := range p.Parts {
		text := part.WorkSays()
		if part.How != "" {
			text = part.How + "; " + text
		}
		c.row(part.Name, text)
	}
	c.row("works", patterns(t))
	c.row("comes to", totalsOf(totals.OfSession(&model.Session{Parts: mainParts(x)}, s.tiers()), x.Parts))
	for _, v := range in.written.Versions {
		if in.version == nil {
			c.row("version", strings.TrimSuffix(v.Name+": "+v.Note, ": "))
		}
	}
	c.row("planned", list(in.days([]Use{{Session: in.written.Name, File: f, Written: true}})))
	return c
}

// mainParts are the parts of a session but for its warm-up and cool-down.
func mainParts(x *model.Session) []*model.Group {
	return slices.DeleteFunc(slices.Clone(x.Parts), func(g *model.Group) bool { return g.Kind != model.Part })
}

// patterns are what the parts of a session load, what takes a typical member longest first.
func patterns(t *estimate.Timeline) string {
	spent := map[book.Pattern]float64{}
	for _, p := range t.Parts {
		if p.Group.Kind != model.Part {
			continue
		}
		for _, l := range p.Lines {
			for _, m := range l.Work.Moves {
				if m.Movement != nil && m.Name == l.Movement {
					spent[m.Movement.Main()] += l.Spent[1].Moving + l.Spent[1].Fixed
				}
			}
		}
	}
	delete(spent, "")
	var ps []book.Pattern
	for p, v := range spent {
		if v >= 1 {
			ps = append(ps, p)
		}
	}
	slices.SortFunc(ps, func(a, b book.Pattern) int { return cmp.Or(cmp.Compare(spent[b], spent[a]), cmp.Compare(a, b)) })
	var out []string
	for _, p := range ps {
		out = append(out, string(p)+" "+units.FormatClock(spent[p]))
	}
	if len(out) == 0 {
		return ""
	}
	return list(out) + " (how long a typical member moves)"
}

// scaling is the card of a version: what it is for, what it has, and what changes.
func (s *spot) scaling(r refs.Ref) *Card {
	h := s.env().House.Scaling(r.Name)
	written := s.written
	if r.In != "" {
		written, _ = s.snap.Session(r.In)
	}
	if written == nil && s.dayVersion() != "" {
		if p := s.line.Stmt.(*syntax.Property); len(p.Names) > 0 {
			written, _ = s.snap.Session(p.Names[0].Text)
		}
	}
	c := &Card{Title: r.Name, Kind: "version"}
	if written == nil {
		if h == nil {
			return nil
		}
		c.Kind = "version of the house"
		c.row("", h.Note)
		c.row("has", kitOf(h.HasOnly, h.Has))
		if n := s.versions(r.Name); n > 0 {
			c.row("used", "in "+count(n, "session"))
		}
		return c
	}
	v := versionOf(written, r.Name)
	c.Kind = "version of " + written.Name
	if v == nil {
		if h == nil {
			return nil
		}
		c.row("", h.Note)
		c.row("has", kitOf(h.HasOnly, h.Has))
		c.row("", written.Name+" says nothing of it")
		return c
	}
	c.row("", v.Note)
	c.row("from", list(v.From))
	c.row("has", kitOf(v.HasOnly, v.Has))
	for _, text := range changes(written, v) {
		c.code("changes", text)
	}
	before, now := estimate.Of(written, s.env()), estimate.Of(v.Session, s.env())
	text := units.FormatClock(now.Length)
	if !now.Settled || !before.Settled {
		text = "at least " + text
	}
	switch d := now.Length - before.Length; {
	case !now.Settled || !before.Settled:
	case d >= 0.5:
		text += ", " + units.FormatClock(d) + " longer than as written"
	case d <= -0.5:
		text += ", " + units.FormatClock(-d) + " shorter than as written"
	default:
		text += ", as long as written"
	}
	c.row("length", text)
	c.Foot = estimateOf
	return c
}

// kitOf is the kit of a version.
func kitOf(only bool, has []string) string {
	switch {
	case !only:
		return ""
	case len(has) == 0:
		return "no kit"
	}
	return and(has) + ", and nothing else"
}

// changes are the lines that a version does otherwise, each as it is written and as it is
// then. What a house's own swaps change is among them.
func changes(written *model.Session, v *model.Version) []string {
	var out []string
	seen := map[string]bool{}
	add := func(from, to string) {
		text := from + " -> " + to
		if from == "" {
			text = to
		}
		if from != to && !seen[text] {
			seen[text] = true
			out = append(out, text)
		}
	}
	if a, b := prose.Amount(written.Effort), prose.Amount(v.Session.Effort); a != b {
		add("", "effort "+b)
	}
	if a, b := prose.Amount(written.Length), prose.Amount(v.Session.Length); a != b {
		add("", "length "+b)
	}
	for _, p := range written.Parts {
		q := partOf(v.Session, string(p.Kind), p.Letter)
		switch {
		case q == nil:
			add(nameOf(p), "nothing")
		case q.At.Start != p.At.Start: // written anew
			add(nameOf(p), "a part of its own")
		default:
			heads(p, q, nameOf(p)+": ", add)
		}
	}
	kept := map[source.Place]bool{}
	works(v.Session.Parts, func(w *model.Work) {
		kept[w.Written] = true
		if w.Written.File != nil && w.Written != w.At {
			add(line(w.Written), prose.Work(bare(w)))
		}
	})
	for _, p := range written.Parts {
		q := partOf(v.Session, string(p.Kind), p.Letter)
		if q == nil || q.At.Start != p.At.Start {
			continue
		}
		works([]*model.Group{p}, func(w *model.Work) {
			if !kept[w.At] {
				add(line(w.At), "nothing")
			}
		})
	}
	return out
}

// line is what stands at a place, with single blanks.
func line(at source.Place) string { return strings.Join(strings.Fields(at.Text()), " ") }

// heads adds how the heads of a part differ between two versions, as far as both have the
// same groups.
func heads(p, q *model.Group, name string, add func(from, to string)) {
	if a, b := apart(p, q); a != b {
		add(name+a, b)
	}
	a, b := groups(p), groups(q)
	if len(a) != len(b) {
		return
	}
	for i := range a {
		heads(a[i], b[i], name, add)
	}
}

// apart is what two heads say that is not the same.
func apart(p, q *model.Group) (string, string) {
	a := &model.Group{Kind: model.Plain, Repeat: p.Repeat, Mode: p.Mode, Time: p.Time, Cap: p.Cap, Lasts: p.Lasts, People: p.People, Heats: p.Heats, Start: p.Start, Effort: p.Effort}
	b := &model.Group{Kind: model.Plain, Repeat: q.Repeat, Mode: q.Mode, Time: q.Time, Cap: q.Cap, Lasts: q.Lasts, People: q.People, Heats: q.Heats, Start: q.Start, Effort: q.Effort}
	for _, f := range []struct{ a, b **model.Quantity }{{&a.Cap, &b.Cap}, {&a.Lasts, &b.Lasts}, {&a.Start, &b.Start}, {&a.Effort, &b.Effort}} {
		if prose.Amount(*f.a) == prose.Amount(*f.b) {
			*f.a, *f.b = nil, nil
		}
	}
	if a.Mode == b.Mode && prose.Amount(a.Time) == prose.Amount(b.Time) {
		a.Mode, b.Mode, a.Time, b.Time = "", "", nil, nil
	}
	if once := (model.Repeat{Kind: model.Once}); prose.Head(&model.Group{Kind: model.Plain, Repeat: a.Repeat}) == prose.Head(&model.Group{Kind: model.Plain, Repeat: b.Repeat}) {
		a.Repeat, b.Repeat = once, once
	}
	return prose.Head(a), prose.Head(b)
}

func groups(g *model.Group) []*model.Group {
	var out []*model.Group
	for _, s := range g.Steps {
		if k, ok := s.(*model.Group); ok {
			out = append(out, k)
		}
	}
	return out
}

// bare is a line without its notes.
func bare(w *model.Work) *model.Work {
	c := *w
	c.Notes = nil
	return &c
}

func works(gs []*model.Group, f func(*model.Work)) {
	for _, g := range gs {
		for _, s := range g.Steps {
			switch s := s.(type) {
			case *model.Work:
				f(s)
			case *model.Group:
				works([]*model.Group{s}, f)
			}
		}
	}
}

// versions counts the sessions that have a version of a name.
func (s *spot) versions(name string) int {
	id := refs.ID{Kind: refs.Scaling, Key: book.Key(name)}
	if n := s.roughly(id); n > many {
		return n
	}
	return len(UsesOf(s.snap, id))
}

// rule is the card of a rule, as the house sets it.
func (s *spot) rule(name string) *Card {
	r, ok := s.snap.Rule(name)
	if !ok {
		return nil
	}
	c := &Card{Title: r.Name, Kind: r.Weight()}
	c.row("", "finds "+r.Summary)
	for _, t := range r.Thresholds {
		c.row("threshold", t.String())
	}
	for _, h := range s.env().House.Rules {
		if h.Rule.Text == r.Name {
			c.row("the house", strings.TrimSuffix(cmp.Or(h.Severity, "keeps it")+": "+h.Reason, ": "))
		}
	}
	return c
}

// kit is the card of a piece of kit.
func (s *spot) kit(name string) *Card {
	called, ok := s.env().Book.Kit(name)
	if !ok {
		return nil
	}
	c := &Card{Title: called, Kind: "kit"}
	h := s.env().House
	has := s.has(called)
	switch {
	case len(has) > 0 && h.Class > 0:
		c.row("the house has", fmt.Sprintf("%s, for a class of %d", and(has), h.Class))
	case len(has) > 0:
		c.row("the house has", and(has))
	case len(h.Kit) > 0:
		c.row("", "the house does not list any")
	}
	var in []string
	for _, v := range h.Scalings {
		if v.HasOnly && slices.ContainsFunc(v.Has, func(k string) bool { return book.Key(k) == book.Key(called) }) {
			in = append(in, v.Name)
		}
	}
	c.row("in the versions", list(in))
	var need []string
	for _, m := range s.env().Book.Movements() {
		if slices.ContainsFunc(m.Needs, func(k string) bool { return book.Key(k) == book.Key(called) }) {
			need = append(need, m.Name)
		}
	}
	c.row("for", some(need, "movement"))
	return c
}

// some counts names, and lists them where they are few.
func some(names []string, noun string) string {
	switch {
	case len(names) == 0:
		return ""
	case len(names) <= 2*few:
		return list(names)
	}
	return count(len(names), noun)
}

// pattern is the card of a pattern.
func (s *spot) pattern(name string) *Card {
	c := &Card{Title: name, Kind: "pattern"}
	var main, also []string
	for _, m := range s.env().Book.Movements() {
		switch {
		case m.Main() == book.Pattern(name):
			main = append(main, m.Name)
		case slices.Contains(m.Trains, book.Pattern(name)):
			also = append(also, m.Name)
		}
	}
	c.row("chiefly", some(main, "movement"))
	c.row("also", some(also, "movement"))
	if len(c.Rows) == 0 {
		return nil
	}
	return c
}

// effort is the card of a word for how hard.
func (s *spot) effort(word string) *Card {
	q, ok := s.env().House.Efforts[book.Key(word)]
	if !ok {
		return nil
	}
	c := &Card{Title: word, Kind: "effort"}
	c.row("", prose.Amount(q)+" of the hardest that a member can go for so long")
	from := "stint's own, unless the house says otherwise"
	if f := s.env().House.At.File; f != nil && q.At.File == f {
		from = "the house's own"
	}
	c.row("from", from)
	return c
}

// cycle is the card of a cycle.
func (s *spot) cycle(name string) *Card {
	same := func(n model.Name) bool { return book.Key(n.Text) == book.Key(name) }
	var found *model.Cycle
	for _, f := range s.snap.Files {
		if found == nil && slices.ContainsFunc(f.Decls.Cycles, same) {
			cs := f.Program().Cycles
			if i := slices.IndexFunc(cs, func(c *model.Cycle) bool { return book.Key(c.Name) == book.Key(name) }); i >= 0 {
				found = cs[i]
			}
		}
	}
	if x := found; x != nil {
		c := &Card{Title: x.Name, Kind: "cycle"}
		c.row("purpose", x.Purpose)
		c.row("from", x.From)
		days, rest := 0, 0
		for _, w := range x.Plan {
			for _, d := range w.Days {
				if d.Rest {
					rest++
				} else {
					days++
				}
			}
		}
		text := count(days, "session") + " in " + count(max(x.Weeks, len(x.Plan)), "week")
		if rest > 0 {
			text += ", and " + count(rest, "day") + " of rest"
		}
		c.row("plans", text)
		for _, p := range x.Progress {
			c.row("progress", p.Move.Name+" "+prose.Load(p.Load))
		}
		return c
	}
	return nil
}

// house is the card of the house.
func (s *spot) house() *Card {
	h := s.env().House
	c := &Card{Title: h.Name, Kind: "house"}
	c.row("purpose", h.Purpose)
	if h.Class > 0 {
		c.row("class", fmt.Sprint(h.Class))
	}
	c.row("length", prose.Amount(h.Length))
	c.row("tiers", list(h.Tiers))
	var needs []string
	for _, n := range h.Needs {
		needs = append(needs, n.Text)
	}
	c.row("every session needs", list(needs))
	for _, r := range h.Rests {
		c.row("asks for", prose.Rest(r))
	}
	c.row("kit", count(len(h.Kit), "line"))
	c.row("sessions", fmt.Sprint(len(s.env().Sessions)))
	return c
}

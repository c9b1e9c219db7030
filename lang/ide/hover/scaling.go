package hover

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// scalingCard is the card of a version: what it is for, what it has, and what changes.
func (s *target) scalingCard(r refs.Ref) *Card {
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
		if n := s.sessionsWithVersion(r.Name); n > 0 {
			c.row("used", "in "+wording.Count(n, "session"))
		}
		return c
	}
	v := written.FindVersion(r.Name)
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
	c.row("from", wording.List(v.From))
	c.row("has", kitOf(v.HasOnly, v.Has))
	for _, text := range versionChanges(written, v) {
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
	c.Foot = estimateNote
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
	return wording.And(has) + ", and nothing else"
}

// versionChanges are the lines that a version does otherwise, each as it is written and as it is
// then. What a house's own swaps change is among them.
func versionChanges(written *model.Session, v *model.Version) []string {
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
		q := v.Session.FindPart(p.Kind, p.Letter)
		switch {
		case q == nil:
			add(wording.PartName(p), "nothing")
		case q.At.Start != p.At.Start: // written anew
			add(wording.PartName(p), "a part of its own")
		default:
			headChanges(p, q, wording.PartName(p)+": ", add)
		}
	}
	changedLines(written, v, add)
	return out
}

// changedLines adds the lines of work and of rest that a version changes or leaves out, in
// the parts that it does not write anew.
func changedLines(written *model.Session, v *model.Version, add func(from, to string)) {
	before := map[source.Place]string{} // lines of work as written
	for w := range written.Lines(model.Everything) {
		before[w.At] = prose.Work(withoutNotes(w))
	}
	kept := map[source.Place]bool{}
	for w := range v.Session.Lines(model.Everything) {
		kept[w.Written] = true
		now := prose.Work(withoutNotes(w))
		was, own := before[w.Written] // a part that the version writes anew has lines of its own
		if w.Written.File != nil && (w.Written != w.At || own && was != now) {
			add(sourceText(w.Written), now)
		}
	}
	for _, p := range written.Parts {
		q := v.Session.FindPart(p.Kind, p.Letter)
		if q == nil || q.At.Start != p.At.Start {
			continue
		}
		for w := range p.Lines(model.Everything) {
			if !kept[w.At] {
				add(sourceText(w.At), "nothing")
			}
		}
		for _, r := range restsIn(p) {
			if to, ok := swappedFor(v, r.At); ok {
				add(sourceText(r.At), to)
			}
		}
	}
}

// restsIn are the rests of a group that are lines of their own: those that are taken and
// those that are asked for.
func restsIn(g *model.Group) []*model.Rest {
	var out []*model.Rest
	model.Walk(g, model.Everything, func(s model.Step, _ []*model.Group) bool {
		switch s := s.(type) {
		case *model.Group:
			out = append(out, s.Rests...)
		case *model.Rest:
			out = append(out, s)
		}
		return true
	})
	return out
}

// swappedFor is the right side of the swap that changes a line of the session as written.
func swappedFor(v *model.Version, at source.Place) (string, bool) {
	for _, sw := range v.Swaps {
		if _, to, ok := strings.Cut(sourceText(sw.At), "->"); ok && slices.Contains(sw.Changes, at) {
			return strings.TrimSpace(to), true
		}
	}
	return "", false
}

// sourceText is what stands at a place, with single blanks.
func sourceText(at source.Place) string { return strings.Join(strings.Fields(at.Text()), " ") }

// headChanges adds how the heads of a part differ between two versions, as far as both have the
// same groups.
func headChanges(p, q *model.Group, name string, add func(from, to string)) {
	if a, b := headDifference(p, q); a != b {
		add(name+a, b)
	}
	a, b := childGroups(p), childGroups(q)
	if len(a) != len(b) {
		return
	}
	for i := range a {
		headChanges(a[i], b[i], name, add)
	}
}

// headDifference is what two heads say that is not the same.
func headDifference(p, q *model.Group) (string, string) {
	a := &model.Group{Kind: model.Plain, Repeat: p.Repeat, Mode: p.Mode, Time: p.Time, Cap: p.Cap, Lasts: p.Lasts,
		People: p.People, Heats: p.Heats, Start: p.Start, Effort: p.Effort}
	b := &model.Group{Kind: model.Plain, Repeat: q.Repeat, Mode: q.Mode, Time: q.Time, Cap: q.Cap, Lasts: q.Lasts,
		People: q.People, Heats: q.Heats, Start: q.Start, Effort: q.Effort}
	for _, f := range []struct{ a, b **model.Quantity }{
		{&a.Cap, &b.Cap}, {&a.Lasts, &b.Lasts}, {&a.Start, &b.Start}, {&a.Effort, &b.Effort},
	} {
		if prose.Amount(*f.a) == prose.Amount(*f.b) {
			*f.a, *f.b = nil, nil
		}
	}
	if a.Mode == b.Mode && prose.Amount(a.Time) == prose.Amount(b.Time) {
		a.Mode, b.Mode, a.Time, b.Time = model.NoMode, model.NoMode, nil, nil
	}
	repeat := func(g *model.Group) string { return prose.Head(&model.Group{Kind: model.Plain, Repeat: g.Repeat}) }
	if repeat(p) == repeat(q) {
		a.Repeat, b.Repeat = model.Repeat{Kind: model.Once}, model.Repeat{Kind: model.Once}
	}
	return prose.Head(a), prose.Head(b)
}

// childGroups are those that stand in a group, and in its events, one level down.
func childGroups(g *model.Group) []*model.Group {
	var out []*model.Group
	model.Walk(g, model.InsideEvents, func(s model.Step, _ []*model.Group) bool {
		k, ok := s.(*model.Group)
		if ok && k != g {
			out = append(out, k)
		}
		return k == g
	})
	return out
}

// sessionsWithVersion counts the sessions that have a version of a name.
func (s *target) sessionsWithVersion(name string) int {
	id := refs.ID{Kind: refs.Scaling, Key: book.Key(name)}
	if n := s.approximateCount(id); n > maxCountedSessions {
		return n
	}
	return len(sessionsUsing(s.snap, id))
}

package hover

import (
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/render/readback"
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
	for _, p := range readback.Changes(s.env().House, written, v) {
		label := "changes"
		if p.Part != "" {
			label = p.Part
		}
		c.row(label, p.Changes...)
	}
	before, now := s.timesOf(written).Length, s.timesOf(v.Session).Length
	text := now.TakenText()
	switch d := now.Taken - before.Taken; {
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

// sourceText is what stands at a place, with single blanks.
func sourceText(at source.Place) string { return strings.Join(strings.Fields(at.Text()), " ") }

// sessionsWithVersion counts the sessions that have a version of a name.
func (s *target) sessionsWithVersion(name string) int {
	id := refs.ID{Kind: refs.Scaling, Key: book.Key(name)}
	if n := s.approximateCount(id); n > maxCountedSessions {
		return n
	}
	return len(sessionsUsing(s.snap, id))
}

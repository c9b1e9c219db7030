package hover

import (
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/readback"
	"stint.example/stint/lang/syntax"
)

// cycleCard is the card of a cycle.
func (s *target) cycleCard(name string) *Card {
	same := func(n model.Name) bool { return book.Key(n.Text) == book.Key(name) }
	var found *model.Cycle
	for _, f := range s.snap.Files {
		if found == nil && slices.ContainsFunc(f.Decls.Cycles, same) {
			cs := f.Program().Cycles
			i := slices.IndexFunc(cs, func(c *model.Cycle) bool { return book.Key(c.Name) == book.Key(name) })
			if i >= 0 {
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
		text := wording.Count(days, "session") + " in " + wording.Count(max(x.Weeks, len(x.Plan)), "week")
		if rest > 0 {
			text += ", and " + wording.Count(rest, "day") + " of rest"
		}
		c.row("plans", text)
		for _, p := range x.Progress {
			c.row("progress", prose.Progress(p))
		}
		return c
	}
	return nil
}

// progressCard is the card of a line of progress: which lines follow it, and what they are in each week.
func (s *target) progressCard() *Card {
	for _, x := range s.file.Program().Cycles {
		for _, p := range x.Progress {
			if !s.on(p.At) {
				continue
			}
			c := &Card{At: p.At, Title: prose.Progress(p), Kind: "progress"}
			c.row("", Meaning(syntax.InCycle, "progress"))
			for _, f := range readback.Followings(x, p, s.snap.FindSession) {
				c.row(f.Of, f.Text)
			}
			return c
		}
	}
	return nil
}

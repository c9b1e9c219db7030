package hover

import (
	"cmp"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// sessionCard is the card of a session, or of one version of it.
func (s *target) sessionCard(x *model.Session, f *workspace.File, version string) *Card {
	in := *s
	in.session, in.written = x, x
	c := &Card{Title: x.Name, Kind: "session", Foot: estimateNote}
	if v := x.FindVersion(version); v != nil && version != "" {
		in.session, in.version = v.Session, v
		c.Kind = "session, version " + v.Name
	}
	x = in.session
	c.row("purpose", x.Purpose)
	c.row("date", x.Date)
	if x.Start != nil {
		c.row("start", x.Start.Time)
	}
	c.row("effort", prose.Amount(x.Effort))
	t := equipment.Timeline(x, s.env())
	p := timeline.NewTimes(t, s.env().House)
	c.row("length", p.Length.Text())
	for _, part := range p.Parts {
		text := part.WorkText()
		if part.How != "" {
			text = part.How + "; " + text
		}
		c.row(part.Name, text)
	}
	c.row("works", timeByPattern(t))
	c.row("comes to", wording.Totals(totals.OfSession(&model.Session{Parts: mainParts(x)}, s.tiers()), x.Parts))
	for _, v := range in.written.Versions {
		if in.version == nil {
			c.row("version", strings.TrimSuffix(v.Name+": "+v.Note, ": "))
		}
	}
	c.row("planned", wording.List(in.plannedDays([]SessionUse{{Session: in.written.Name, File: f, Written: true}})))
	return c
}

// mainParts are the parts of a session but for its warm-up and cool-down.
func mainParts(x *model.Session) []*model.Group {
	return slices.DeleteFunc(slices.Clone(x.Parts), func(g *model.Group) bool { return g.Kind != model.Part })
}

// timeByPattern are what the parts of a session load, what takes a typical member longest first.
func timeByPattern(t *estimate.Timeline) string {
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
	slices.SortFunc(ps, func(a, b book.Pattern) int {
		return cmp.Or(cmp.Compare(spent[b], spent[a]), cmp.Compare(a, b))
	})
	var out []string
	for _, p := range ps {
		out = append(out, string(p)+" "+units.FormatClock(spent[p]))
	}
	if len(out) == 0 {
		return ""
	}
	return wording.List(out) + " (how long a typical member moves)"
}

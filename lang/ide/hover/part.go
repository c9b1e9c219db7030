package hover

import (
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/readback"
	"stint.example/stint/lang/render/timeline"
)

// estimateNote stands under everything that shows an estimate.
var estimateNote = "An estimate; times may well be " + estimate.MarginText() + " off."

// partTimeline is a part as timelines show it, and its estimate; nil where the session lacks it.
func (s *target) partTimeline(g *model.Group) (*timeline.Part, *estimate.PartTime) {
	t := equipment.Timeline(s.session, s.env())
	c := timeline.NewClock(t, s.env().House)
	for i, p := range t.Parts {
		if p.Group == g {
			return c.Parts[i], p
		}
	}
	return nil, nil
}

// partCard is the card of a part, the warm-up or the cool-down.
func (s *target) partCard(g *model.Group) *Card {
	p, _ := s.partTimeline(g)
	if p == nil {
		return nil
	}
	c := &Card{At: g.At, Title: p.Name, Kind: p.How, Foot: estimateNote}
	if s.version != nil {
		c.Title += ", " + s.version.Name
	}
	c.row("", readback.Head(s.env().House, g))
	c.row("starts", p.StartText())
	c.row("work", nameLevels(p.WorkText()))
	c.row("done at", nameLevels(p.EndText()))
	if left := p.LeftText(); left != "" {
		c.row("rest left", nameLevels(left))
	}
	s.comesTo(c, "", g)
	c.row("", p.Remarks()...)
	if s.version == nil {
		s.addVersions(c, g)
	}
	return c
}

// comesTo says what a group adds up to: of one athlete and of a team where it divides people, and the two differ.
func (s *target) comesTo(c *Card, when string, g *model.Group) {
	in := []*model.Group{g}
	text := func(v totals.View) string { return wording.Totals(v.OfGroup(g, s.tiers()), in) }
	each, team := text(totals.View{Whose: model.EachOne}), text(totals.View{Whose: model.OfTeam})
	if len(totals.TeamSizes(g)) == 0 || each == team {
		c.row("comes to"+when, text(totals.View{}))
		return
	}
	c.row("comes to"+when+", each", each)
	c.row("comes to"+when+", team", team)
}

// nameLevels names the levels of three times, where there are three.
func nameLevels(text string) string {
	if strings.Count(text, " / ") == 2 {
		return text + " (fast / typical / slow)"
	}
	return text
}

// addVersions adds how long a part takes in each version of the session, where that is not
// as long as it is written.
func (s *target) addVersions(c *Card, g *model.Group) {
	for _, v := range s.written.Versions {
		for i, p := range s.timesOf(v.Session).Parts {
			if of := v.Session.Parts[i]; of.Kind == g.Kind && of.Letter == g.Letter {
				c.row(v.Name, p.WorkText())
			}
		}
	}
}

// timesOf is how long a session takes, as timelines show it.
func (s *target) timesOf(x *model.Session) *timeline.Clock {
	return timeline.NewTimes(equipment.Timeline(x, s.env()), s.env().House)
}

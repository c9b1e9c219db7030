package hover

import "strings"

// ruleCard is the card of a rule, as the house sets it.
func (s *target) ruleCard(name string) *Card {
	r, ok := s.snap.Rule(name)
	if !ok {
		return nil
	}
	c := &Card{Title: r.Name, Kind: r.Weight()}
	c.row("", "finds "+r.Summary)
	for _, t := range r.Values {
		c.row("threshold", t.String())
	}
	for _, h := range s.env().House.Rules {
		if h.Rule.Text == r.Name {
			set := "sets its thresholds"
			switch {
			case h.Off:
				set = "allows what it finds"
			case h.Error:
				set = "makes it an error"
			}
			c.row("the house", strings.TrimSuffix(set+": "+h.Reason, ": "))
		}
	}
	return c
}

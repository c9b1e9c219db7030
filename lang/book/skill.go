package book

import "stint.example/stint/lang/units"

// WhoCan is what share of a mixed class can do a movement, in words: 30% can do it. It is empty where everybody can.
func (m *Movement) WhoCan() string {
	if !m.Skill() {
		return ""
	}
	text := units.FormatNumber(100*m.Class.Of) + "% can do it"
	if m.Class.AtMost {
		text = "at most " + text + ", and nobody has counted"
	}
	return text
}

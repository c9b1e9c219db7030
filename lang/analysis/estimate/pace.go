package estimate

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// Pace is how long a typical member of a house takes for one unit of a movement, in s, at
// their best effort and whatever the load. Calories on a rower come from its metres, as a
// monitor has them.
func Pace(h *model.House, m *book.Movement, unit string) (seconds float64, ok bool) {
	if unit == "s" {
		return 1, true
	}
	if p, ok := m.Pace(unit); ok && p.Typical > 0 {
		return p.Typical, true
	}
	if p, ok := m.Pace("m"); ok && unit == "cal" && m.Main() == book.Row && p.Typical > 0 {
		f := figuresOf(h)
		return f.perCal(p.Typical), true
	}
	return 0, false
}

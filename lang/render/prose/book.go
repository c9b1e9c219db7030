package prose

import (
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/units"
)

// Pace is how long a fast, a typical and a slow member take: 1.5 / 1.7 / 2.1 s per rep.
func Pace(p book.Pace) string {
	text := levels(p.Levels, units.FormatNumber) + " s per " + p.Per
	if p.Load != "" {
		text += " @ " + p.Load
	}
	return text
}

// Unbroken is how much of a movement a fast, a typical and a slow member do before a
// pause: repetitions, metres, or the time of a hold. It is empty where the book does not say.
func Unbroken(m *book.Movement) string {
	switch {
	case m.Unbroken == nil:
		return ""
	case len(m.Paces) == 0: // a hold
		return levels(*m.Unbroken, units.FormatClock)
	}
	text := levels(*m.Unbroken, units.FormatNumber)
	if m.UnbrokenPer != "" {
		text += " " + m.UnbrokenPer
	}
	return text
}

func levels(l book.Levels, write func(float64) string) string {
	return write(l.Fast) + " / " + write(l.Typical) + " / " + write(l.Slow)
}

package plan

import (
	"slices"

	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/load"
	"stint.example/stint/lang/program"
)

// A Session is a session, as written or in a version, with what it comes to for a typical
// member. What is counted is what its parts hold: neither warm-up nor cool-down.
type Session struct {
	*program.Session

	of     *Cycle
	lines  []*Line
	read   bool
	volume []Volume
	moved  *Moved
}

// RatingSource says how an effort becomes a rating.
const RatingSource = "an effort in percent is read as a tenth of it; no source"

// Rating is how hard the session is meant to be as a whole, from 0 to 10: its RPE, or a
// tenth of its effort in percent, the middle of a range. It is not ok where the session
// does not say, or is off that scale.
func (s *Session) Rating() (rating float64, ok bool) {
	lo, hi, known := s.Effort.Value(0, 1, 0)
	if !known {
		return 0, false
	}
	switch rating = (lo + hi) / 2; s.Effort.Unit {
	case "%":
		rating /= 10
	case "RPE":
	default:
		return 0, false
	}
	return rating, rating >= 0 && rating <= 10
}

// Minutes are how long a session is.
type Minutes struct {
	Min       float64
	Estimated bool // by the estimate; otherwise the session or its house states it
	Least     bool // something is missing, and nothing is stated
}

// Minutes is how long the session has the room, by the estimate. Where that misses
// something it is the length that is stated.
func (s *Session) Minutes() Minutes {
	t := s.clock()
	if t.Settled {
		return Minutes{Min: t.Length / 60, Estimated: true}
	}
	for _, q := range []*program.Quantity{s.Length, s.of.env.House.Length} {
		if v, ok := q.One(); ok {
			return Minutes{Min: v / 60}
		}
	}
	return Minutes{Min: t.Length / 60, Estimated: true, Least: true}
}

// Load is the session's load: its rating times its minutes. It is not ok where it has no
// rating.
func (s *Session) Load() (float64, bool) {
	rating, ok := s.Rating()
	if !ok {
		return 0, false
	}
	l, err := load.Session(rating, s.Minutes().Min)
	return l, err == nil
}

func (s *Session) clock() *clock.Timeline { return s.of.timeline(s.Session) }

// Whole says whether every line of the session could be read.
func (s *Session) Whole() bool { return !slices.ContainsFunc(s.Parts, gap) }

func gap(g *program.Group) bool {
	return g.Gaps || g.Unread || slices.ContainsFunc(g.Steps, func(st program.Step) bool {
		k, ok := st.(*program.Group)
		return ok && gap(k)
	})
}

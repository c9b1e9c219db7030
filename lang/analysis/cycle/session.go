package cycle

import (
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// A SessionAnalysis is the training load of a session, as written or in a version, for a typical member.
// What is counted is what its parts hold: neither warm-up nor cool-down. It is small, and
// holds nothing of the session but the lines of its parts, so that it may be kept.
type SessionAnalysis struct {
	Name    string
	Start   string // h:mm, where it says when
	Minutes Minutes
	Lines   []*Line
	Volume  []Volume // in the order of the book's patterns, by what a movement chiefly trains
	Moved   Moved
	Whole   bool // every line of it could be read

	rating float64 // less than nothing where it does not say
}

// Of works out the volume, the intensity and the length of a session.
func Of(s *model.Session, env *model.Env) *SessionAnalysis {
	out := &SessionAnalysis{Name: s.Name, Whole: wholly(s), rating: rating(s)}
	if s.Start != nil {
		out.Start = s.Start.Time
	}
	lines := map[*model.Work]*Line{}
	today := map[*book.Movement]float64{} // the repetitions of the heaviest set so far
	for _, g := range s.Parts {
		if g.Kind != model.Part {
			continue
		}
		for w, around := range g.Lines(model.InsideEvents) { // what is done in a rest is easy, and none of the work
			if len(w.Moves) > 0 && w.Moves[0].Movement != nil {
				lines[w] = lineOf(s, w, around, today)
				out.Lines = append(out.Lines, lines[w])
			}
		}
	}
	t := estimate.Of(s, env)
	out.count(t, lines)
	out.Minutes = minutesOf(s, env, t)
	return out
}

// wholly says whether every line of a session could be read.
func wholly(s *model.Session) bool {
	whole := true
	s.Walk(model.Everything, func(st model.Step, _ []*model.Group) bool {
		if g, ok := st.(*model.Group); ok && (g.Gaps || g.Unread) {
			whole = false
		}
		return whole
	})
	return whole
}

// RatingSource says how an effort becomes a rating.
const RatingSource = "an effort in percent is read as a tenth of it; no source"

// rating is how hard a session is meant to be as a whole, as an RPE; less than nothing where it does
// not say.
func rating(s *model.Session) float64 {
	if e, ok := intensity.EffortOfSession(s); ok {
		return e.Middle() / 10
	}
	return -1
}

// Rating is how hard the session is meant to be as a whole, from 0 to 10. It is not ok
// where the session does not say, or is off that scale.
func (s *SessionAnalysis) Rating() (rating float64, ok bool) {
	return s.rating, s.rating >= 0 && s.rating <= 10
}

// Minutes are how long a session is.
type Minutes struct {
	Min       float64
	Estimated bool // by the estimate; otherwise the session or its house states it
	Least     bool // something is missing, and nothing is stated
}

// minutesOf is how long a session has the room, by the estimate. Where that misses
// something it is the length that is stated.
func minutesOf(s *model.Session, env *model.Env, t *estimate.Timeline) Minutes {
	if t.Settled {
		return Minutes{Min: t.Length / 60, Estimated: true}
	}
	for _, q := range []*model.Quantity{s.Length, env.House.Length} {
		if v, ok := q.One(); ok {
			return Minutes{Min: v / 60}
		}
	}
	return Minutes{Min: t.Length / 60, Estimated: true, Least: true}
}

// Load is the session's load: its rating times its minutes. It is not ok where it has no
// rating.
func (s *SessionAnalysis) Load() (float64, bool) {
	rating, ok := s.Rating()
	if !ok {
		return 0, false
	}
	l, err := strength.Session(rating, s.Minutes.Min)
	return l, err == nil
}

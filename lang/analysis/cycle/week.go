package cycle

import (
	"cmp"
	"slices"

	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
)

// WeekSums are the totals of a week for a typical member who does all of it.
type WeekSums struct {
	Minutes  Minutes
	Volume   []Volume
	Lifts    []Lift
	Moved    Moved
	HardSets float64 // sets of lines that are hard by DefaultHardThresholds, as far as they are settled

	// Rated says that every session of the week says how hard it is. Otherwise what follows
	// is empty.
	Rated    bool
	Load     strength.LoadSum // of the seven days, rest days as 0
	Daily    [7]float64       // Monday first
	Moderate float64          // minutes of sessions from a rating of 5, on a scale from 0 to 10
	Vigorous float64          // from 7
}

// A Lift is the heaviest and the mean of a lift in a week.
type Lift struct {
	Movement *book.Movement
	Share    Heavy        // % of a one-repetition maximum; 0 where only its mass is known
	Mass     Heavy        // kg; 0 where only its share is known
	Top      *Line        // that has the heaviest
	Day      *DayAnalysis // on which it is lifted
	reps     float64
	massReps float64
}

// The bounds of moderate and vigorous work on a scale from 0 to 10 (US HHS 2018).
const (
	moderate = 5
	vigorous = 7
)

// Rated says whether every session of the week says how hard it is.
func (w *WeekAnalysis) Rated() bool {
	return len(w.Days) > 0 && !slices.ContainsFunc(w.Days, func(d *DayAnalysis) bool {
		if d.Of == nil {
			return true
		}
		_, ok := d.Of.Rating()
		return !ok
	})
}

// Sums are the totals of the week.
func (w *WeekAnalysis) Sums() *WeekSums {
	if w.sums != nil {
		return w.sums
	}
	s := &WeekSums{Rated: w.Rated()}
	w.sums = s
	volume := map[book.Pattern]*Volume{}
	for _, d := range w.Days {
		if d.Of == nil {
			continue
		}
		m := d.Of.Minutes
		s.Minutes.Min += m.Min
		s.Minutes.Estimated = s.Minutes.Estimated || m.Estimated
		s.Minutes.Least = s.Minutes.Least || m.Least
		for _, v := range d.Of.Volume {
			if volume[v.Pattern] == nil {
				volume[v.Pattern] = &Volume{Pattern: v.Pattern}
			}
			volume[v.Pattern].add(v)
		}
		moved := d.Of.Moved
		s.Moved.Kg += moved.Kg
		s.Moved.Estimate = s.Moved.Estimate || moved.Estimate
		for _, name := range moved.Without {
			if !slices.Contains(s.Moved.Without, name) {
				s.Moved.Without = append(s.Moved.Without, name)
			}
		}
		s.lifts(d)
		l, _ := d.Of.Load()
		s.Daily[d.Index%7] += l
		switch rating, _ := d.Of.Rating(); {
		case rating >= vigorous:
			s.Vigorous += m.Min
		case rating >= moderate:
			s.Moderate += m.Min
		}
	}
	s.Volume = inOrder(volume)
	slices.SortStableFunc(s.Lifts, func(a, b Lift) int {
		return cmp.Or(-cmp.Compare(a.Share.Top, b.Share.Top), cmp.Compare(a.Movement.Name, b.Movement.Name))
	})
	if s.Rated {
		s.Load = strength.SumLoads(s.Daily[:])
	} else {
		s.Daily, s.Moderate, s.Vigorous = [7]float64{}, 0, 0
	}
	return s
}

// lifts adds the lines of a day that are of lifts with a barbell, or whose share of a
// maximum is known.
func (s *WeekSums) lifts(d *DayAnalysis) {
	for _, l := range d.Of.Lines {
		if l.Hard(DefaultHardThresholds) {
			s.HardSets += l.Sets
		}
		m := l.Work.Moves[0].Movement
		if len(l.Work.Moves) > 1 || m.Best != book.BestLoad || l.Share.Top == 0 && l.Mass.Top == 0 {
			continue
		}
		i := slices.IndexFunc(s.Lifts, func(o Lift) bool { return o.Movement == m })
		if i < 0 {
			i = len(s.Lifts)
			s.Lifts = append(s.Lifts, Lift{Movement: m})
		}
		f := &s.Lifts[i]
		n := max(1, l.Sets)
		if v, _, ok := l.Work.Dose.Value(0, 1, 0); ok && v > 0 {
			n *= v
		}
		if l.Share.Top > f.Share.Top || f.Share.Top == 0 && l.Mass.Top > f.Mass.Top {
			f.Top, f.Day = l, d
		}
		f.Share.add(l.Share, n, &f.reps)
		f.Mass.add(l.Mass, n, &f.massReps)
	}
}

// add takes so many repetitions of another load in.
func (h *Heavy) add(o Heavy, n float64, reps *float64) {
	if o.Top == 0 {
		return
	}
	h.Top = max(h.Top, o.Top)
	h.Mean = (h.Mean*(*reps) + o.Mean*n) / (*reps + n)
	*reps += n
}

// Of is the week's volume of patterns together.
func (s *WeekSums) Of(is func(book.Pattern) bool) Volume {
	var out Volume
	for _, v := range s.Volume {
		if is(v.Pattern) {
			out.add(v)
		}
	}
	return out
}

// Push says whether a pattern is one of the pushes.
func Push(p book.Pattern) bool { return p.Coarse() == "push" }

// Pull says whether a pattern is one of the pulls.
func Pull(p book.Pattern) bool { return p.Coarse() == "pull" }

// Squat says whether it is the squat.
func Squat(p book.Pattern) bool { return p == book.Squat }

// Hinge says whether it is the hinge.
func Hinge(p book.Pattern) bool { return p == book.Hinge }

// Strength says whether a pattern is one of lifting or jumping, and not of going somewhere
// or of loosening up.
func Strength(p book.Pattern) bool { return slices.Contains(strengthPatterns, p) }

// Before is the last week before one that is neither easy nor a test, and has sessions; nil
// where there is none.
func (c *Analysis) Before(w *WeekAnalysis) *WeekAnalysis {
	var out *WeekAnalysis
	for _, o := range c.Weeks {
		if o.Number >= w.Number {
			break
		}
		if o.Kind == "" && len(o.Days) > 0 {
			out = o
		}
	}
	return out
}

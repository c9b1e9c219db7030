package cycle

import (
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// A Volume is how much is done of a pattern.
type Volume struct {
	Pattern  book.Pattern
	Reps     float64
	Metres   float64
	Seconds  float64 // held, or done for a time
	Calories float64
	Estimate bool // some of it is what a typical member is thought to get done
}

func (v *Volume) add(o Volume) {
	v.Reps, v.Metres, v.Seconds, v.Calories = v.Reps+o.Reps, v.Metres+o.Metres, v.Seconds+o.Seconds, v.Calories+o.Calories
	v.Estimate = v.Estimate || o.Estimate
}

// Moved is the load that one member moves: implements x mass x repetitions.
type Moved struct {
	Kg       float64
	Estimate bool
	Without  []string // movements with a load that is no weight, such as a share of a maximum
}

// count adds up what the timeline has of the session's lines.
func (s *SessionAnalysis) count(t *estimate.Timeline, lines map[*model.Work]*Line) {
	by := map[book.Pattern]*Volume{}
	for _, p := range t.Parts {
		if p.Group.Kind != model.Part {
			continue
		}
		for _, lt := range p.Lines {
			l := lines[lt.Work]
			if l == nil {
				continue
			}
			guess := lt.N.Fast != lt.N.Slow
			for _, m := range l.counts(lt) {
				s.Moved.add(l, m, lt.Unit, guess)
				main := m.move.Movement.Main()
				if main == "" {
					continue // a duty
				}
				if by[main] == nil {
					by[main] = &Volume{Pattern: main}
				}
				v := Volume{Estimate: guess}
				switch lt.Unit {
				case "rep":
					v.Reps = m.n
				case "m":
					v.Metres = m.n
				case "s":
					v.Seconds = m.n
				case "cal":
					v.Calories = m.n
				}
				by[main].add(v)
			}
		}
	}
	s.Volume = inOrder(by)
}

func inOrder(by map[book.Pattern]*Volume) []Volume {
	var out []Volume
	for _, p := range book.Patterns {
		if v := by[p]; v != nil {
			out = append(out, *v)
		}
	}
	return out
}

// A counted is how much one member does of a movement of a line.
type counted struct {
	move model.Move
	n    float64
}

// counts is how much of each movement of a line one member does. The timeline has a complex as one thing
// with the count of its first movement, and what a pair shares, one working at a time, as
// what both do.
func (l *Line) counts(lt estimate.LineTime) []counted {
	n := lt.N.Typical * l.share
	var out []counted
	for i, m := range l.Work.Moves {
		if m.Movement == nil {
			continue
		}
		if len(l.Work.Moves) == 1 || m.Name == lt.Movement {
			return []counted{{m, n}}
		}
		of := n
		if first, _, ok := l.Work.Dose.Value(0, 1, 0); i > 0 && ok && first > 0 {
			if c, _, ok := m.Count.Value(0, 1, 0); ok {
				of *= c / first
			}
		}
		out = append(out, counted{m, of})
	}
	if l.Work.Choice {
		return nil // another line of the timeline has what was chosen
	}
	return out
}

// shareIn is how much of a line's counts one member does. Where all of a team work at once
// the timeline has that already.
func shareIn(w *model.Work, around []*model.Group) float64 {
	share := 1.0
	if !w.Share.Divides() || !slices.ContainsFunc(around, func(g *model.Group) bool { return g.Solo }) {
		return share
	}
	for _, g := range around {
		if g.People == nil {
			continue
		}
		if size, ok := g.People.Size.One(); ok && size > 1 {
			share /= size
		}
	}
	return share
}

func (m *Moved) add(l *Line, c counted, unit string, guess bool) {
	if unit != "rep" {
		return
	}
	if l.Mass.Mean > 0 {
		m.Kg += l.Mass.Mean * c.n
		m.Estimate = m.Estimate || guess
		return
	}
	name := c.move.Movement.Name
	weighed := l.UpTo || slices.ContainsFunc(l.Work.Loads, func(ld model.Load) bool {
		return ld.Kind == syntax.Share || (ld.Kind == syntax.RPE || ld.Kind == syntax.RIR) && len(c.move.Movement.Needs) > 0
	})
	if weighed && !slices.Contains(m.Without, name) {
		m.Without = append(m.Without, name)
	}
}

package referencemodel

import "math"

// Score is what is done of a list until time is gone.
type Score struct {
	Rounds int       // whole rounds, or turns where one member works at a time
	Over   []float64 // the counts of the lines of the round that was begun last
	Count  float64   // all units
	held   bool      // the counts of several turns are one line's
	share  float64
}

// add counts some units of a line.
func (s *Score) add(n float64) {
	if s.held {
		s.share += n
		return
	}
	s.Over = append(s.Over, n)
	s.Count += n
}

// begin starts a round, and finish ends it, where the condition holds.
func (s *Score) begin(really bool) {
	if really {
		s.Over = nil
	}
}

func (s *Score) finish(really bool) {
	if really {
		s.Rounds++
		s.Over = nil
	}
}

// open starts a line that is shared by turns, and shut ends it.
func (s *Score) open() { s.held, s.share = true, 0 }

func (s *Score) shut() {
	s.held = false
	s.add(math.Floor(s.share + small))
}

// OverCount is the units of the round that was begun last.
func (s Score) OverCount() float64 {
	sum := 0.0
	for _, n := range s.Over {
		sum += n
	}
	return sum
}

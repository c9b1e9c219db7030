package equipment

import (
	"math"

	"stint.example/stint/lang/model"
)

// overlapping adds the moment at which more than one heat is at a line.
func (w *classWalk) overlapping(a ask, c crowd) []moment {
	out := a.moments()
	if c.heats == nil || w.time == nil || !w.time.Proven() {
		return out
	}
	every, ok := c.heats.Heats.Every.One()
	if !ok || every <= 0 {
		return out
	}
	size, _ := c.heats.Heats.Size.One()
	heats := int(math.Ceil(float64(w.class) / math.Floor(size)))
	n := w.atOnce(c, a.line, every, heats)
	if n <= 1 {
		return out
	}
	factor := min(float64(n), float64(w.class)/math.Floor(size))
	a.people, a.settled = a.people*factor, false
	return append(out, a.moments()...)
}

// atOnce is how many heats may be at a line at once, by the estimate of how long it takes.
func (w *classWalk) atOnce(c crowd, line *model.Work, every float64, heats int) int {
	g := c.heats
	if g.Repeat.Kind == model.Every && g.Slots() == 0 { // each heat has its own turns on the clock
		if t, ok := w.time.GroupOf(g); ok {
			if interval, ok := g.Repeat.Interval.One(); ok {
				took := min(max(t.Turns[0].Took, t.Turns[2].Took), interval)
				return busiest(every, interval, took, heats)
			}
		}
	}
	from, to := 0.0, max(w.time.CappedWork.Slow, w.time.CappedWork.Fast)
	if c.team <= 1 && g == w.time.Group {
		for i := range w.time.Lines {
			if l := &w.time.Lines[i]; l.Work == line {
				from, to = min(l.From.Fast, l.From.Slow), max(l.To.Fast, l.To.Slow)
				break
			}
		}
	} else if t, ok := w.time.GroupOf(g); ok && c.team <= 1 {
		to = max(t.Took.Fast, t.Took.Slow)
	}
	n := int(math.Ceil((to-from)/every - 1e-6))
	return max(1, min(n, heats))
}

// busiest is how many of so many heats are at work at once, of which each starts so long
// after the one before and works for the first part of every interval.
func busiest(every, interval, took float64, heats int) int {
	most := 1
	for i := range heats {
		at, n := math.Mod(float64(i)*every, interval), 0
		for j := range heats {
			if since := math.Mod(at-math.Mod(float64(j)*every, interval)+interval, interval); since < took-1e-6 {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

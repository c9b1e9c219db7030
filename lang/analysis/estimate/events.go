package estimate

import (
	"math"

	"stint.example/stint/lang/model"
)

// listen makes a group's events count for what it holds.
func (w *walk) listen(g *model.Group) {
	for _, e := range g.Events {
		switch e.Kind {
		case model.Meanwhile, model.WhenDone, model.AtEachBreak:
		case model.AtTime, model.AtEach:
			v, ok := w.value(e.When, 0, 1)
			if !ok || v <= 0 && e.Kind == model.AtEach {
				w.miss(Missing{At: e.At, Why: "it is not said when"})
				continue
			}
			t := trigger{event: e, next: math.Inf(1), by: math.Inf(1)}
			switch {
			case e.When.Unit != "s":
				t.unit, t.every = e.When.Unit, v
			case e.Kind == model.AtTime:
				t.next = w.now + v
			default:
				t.next, t.by = w.now+v, v
				if first, ok := w.value(e.First, 0, 1); ok {
					t.next = w.now + first
				}
			}
			w.events = append(w.events, t)
		default: // a drop, a miss, a catch
			w.miss(Missing{At: e.At, Why: "nobody knows how often that happens"})
		}
	}
	for _, e := range g.Events {
		if e.Kind == model.AtEachBreak {
			w.events = append(w.events, trigger{event: e, next: math.Inf(1), by: math.Inf(1)})
		}
	}
}

// fire does what is due. It says whether time was up before its end.
func (w *walk) fire() (cut bool) {
	if w.inEvent {
		return false
	}
	for i := range w.events {
		e := &w.events[i]
		counted := e.unit != "" && e.done >= e.every-tiny
		if !counted && e.next > w.now+tiny {
			continue
		}
		e.done = 0
		if math.IsInf(e.by, 1) {
			e.next = math.Inf(1)
		} else if e.next += e.by; e.next <= w.now { // what was missed meanwhile is not made up for
			e.next += e.by * math.Floor((w.now-e.next)/e.by+1)
		}
		if w.drop(e.event) {
			return true
		}
	}
	return false
}

// drop does the work of an event.
func (w *walk) drop(e *model.Event) (cut bool) {
	w.inEvent = true
	defer func() { w.inEvent = false }()
	w.frames = append(w.frames, frame{nil, 0, 1, true})
	cut = w.list(e.Steps, 0)
	w.frames = w.frames[:len(w.frames)-1]
	return cut
}

// upToEvent is how much of n units is done before something is dropped in.
func (w *walk) upToEvent(p *piece, n float64) float64 {
	if w.inEvent {
		return n
	}
	for _, e := range w.events {
		if e.unit == p.unit && e.unit != "" {
			n = min(n, max(e.every-e.done, 0))
		}
	}
	next := math.Inf(1)
	for _, e := range w.events {
		next = min(next, e.next)
	}
	if next < w.limit && w.now+w.costs(p, n).Total() > next+tiny {
		n = w.until(p, n, next-w.now)
	}
	return n
}

// atBreaks does what is dropped in at each break, for so many of them. One is let go
// before it, and taken up again after it.
func (w *walk) atBreaks(p *piece, n int) (cut bool) {
	if w.inEvent || n <= 0 {
		return false
	}
	for _, e := range w.events {
		if e.event.Kind != model.AtEachBreak {
			continue
		}
		for range n {
			if w.tooMuch() || w.drop(e.event) || w.arrive(p) {
				return true
			}
		}
	}
	return false
}

// whenDone does what is done by whoever has finished.
func (w *walk) whenDone(g *model.Group) (cut bool) {
	for _, e := range g.Events {
		if e.Kind != model.WhenDone {
			continue
		}
		if len(w.stack) == 1 && math.IsInf(w.limit, 1) {
			if v, ok := w.value(g.Cap, 0, 1); ok { // it fills what the cap leaves, and is no part of the time
				w.after = max(w.after, v)
				continue
			}
		}
		if w.drop(e) {
			return true
		}
	}
	return false
}

package timeline

import (
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/internal/round"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// What is sure of a limit though the times are not proven: nobody misses it, or the typical do.
const (
	Met    = "met"
	Missed = "missed"
)

// limits are what some of the class may miss in a part: its cap, a turn on its clock, the
// next start, the rest that is asked for before it, the rounds that are aimed at.
func (c *Clock) limits(i int) []Limit {
	t := c.timeline
	p := t.Parts[i]
	out := []Limit{}
	add := func(kind, what, miss string, value float64, s estimate.ClassShare) {
		l := Limit{Kind: kind, What: what, Value: round.Hundredths(value), Proven: s.Proven,
			Share: round.To(s.Of, 1000), Low: round.To(s.Low, 1000), High: round.To(s.High, 1000)}
		if s.Class > 0 {
			n, low, high := s.People()
			l.People = &People{n, low, high, s.Class, s.Team}
		}
		l.Text = what + ": " + s.Text() + " " + miss
		if !s.Proven {
			l.Text = what + ": not proven"
			if kind == "cap" && p.SurelyOver(value) {
				l.Sure = Missed
				l.Text = what + ": missed, as the typical take longer even by the least time that is known"
			}
			if (kind == "cap" || kind == "start") && p.SurelyWithin(value) {
				l.Sure = Met
				l.Text = what + ": met, even by those who wait longest"
			}
		}
		out = append(out, l)
	}
	limit, capped := least(p.Group.Cap, p.Tier)
	// Where the clock alone ends it, all work until the cap, and nobody misses it.
	if open := p.Work.Fast >= limit-1e-6 && p.Work.Slow <= limit+1e-6; capped && !open && !p.Outlasts {
		add("cap", "cap "+units.FormatClock(limit), "would miss it", limit, t.Share(p, limit))
	}
	c.heads(p, func(at source.Place, kind, what, miss string, value float64, s estimate.ClassShare) {
		add(kind, what, miss, value, s)
		out[len(out)-1].At = at
	})
	for _, g := range p.Groups {
		if started(g) && !p.Outlasts {
			turnLimits(t, p, g, add)
		}
	}
	c.start(i, add)
	for _, g := range p.Groups {
		for _, a := range g.Group.Aims {
			if l, ok := aimLimit(t, p, g, a, add); ok {
				out[len(out)-1].Text = l
			}
		}
	}
	return out
}

// heads adds the caps of the heads inside a part, and what its heads are to last. Work that is stated in times
// misses nothing, or the check says so.
func (c *Clock) heads(p *estimate.PartTime, add func(at source.Place, kind, what, miss string, value float64, s estimate.ClassShare)) {
	for _, l := range c.timeline.HeadLimits(p) {
		kind, miss := "lasts", "would need longer"
		if l.Cap {
			kind, miss = "cap", "would miss it"
		}
		if !l.InTimes || l.Unproven {
			add(l.Limit.At, kind, kind+" "+units.FormatClock(l.Seconds), miss, l.Seconds, l.Missed)
		}
	}
}

// A limitAdder adds what some of the class miss: of which kind it is, what it is called, what happens to
// them, its value and their share.
type limitAdder func(kind, what, miss string, value float64, s estimate.ClassShare)

// turnLimits adds what the turns of a group may miss: to be done in it, and the rest that is asked for.
func turnLimits(t *estimate.Timeline, p *estimate.PartTime, g *estimate.GroupTime, add limitAdder) {
	r := g.Group.Repeat
	interval, what, miss := g.Turns[1].Interval, "", "would run over it"
	off := 0.0 // of rest behind each window, beside what that leaves
	if r.Kind == model.On {
		on, _ := least(r.On, p.Tier)
		off, _ = least(r.Off, p.Tier)
		what, miss = "on "+units.FormatClock(on), "would be cut short by it"
		if g.Group.OnceOverWindows() {
			what, miss = "windows of "+units.FormatClock(on), "would be cut short by them"
		}
	} else {
		every, ok := r.Interval.One()
		if !ok {
			return
		}
		interval, what = every, "every "+units.FormatClock(every)
	}
	add("turn", what, miss, interval, t.ShareOfTurns(p, g.Group, interval))
	_, asked := model.LongestAsked(g.Group.Rests, model.RestInInterval, p.Tier)
	if within := interval - max(0, asked-off); asked > 0 && within > 0 {
		add("rest", units.FormatClock(asked)+" of rest in "+what, "would get less", within, t.ShareOfTurns(p, g.Group, within))
	}
}

// start adds what the next start on the clock asks of a part.
func (c *Clock) start(i int, add limitAdder) {
	t := c.timeline
	if i+1 == len(t.Parts) {
		return
	}
	p, next := t.Parts[i], t.Parts[i+1]
	room := next.Began - p.Began
	name := partName(next.Group)
	switch at, ok := next.Group.Start.One(); {
	case ok && at == 0: // 0:00 starts the clock itself
		return
	case ok:
		name += " at " + units.FormatClock(at)
		add("start", name, "would still be at "+partName(p.Group), room, t.ShareLateFor(p, next))
	case p.RestBehind.Slow == 0: // it starts when the room is free
		return
	}
	if a, ok := t.Asked(i); ok {
		add("rest", units.FormatClock(a.Rest)+" of rest before "+name, "would get less", room-a.Rest,
			t.ShareUnrested(p, next, a.Rest))
	}
}

package estimate

import (
	"slices"

	"stint.example/stint/lang/model"
)

// busy is how much time went by that was no rest.
func (w *walk) busy() float64 { return w.now - w.spent.Rest }

// takeRest takes a rest. Since is how much had been done when the work began that a rest
// in times of work is counted by.
func (w *walk) takeRest(r *model.Rest, turn, turns int, since float64) (cut bool) {
	if r.Bound != "" {
		return false // it states, and adds nothing
	}
	defer func() { w.mark = w.busy() }()
	var s float64
	switch {
	case r.Needed:
		w.miss(Missing{At: r.At, Why: "rest as needed has no length", Add: "write how long, such as rest 2:00, or lasts 15:00 on the head"})
		return false
	case r.Work != nil:
		n, ok := r.Work.One()
		if !ok {
			return false
		}
		s = min(most, n*max(0, w.busy()-since))
	case r.Amount != nil:
		v, ok := w.value(r.Amount, turn, turns)
		if !ok && len(r.Amount.Terms) > 0 && turns == 0 { // over turns that nobody can count
			row := r.Amount.Terms[len(r.Amount.Terms)-1]
			v, ok = min(most, max(0, row[min(w.tier, len(row)-1)])), true
		}
		if !ok {
			w.miss(Missing{At: r.At, Why: "this rest has no number for every turn"})
			return false
		}
		s = v
	case len(r.Steps) > 0: // as long as what is done in it takes
		c := w.fork()
		c.events = nil
		at := c.now
		cut := c.list(r.Steps, turn)
		s = c.now - at
		w.budget = c.budget
		if cut {
			w.idle(w.limit)
			return true
		}
	}
	return w.rest(s)
}

// fork is the walk as it stands, to try something out on.
func (w *walk) fork() *walk {
	c := *w
	c.events = slices.Clone(w.events)
	c.frames = slices.Clip(w.frames)
	c.stack = slices.Clip(w.stack)
	c.log = slices.Clip(w.log)
	return &c
}

// A plan says which rests stand between the turns of what. It is the same for every
// athlete.
type plan struct {
	between map[*model.Group][]*model.Rest
	sets    map[*model.Group]*model.Rest // between all sets of a block
}

func planOf(parts []*model.Group) *plan {
	p := &plan{between: map[*model.Group][]*model.Rest{}, sets: map[*model.Group]*model.Rest{}}
	for _, g := range parts {
		p.group(g, nil)
	}
	return p
}

func (p *plan) group(g *model.Group, around []*model.Group) {
	if g.Kind != model.Label || len(around) == 0 { // a label is a name, and no more
		around = append(slices.Clip(around), g)
	}
	for _, s := range g.Steps {
		switch s := s.(type) {
		case *model.Group:
			p.group(s, around)
		case *model.Rest:
			own := around[len(around)-1]
			switch {
			case s.Bound != "":
			case s.Place == model.RestBetweenSets:
				p.sets[own] = s
			case s.Place == model.RestBetweenTurns:
				for i := len(around) - 1; i >= 0 && s.Of != ""; i-- {
					if comesBy(around[i], s.Of) {
						own = around[i]
						break
					}
				}
				p.between[own] = append(p.between[own], s)
			}
		}
	}
}

// comesBy says whether the turns of a group are what a rest calls them.
func comesBy(g *model.Group, of model.Turns) bool {
	switch of {
	case model.OfRounds:
		return g.Repeat.Kind == model.Rounds || g.Mode == model.AMRAP
	case model.OfLaps:
		return g.Repeat.Clocked() && g.Slots() > 0 || g.Repeat.Laps
	case model.OfSets:
		return g.Repeat.Kind == model.Sets
	case model.OfRungs:
		return g.Repeat.Kind == model.Ladder
	case model.OfWindows:
		return g.Repeat.Kind == model.On
	case model.OfStations, model.OfSlots:
		return g.Slots() > 0
	}
	return g.ComesRound()
}

// betweenTurns takes the rests between a turn (from 0) and the next, of so many.
func (w *walk) betweenTurns(g *model.Group, turn, turns int, since float64) (cut bool) {
	return w.between(g, turn, turns, since, func(*model.Rest) bool { return true })
}

func (w *walk) between(g *model.Group, turn, turns int, since float64, which func(*model.Rest) bool) (cut bool) {
	for _, r := range w.plan.between[g] {
		if which(r) && w.takeRest(r, turn, max(0, turns-1), since) {
			return true
		}
	}
	return false
}

// afterTurns takes the rests of a group inside a part that stand behind all its turns.
func (w *walk) afterTurns(g *model.Group, since float64) (cut bool) {
	if len(w.stack) <= 1 {
		return false // the part's own stand between it and the next
	}
	for _, s := range g.Steps {
		if r, ok := s.(*model.Rest); ok && r.Place == model.RestAfterPart && w.takeRest(r, 0, 1, since) {
			return true
		}
	}
	return false
}

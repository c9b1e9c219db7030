package model

import "iter"

// IsWork says whether a step is work: a line, or a group of steps.
func IsWork(s Step) bool {
	switch s.(type) {
	case *Work, *Group:
		return true
	}
	return false
}

// IsTag says whether a step hands on to the next athlete of a team.
func IsTag(s Step) bool {
	_, ok := s.(*Tag)
	return ok
}

// WorkSteps are the steps of a list that are work, in order.
func WorkSteps(steps []Step) []Step {
	var out []Step
	for _, s := range steps {
		if IsWork(s) {
			out = append(out, s)
		}
	}
	return out
}

// Flat visits steps, and in the place of a label those under it: a label is a name and no more.
func Flat(steps []Step) iter.Seq[Step] {
	return func(yield func(Step) bool) { flat(steps, yield) }
}

func flat(steps []Step, yield func(Step) bool) (more bool) {
	for _, s := range steps {
		if g, ok := s.(*Group); ok && g.Kind == Label {
			if !flat(g.Steps, yield) {
				return false
			}
		} else if !yield(s) {
			return false
		}
	}
	return true
}

// ComesRound says whether the group is done more than once, so that values inside may
// move with its turns.
func (g *Group) ComesRound() bool {
	switch g.Repeat.Kind {
	case Once, AnyOrder, ChooseOne:
		return g.Mode == AMRAP
	case On:
		return !g.OnceOverWindows()
	default:
		return true
	}
}

// Tag is the last tag of the group's own list, nil where it has none.
func (g *Group) Tag() (tag *Tag) {
	for s := range Flat(g.Steps) {
		if t, ok := s.(*Tag); ok {
			tag = t
		}
	}
	return tag
}

// SharesInVain says whether the group is to share its turns and cannot: it has only one, or hands on by a
// tag, with which each of the team does all of them.
func (g *Group) SharesInVain() bool {
	return g.Share != NotShared && !g.Gaps && !g.Unread && (!g.ComesRound() || g.Tag() != nil)
}

// AnySharesInVain says so of a group or any inside it.
func AnySharesInVain(g *Group) bool {
	found := false
	Walk(g, Everything, func(s Step, _ []*Group) bool {
		if k, ok := s.(*Group); ok {
			found = found || k.SharesInVain()
		}
		return !found
	})
	return found
}

// TurnsAre says whether a word such as "rounds" names the turns of the group.
func (g *Group) TurnsAre(named Turns) bool {
	switch named {
	case OfRounds:
		return g.Repeat.Kind == Rounds || g.Mode == AMRAP && !g.Repeat.Clocked() || g.Slots() > 0
	case OfRungs:
		return g.Repeat.Kind == Ladder
	case OfStations, OfSlots:
		return g.Slots() > 0
	case OfParts:
		return false
	default: // the nearest, whatever it is
		return g.ComesRound()
	}
}

// Between is the group between whose turns, or sets, a rest stands, of the groups around it,
// outermost first: the innermost whose turns the rest names; otherwise the one that holds it. It is
// nil where there are none.
func (r *Rest) Between(around []*Group) *Group {
	var holder *Group
	for i := len(around) - 1; i >= 0; i-- {
		g := around[i]
		if r.Of != NearestTurns && g.TurnsAre(r.Of) {
			return g
		}
		if holder == nil && (g.Kind != Label || i == 0) { // a label is a name and no more
			holder = g
		}
	}
	return holder
}

// IsBehindPart says whether a rest is taken when all of its part is done.
func (r *Rest) IsBehindPart() bool {
	return r.Bound == "" && (r.Place == RestAfterPart || r.Of == OfParts)
}

// BetweenSlots says whether a rest stands between one slot, or station, and the next of the same round,
// and not between rounds.
func (r *Rest) BetweenSlots() bool { return r.Of == OfStations || r.Of == OfSlots }

// RepeatsInWindow says whether what the group itself holds, or one of its slots, is done over and over
// until a window closes: as an amrap, unless its last line takes all that is left of the window.
func (g *Group) RepeatsInWindow(held *Group) bool {
	return g.Repeat.Kind == On && g.Mode == AMRAP && !held.fillsWindow()
}

// fillsWindow says whether the last line of a group takes what is left of its window.
func (g *Group) fillsWindow() bool {
	fills := false
	for s := range Flat(g.Steps) {
		if w, ok := s.(*Work); ok {
			fills = w.Until == nil && w.Sets == nil && (w.From == FromClock || w.Dose != nil && w.Dose.Max && w.Window == nil && !w.ToFailure())
		} else if IsWork(s) {
			fills = false
		}
	}
	return fills
}

// OnceOverWindows says whether the group's list is done once, cut into pieces by its windows.
func (g *Group) OnceOverWindows() bool {
	return g.Repeat.Kind == On && g.CarryOn && g.Mode == ForTime
}

// Asks is how long a rest a line asks for at least at a place, in s, in a tier. It is not ok where
// the line asks for none there.
func (r *Rest) Asks(at RestPlace, tier int) (seconds float64, ok bool) {
	if r.Bound != AtLeast || r.Place != at {
		return 0, false
	}
	seconds, _, ok = r.Amount.Value(0, 1, tier)
	return seconds, ok
}

// LongestAsked is the longest rest that some lines ask for at least at a place, in s, in a tier,
// with the line that asks; nil where none does.
func LongestAsked(rests []*Rest, at RestPlace, tier int) (by *Rest, seconds float64) {
	for _, r := range rests {
		if s, ok := r.Asks(at, tier); ok && s > seconds {
			by, seconds = r, s
		}
	}
	return by, seconds
}

package model

// HeldForTime says whether all work of a group is done for a time, as a hold is, so that more of it is better.
func (g *Group) HeldForTime() bool {
	timed, counted := g.timedAndCounted()
	return timed && !counted
}

// timedAndCounted says whether some lines of a group are done for a time that the athlete makes, and whether
// some are counted.
func (g *Group) timedAndCounted() (timed, counted bool) {
	for w := range g.Lines(OnlySteps) {
		if w.From == FromClock || w.Dose == nil {
			continue
		}
		if w.Dose.Unit == "s" {
			timed = true
		} else {
			counted = true
		}
	}
	return timed, counted
}

// scores reports a best or a worst time of a group in which some work is better done long and some short.
func (l *lowerer) scores(part *Group) {
	for g := range part.Groups(OnlySteps) {
		timed, counted := g.timedAndCounted()
		for _, s := range g.Scores {
			if s.What == "time" && (s.Agg == "best" || s.Agg == "worst") && timed && counted && g.openHold() {
				l.report(wordMisplaced, s.At, "some of this is held for as long as can be and some is counted, so nobody can tell whether the longest or the shortest time is the "+s.Agg,
					"put the line under the work that it is for, such as a label: finisher:", nil)
			}
		}
	}
}

// openHold says whether a group holds a hold that goes on for as long as somebody can.
func (g *Group) openHold() bool {
	for w := range g.Lines(OnlySteps) {
		if w.Dose != nil && w.Dose.Unit == "s" && w.Dose.Max {
			return true
		}
	}
	return false
}

package readback

import (
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
)

// rest is a rest on a line of its own: how long, and where it is taken.
func (t teller) rest(r *model.Rest, around []*model.Group) string {
	if r.Bound != model.Unbounded {
		return t.asked(r)
	}
	text := t.howLong(r)
	switch r.Place {
	case model.RestBetweenTurns, model.RestBetweenSets:
		text += " between the " + t.turnsOf(r, around) + ", none after the last"
		if g := r.Between(around); r.BetweenSlots() && g != nil && (g.ComesRound() || g.Repeat.Clocked()) {
			text += " of a round"
		}
	case model.RestAfterPart:
		text += " when all of it is done"
	case model.RestInInterval:
		if r.Amount == nil && r.Work == nil && !r.Needed {
			text = "rest for the whole interval"
		}
	case model.RestHere:
		if r.Bare() {
			text += t.timeOf(around)
		}
	case model.RestBetweenParts:
	}
	return text + t.inRest(r, around)
}

// howLong is how long a rest is.
func (t teller) howLong(r *model.Rest) string {
	switch {
	case r.Until != nil && r.Amount == nil:
		return "rest" + until(r.Until, nil)
	case r.Until != nil:
		return t.amount(r.Amount) + " of rest" + until(r.Until, nil)
	case r.Needed, r.AsLongAsItTakes():
		return "as much rest as they need"
	case r.Work != nil:
		if n, ok := r.Work.One(); ok && n == 1 {
			return "a rest as long as the work before it"
		}
		return "a rest " + prose.Number(r.Work) + " times as long as the work before it"
	case r.Amount == nil:
		return "rest"
	case r.Bound != model.Unbounded:
		return string(r.Bound) + " " + t.amount(r.Amount) + " of rest"
	}
	return t.amount(r.Amount) + " of rest"
}

// inRest is what is done in a rest.
func (t teller) inRest(r *model.Rest, around []*model.Group) string {
	if !r.Fills() {
		around = nil // the rest, and not what it stands in, says how long
	}
	for _, s := range r.Steps {
		if w, ok := s.(*model.Work); ok {
			return ", in which they do " + t.line(w, around)
		}
	}
	return ""
}

// asked is a rest that has to be left, and is not added.
func (t teller) asked(r *model.Rest) string {
	text := t.howLong(r) + " has to be left"
	if r.Work != nil {
		text = string(r.Bound) + " " + text
	}
	switch r.Place {
	case model.RestInInterval:
		return text + " in each interval"
	case model.RestBetweenParts:
		return text + " between the parts"
	case model.RestAfterPart:
		return text + " before what comes next"
	case model.RestBetweenTurns, model.RestBetweenSets, model.RestHere:
	}
	if r.Of != model.NearestTurns {
		return text + " between the " + string(r.Of)
	}
	return text
}

// turnsOf are what a rest stands between: rounds, sets, rungs.
func (t teller) turnsOf(r *model.Rest, around []*model.Group) string {
	if r.Of != model.NearestTurns {
		return string(r.Of)
	}
	if r.Place == model.RestBetweenSets {
		return "sets"
	}
	if g := r.Between(around); g != nil {
		return turnWord(g)
	}
	return "turns"
}

// turnWord is what the turns of a group are called, in the plural.
func turnWord(g *model.Group) string {
	switch {
	case g.Slots() > 0:
		return "rounds"
	case g.Mode == model.AMRAP:
		return "rounds"
	}
	switch g.Repeat.Kind {
	case model.Rounds:
		return "rounds"
	case model.Ladder:
		return "rungs"
	case model.Every:
		return "intervals"
	case model.On:
		return "windows"
	case model.Once, model.AnyOrder, model.ChooseOne:
	}
	return "turns"
}

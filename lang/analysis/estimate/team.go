package estimate

import (
	"math"

	"stint.example/stint/lang/model"
)

// A team is how the people of a part are divided.
type team struct {
	size   float64
	solo   bool // one works at a time
	alike  bool // it stands where its people do: a half of the class, not a few drawn from it
	inTurn bool // what is being done is one person's turn
}

func together(share model.Sharing) bool {
	return share == model.Together || share == model.Synchronised
}

// divide makes a group's people count for what it holds.
func (w *walk) divide(g *model.Group) {
	if p := g.People; p != nil {
		w.team = team{size: 2, solo: w.team.solo, alike: p.Kind == model.Halves}
		if v, ok := w.value(p.Size, 0, 1); ok {
			w.team.size = max(1, math.Floor(v))
		}
	}
	w.team.solo = w.team.solo || g.Solo
}

// mean is the average of a team.
func (w *walk) mean() person {
	if w.team.alike {
		return w.own
	}
	return w.fig.person(average(w.own.z, w.team.size))
}

// shared does a dose as the people of a team share it.
func (w *walk) shared(d dose, moves []model.Move, unit string, n float64) (cut bool) {
	k, share := w.team.size, d.work.Share
	who := w.who
	defer func() { w.who = who }()
	split := share != "" && !together(share)
	switch {
	case k <= 1:
	case together(share):
		if !w.team.alike {
			w.who = w.fig.person(last(w.own.z, k))
		}
	case split:
		w.who = w.mean()
	case w.team.solo && !w.team.inTurn: // each in turn
		return w.eachInTurn(false, func() bool { return w.shared(d, moves, unit, n) })
	}
	p, ok := w.piece(d, moves, unit)
	if !ok {
		return false
	}
	if d.work.Unbroken && n > p.run+tiny {
		w.miss(Missing{At: d.work.At, Why: "at some standing nobody does so many unbroken", Add: "let it be broken up, or ask for fewer"})
	}
	if k > 1 && split && !w.team.inTurn {
		if w.team.solo {
			p.team = k
			return w.perform(&p, n)
		}
		p.whole = false // all at once, the same for each on average
		return w.perform(&p, n/k) || w.handOn()
	}
	return w.perform(&p, n)
}

// handOn is one handover.
func (w *walk) handOn() (cut bool) {
	h := w.mean().handover
	if h > w.limit-w.now {
		w.idle(w.limit)
		return true
	}
	w.now += h
	w.spent.Handovers += h
	return false
}

// inTurn says whether steps are a turn that one of a team does, and then another: plain
// lines of which none is shared.
func (w *walk) inTurn(steps []model.Step) bool {
	if w.team.size <= 1 || !w.team.solo || w.team.inTurn {
		return false
	}
	lines := false
	for _, s := range steps {
		switch s := s.(type) {
		case *model.Work:
			if s.Share != "" {
				return false
			}
			lines = true
		case *model.Group:
			if s.Kind != model.Label && s.Kind != model.RoundOf {
				return false
			}
		}
	}
	return lines
}

// eachInTurn does what one of a team does, and then as long again for each of the others,
// which is rest for the first. Dealt says that the turns are dealt out, so that this one is
// only one athlete's.
func (w *walk) eachInTurn(dealt bool, turn func() bool) (cut bool) {
	k := w.team.size
	who, was := w.who, w.team
	w.who, w.team.inTurn = w.mean(), true
	defer func() { w.who, w.team.inTurn = who, was.inTurn }()
	if w.handed && w.handOn() {
		return true
	}
	w.handed = true
	start, spent, moved, total := w.now, w.spent, w.moved, w.total
	if turn() {
		return true
	}
	if dealt { // what tires is shared out
		w.moved, w.total = moved+(w.moved-moved)/k, total+(w.total-total)/k
		return false
	}
	took := w.now - start
	others := (k - 1) * (took + w.who.handover)
	if others > w.limit-w.now {
		w.idle(w.limit)
		return true
	}
	w.spent = spent.plus(w.spent.minus(spent).times(k))
	w.spent.Handovers += (k - 1) * w.who.handover
	w.now += others
	w.resting += others
	return false
}

// relay does what stands above a tag, one of the team after the other, and what stands
// below it while the next is on the way.
func (w *walk) relay(g *model.Group, tag, turn int) (cut bool) {
	k := w.team.size
	who, was := w.who, w.team
	w.who, w.team.inTurn = w.mean(), true
	defer func() { w.who, w.team.inTurn = who, was.inTurn }()
	if w.handed && w.handOn() {
		return true
	}
	w.handed = true
	h := w.who.handover
	start, spent := w.now, w.spent
	if w.list(g.Steps[:tag], turn) {
		return true
	}
	above, aboveSpent := w.now-start, w.spent.minus(spent)
	if w.list(g.Steps[tag+1:], turn) {
		return true
	}
	below, belowSpent := w.now-start-above, w.spent.minus(spent).minus(aboveSpent)
	f := w.frames[len(w.frames)-1]
	final := f.turns > 0 && turn == f.turns-1
	// Each has to be there again when the tag comes round, and the last goes to the end.
	whole := max(k*above+(k-1)*h, above+below)
	if final {
		whole = k*above + (k-1)*h + below
	}
	if whole > w.limit-start {
		w.now = start
		w.spent = spent
		w.idle(w.limit)
		return true
	}
	rest := whole - above - below
	w.spent = spent.plus(aboveSpent.times(k))
	w.spent.Handovers += (k - 1) * h
	if final {
		w.spent = w.spent.plus(belowSpent)
	}
	w.now = start + whole
	w.spent.Rest += max(0, whole-w.spent.minus(spent).Total()) // waiting for the tag
	w.resting += max(0, rest)
	return false
}

// heats adds what the room needs beside one athlete's own time where a class starts in
// heats.
func (w *walk) heats(g *model.Group, took float64) {
	h := g.Heats
	if h == nil {
		return
	}
	size, ok := w.value(h.Size, 0, 1)
	if !ok || size < 1 || w.class <= 0 {
		w.miss(Missing{At: h.At, Why: "nobody knows how many heats there are", Add: "add a line to the house, such as class 16"})
		return
	}
	more := math.Ceil(float64(w.class)/size) - 1
	if every, ok := w.value(h.Every, 0, 1); ok {
		w.extra += more * every
		return
	}
	w.extra += more * (took + w.own.change)
}

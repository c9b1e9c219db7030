package check

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// handbook says where the rests between sets and efforts come from.
const handbook = "Essentials of Strength Training and Conditioning, 4th ed. 2016"

var restSetsShort = Rule{Name: "rest-sets-short", Family: "rest", Severity: diag.Warning,
	Summary: "heavy sets of a lift with less rest between them than the handbooks ask for",
	Settings: []Setting{
		{Name: "load", Unit: "%", Default: 85, Source: handbook + ", chapter 17: strength is trained at 85 % of a maximum and up"},
		{Name: "least", Unit: "s", Default: 120, Source: handbook + ", chapter 17: 2 to 5 min between such sets"},
	},
	session: func(p *pass, s *model.Session) {
		h := heavySets{p: p, t: p.timeline(s), heavy: map[*model.Work]float64{}}
		today := map[*book.Movement]float64{}
		walk(s, func(step model.Step, around []*model.Group) {
			w, ok := step.(*model.Work)
			if !ok || len(around) == 0 || around[0].Kind != model.Part {
				return
			}
			_, sets := liftSets(w, around, 0, today)
			noteToday(w, around, today)
			if len(sets) == 0 {
				return
			}
			for _, set := range sets {
				if set.share >= p.setting("load")-1e-9 {
					h.heavy[w] = max(h.heavy[w], set.share)
				}
			}
			if h.heavy[w] > 0 {
				h.ofLine(w, around, sets)
			}
		})
		walk(s, func(step model.Step, around []*model.Group) {
			if g, ok := step.(*model.Group); ok && len(h.heavy) > 0 {
				h.ofLines(g, append(around[:len(around):len(around)], g))
			}
		})
	}}

// heavySets looks at the rests between sets that are heavy.
type heavySets struct {
	p     *pass
	t     *estimate.Timeline
	heavy map[*model.Work]float64 // % of a maximum, the heaviest of its sets
}

// ofLine looks at the rest between the sets of one line: those that it has itself, or the
// turns of a head that holds nothing else.
func (h *heavySets) ofLine(w *model.Work, around []*model.Group, sets []liftSet) {
	if n := turnsOf(w, around); w.Sets != nil {
		if v, ok := w.Every.One(); ok && n > 1 {
			if took, ok := setTime(h.t, w); ok && h.follow(sets) {
				h.left(w, v-took, w.Every.At)
			}
		} else if w.Rest != nil && n > 1 {
			h.rest(w, w.Rest, n-1, sets, around)
		}
		return
	}
	g := nearest(around)
	if g == nil || workIn(g) != 1 || !h.follow(sets) {
		return // other work stands between
	}
	if g.Repeat.Kind == model.Every && g.Slots() == 0 {
		for _, part := range h.t.Parts {
			if of, ok := part.GroupOf(g); ok && of.Proven && of.Turns[1].Number > 0 && of.Turns[1].LeastRest > 0 && ownTurns(g) != 1 {
				h.left(w, of.Turns[1].LeastRest, g.Repeat.At)
			}
		}
		return
	}
	if n := ownTurns(g); n != 1 {
		for _, st := range g.Steps {
			if r, ok := st.(*model.Rest); ok && r.Place == model.RestBetweenTurns {
				h.rest(w, r, n-1, sets, around)
			}
		}
	}
}

// follow says whether two of the sets are heavy, one after the other.
func (h *heavySets) follow(sets []liftSet) bool {
	heavy := func(s liftSet) bool { return s.share >= h.p.setting("load")-1e-9 }
	for i := 1; i < len(sets); i++ {
		if heavy(sets[i-1]) && heavy(sets[i]) {
			return true
		}
	}
	return len(sets) == 1 // it is not settled how many there are
}

// workIn counts the lines of work in a group.
func workIn(g *model.Group) int {
	n := 0
	walkStep(g, nil, func(s model.Step, _ []*model.Group) {
		if isWork(s) {
			n++
		}
	})
	return n
}

// ofLines looks at the rests between lines, and at one that stands between all sets of a
// block.
func (h *heavySets) ofLines(g *model.Group, around []*model.Group) {
	var last *model.Work // the line of work just before
	var rest *model.Rest // since then
	for _, st := range g.Steps {
		switch st := st.(type) {
		case *model.Work:
			if last != nil && rest != nil && h.heavy[last] > 0 && h.heavy[st] > 0 {
				h.rest(last, rest, 1, nil, around)
			}
			last, rest = st, nil
		case *model.Rest:
			if st.Place == model.RestBetweenSets {
				h.block(g, st, around)
			} else if st.Bound == "" {
				rest = st
			}
		default:
			last, rest = nil, nil
		}
	}
}

// block looks at a rest that stands between all sets of a block.
func (h *heavySets) block(g *model.Group, r *model.Rest, around []*model.Group) {
	n, heaviest := 0, (*model.Work)(nil)
	for _, st := range g.Steps {
		w, ok := st.(*model.Work)
		if !ok || h.heavy[w] == 0 {
			continue
		}
		if sets, ok := w.Sets.One(); ok && w.Rest == nil {
			n += int(sets)
		} else {
			n++
		}
		if heaviest == nil || h.heavy[w] > h.heavy[heaviest] {
			heaviest = w
		}
	}
	if n > 1 {
		h.rest(heaviest, r, n-1, nil, around)
	}
}

// setTime is how long one set of a line takes the typical athlete.
func setTime(t *estimate.Timeline, w *model.Work) (float64, bool) {
	if w.Dose == nil || w.Dose.Max {
		return 0, false
	}
	n, _, ok := w.Dose.Value(0, 1, 0)
	if !ok {
		return 0, false
	}
	if w.Side {
		n *= 2
	}
	if w.Dose.Unit == "s" {
		return n, true
	}
	for _, part := range t.Parts {
		for _, l := range part.Lines {
			if l.Work == w && l.N.Typical > 0 && part.Proven() {
				s := l.Spent[1]
				return (s.Moving + s.Drift + s.Breaks + s.Fixed + s.Handovers) * n / l.N.Typical, true
			}
		}
	}
	return 0, false
}

// rest looks at a rest that is written between sets, of which sets says how heavy each is
// where that is known.
func (h *heavySets) rest(w *model.Work, r *model.Rest, rests int, sets []liftSet, around []*model.Group) {
	if r.Amount == nil || r.Bound != "" {
		return
	}
	least := h.p.setting("least")
	for i := range max(1, min(rests, maxTurns)) {
		if len(sets) == rests+1 && (sets[i].share < h.p.setting("load")-1e-9 || sets[i+1].share < h.p.setting("load")-1e-9) {
			continue
		}
		v, _, ok := r.Amount.Value(i, max(rests, 1), 0)
		if !ok || v >= least-1e-9 {
			continue
		}
		d := h.finding(w, v, r.At)
		d.Help = fmt.Sprintf("write rest %s or more, or a lighter load", units.FormatClock(least))
		if one, ok := r.Amount.One(); ok && h.p.hasRoom(around, float64(rests)*(least-one)) {
			d.Fixes = []diag.Fix{{Title: "write rest " + units.FormatClock(least), Edits: []diag.Edit{{At: r.Amount.At, New: units.FormatClock(least)}}}}
		}
		h.p.report(d)
		return
	}
}

// left looks at the rest that a clock leaves between sets.
func (h *heavySets) left(w *model.Work, left float64, at source.Place) {
	least := h.p.setting("least")
	if left >= least-second {
		return
	}
	d := h.finding(w, left, at)
	d.Help = fmt.Sprintf("write a longer interval, which leaves %s, or a lighter load", units.FormatClock(least))
	h.p.report(d)
}

func (h *heavySets) finding(w *model.Work, rest float64, at source.Place) diag.Diagnostic {
	return diag.Diagnostic{At: at,
		Message: fmt.Sprintf("%s of rest is little between sets of %s at %s", units.FormatClock(max(0, rest)), movesOf(w), tenth(h.heavy[w])+"%"),
		Label:   fmt.Sprintf("handbooks ask for 2 to 5 min from %s up", percent(h.p.setting("load")))}
}

// hasRoom says whether a part may take so much longer, as written and in every version that
// its head holds for, without running into the next, its cap, or the rest that is asked for.
func (p *pass) hasRoom(around []*model.Group, more float64) bool {
	for _, g := range around[1:] {
		if g.ComesRound() {
			n := ownTurns(g)
			if n == 0 {
				return false
			}
			more *= float64(n) // too much where the rest is this head's own, and so on the safe side
		}
	}
	of := around[0]
	if of.Cap != nil || of.Lasts != nil {
		return false
	}
	for _, s := range p.variants() {
		for _, g := range gaps(p.timeline(s)) {
			if g.part.Group.At != of.At || !g.next.Pinned {
				continue
			}
			if !g.known() || g.took(g.part.Work.Slow)+more+g.asked().rest > g.window {
				return false
			}
		}
	}
	return true
}

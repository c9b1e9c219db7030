package rest

import (
	"fmt"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

var (
	restSetsShortLoad = &check.Threshold{Name: "load", Unit: "%", Default: 85,
		Source: strength.Handbook + ", chapter 17: strength is trained at 85 % of a maximum and up"}
	restSetsShortLeast = &check.Threshold{Name: "least", Unit: "s", Default: 120,
		Source: strength.Handbook + ", chapter 17: 2 to 5 min between such sets"}
)

var RestSetsShort = check.Rule{Name: "rest-sets-short", Family: "rest", Severity: diag.Warning,
	Summary:    "heavy sets of a lift with less rest between them than the handbooks ask for",
	Thresholds: []*check.Threshold{restSetsShortLoad, restSetsShortLeast},
	Session: func(p *check.Pass, s *model.Session) {
		h := heavySets{p: p, t: p.Timeline(s), heavy: map[*model.Work]float64{}}
		for l := range intensity.Lines(s) {
			w := l.Work
			_, sets := l.Sets(0)
			if l.Around[0].Kind != model.Part || len(sets) == 0 {
				continue
			}
			for _, set := range sets {
				if set.Share >= p.Value(restSetsShortLoad)-1e-9 {
					h.heavy[w] = max(h.heavy[w], set.Share)
				}
			}
			if h.heavy[w] > 0 {
				h.ofLine(w, l.Around, sets)
			}
		}
		for g, around := range s.Groups(model.Everything) {
			if len(h.heavy) > 0 {
				h.ofLines(g, append(around[:len(around):len(around)], g))
			}
		}
	}}

// heavySets looks at the rests between sets that are heavy.
type heavySets struct {
	p     *check.Pass
	t     *estimate.Timeline
	heavy map[*model.Work]float64 // % of a maximum, the heaviest of its sets
}

// ofLine looks at the rest between the sets of one line: those that it has itself, or the
// turns of a head that holds nothing else.
func (h *heavySets) ofLine(w *model.Work, around []*model.Group, sets []intensity.LiftSet) {
	if n := totals.LineTurns(w, around); w.Sets != nil {
		if v, ok := w.Every.One(); ok && n > 1 {
			if took, ok := setTime(h.t, w); ok && h.follow(sets) {
				h.left(w, v-took, w.Every.At)
			}
		} else if w.Rest != nil && n > 1 {
			h.rest(w, w.Rest, n-1, sets, around)
		}
		return
	}
	g := model.Repeating(around)
	if g == nil || workIn(g) != 1 || !h.follow(sets) {
		return // other work stands between
	}
	if g.Repeat.Kind == model.Every && g.Slots() == 0 {
		for _, part := range h.t.Parts {
			if of, ok := part.GroupOf(g); ok && of.Proven && of.Turns[1].Number > 0 && of.Turns[1].LeastRest > 0 && totals.GroupTurns(g) != 1 {
				h.left(w, of.Turns[1].LeastRest, g.Repeat.At)
			}
		}
		return
	}
	if n := totals.GroupTurns(g); n != 1 {
		for _, st := range g.Steps {
			if r, ok := st.(*model.Rest); ok && r.Place == model.RestBetweenTurns {
				h.rest(w, r, n-1, sets, around)
			}
		}
	}
}

// follow says whether two of the sets are heavy, one after the other.
func (h *heavySets) follow(sets []intensity.LiftSet) bool {
	heavy := func(s intensity.LiftSet) bool { return s.Share >= h.p.Value(restSetsShortLoad)-1e-9 }
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
	for range g.Lines(model.Everything) {
		n++
	}
	return n
}

// ofLines looks at the rests between lines.
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
			if st.Bound == "" {
				rest = st
			}
		default:
			last, rest = nil, nil
		}
	}
}

// rest looks at a rest that is written between sets, of which sets says how heavy each is
// where that is known.
func (h *heavySets) rest(w *model.Work, r *model.Rest, rests int, sets []intensity.LiftSet, around []*model.Group) {
	if r.Amount == nil || r.Bound != "" {
		return
	}
	least := h.p.Value(restSetsShortLeast)
	for i := range max(1, min(rests, intensity.MaxTurns)) {
		if len(sets) == rests+1 && (sets[i].Share < h.p.Value(restSetsShortLoad)-1e-9 || sets[i+1].Share < h.p.Value(restSetsShortLoad)-1e-9) {
			continue
		}
		v, _, ok := r.Amount.Value(i, max(rests, 1), 0)
		if !ok || v >= least-1e-9 {
			continue
		}
		d := h.finding(w, v, r.At)
		d.Help = fmt.Sprintf("write rest %s or more, or a lighter load", units.FormatClock(least))
		if one, ok := r.Amount.One(); ok && hasRoom(h.p, around, float64(rests)*(least-one)) {
			d.Fixes = []diag.Fix{{Title: "write rest " + units.FormatClock(least), Edits: []diag.Edit{{At: r.Amount.At, New: units.FormatClock(least)}}}}
		}
		h.p.Report(d)
		return
	}
}

// left looks at the rest that a clock leaves between sets.
func (h *heavySets) left(w *model.Work, left float64, at source.Place) {
	least := h.p.Value(restSetsShortLeast)
	if left >= least-estimate.Tolerance {
		return
	}
	d := h.finding(w, left, at)
	d.Help = fmt.Sprintf("write a longer interval, which leaves %s, or a lighter load", units.FormatClock(least))
	h.p.Report(d)
}

func (h *heavySets) finding(w *model.Work, rest float64, at source.Place) diag.Diagnostic {
	return diag.Diagnostic{At: at,
		Message: fmt.Sprintf("%s of rest is little between sets of %s at %s", units.FormatClock(max(0, rest)), w.MoveNames(), units.FormatTenth(h.heavy[w])+"%"),
		Label:   fmt.Sprintf("at least %s is asked for from %s up", units.FormatClock(h.p.Value(restSetsShortLeast)), phrase.Percent(h.p.Value(restSetsShortLoad)))}
}

// hasRoom says whether a part may take so much longer, as written and in every version that
// its head holds for, without running into the next, its cap, or the rest that is asked for.
func hasRoom(p *check.Pass, around []*model.Group, more float64) bool {
	for _, g := range around[1:] {
		if g.ComesRound() {
			n := totals.GroupTurns(g)
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
	for _, s := range p.Written.Variants() {
		for _, g := range p.Timeline(s).Gaps() {
			if g.Part.Group.At != of.At || !g.Next.Pinned {
				continue
			}
			if !g.Known() || g.Took(g.Part.Work.Slow)+more+g.Asked().Rest > g.Window {
				return false
			}
		}
	}
	return true
}

package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var slotsUneven = Rule{Name: "slots-uneven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "intervals that do not make whole laps over the slots or stations",
	session: func(p *pass, s *model.Session) {
		walk(s, func(step model.Step, _ []*model.Group) {
			g, ok := step.(*model.Group)
			if !ok || !g.Repeat.Clocked() || g.Repeat.Laps || g.Slots() == 0 || g.Unread || g.Gaps {
				return
			}
			for tier := range len(p.Env.House.Tiers) {
				turns, k := totals.Turns(g, tier), float64(g.Slots())
				if turns.Open || math.Mod(turns.Lo, k) == 0 && math.Mod(turns.Hi, k) == 0 {
					continue
				}
				n := turns.Lo
				if math.Mod(n, k) == 0 {
					n = turns.Hi
				}
				p.report(unevenSlots(g, n, k))
				return
			}
		})
	}}

func unevenSlots(g *model.Group, n, k float64) diag.Diagnostic {
	laps, left := math.Floor(n/k), math.Mod(n, k)
	kind := slotKind(g)
	d := diag.Diagnostic{At: g.Repeat.At, Label: fmt.Sprintf("%g is no multiple of %g", n, k),
		Message: fmt.Sprintf("%s over %s are %s and %s more: the last %s come once less", many(n, "interval"), many(k, kind), many(laps, "lap"), many(left, kind), many(k-left, kind)),
		Help:    fmt.Sprintf("make it %s, or count laps: x %g laps", list(fmt.Sprint(laps*k), many((laps+1)*k, "interval")), laps)}
	if k-left == 1 {
		d.Message = fmt.Sprintf("%s over %s are %s and %s more: the last %s comes once less", many(n, "interval"), many(k, kind), many(laps, "lap"), many(left, kind), kind)
	}
	if laps == 0 {
		d.Message = fmt.Sprintf("%s over %s make no whole lap: %s is never done", many(n, "interval"), many(k, kind), fmt.Sprintf("%s %g", kind, n+1))
		d.Help = fmt.Sprintf("make it %s, or count laps: x 1 lap", many(k, "interval"))
	}
	return d
}

// many is a number of things: 1 lap, 3 laps.
func many(n float64, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%g %ss", n, thing)
}

// slotKind is what a group calls its slots.
func slotKind(g *model.Group) string {
	for _, s := range g.Steps {
		if k, ok := s.(*model.Group); ok && k.IsSlot() {
			return string(k.Kind)
		}
	}
	return "slot"
}

var slotsOrder = Rule{Name: "slots-order", Family: "arithmetic", Severity: diag.Error,
	Summary: "slots or stations that are not numbered 1, 2, 3 in order, that stand under no clock, or that are missing",
	session: func(p *pass, s *model.Session) {
		walk(s, func(step model.Step, _ []*model.Group) {
			if g, ok := step.(*model.Group); ok && !g.Unread && !g.Gaps {
				orderedSlots(p, g)
			}
		})
	}}

func orderedSlots(p *pass, g *model.Group) {
	if g.Repeat.Laps && g.Slots() == 0 {
		p.report(diag.Diagnostic{At: g.Repeat.At, Message: "a lap is one pass over all slots or stations, and there are none here",
			Help: "number the work, such as slot 1: 12 burpee, or leave out the word laps"})
	}
	want := 0
	for _, k := range g.Steps {
		switch slot, is := k.(*model.Group); {
		case is && slot.IsSlot():
			if want++; slot.Number != want {
				p.report(diag.Diagnostic{At: slot.At, Message: fmt.Sprintf("this is %s %d, where number %d comes", slot.Kind, slot.Number, want),
					Help: "number them 1, 2, 3 in the order in which they are done"})
				return
			}
			if want == 1 && slot.Kind == model.Station && !g.Repeat.Clocked() && unbounded(g) && !movesOn(g) {
				p.report(diag.Diagnostic{At: slot.At, Message: "nothing says when the stations change",
					Help: "put them under a clock (every 2:00 x 3 laps, on 0:40 off 0:20 x 2 laps), give each its time (station 1: lasts 1:15: row), or write tag where one of them moves all on"})
				return
			}
			if want == 1 && slot.Kind == model.Slot && !g.Repeat.Clocked() {
				p.report(diag.Diagnostic{At: slot.At, Message: "a slot is one interval of a clock, and nothing here gives intervals",
					Help: "put the slots under emom 12:00, every 2:30 x 6 or on 0:40 off 0:20 x 2 laps"})
				return
			}
		case g.Slots() == 0 || !g.Repeat.Clocked():
		case is || isWork(k):
			kind := slotKind(g)
			p.report(diag.Diagnostic{At: k.Where(), Message: fmt.Sprintf("this stands beside the %ss, and so in no interval", kind),
				Help: fmt.Sprintf("give it a number, such as %s %d: ..., or put it under one of them", kind, g.Slots()+1)})
			return
		}
	}
}

// unbounded says whether work in stations has no count, so that nothing ends it but the
// change of stations.
func unbounded(g *model.Group) bool {
	found := false
	walkStep(g, nil, func(s model.Step, _ []*model.Group) {
		if w, ok := s.(*model.Work); ok {
			found = found || w.Until == nil && w.Window == nil && (w.From == model.FromClock || w.Dose != nil && w.Dose.Max)
		}
	})
	return found
}

// movesOn says whether something in stations tells when to change: a time of their own,
// or a tag.
func movesOn(g *model.Group) bool {
	found := false
	walkStep(g, nil, func(s model.Step, around []*model.Group) {
		switch st := s.(type) {
		case *model.Tag:
			found = true
		case *model.Group:
			found = found || len(around) > 0 && (st.Lasts != nil || st.Time != nil)
		}
	})
	return found
}

func isWork(s model.Step) bool { _, ok := s.(*model.Work); return ok }

package arithmetic

import (
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var SlotsOrder = check.Rule{Name: "slots-order", Family: "arithmetic", Severity: diag.Error,
	Summary: "slots or stations that are not numbered 1, 2, 3 in order, that stand under no clock, or that are missing",
	Session: func(p *check.Pass, s *model.Session) {
		for g := range s.Groups(model.Everything) {
			if !g.Unread && !g.Gaps {
				orderedSlots(p, g)
			}
		}
	}}

func orderedSlots(p *check.Pass, g *model.Group) {
	if g.Repeat.Laps && g.Slots() == 0 {
		p.Report(diag.Diagnostic{At: g.Repeat.At, Message: "these rounds are passes over all slots or stations, and there are none here",
			Help: "number the work, such as slot 1: 12 burpee, or leave out the word rounds"})
	}
	want := 0
	for _, k := range g.Steps {
		switch slot, is := k.(*model.Group); {
		case is && slot.IsSlot():
			if want++; slot.Number != want {
				p.Report(diag.Diagnostic{At: slot.At, Message: fmt.Sprintf("this is %s %d, where number %d comes", slot.Kind, slot.Number, want),
					Help: "number them 1, 2, 3 in the order in which they are done"})
				return
			}
			if want == 1 && slot.Kind == model.Station && !g.Repeat.Clocked() && unbounded(g) && !movesOn(g) {
				p.Report(diag.Diagnostic{At: slot.At, Message: "nothing says when the stations change",
					Help: "put them under a clock (every 2:00 x 3 rounds, on 0:40 off 0:20 x 2 rounds), give each its time (station 1: lasts 1:15: row), or write tag where one of them moves all on"})
				return
			}
			if want == 1 && slot.Kind == model.Slot && !g.Repeat.Clocked() {
				p.Report(diag.Diagnostic{At: slot.At, Message: "a slot is one interval of a clock, and nothing here gives intervals",
					Help: "put the slots under emom 12:00, every 2:30 x 6 or on 0:40 off 0:20 x 2 rounds"})
				return
			}
		case g.Slots() == 0 || !g.Repeat.Clocked():
		case is || isWork(k):
			kind := slotKind(g)
			p.Report(diag.Diagnostic{At: k.Where(), Message: fmt.Sprintf("this stands beside the %ss, and so in no interval", kind),
				Help: fmt.Sprintf("give it a number, such as %s %d: ..., or put it under one of them", kind, g.Slots()+1)})
			return
		}
	}
}

// unbounded says whether work in stations has no count, so that nothing ends it but the
// change of stations.
func unbounded(g *model.Group) bool {
	found := false
	for w := range g.Lines(model.Everything) {
		found = found || w.Until == nil && w.Window == nil && (w.From == model.FromClock || w.Dose != nil && w.Dose.Max)
	}
	return found
}

// movesOn says whether something in stations tells when to change: a time of their own,
// or a tag.
func movesOn(g *model.Group) bool {
	found := false
	model.Walk(g, model.Everything, func(s model.Step, around []*model.Group) bool {
		switch st := s.(type) {
		case *model.Tag:
			found = true
		case *model.Group:
			found = found || len(around) > 0 && (st.Lasts != nil || st.Time != nil)
		}
		return true
	})
	return found
}

func isWork(s model.Step) bool { _, ok := s.(*model.Work); return ok }

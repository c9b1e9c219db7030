package check

import (
	"fmt"
	"math"

	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
)

var slotsUneven = Rule{Name: "slots-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "intervals that do not make whole laps over the slots or stations",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, _ []*program.Group) {
			g, ok := step.(*program.Group)
			if !ok || !g.Repeat.Clocked() || g.Repeat.Laps || g.Slots() == 0 || g.Unread {
				return
			}
			turns, k := clock.Turns(g, 0), float64(g.Slots())
			if !turns.Exact() || math.Mod(turns.Lo, k) == 0 {
				return
			}
			laps := math.Floor(turns.Lo / k)
			p.report(diag.Diagnostic{At: g.Repeat.At,
				Message: fmt.Sprintf("%g intervals over %g slots are %g laps and %g slots more: the last slots are done once less", turns.Lo, k, laps, math.Mod(turns.Lo, k)),
				Label:   fmt.Sprintf("%g is no multiple of %g", turns.Lo, k),
				Help:    fmt.Sprintf("make it %g or %g intervals, or count laps: x %g laps", max(laps, 1)*k, (laps+1)*k, max(laps, 1))})
		})
	}}

var slotsOrder = Rule{Name: "slots-order", Family: "arithmetic", Severity: diag.Error,
	Summary: "slots or stations that are not numbered 1, 2, 3 in order, or that stand under no clock",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, _ []*program.Group) {
			g, ok := step.(*program.Group)
			if !ok {
				return
			}
			want := 0
			for _, k := range g.Steps {
				slot, ok := k.(*program.Group)
				if !ok || !slot.IsSlot() {
					continue
				}
				if want++; slot.Number != want {
					p.report(diag.Diagnostic{At: slot.At, Message: fmt.Sprintf("this is %s %d, where number %d comes", slot.Kind, slot.Number, want),
						Help: "number them 1, 2, 3 in the order in which they are done"})
					return
				}
				if want == 1 && slot.Kind == "slot" && !g.Repeat.Clocked() && !g.Unread {
					p.report(diag.Diagnostic{At: slot.At, Message: "a slot is one interval of a clock, and nothing here gives intervals",
						Help: "put the slots under emom 12:00, every 2:30 x 6 or on 0:40 off 0:20 x 2 laps"})
					return
				}
			}
		})
	}}

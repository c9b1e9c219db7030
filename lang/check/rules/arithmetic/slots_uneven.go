package arithmetic

import (
	"fmt"
	"math"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var SlotsUneven = check.Rule{Name: "slots-uneven", Family: "arithmetic", Severity: diag.Warning,
	Summary: "intervals that do not make whole rounds over the slots or stations",
	Session: func(p *check.Pass, s *model.Session) {
		for g := range s.Groups(model.Everything) {
			if !g.Repeat.Clocked() || g.Repeat.Laps || g.Slots() == 0 || g.Unread || g.Gaps {
				continue
			}
			for tier := range len(p.Env.House.Tiers) {
				turns, k := totals.Starts(g, tier), float64(g.Slots())
				if turns.Open || math.Mod(turns.Lo, k) == 0 && math.Mod(turns.Hi, k) == 0 {
					continue
				}
				n := turns.Lo
				if math.Mod(n, k) == 0 {
					n = turns.Hi
				}
				p.Report(unevenSlots(g, n, k))
				break
			}
		}
	}}

func unevenSlots(g *model.Group, n, k float64) diag.Diagnostic {
	laps, left := math.Floor(n/k), math.Mod(n, k)
	kind := slotKind(g)
	d := diag.Diagnostic{At: g.Repeat.At, Label: fmt.Sprintf("%g is no multiple of %g", n, k),
		Message: fmt.Sprintf("%s over %s are %s and %s more: the last %s come once less", phrase.Many(n, "interval"), phrase.Many(k, kind), phrase.Many(laps, "round"), phrase.Many(left, kind), phrase.Many(k-left, kind)),
		Help:    fmt.Sprintf("make it %s, or count rounds: x %s", phrase.Or(fmt.Sprint(laps*k), phrase.Many((laps+1)*k, "interval")), phrase.Many(laps, "round"))}
	if k-left == 1 {
		d.Message = fmt.Sprintf("%s over %s are %s and %s more: the last %s comes once less", phrase.Many(n, "interval"), phrase.Many(k, kind), phrase.Many(laps, "round"), phrase.Many(left, kind), kind)
	}
	if kind == "station" { // everybody starts at another one
		d.Message = fmt.Sprintf("%s over %s are %s and %s more: everybody does %s %g times and the others %g times, by where they start",
			phrase.Many(n, "interval"), phrase.Many(k, kind), phrase.Many(laps, "round"), phrase.Many(left, kind), phrase.Many(left, kind), laps+1, laps)
	}
	switch {
	case laps == 0 && kind == "station":
		d.Message = fmt.Sprintf("%s over %s make no whole round: everybody does %s and not the others, by where they start",
			phrase.Many(n, "interval"), phrase.Many(k, kind), phrase.Many(n, kind))
		d.Help = fmt.Sprintf("make it %s, or count rounds: x 1 round", phrase.Many(k, "interval"))
	case laps == 0:
		d.Message = fmt.Sprintf("%s over %s make no whole round: %s is never done", phrase.Many(n, "interval"), phrase.Many(k, kind), fmt.Sprintf("%s %g", kind, n+1))
		d.Help = fmt.Sprintf("make it %s, or count rounds: x 1 round", phrase.Many(k, "interval"))
	}
	return d
}

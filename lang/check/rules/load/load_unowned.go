package load

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/edit"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var LoadUnowned = check.Rule{Name: "load-unowned", Family: "load", Severity: diag.Warning,
	Summary: "a weight or a height of kit that the house has only in others",
	Session: func(p *check.Pass, s *model.Session) {
		if p.OwnKit() || len(p.Env.House.Kit) == 0 {
			return
		}
		eachLoads(s, func(w *model.Work, around []*model.Group, kit string, lds []model.Load) {
			for _, ld := range lds {
				if ld.Amount == nil || ld.Kind != syntax.Mass && ld.Kind != syntax.Height || misread(p, ld.Amount) {
					continue
				}
				name, have := ownedFor(p, w, kit, ld.Kind)
				if len(have) == 0 {
					continue
				}
				seen := map[float64]bool{}
				for tier := range p.Env.House.Tiers {
					for _, l := range intensity.OverTurns(w, around, ld, tier) {
						if !seen[l.Lo] {
							seen[l.Lo] = true
							unowned(p, ld, l, name, have)
						}
					}
				}
			}
		})
	}}

// ownedFor is the kit that a load is of and what the house has of it; nothing where that
// is not settled: where it is a bar, or of several things.
func ownedFor(p *check.Pass, w *model.Work, kit string, kind syntax.LoadKind) (string, []equipment.Thing) {
	if kit != "" {
		return kit, equipment.Owned(p.Env.Book, p.Env.House, kit, kind)
	}
	name, have := "", []equipment.Thing(nil)
	for _, m := range w.Moves {
		if m.Movement == nil {
			return "", nil
		}
		for _, ways := range m.Movement.Ways() {
			if kind == syntax.Mass && slices.ContainsFunc(ways, isBar) {
				return "", nil
			}
			owned, all := ownedOf(p, ways, kind)
			switch {
			case owned == name || owned == "":
			case name == "":
				name, have = owned, all
			default:
				return "", nil
			}
		}
	}
	return name, have
}

func isBar(kit string) bool { return slices.Contains(equipment.BarKinds, kit) }

// ownedOf are those of some pieces of kit of which one will do that the house has, and in what
// weights or heights.
func ownedOf(p *check.Pass, ways []string, kind syntax.LoadKind) (string, []equipment.Thing) {
	var names []string
	var all []equipment.Thing
	for _, n := range ways {
		if have := equipment.Owned(p.Env.Book, p.Env.House, n, kind); len(have) > 0 {
			names, all = append(names, n), append(all, have...)
		}
	}
	return strings.Join(names, " or "), all
}

func unowned(p *check.Pass, ld model.Load, l intensity.TurnLoad, kit string, have []equipment.Thing) {
	q := ld.Amount
	for _, t := range have {
		if l.Lo <= t.Value && (t.Value <= l.Hi || q.OrMore()) || equipment.SameByName(l.Lo, q.Written, t.Value, t.Written) {
			return
		}
	}
	var near []equipment.Thing
	below, above, isBelow, isAbove := equipment.Nearest(have, l.Lo)
	if isBelow {
		near = append(near, below)
	}
	if isAbove {
		near = append(near, above)
	}
	if isBelow && isAbove && above.Value-l.Lo < l.Lo-below.Value {
		slices.Reverse(near)
	}
	var all []string
	for _, t := range have {
		if text := units.FormatAmount(t.Value, q.Unit, t.Written); !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	d := diag.Diagnostic{At: q.At, Message: fmt.Sprintf("%s has no %s of %s", p.WhoseKit(), kit, units.FormatAmount(l.Lo, q.Unit, q.Written)),
		Label: "it has " + phrase.And(all...), Help: "write " + units.FormatAmount(near[0].Value, q.Unit, near[0].Written) + ", the nearest, or add the line to " + p.WhoseKit() + "'s kit"}
	if l.By != nil {
		d.At = l.By.At
		d.Message += ", which some turn comes to"
	} else if fix, ok := edit.Number(q, l.Lo, near[0].Value); ok && equipment.Imperial(near[0].Written) == equipment.Imperial(q.Written) {
		d.Fixes = []diag.Fix{fix}
	}
	p.Report(d)
}

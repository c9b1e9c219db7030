// Package arithmetic has the rules about counts: what lines, pieces and turns add up to.
package arithmetic

import (
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// eachDose calls f with every count that a line asks for at once: of each movement with a
// count of its own, each turn that its values move with, each tier, the least and the
// greatest of a range. It stops at the first for which f says that it has found what it
// looks for. Counts that leave it to the athlete are left out: max, 5+, at most 12, a share
// of the most that they can do.
func eachDose(w *model.Work, around []*model.Group, tiers int, f func(n float64, q *model.Quantity) (found bool)) {
	if w.RM > 0 {
		return
	}
	counts := []*model.Quantity{w.Dose}
	for _, m := range w.Moves {
		counts = append(counts, m.Count)
	}
	for _, q := range counts {
		if q == nil || q.Max || q.More || q.Bound != "" || q.Unit == "%" {
			continue
		}
		turns := max(1, len(q.Terms))
		if q.Form == syntax.Range || q.Form == syntax.One {
			turns = 1
		} else if q.Form == syntax.FromTo {
			if turns = totals.LineTurns(w, around); turns == 0 {
				continue
			}
		}
		for tier := range tiers {
			for t := range turns {
				lo, hi, known := q.Value(t, turns, tier)
				if known && (f(lo, q) || hi != lo && f(hi, q)) {
					return
				}
			}
		}
	}
}

// around2 are the multiples of a step on either side: full steps, and one more. None at
// all is nothing to write.
func around2(full, step float64, q *model.Quantity) string {
	if full == 0 {
		return inUnit(step, q)
	}
	return inUnit(full*step, q) + " or " + inUnit((full+1)*step, q)
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

// inUnit is an amount as the quantity beside it is written.
func inUnit(v float64, q *model.Quantity) string { return units.FormatAmount(v, q.Unit, q.Written) }

// series says whether the total is several numbers for several turns, which it has not.
func (t *stated) series() bool { return t.Amount.Form != syntax.One && t.Amount.Form != syntax.Range }

// swapsBad says whether a line of a scaling of the session cannot be read, so that its
// versions are not what was meant.
func swapsBad(p *check.Pass) bool {
	src := p.File.Syntax.Src
	var bad func(bs []*syntax.Block, in bool) bool
	bad = func(bs []*syntax.Block, in bool) bool {
		return slices.ContainsFunc(bs, func(b *syntax.Block) bool {
			_, scaling := b.Line.Stmt.(*syntax.Scaling)
			_, property := b.Line.Stmt.(*syntax.Property)
			here := p.Written.Block.Contains(b.Line.Body)
			return in && here && b.Line.Bad && !property || bad(b.Kids, in || scaling)
		})
	}
	return p.Written.At.File == src && bad(p.File.Syntax.Roots, false)
}

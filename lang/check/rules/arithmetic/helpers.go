// Package arithmetic has the rules about counts: what lines, pieces and turns add up to.
package arithmetic

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
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

// A stated total is one that a session or a part of it states, with the sum of its lines.
type stated struct {
	*model.Total
	row   totals.Row
	found bool // some line has the movement in that unit
	sums  *totals.Totals
	what  string         // "this session comes to"
	parts []*model.Group // that it is over
	tiers int
}

// eachTotal calls f for every total that a session or one of its parts states. A version
// is held against the totals that it states itself: those of the session are of the
// session as written.
func eachTotal(p *check.Pass, s *model.Session, f func(*stated)) {
	tiers := len(p.Env.House.Tiers)
	compare := func(ts []*model.Total, sums *totals.Totals, what string, parts []*model.Group) {
		if sums.Unread {
			return // a line is wrong, and any sum with it
		}
		for _, total := range ts {
			t := &stated{Total: total, sums: sums, what: what, parts: parts, tiers: tiers}
			switch {
			case t.Name == "":
				t.row = sums.All(t.Amount.Unit)
				t.found = slices.ContainsFunc(sums.Rows, func(r totals.Row) bool { return r.Unit == t.Amount.Unit && !r.Duty })
			case t.Movement == nil:
				continue // reported as unknown
			default:
				t.row, t.found = sums.Row(t.Name, t.Amount.Unit)
			}
			f(t)
		}
	}
	var before []*model.Total
	if p.Version != nil {
		if swapsBad(p) {
			return
		}
		for g := range p.Written.Groups(model.Everything) {
			before = append(before, g.Totals...)
		}
	}
	if len(s.Totals) > 0 {
		compare(s.Totals, p.Totals(s), "the session comes to", s.Parts)
	}
	for g := range s.Groups(model.Everything) {
		if len(g.Totals) == 0 {
			continue
		}
		own := slices.DeleteFunc(slices.Clone(g.Totals), func(t *model.Total) bool {
			return slices.ContainsFunc(before, func(b *model.Total) bool { return b.At == t.At })
		})
		compare(own, p.TotalsOf(g), "this comes to", nil)
	}
}

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

// pieces points at the parts that a session's total comes from, where there are several.
func (t *stated) pieces() []diag.Related {
	var out []diag.Related
	for _, g := range t.parts {
		sums := totals.OfGroup(g, t.tiers)
		row := sums.All(t.Amount.Unit)
		if t.Name != "" {
			row, _ = sums.Row(t.Name, t.Amount.Unit)
		}
		if slices.ContainsFunc(row.Tiers, func(s totals.Sum) bool { return s != totals.Sum{} }) {
			out = append(out, diag.Related{At: g.At, Message: t.show(row) + " here"})
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

func (t *stated) of() string {
	switch {
	case t.Name != "":
		return t.Name
	case t.Amount.Unit == "s":
		return "all that is done for a time"
	}
	return "all " + totals.UnitWord(t.Amount.Unit)
}

// says is the total as it is stated.
func (t *stated) says() string {
	r := totals.Row{Unit: t.Amount.Unit}
	for tier := range t.Amount.Tiers() {
		lo, hi, _ := t.Amount.Value(0, 1, tier)
		r.Tiers = append(r.Tiers, totals.Sum{Lo: lo, Hi: hi})
	}
	switch {
	case t.Amount.OrMore():
		return "at least " + t.show(r)
	case t.Amount.IsMost():
		for i := range r.Tiers {
			r.Tiers[i].Lo = r.Tiers[i].Hi
		}
		return "at most " + t.show(r)
	}
	return t.show(r)
}

// show is a row for all tiers: one amount where they agree.
func (t *stated) show(r totals.Row) string {
	var out []string
	for _, s := range r.Tiers {
		out = append(out, t.showSum(s, r.Unit))
	}
	if len(slices.Compact(slices.Clone(out))) == 1 {
		return out[0]
	}
	return strings.Join(out, " / ")
}

func (t *stated) showSum(s totals.Sum, unit string) string {
	written := t.Amount.Written
	from, in := units.FormatAs(s.Lo, unit, written)
	to, of := units.FormatAs(s.Hi, unit, written)
	switch {
	case s.Open && s.Lo == 0:
		return "an open number"
	case s.Open:
		return "at least " + units.FormatAmount(s.Lo, unit, written)
	case units.Same(s.Lo, s.Hi):
		return units.FormatAmount(s.Lo, unit, written)
	case unit == "s":
		return units.FormatAmount(s.Lo, unit, "") + "-" + units.FormatAmount(s.Hi, unit, "")
	case unit == "rep":
		return from + "-" + to
	case in != of:
		return units.FormatAmount(s.Lo, unit, in) + " to " + units.FormatAmount(s.Hi, unit, of)
	}
	return from + "-" + to + " " + in
}

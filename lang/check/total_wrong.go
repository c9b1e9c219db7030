package check

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

var totalWrong = Rule{Name: "total-wrong", Family: "arithmetic", Severity: diag.Error,
	Summary: "a stated total that the lines do not come to",
	session: func(p *pass, s *model.Session) {
		eachTotal(p, s, func(t *stated) {
			if t.row.Unread {
				return // a line of it is wrong, and the sum with it
			}
			if t.series() {
				d := t.wrong()
				d.Message = fmt.Sprintf("%s: a total is one number, and %s is a series", t.of(), t.Amount.At.Text())
				p.report(d)
				return
			}
			for tier, sum := range t.row.Tiers {
				lo, hi, known := t.Amount.Value(0, 1, tier)
				if t.Amount.More { // 50 or more
					if !sum.Open && sum.Lo < lo && !same(sum.Lo, lo) {
						p.report(t.wrong())
						return
					}
					continue
				}
				if !known || sum.Open && (hi >= sum.Lo || same(hi, sum.Lo)) || same(lo, sum.Lo) && same(hi, sum.Hi) && !sum.Open {
					continue
				}
				p.report(t.wrong())
				return
			}
		})
	}}

// wrong says what is wrong with a total, and what the lines come to.
func (t *stated) wrong() diag.Diagnostic {
	comes := t.show(t.row)
	d := diag.Diagnostic{At: t.At, Label: t.what + " " + comes, Related: t.pieces(),
		Message: fmt.Sprintf("%s: the total says %s, the lines come to %s", t.of(), t.says(), comes),
		Help:    "mend the lines if one of them is wrong; otherwise write the total that they come to"}
	row := t.row
	if !t.found {
		others := slices.DeleteFunc(slices.Clone(t.sums.Rows), func(r totals.Row) bool { return r.Movement != t.Name })
		if t.Name == "" || len(others) == 0 {
			d.Help = "take it out, or write it as the lines do"
			return d
		}
		row = others[0] // the lines count it in another unit
		d.Message = fmt.Sprintf("%s: the total says %s, but the lines count it in another unit and come to %s", t.of(), t.says(), t.show(row))
		d.Label = t.what + " " + t.show(row)
	}
	if !slices.ContainsFunc(row.Tiers, func(s totals.Sum) bool { return s.Open }) {
		text := t.write(row)
		d.Help = "mend the lines if one of them is wrong, or write " + text
		d.Fixes = []diag.Fix{{Title: "write the total as " + text, Edits: []diag.Edit{{At: t.Amount.At, New: text}}}}
	}
	return d
}

// series says whether the total is several numbers for several turns, which it has not.
func (t *stated) series() bool { return t.Amount.Form != syntax.One && t.Amount.Form != syntax.Range }

// A stated total is one that a session or a part of it states, with what the lines come to.
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
func eachTotal(p *pass, s *model.Session, f func(*stated)) {
	tiers := len(p.Env.House.Tiers)
	check := func(ts []*model.Total, sums *totals.Totals, what string, parts []*model.Group) {
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
	if p.version != nil {
		if p.swapsBad() {
			return
		}
		walk(p.written, func(step model.Step, _ []*model.Group) {
			if g, ok := step.(*model.Group); ok {
				before = append(before, g.Totals...)
			}
		})
	}
	if len(s.Totals) > 0 {
		check(s.Totals, p.totals(s), "the session comes to", s.Parts)
	}
	walk(s, func(step model.Step, _ []*model.Group) {
		g, ok := step.(*model.Group)
		if !ok || len(g.Totals) == 0 {
			return
		}
		own := slices.DeleteFunc(slices.Clone(g.Totals), func(t *model.Total) bool {
			return slices.ContainsFunc(before, func(b *model.Total) bool { return b.At == t.At })
		})
		check(own, p.totalsOf(g), "this comes to", nil)
	})
}

// swapsBad says whether a line of a scaling of the session cannot be read, so that its
// versions are not what was meant.
func (p *pass) swapsBad() bool {
	src := p.File.Syntax.Src
	var bad func(bs []*syntax.Block, in bool) bool
	bad = func(bs []*syntax.Block, in bool) bool {
		return slices.ContainsFunc(bs, func(b *syntax.Block) bool {
			_, scaling := b.Line.Stmt.(*syntax.Scaling)
			_, property := b.Line.Stmt.(*syntax.Property)
			here := p.written.Block.Contains(b.Line.Body)
			return in && here && b.Line.Bad && !property || bad(b.Kids, in || scaling)
		})
	}
	return p.written.At.File == src && bad(p.File.Syntax.Roots, false)
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
	return "all " + unitWord(t.Amount.Unit)
}

// says is the total as it is stated.
func (t *stated) says() string {
	r := totals.Row{Unit: t.Amount.Unit}
	for tier := range t.Amount.Tiers() {
		lo, hi, _ := t.Amount.Value(0, 1, tier)
		r.Tiers = append(r.Tiers, totals.Sum{Lo: lo, Hi: hi})
	}
	if t.Amount.More {
		return t.show(r) + " or more"
	}
	return t.show(r)
}

// show is a row for all tiers: one amount where they agree.
func (t *stated) show(r totals.Row) string {
	var out []string
	for _, s := range r.Tiers {
		out = append(out, t.showSum(s, r.Unit))
	}
	if allSame(out) {
		return out[0]
	}
	return strings.Join(out, " / ")
}

func (t *stated) showSum(s totals.Sum, unit string) string {
	written := t.Amount.Written
	from, in := number(s.Lo, unit, written)
	to, of := number(s.Hi, unit, written)
	switch {
	case s.Open && s.Lo == 0:
		return "an open number"
	case s.Open:
		return "at least " + showIn(s.Lo, unit, written)
	case same(s.Lo, s.Hi):
		return showIn(s.Lo, unit, written)
	case unit == "s":
		return show(s.Lo, unit) + "-" + show(s.Hi, unit)
	case unit == "rep":
		return from + "-" + to
	case in != of:
		return showIn(s.Lo, unit, in) + " to " + showIn(s.Hi, unit, of)
	}
	return from + "-" + to + " " + in
}

// write writes a row as the notation does, in the unit that the author wrote if it comes
// out in that.
func (t *stated) write(r totals.Row) string {
	return TotalText(r, t.Amount.Written, t.Name != "")
}

// TotalText is the amount of a row as a line total has it, in the unit that its author
// wrote if it comes out in that. The row is a movement's, or over all of them.
func TotalText(r totals.Row, written string, movement bool) string {
	for _, s := range r.Tiers {
		for _, v := range []float64{s.Lo, s.Hi} {
			if _, in := number(v, r.Unit, written); in != written {
				written = ""
			}
		}
	}
	unit := r.Unit
	one := func(v float64) string {
		if r.Unit == "s" {
			return show(v, "s")
		}
		var text string
		text, unit = number(v, r.Unit, written)
		return text
	}
	var lo, hi []string
	for _, s := range r.Tiers {
		lo, hi = append(lo, one(s.Lo)), append(hi, one(s.Hi))
	}
	text := tiered(lo)
	if to := tiered(hi); to != text {
		text += "-" + to
	}
	if r.Unit == "rep" && movement || r.Unit == "s" {
		return text
	}
	if r.Unit == "rep" {
		return text + " reps"
	}
	return text + " " + unit
}

// tiered joins the numbers of tiers: one number where they agree.
func tiered(ns []string) string {
	if allSame(ns) {
		return ns[0]
	}
	return strings.Join(ns, "/")
}

func allSame(ss []string) bool {
	return !slices.ContainsFunc(ss, func(s string) bool { return s != ss[0] })
}

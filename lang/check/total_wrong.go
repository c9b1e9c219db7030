package check

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/clock"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var totalWrong = Rule{Name: "total-wrong", Family: "arithmetic", Severity: diag.Error,
	Summary: "a stated total that the lines do not come to",
	session: func(p *pass, s *program.Session) {
		eachTotal(p, s, func(t *program.Total, row clock.Row, what string) {
			for tier := range row.Tiers {
				lo, hi, known := t.Amount.Value(0, 1, tier)
				sum := row.Tiers[tier]
				if !known || sum.Open && hi >= sum.Lo || lo == sum.Lo && hi == sum.Hi && !sum.Open {
					continue
				}
				d := diag.Diagnostic{At: t.At, Label: what + " " + showTiers(row),
					Message: fmt.Sprintf("%s: the total says %s, the lines come to %s", of(t), showStated(t), showTiers(row)),
					Help:    "mend the lines if one of them is wrong; otherwise write the total that they come to"}
				if !sum.Open {
					text := showAmount(row, t.Amount.Written)
					at := t.Amount.At
					d.Help = fmt.Sprintf("mend the lines if one of them is wrong, or write %s", text)
					d.Fixes = []diag.Fix{{Title: "write the total as " + text, Edits: []diag.Edit{{At: at, New: text}}}}
				}
				p.report(d)
				return
			}
		})
	}}

// eachTotal calls f for every total that a session or one of its parts states, with what
// the lines come to.
func eachTotal(p *pass, s *program.Session, f func(t *program.Total, row clock.Row, what string)) {
	tiers := len(p.Env.House.Tiers)
	check := func(ts []*program.Total, sums *clock.Totals, what string) {
		if sums.Unread {
			return // a line is wrong, and the sum with it
		}
		for _, t := range ts {
			if t.Name == "" {
				f(t, sums.All(t.Amount.Unit), what)
				continue
			}
			if t.Movement == nil {
				continue // reported as unknown
			}
			row, _ := sums.Row(t.Name, t.Amount.Unit)
			f(t, row, what)
		}
	}
	if len(s.Totals) > 0 {
		check(s.Totals, clock.OfSession(s, tiers), "the session comes to")
	}
	walk(s, func(step program.Step, _ []*program.Group) {
		if g, ok := step.(*program.Group); ok && len(g.Totals) > 0 {
			check(g.Totals, clock.OfGroup(g, tiers), "this comes to")
		}
	})
}

func of(t *program.Total) string {
	if t.Name == "" {
		return "all " + unitWord(t.Amount.Unit)
	}
	return t.Name
}

func unitWord(unit string) string {
	switch unit {
	case "rep":
		return "repetitions"
	case "m":
		return "metres"
	case "cal":
		return "calories"
	case "breath":
		return "breaths"
	case "s":
		return "time"
	}
	return unit
}

// show is a number in its unit: a time as a clock value, a repetition without a word.
func show(v float64, unit string) string {
	switch unit {
	case "s":
		return units.FormatClock(v)
	case "rep":
		return units.FormatNumber(v)
	}
	return units.FormatNumber(v) + " " + unit
}

func showSum(s clock.Sum, unit string) string {
	switch {
	case s.Open && s.Lo == 0:
		return "a number that the text does not settle"
	case s.Open:
		return "at least " + show(s.Lo, unit)
	case s.Lo != s.Hi && unit == "s":
		return show(s.Lo, unit) + "-" + show(s.Hi, unit)
	case s.Lo != s.Hi:
		return units.FormatNumber(s.Lo) + "-" + show(s.Hi, unit)
	}
	return show(s.Lo, unit)
}

// showTiers is a row for all tiers: one number where they agree.
func showTiers(r clock.Row) string {
	var out []string
	for _, s := range r.Tiers {
		out = append(out, showSum(s, r.Unit))
	}
	for _, o := range out {
		if o != out[0] {
			return strings.Join(out, " / ")
		}
	}
	return out[0]
}

func showStated(t *program.Total) string {
	r := clock.Row{Unit: t.Amount.Unit}
	for tier := range t.Amount.Tiers() {
		lo, hi, _ := t.Amount.Value(0, 1, tier)
		r.Tiers = append(r.Tiers, clock.Sum{Lo: lo, Hi: hi})
	}
	return showTiers(r)
}

// showAmount writes a row as the notation does, in the unit that the author wrote.
func showAmount(r clock.Row, written string) string {
	unit, scale := r.Unit, 1.0
	if u, ok := units.Lookup(written); ok {
		unit, scale = written, u.FromBase(1)
	}
	one := func(v float64) string {
		if r.Unit == "s" {
			return units.FormatClock(v)
		}
		return units.FormatNumber(v * scale)
	}
	var out []string
	for _, s := range r.Tiers {
		text := one(s.Lo)
		if s.Hi != s.Lo {
			text += "-" + one(s.Hi)
		}
		out = append(out, text)
	}
	text := strings.Join(out, "/")
	if allSame(out) {
		text = out[0]
	}
	if r.Unit == "rep" || r.Unit == "s" {
		return text
	}
	return text + " " + unit
}

func allSame(ss []string) bool {
	for _, s := range ss {
		if s != ss[0] {
			return false
		}
	}
	return true
}

package check

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/kit"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var kitShort = Rule{Name: "kit-short", Family: "kit", Severity: diag.Error,
	Summary:  "more people who need one kind of kit at once than the house has; a warning where that hangs on their pace",
	Settings: []Setting{{Name: "wait", Unit: "", Default: 0, Source: "common practice, no source: nobody stands in a queue unless the coach means it"}},
	session: func(p *pass, s *program.Session) {
		if !p.kitCounted() {
			return
		}
		for _, u := range p.kitUses(s) {
			if !p.kitLacking(&u) || !p.sound(u.Part) || slices.ContainsFunc(u.Lines, func(w *program.Work) bool { return w.At.File == nil }) {
				continue
			}
			p.report(p.shortage(s, &u))
		}
	}}

// kitUses are what a session asks of the house's kit.
func (p *pass) kitUses(s *program.Session) []kit.Use { return kit.Of(s, p.Env, p.timeline(s)) }

// kitLacking says whether more people than the house lets wait find nothing free.
func (p *pass) kitLacking(u *kit.Use) bool {
	if !u.Short() {
		return false
	}
	return u.Each == 0 || float64(u.People-u.Fits()) > p.setting("wait")
}

func (p *pass) shortage(s *program.Session, u *kit.Use) diag.Diagnostic {
	d := diag.Diagnostic{At: u.Lines[0].At, Severity: diag.Warning, Label: "all of them could be there at once"}
	need := "could need"
	if u.Settled {
		d.Severity, d.Label, need = diag.Error, "whatever anybody's pace is", "need"
	}
	what := withArticle(u.Kit)
	if u.Of != "" {
		what += " @ " + u.Of
	}
	switch {
	case u.Each == 0:
		what = fmt.Sprintf("%d of %s between them", u.Needed, u.Kit)
	case u.Each > 1:
		what = fmt.Sprintf("%d of %s each", u.Each, u.Kit)
		if u.Of != "" {
			what = fmt.Sprintf("%d of %s @ %s each", u.Each, u.Kit, u.Of)
		}
		what += fmt.Sprintf(", %d in all,", u.Needed)
	}
	d.Message = fmt.Sprintf("%s: %s %s %s at once%s; the house has %d", partName(u.Part), persons(u.People), need, what, whenUsed(u), u.Has)
	for _, w := range u.Lines[1:] {
		d.Related = append(d.Related, diag.Related{At: w.At, Message: "and here, at the same time"})
	}
	rs := p.kitRemedies(s, u)
	switch {
	case len(rs) == 0:
		d.Help = "let fewer be at it at once: in heats, in pairs of whom one works, at stations, or with other kit"
	case len(rs) == 1:
		d.Help = rs[0].text
	default:
		d.Help = rs[0].text + "; or " + rs[1].text
	}
	for _, r := range rs {
		if r.fix != nil {
			d.Fixes = append(d.Fixes, *r.fix)
		}
	}
	return d
}

func persons(n int) string {
	if n == 1 {
		return "1 person"
	}
	return fmt.Sprintf("%d people", n)
}

// whenUsed says at what time, where that is known.
func whenUsed(u *kit.Use) string {
	switch {
	case !u.Timed || u.When < 0:
		return ""
	case u.Settled:
		return ", at " + units.FormatClock(u.When)
	}
	return ", from about " + units.FormatClock(u.When)
}

package kit

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var kitShortWait = &check.Threshold{Name: "wait", Default: 0,
	Source: "common practice, no source: nobody stands in a queue unless the coach means it"}

var KitShort = check.Rule{Name: "kit-short", Family: "kit", Severity: diag.Error,
	Summary:    "more people who need one kind of kit at once than the house has; a warning where that hangs on their pace",
	Thresholds: []*check.Threshold{kitShortWait},
	Session: func(p *check.Pass, s *model.Session) {
		if !kitCounted(p) {
			return
		}
		var found [][]equipment.Use // those of the same lines together
		for _, u := range usesOf(p, s) {
			if !lacking(p, &u) || !p.PartReadWithoutErrors(u.Part) {
				continue
			}
			i := slices.IndexFunc(found, func(o []equipment.Use) bool {
				return slices.Equal(o[0].Lines, u.Lines) && o[0].People == u.People && o[0].Each == u.Each &&
					o[0].Settled == u.Settled
			})
			if i < 0 {
				found = append(found, []equipment.Use{u})
				continue
			}
			found[i] = append(found[i], u)
		}
		for _, us := range found {
			p.Report(shortage(p, s, us))
		}
	}}

// usesOf are what a session asks of the house's kit. How long it takes is worked out only
// where it may matter: where heats overlap, or something is short unless two can take turns.
func usesOf(p *check.Pass, s *model.Session) []equipment.Use {
	us := equipment.Of(s, p.Env, nil)
	overlap := false
	for g := range s.Groups(model.Everything) {
		overlap = overlap || g.Heats != nil && g.Heats.Every != nil
	}
	if !overlap && !slices.ContainsFunc(us, func(u equipment.Use) bool { return u.Short() }) {
		return us
	}
	return equipment.Of(s, p.Env, p.Unqueued(s))
}

// lacking says whether more people than the house lets wait find nothing free.
func lacking(p *check.Pass, u *equipment.Use) bool {
	if !u.Short() {
		return false
	}
	return u.Each == 0 || float64(u.People-u.Fits()) > p.Value(kitShortWait)
}

// shortage says what is short at some lines.
func shortage(p *check.Pass, s *model.Session, us []equipment.Use) diag.Diagnostic {
	u := &us[0]
	d := diag.Diagnostic{At: u.Lines[0].At, Severity: diag.Warning, Label: "all of them could be there at once"}
	need := "could need"
	if u.Settled {
		d.Severity, d.Label, need = diag.Error, "whatever anybody's pace is", "need"
	}
	var what, has []string
	for i := range us {
		what, has = append(what, needed(&us[i])), append(has, fmt.Sprint(us[i].Has))
	}
	d.Message = fmt.Sprintf("%s: %s %s %s at once%s; %s has %s", u.Part.PartName(), persons(u.People), need,
		phrase.And(what...), whenUsed(u), p.WhoseKit(), phrase.And(has...))
	if u.InTurn {
		d.Label = "even with two in turn at each"
	}
	for _, w := range u.Lines[1:] {
		d.Related = append(d.Related, diag.Related{At: w.At, Message: "and here, at the same time"})
	}
	rs := remedies(p, s, us)
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

// needed is what a use asks for.
func needed(u *equipment.Use) string {
	name := u.Kit
	if u.Of != "" {
		name += " @ " + u.Of
	}
	switch {
	case u.Each == 0:
		return fmt.Sprintf("%d of %s between them", u.Needed, name)
	case u.Each > 1:
		return fmt.Sprintf("%d of %s each, %d in all,", u.Each, name, u.Needed)
	}
	return withArticle(name)
}

func persons(n int) string {
	if n == 1 {
		return "1 person"
	}
	return fmt.Sprintf("%d people", n)
}

// whenUsed says at what time, where that is known.
func whenUsed(u *equipment.Use) string {
	switch {
	case !u.Timed || u.When < 0:
		return ""
	case u.Settled:
		return ", at " + units.FormatClock(u.When)
	}
	return ", from about " + units.FormatClock(u.When)
}

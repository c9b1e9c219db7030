package clock

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

var ClockUnproven = check.Rule{Name: "clock-unproven", Family: "clock", Severity: diag.Suggestion,
	Summary:     "words that are missing, so that a start, a cap, an aim or a rest that is asked for cannot be proven",
	AfterOthers: true,
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version != nil && p.ReportedIn(source.Place{File: p.Written.At.File, Span: p.Written.Block}) {
			return // once a session
		}
		t := p.Timeline(s)
		all := t.Gaps()
		var d *diag.Diagnostic
		for _, part := range t.Parts {
			what, held := unproven(part, all)
			if what == "" || unread(part.Group) || !p.PartReadWithoutErrors(part.Group) {
				continue
			}
			for _, m := range part.Missing {
				if m.Held && !held || p.ErrorOnLine(m.At) || m.Waits && p.ReportedAt("kit-short", m.At) {
					continue
				}
				if d == nil {
					d = &diag.Diagnostic{At: m.At, Help: m.Add,
						Message: fmt.Sprintf("%s cannot be timed, so %s is not proven: %s", part.Group.PartName(), what,
							m.Why)}
					if d.Help == "" {
						d.Help = "say it in the text; where it is meant to stay open, set this rule off in the house"
					}
					continue
				}
				d.Related = append(d.Related, diag.Related{At: m.At, Message: m.Why})
			}
		}
		if d != nil {
			p.Report(*d)
		}
	}}

// unproven says what cannot be proven because a part cannot be timed, empty where that does
// not matter. Held says that it depends on counts too, which a window does not settle.
func unproven(part *estimate.PartTime, all []estimate.Gap) (what string, held bool) {
	g := part.Group
	untimed := func(o *estimate.GroupTime) bool { return !o.Proven }
	for _, a := range g.Aims {
		if of, ok := part.GroupOf(g); ok && untimed(of) && a.Amount != nil && (a.What == "time" || a.What == "rounds") {
			return "its aim", true
		}
	}
	for _, of := range part.Groups {
		if untimed(of) && slices.ContainsFunc(of.Group.Rests,
			func(r *model.Rest) bool { return r.Place == model.RestInInterval && r.Bound != "" }) {
			return "the rest that its intervals are to leave", true
		}
	}
	if part.Proven() {
		return "", false
	}
	if slices.ContainsFunc(g.Aims, func(a *model.Aim) bool { return a.What == model.AimedEnd }) {
		return "when it is to be over", false
	}
	limit, capped := g.Cap.One()
	for _, o := range all {
		if o.Part != part {
			continue
		}
		ask := o.Asked()
		if o.Next.Pinned && o.Window > 0 && !part.SurelyWithin(o.Window-ask.Rest) && (!capped || limit+ask.Rest > o.Window) {
			return fmt.Sprintf("the start of %s at %s", o.Next.Group.PartName(), units.FormatClock(o.Next.Start)), false
		}
	}
	if capped && !part.SurelyOver(limit) && !part.SurelyWithin(limit) {
		return fmt.Sprintf("its cap of %s", units.FormatClock(limit)), false
	}
	return "", false
}

// unread says whether a line of a part could not be read, which is reported already.
func unread(part *model.Group) bool {
	gap := false
	for g := range part.Groups(model.Everything) {
		gap = gap || g.Gaps || g.Unread
	}
	return gap
}

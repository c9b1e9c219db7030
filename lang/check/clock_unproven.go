package check

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

var clockUnproven = Rule{Name: "clock-unproven", Family: "clock", Severity: diag.Suggestion,
	Summary: "words that are missing, so that a start, a cap, an aim or a rest that is asked for cannot be proven",
	session: func(p *pass, s *model.Session) {
		if p.version != nil && slices.ContainsFunc(*p.found, func(d diag.Diagnostic) bool {
			return d.Rule == p.rule.Name && d.At.File == p.written.At.File && p.written.Block.Start <= d.At.Start && d.At.End <= p.written.Block.End
		}) {
			return // once a session
		}
		t := p.timeline(s)
		all := gaps(t)
		var d *diag.Diagnostic
		for _, part := range t.Parts {
			what, held := p.hangs(s, part, all)
			if what == "" || unread(part.Group) || !p.sound(part.Group) {
				continue
			}
			for _, m := range part.Missing {
				if m.Held && !held || p.faulty(m.At) {
					continue
				}
				if d == nil {
					d = &diag.Diagnostic{At: m.At, Help: m.Add,
						Message: fmt.Sprintf("%s cannot be timed, so %s is not proven: %s", partName(part.Group), what, m.Why)}
					if d.Help == "" {
						d.Help = "say it in the text; where it is meant to stay open, set this rule off in the house"
					}
					continue
				}
				d.Related = append(d.Related, diag.Related{At: m.At, Message: m.Why})
			}
		}
		if d != nil {
			p.report(*d)
		}
	}}

// hangs says what cannot be proven because a part cannot be timed, empty where that does
// not matter. Held says that it hangs on counts too, which a window does not settle.
func (p *pass) hangs(s *model.Session, part *estimate.PartTime, all []gap) (what string, held bool) {
	g := part.Group
	unproven := func(o *estimate.GroupTime) bool { return !o.Proven }
	for _, a := range g.Aims {
		if of, ok := part.GroupOf(g); ok && unproven(of) && a.Amount != nil && (a.What == "time" || a.What == "rounds") {
			return "its aim", true
		}
	}
	for _, of := range part.Groups {
		if unproven(of) && slices.ContainsFunc(of.Group.Rests, func(r *model.Rest) bool { return r.Place == model.RestInInterval && r.Bound != "" }) {
			return "the rest that its intervals are to leave", true
		}
	}
	if part.Proven() {
		return "", false
	}
	limit, capped := g.Cap.One()
	for _, o := range all {
		if o.part != part {
			continue
		}
		ask := o.asked()
		if o.next.Pinned && o.window > 0 && (!capped || limit+ask.rest > o.window) {
			return fmt.Sprintf("the start of %s at %s", partName(o.next.Group), units.FormatClock(o.next.Start)), false
		}
	}
	if capped {
		return fmt.Sprintf("its cap of %s", units.FormatClock(limit)), false
	}
	return "", false
}

// unread says whether a line of a part could not be read, which is reported already.
func unread(part *model.Group) bool {
	gap := false
	walkStep(part, nil, func(st model.Step, _ []*model.Group) {
		if g, ok := st.(*model.Group); ok {
			gap = gap || g.Gaps || g.Unread
		}
	})
	return gap
}

// faulty says whether an error stands on a line already, from which what is missing there
// may well come.
func (p *pass) faulty(at source.Place) bool {
	if at.File == nil {
		return true
	}
	line := at.File.LineAt(at.Start)
	return slices.ContainsFunc(*p.found, func(d diag.Diagnostic) bool {
		return d.Severity == diag.Error && d.At.File == at.File && d.At.File.LineAt(d.At.Start) == line
	})
}

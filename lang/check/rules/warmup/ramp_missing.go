package warmup

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var RampMissing = check.Rule{Name: rampMissingName, Family: "warm-up", Severity: diag.Warning,
	Summary:    "a maximum, or a load near one, with too few lighter sets that lead up to it",
	Thresholds: []*check.Threshold{rampMissingShare, rampMissingSets},
	Session: func(p *check.Pass, s *model.Session) {
		if !judgeable(p, s) || len(warmUps(s)) == 0 { // without a warm-up, that is what is said
			return
		}
		need := int(p.Value(rampMissingSets))
		find := func(s *model.Session) []*book.Movement {
			var out []*book.Movement
			for _, l := range heavyLifts(s, p.Value(rampMissingShare)) {
				if l.need(need) > 0 {
					out = append(out, l.lift)
				}
			}
			return out
		}
		said := foundAsWritten(p, find)
		for _, l := range heavyLifts(s, p.Value(rampMissingShare)) {
			if l.need(need) <= 0 || slices.Contains(said, l.lift) {
				continue
			}
			reportRamp(p, s, l, need)
		}
	}}

func reportRamp(p *check.Pass, s *model.Session, l heavyLift, need int) {
	have := "no lighter set leads up to it"
	if l.sets > 0 {
		have = fmt.Sprintf("%d lighter %s to it", l.sets, oneOrMore(l.sets, "set leads up", "sets lead up"))
	}
	lines := rampLines(l.lift.Name, l.need(need))
	d := diag.Diagnostic{At: l.line.Work.At,
		Message: fmt.Sprintf("%s %s comes to about %s of a maximum, and %s", l.lift.Name, l.line.Why,
			units.FormatTenth(l.line.Share)+"%", have),
		Label: fmt.Sprintf("%d are asked for before a set so heavy", need),
		Help:  "write lighter sets before it, in the warm-up or in the part: " + phrase.And(lines...)}
	if e, ok := addRamp(p, s, l, lines); ok {
		d.Fixes = []diag.Fix{{Title: "add " + phrase.And(lines...), Edits: []diag.Edit{e}}}
	}
	p.Report(d)
}

// addRamp is the edit that adds sets to the end of a warm-up that is gone through once, or else
// right before the line, where lines are done in order and at leisure.
func addRamp(p *check.Pass, s *model.Session, l heavyLift, lines []string) (diag.Edit, bool) {
	for _, g := range warmUps(s) {
		if !g.ComesRound() {
			if e, ok := addLines(p, g, lines); ok {
				return e, true
			}
		}
	}
	part := l.line.Around[len(l.line.Around)-1]
	leisure := !part.ComesRound() && part.Repeat.Kind != model.AnyOrder && part.Repeat.Kind != model.ChooseOne &&
		part.Mode != model.ForTime
	if len(l.line.Around) > 1 || !leisure || part.Steps[0] != model.Step(l.line.Work) {
		return diag.Edit{}, false
	}
	return addFirst(p, part, lines)
}

func oneOrMore(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

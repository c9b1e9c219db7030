package warmup

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var JointCold = check.Rule{Name: jointColdName, Family: "warm-up", Severity: diag.Suggestion,
	Summary:    "hard work that loads a joint that nothing lighter has moved before it",
	Thresholds: check.HardWork,
	Session: func(p *check.Pass, s *model.Session) {
		if !judgeable(p, s) || len(warmUps(s)) == 0 {
			return
		}
		said := foundAsWritten(p, func(s *model.Session) []book.Joint {
			var out []book.Joint
			if len(warmUps(s)) > 0 {
				for _, c := range coldJointsIn(s, p.HardThresholds()) {
					out = append(out, c.joints...)
				}
			}
			return out
		})
		for _, c := range coldJointsIn(s, p.HardThresholds()) {
			joints := slices.DeleteFunc(c.joints, func(j book.Joint) bool { return slices.Contains(said, j) })
			if len(joints) == 0 {
				continue
			}
			them := "it"
			if len(joints) > 1 {
				them = "them"
			}
			names := jointNames(joints)
			d := diag.Diagnostic{At: c.move.At, Label: "the warm-up does not move the " + phrase.Or(names...),
				Message: fmt.Sprintf("the %s %s loads the %s, and nothing before it moves %s", c.move.Name, c.line.Why,
					phrase.And(names...), them),
				Help: fmt.Sprintf("move the %s in the warm-up", phrase.And(names...))}
			if lines := drillsFor(p, joints); len(lines) > 0 {
				d.Help += ", such as by " + phrase.And(lines...)
				for _, g := range warmUps(s) {
					if e, ok := addDrills(p, g, lines); ok {
						d.Fixes = []diag.Fix{{Title: fmt.Sprintf("add %s to the warm-up", phrase.And(lines...)),
							Edits: []diag.Edit{e}}}
						break
					}
				}
			}
			p.Report(d)
		}
	}}

// A coldJoint is a movement of a hard line with the joints that it is the first to load hard,
// and that nothing has moved before.
type coldJoint struct {
	joints []book.Joint
	line   *intensity.Line
	move   model.Move
}

// coldJointsIn are the joints that hard lines find cold. Of a line whose pattern is cold nothing is
// said: what readies the pattern moves its joints too.
func coldJointsIn(s *model.Session, from intensity.HardThresholds) []coldJoint {
	colds := coldPatternsIn(s, from)
	var out []coldJoint
	var before []*intensity.Line
	seen := map[book.Joint]bool{}
	for l := range intensity.HardLines(s, from) {
		if l.Why == "" {
			before = append(before, l)
			continue
		}
		if lighterTurns(l) > 0 {
			before = append(before, &intensity.Line{Work: l.Work})
		}
		isCold := false
		for _, c := range colds {
			if c.line.Work == l.Work {
				isCold = true
				for _, j := range c.pattern.Joints() {
					seen[j] = true
				}
			}
		}
		if isCold {
			continue
		}
		for _, m := range l.Work.Moves {
			c := coldJoint{line: l, move: m}
			for _, j := range loadedJoints(m) {
				moved := slices.ContainsFunc(before, func(o *intensity.Line) bool {
					return o.Share < max(l.Share, from.Share) &&
						slices.ContainsFunc(o.Work.Moves, func(om model.Move) bool {
							return slices.Contains(jointsOf(om), j)
						})
				})
				if !moved && !seen[j] {
					seen[j] = true
					c.joints = append(c.joints, j)
				}
			}
			if len(c.joints) > 0 {
				out = append(out, c)
			}
		}
	}
	return out
}

func jointNames(js []book.Joint) (out []string) {
	for _, j := range js {
		out = append(out, string(j))
	}
	return out
}

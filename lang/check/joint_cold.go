package check

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var jointCold = Rule{Name: "joint-cold", Family: "warm-up", Severity: diag.Suggestion,
	Summary:  "hard work that loads a joint that nothing lighter has moved before it",
	Settings: hardSettings,
	session: func(p *pass, s *model.Session) {
		if !p.judged(s) || len(warmUps(s)) == 0 {
			return
		}
		said := drawnAsWritten(p, func(s *model.Session) []book.Joint {
			var out []book.Joint
			if len(warmUps(s)) > 0 {
				for _, c := range p.coldJoints(s) {
					out = append(out, c.joints...)
				}
			}
			return out
		})
		for _, c := range p.coldJoints(s) {
			joints := slices.DeleteFunc(c.joints, func(j book.Joint) bool { return slices.Contains(said, j) })
			if len(joints) == 0 {
				continue
			}
			them := "it"
			if len(joints) > 1 {
				them = "them"
			}
			names := jointNames(joints)
			d := diag.Diagnostic{At: c.move.At, Label: "the warm-up does not move the " + list(names...),
				Message: fmt.Sprintf("the %s %s loads the %s, and nothing before it moves %s", c.move.Name, c.line.why, and(names...), them),
				Help:    fmt.Sprintf("move the %s in the warm-up", and(names...))}
			if lines := p.drillsFor(joints); len(lines) > 0 {
				d.Help += ", such as by " + and(lines...)
				for _, g := range warmUps(s) {
					if e, ok := p.addDrills(g, lines); ok {
						d.Fixes = []diag.Fix{{Title: fmt.Sprintf("add %s to the warm-up", and(lines...)), Edits: []diag.Edit{e}}}
						break
					}
				}
			}
			p.report(d)
		}
	}}

// A coldJoint is a movement of a hard line with the joints that it is the first to load hard,
// and that nothing has moved before.
type coldJoint struct {
	joints []book.Joint
	line   *doneLine
	move   model.Move
}

// coldJoints are the joints that hard lines find cold. Of a line whose pattern is cold nothing is
// said: what readies the pattern moves its joints too.
func (p *pass) coldJoints(s *model.Session) []coldJoint {
	colds := p.colds(s)
	var out []coldJoint
	var before []*doneLine
	seen := map[book.Joint]bool{}
	p.eachLine(s, func(l *doneLine) {
		if l.why == "" {
			before = append(before, l)
			return
		}
		if p.ownRamp(l) > 0 {
			before = append(before, &doneLine{work: l.work})
		}
		isCold := false
		for _, c := range colds {
			if c.line.work == l.work {
				isCold = true
				for _, j := range c.pattern.Joints() {
					seen[j] = true
				}
			}
		}
		if isCold {
			return
		}
		for _, m := range l.work.Moves {
			c := coldJoint{line: l, move: m}
			for _, j := range loadedJoints(m) {
				moved := slices.ContainsFunc(before, func(o *doneLine) bool {
					return o.share < max(l.share, p.setting("share")) && slices.ContainsFunc(o.work.Moves, func(om model.Move) bool {
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
	})
	return out
}

// hardJoints are the joints that the hard lines of a session load.
func (p *pass) hardJoints(s *model.Session) []book.Joint {
	var out []book.Joint
	p.eachLine(s, func(l *doneLine) {
		if l.why != "" {
			for _, m := range l.work.Moves {
				out = append(out, loadedJoints(m)...)
			}
		}
	})
	return out
}

// movedBy are the joints that movements of the book move.
func (p *pass) movedBy(names ...string) []book.Joint {
	var out []book.Joint
	for _, n := range names {
		m, _ := p.Env.Book.Lookup(n)
		out = append(out, jointsOf(model.Move{Movement: m})...)
	}
	return out
}

func jointsOf(m model.Move) []book.Joint {
	if m.Movement == nil {
		return nil
	}
	return m.Movement.Moves()
}

// loadedJoints are those that a movement asks a warm-up for. A trunk that holds still while
// something else moves, as in a push-up, asks for none.
func loadedJoints(m model.Move) []book.Joint {
	if m.Movement == nil {
		return nil
	}
	chief := *m.Movement
	chief.Trains = nil
	for i, t := range m.Movement.Trains {
		if i == 0 || t != book.Trunk {
			chief.Trains = append(chief.Trains, t)
		}
	}
	return chief.Moves()
}

func jointNames(js []book.Joint) (out []string) {
	for _, j := range js {
		out = append(out, string(j))
	}
	return out
}

// A drill is a line of a warm-up: how many of what.
type drill struct{ dose, name string }

func (d drill) String() string { return d.dose + " " + d.name }

// jointDrills are what a coach adds to a warm-up for joints: light, with no kit, those of one
// joint first. The counts are common practice, no source.
var jointDrills = []drill{
	{"8/side", "ankle rock"}, {"8/side", "hip circle"}, {"6", "cat-cow"}, {"10", "arm circle"}, {"10", "wrist circle"},
	{"8", "wall slide"}, {"4/side", "thread the needle"}, {"8", "hip hinge drill"}, {"8", "air squat"},
	{"6", "squat-to-stand"}, {"4/side", "lunge with reach"}, {"6", "inchworm"},
}

// drillsFor is the drill that moves all of some joints or, where none does, the first two that
// do together.
func (p *pass) drillsFor(joints []book.Joint) []string {
	lacks := func(d drill, joints []book.Joint) []book.Joint {
		m, _ := p.Env.Book.Lookup(d.name)
		if m == nil || len(m.Needs) > 0 { // a workspace has it otherwise
			return joints
		}
		return slices.DeleteFunc(slices.Clone(joints), func(j book.Joint) bool { return slices.Contains(m.Moves(), j) })
	}
	for _, d := range jointDrills {
		if len(lacks(d, joints)) == 0 {
			return []string{d.String()}
		}
	}
	for i, d := range jointDrills {
		left := lacks(d, joints)
		for _, o := range jointDrills[i+1:] {
			if len(left) < len(joints) && len(lacks(o, left)) == 0 {
				return []string{d.String(), o.String()}
			}
		}
	}
	return nil
}

package hover

import (
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// A target is the place in a text that is asked about, and what it lies in: its line, session,
// part and step. What it does not lie in is nil.
type target struct {
	snap *workspace.Snapshot
	file *workspace.File
	off  int

	line    *syntax.Line
	root    *syntax.Block  // the line at the margin that it stands under
	session *model.Session // as the place has it: in a scaling, that version
	version *model.Version
	written *model.Session // that it is a version of
	part    *model.Group
	around  []*model.Group // the groups around the step, the part first
	step    model.Step     // the innermost one whose own words it is in
}

// env is what the text is read against.
// With kit of the session's own, that stands in the place of the house's.
func (s *target) env() *model.Env { return s.snap.Env.For(s.written) }

// tiers is how many the house has.
func (s *target) tiers() int { return len(s.env().House.Tiers) }

// on says whether the place is in some words, of this file.
func (s *target) on(at source.Place) bool {
	return at.File == s.file.Src && at.Contains(s.off)
}

// onQuantity says whether the place is in the words of a quantity.
func (s *target) onQuantity(q *model.Quantity) bool { return q != nil && s.on(q.At) }

func targetAt(snap *workspace.Snapshot, f *workspace.File, off int) *target {
	s := &target{snap: snap, file: f, off: off}
	src := f.Src
	if i := src.LineAt(off); i < len(f.Syntax().Lines) {
		s.line = f.Syntax().Lines[i]
	}
	if s.line == nil || s.line.Parsed == nil {
		return s
	}
	s.root = f.RootAt(s.line.Body)
	sessions := f.Program().Sessions
	i := slices.IndexFunc(sessions, func(x *model.Session) bool { return x.Block.Contains(off) })
	if i < 0 {
		return s
	}
	s.written = sessions[i]
	s.session = s.written
	if s.root != nil {
		if sc, ok := s.root.Line.Stmt.(*syntax.Scaling); ok {
			s.version = s.written.FindVersion(sc.Name.Text)
		}
	}
	if s.version != nil {
		s.session = s.version.Session
	}
	s.find()
	return s
}

// find looks for the innermost step of the session whose words the place is in.
func (s *target) find() {
	s.session.Walk(model.Everything, func(st model.Step, around []*model.Group) bool {
		g, ok := st.(*model.Group)
		if ok {
			around = append(slices.Clip(around), g)
		}
		if s.on(st.Where()) {
			s.consider(st, around)
		}
		if ok {
			for _, r := range g.Rests {
				if s.on(r.At) {
					s.consider(r, around)
				}
			}
		}
		return true
	})
}

// consider takes a step that lies in the one found before, and so is closer to the place.
func (s *target) consider(st model.Step, around []*model.Group) {
	if s.step != nil && st.Where().Len() > s.step.Where().Len() {
		return
	}
	s.step, s.around, s.part = st, slices.Clone(around), around[0]
}

package hover

import (
	"cmp"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// A target is a place in a text, and what it lies in. What is not there is nil.
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
func (s *target) env() *model.Env { return s.snap.Env }

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
	s.root = rootOf(f.Syntax(), s.line)
	sessions := f.Program().Sessions
	i := slices.IndexFunc(sessions, func(x *model.Session) bool { return x.Block.Contains(off) })
	if i < 0 {
		return s
	}
	s.written = sessions[i]
	s.session = s.written
	if s.root != nil {
		if sc, ok := s.root.Line.Stmt.(*syntax.Scaling); ok {
			s.version = versionOf(s.written, sc.Name.Text)
		}
	}
	if s.version != nil {
		s.session = s.version.Session
	}
	s.find(s.session.Parts, nil)
	return s
}

// rootOf is the block at the margin that a line stands in.
func rootOf(f *syntax.File, l *syntax.Line) *syntax.Block {
	i, found := slices.BinarySearchFunc(f.Roots, l.Body, func(b *syntax.Block, at int) int { return cmp.Compare(b.Line.Body, at) })
	if !found {
		i--
	}
	if i < 0 {
		return nil
	}
	return f.Roots[i]
}

// find looks for the innermost step whose words the place is in.
func (s *target) find(groups []*model.Group, around []*model.Group) {
	for _, g := range groups {
		s.group(g, around)
	}
}

func (s *target) group(g *model.Group, around []*model.Group) {
	in := append(slices.Clip(around), g)
	if s.on(g.At) {
		s.consider(g, in)
	}
	s.steps(g.Steps, in)
	for _, e := range g.Events {
		s.steps(e.Steps, in)
	}
	for _, r := range g.Rests {
		if s.on(r.At) {
			s.consider(r, in)
		}
	}
}

func (s *target) steps(steps []model.Step, in []*model.Group) {
	for _, st := range steps {
		switch st := st.(type) {
		case *model.Group:
			s.group(st, in)
		case *model.Rest:
			if s.on(st.At) {
				s.consider(st, in)
			}
			s.steps(st.Steps, in)
		default:
			if s.on(st.Where()) {
				s.consider(st, in)
			}
		}
	}
}

// consider takes a step that lies in, and so is closer than, the one found before.
func (s *target) consider(st model.Step, around []*model.Group) {
	if s.step != nil && st.Where().Len() > s.step.Where().Len() {
		return
	}
	s.step, s.around, s.part = st, around, around[0]
}

func versionOf(s *model.Session, name string) *model.Version {
	i := slices.IndexFunc(s.Versions, func(v *model.Version) bool { return book.Key(v.Name) == book.Key(name) })
	if i < 0 {
		return nil
	}
	return s.Versions[i]
}

// partOf finds a part of a session by what it is called.
func partOf(s *model.Session, kind, letter string) *model.Group {
	i := slices.IndexFunc(s.Parts, func(g *model.Group) bool { return string(g.Kind) == kind && g.Letter == letter })
	if i < 0 {
		return nil
	}
	return s.Parts[i]
}

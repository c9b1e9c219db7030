package hover

import (
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// At is what there is to say of the place at an offset of a file; nil where there is
// nothing.
func At(snap *workspace.Snapshot, f *workspace.File, off int) *Card {
	s := targetAt(snap, f, off)
	if r, ok := refs.At(f.Refs(), off); ok {
		if c := s.nameCard(r); c != nil {
			c.At = r.At
			return c
		}
	}
	if s.line == nil || s.line.Parsed == nil || s.inFreeText() {
		return nil
	}
	if c := s.headCard(); c != nil {
		s.addMeaning(c)
		return c
	}
	if c := s.quantityCard(); c != nil {
		return c
	}
	if c := s.progressCard(); c != nil {
		return c
	}
	return s.keywordCard()
}

// addMeaning says first, on the card of a head, what the word means that the place is on.
func (s *target) addMeaning(c *Card) {
	word, _, ctx := s.keyword()
	if m := Meaning(ctx, word); m != "" && word != "part" && word != "warm-up" && word != "cool-down" && word != "at" {
		c.Rows = slices.Insert(c.Rows, 0, CardRow{Label: word, Text: m})
	}
}

// Named is what there is to say of a thing by its ID, seen from a file; nil where there is
// nothing.
func Named(snap *workspace.Snapshot, f *workspace.File, id refs.ID, name string) *Card {
	s := &target{snap: snap, file: f}
	return s.nameCard(refs.Ref{ID: id, Name: name, Known: true})
}

// inFreeText says whether the place is in a note or a comment.
func (s *target) inFreeText() bool {
	for _, t := range []*syntax.Text{s.line.Note, s.line.Comment} {
		if t != nil && s.off >= s.line.Span(t.Span).Start-1 {
			return true
		}
	}
	return false
}

// nameCard is the card of a name.
func (s *target) nameCard(r refs.Ref) *Card {
	switch r.Kind {
	case refs.Movement:
		if m, _ := s.env().Book.Lookup(r.Name); m != nil {
			return s.movementCard(m)
		}
	case refs.Session:
		if x, f := s.snap.Session(r.Name); x != nil {
			return s.sessionCard(x, f, s.dayVersion())
		}
	case refs.Scaling:
		return s.scalingCard(r)
	case refs.Rule:
		return s.ruleCard(r.Name)
	case refs.Kit:
		return s.kitCard(r.Name)
	case refs.Pattern:
		return s.patternCard(r.Name)
	case refs.Effort:
		return s.effortCard(r.Name)
	case refs.Cycle:
		return s.cycleCard(r.Name)
	case refs.House:
		return s.houseCard()
	}
	return nil
}

// dayVersion is the version that a day of a cycle plans, where the place is on such a day.
func (s *target) dayVersion() string {
	if s.line == nil || s.line.Parsed == nil {
		return ""
	}
	if p, ok := s.line.Stmt.(*syntax.Property); ok {
		return p.Version.Text
	}
	return ""
}

// headCard is the card of a part or of a group, where the place is on its head's words.
func (s *target) headCard() *Card {
	if kind, letter := s.partWords(); kind != "" && s.session != nil {
		g := s.session.FindPart(model.GroupKind(kind), letter)
		if g == nil {
			return nil
		}
		c := s.partCard(g)
		if c != nil && !s.on(c.At) { // a scaling's line, of a part that is written elsewhere
			c.At = s.file.Src.At(s.line.Span(s.line.Stmt.Extent()))
		}
		return c
	}
	g, ok := s.step.(*model.Group)
	switch {
	case !ok:
		return nil
	case g.IsSection():
		if s.onLoadOf(g) == nil {
			return s.partCard(g)
		}
	case g.Kind == model.Plain:
		if s.onLoadOf(g) == nil {
			return s.groupCard(g)
		}
	}
	return nil
}

// onLoadOf is the load of a head that the place is on.
func (s *target) onLoadOf(g *model.Group) *model.Load {
	for _, k := range g.With {
		for i := range k.Loads {
			if s.on(k.Loads[i].At) {
				return &k.Loads[i]
			}
		}
	}
	return nil
}

// partWords are the words of a part's name that the place is on: "part" and its letter,
// warm-up or cool-down, of a head or on a line of a scaling.
func (s *target) partWords() (kind, letter string) {
	at := func(kind string, l syntax.Name, start int) (string, string) {
		end := s.line.Toks[0].End
		if l.Text != "" {
			end = l.End
		}
		if kind != "" && s.off >= s.line.Body+start && s.off <= s.line.Body+end {
			return kind, l.Text
		}
		return "", ""
	}
	switch st := s.line.Stmt.(type) {
	case *syntax.Head:
		return at(st.Part, st.Letter, st.Start)
	case *syntax.Swap:
		return at(st.Part, st.Letter, st.Start)
	case *syntax.Lead:
		if st.Kind == "part" || st.Kind == "warm-up" || st.Kind == "cool-down" {
			return at(st.Kind, st.Letter, st.Start)
		}
	}
	return "", ""
}

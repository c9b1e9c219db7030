package codeaction

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// nameProbes are texts in which a name stands wherever one of its kind may, as NAME. A name
// is legal if it can be read in all of them.
var nameProbes = map[refs.SymbolKind]string{
	refs.Movement: `movement NAME
  trains squat

movement other
  also x, NAME
  easier NAME

session Probe

part A
  NAME
  10 NAME

scaling home
  NAME -> row
  row -> NAME

total 10 NAME
`,
	refs.Session: `session NAME

part A
  10 burpee

cycle Probe
  week 1
    mon NAME
    tue 7:00 NAME
    wed NAME, light
`,
	refs.Scaling: `house Probe
  needs x, NAME
  scaling NAME
  scaling other from NAME

session Probe

part A
  10 burpee

scaling NAME
scaling again from other, NAME

cycle Probe
  week 1
    mon Probe, NAME
`,
	refs.Kit: `house Probe
  scaling home
    has x, NAME
  kit
    2 NAME @ 10 kg

movement other
  needs NAME

session Probe

part A with NAME @ 6 kg
  10 burpee
`,
	refs.Effort: `house Probe
  effort NAME 80-85%

session Probe

part A
  2:00 row @ NAME
`,
	refs.Cycle: "cycle NAME\n",
	refs.House: "house NAME\n",
}

// checkName says why a name cannot be one of its kind, or nothing.
func checkName(s *workspace.Snapshot, kind refs.SymbolKind, name string) error {
	if book.Key(name) == "" {
		return fmt.Errorf("%q is no name: a name has letters", name)
	}
	var text strings.Builder
	var stand []source.Span
	for i, piece := range strings.Split(nameProbes[kind], "NAME") {
		if i > 0 {
			stand = append(stand, source.Span{Start: text.Len(), End: text.Len() + len(name)})
			text.WriteString(name)
		}
		text.WriteString(piece)
	}
	f := syntax.Parse(source.New("probe", text.String()))
	if len(f.Diags) > 0 {
		return fmt.Errorf("%q cannot be the name of a %s: %s; %s", name, kind, f.Diags[0].Message, f.Diags[0].Help)
	}
	found := refs.Of(f, s.Env)
	for _, at := range stand {
		if r, ok := refs.At(found, at.Start); !ok || r.Kind != kind || r.At.Span != at {
			return fmt.Errorf("%q cannot be the name of a %s: %s", name, kind, nameHelp(kind))
		}
	}
	return nil
}

func nameHelp(kind refs.SymbolKind) string {
	if kind == refs.Session {
		return "a cycle could not plan it by that name"
	}
	if kind == refs.Scaling {
		return "a version is called by words and numbers"
	}
	return "a name is letters, hyphens, apostrophes and blanks"
}

// checkClash says what has a name already, or nothing.
func checkClash(s *workspace.Snapshot, r refs.Ref, to string) error {
	same := book.Key(to) == r.Key && !r.Also
	switch r.Kind {
	case refs.Movement:
		return checkMovementClash(s, r, to)
	case refs.Session:
		if o, f := s.Session(to); o != nil && !same {
			return fmt.Errorf("%s has a session %s already: call this one otherwise", f.Path, o.Name)
		}
	case refs.Kit:
		if name, in := s.Env.Book.Kit(to); in && !same {
			return fmt.Errorf("there is kit called %s already: call this otherwise", name)
		}
	case refs.Effort:
		if s.Env.House.Efforts[book.Key(to)] != nil && !same {
			return fmt.Errorf("%s is a word for how hard already: call this otherwise", to)
		}
	case refs.Scaling, refs.Cycle:
		if same {
			return nil
		}
		for _, f := range s.Files {
			for _, o := range f.Refs() {
				if o.Def && o.Kind == r.Kind && o.Key == book.Key(to) && (o.In == r.In || o.In == "" || r.In == "") {
					return fmt.Errorf("%s has a %s %s already: call this one otherwise", f.Path, r.Kind, o.Name)
				}
			}
		}
	}
	return nil
}

func checkMovementClash(s *workspace.Snapshot, r refs.Ref, to string) error {
	own, _ := s.Env.Book.Lookup(r.Name)
	was := renamedName(s, r)
	for _, word := range append(book.Plurals(to), to) {
		m, claims := s.Env.Book.Lookup(word)
		switch {
		case m == nil && len(claims) == 0:
		case m == nil:
			return fmt.Errorf("%s is another name of %s already: call this movement otherwise", word, claims[0].Name)
		case m == own && inflection(was, word) != nil: // the name that it has, spelt otherwise
		case m == own && m.Called(word):
			return fmt.Errorf("that is what the movement is called itself: take %s out of its line also instead", was)
		case m == own:
			return fmt.Errorf("%s is another name of %s already: take it out of its line also first", word, m.Name)
		case !m.Called(word):
			return fmt.Errorf("%s is another name of %s already: call this movement otherwise", word, m.Name)
		case isBuiltin(m.Name):
			return fmt.Errorf("the built-in book has a movement %s already: call this one otherwise", m.Name)
		default:
			return fmt.Errorf("%s has a movement %s already: call this one otherwise", m.At.File.Name, m.Name)
		}
	}
	return nil
}

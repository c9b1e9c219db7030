package codeaction

import (
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/refs"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// A Renaming is another name for a thing wherever it stands.
type Renaming struct {
	Edits []diag.Edit
	// From and To are the paths of a file that is called after the thing and is to follow
	// it; empty where none is.
	From, To string
}

// Renamable is where the name at an offset stands and what it is in the singular, which a
// new name takes the place of. Where there is none, the name is empty; where it cannot be
// changed, the error says why and what to do.
func Renamable(s *workspace.Snapshot, f *workspace.File, off int) (at source.Place, name string, err error) {
	r, ok := refs.At(f.Refs(), off)
	if !ok {
		return at, "", nil
	}
	return r.At, renamedName(s, r), checkRenamable(s, r)
}

func checkRenamable(s *workspace.Snapshot, r refs.Ref) error {
	switch {
	case r.Kind == refs.Pattern || r.Kind == refs.Rule:
		return fmt.Errorf("a %s has the name that the notation gives it: %s stays", r.Kind, r.Name)
	case !r.Known:
		return fmt.Errorf("nothing declares %q yet, so there is nothing to rename", r.Name)
	case r.Kind == refs.Movement && r.Also && !declaresOtherName(s, r):
		return fmt.Errorf("the built-in book calls %s by that name, and that cannot be changed: "+
			"write it by the name you like", r.Name)
	case r.Kind == refs.Movement && !r.Also && isBuiltin(r.Name):
		return fmt.Errorf("%s is in the built-in book, where it cannot be renamed: "+
			"an entry movement %s with a line also gives it another name here", r.Name, r.Name)
	case r.Kind == refs.Kit && r.Also && declaresOtherName(s, r): // a word of the workspace's own
	case r.Kind == refs.Kit:
		if name, in := book.Builtin().Kit(r.Name); in {
			return fmt.Errorf("movements of the built-in book need the %s by that name, so it cannot be changed", name)
		}
	case r.Kind == refs.Effort && model.Defaults().Efforts[r.Key] != nil:
		return fmt.Errorf("%s is a word of stint itself and cannot be renamed: a line effort in the house adds another",
			r.Name)
	}
	return nil
}

// isBuiltin says whether the built-in book has a movement of that name.
func isBuiltin(name string) bool {
	m, _ := book.Builtin().Lookup(name)
	return m != nil && book.Key(m.Name) == book.Key(name)
}

// declaresOtherName says whether a line also of the workspace gives a movement the other name that
// stands there.
func declaresOtherName(s *workspace.Snapshot, r refs.Ref) bool {
	for _, o := range s.Uses(r.ID) {
		if o.Def && o.Also && inflection(o.At.Text(), r.At.Text()) != nil {
			return true
		}
	}
	return false
}

// Rename gives the thing at an offset another name wherever it stands. A name in the
// plural stays in it, and the other names of a movement stay what they are; on one of
// those, it is that name that changes.
func Rename(s *workspace.Snapshot, f *workspace.File, off int, to string) (*Renaming, error) {
	r, ok := refs.At(f.Refs(), off)
	if !ok {
		return nil, errors.New("no name stands here: " +
			"put the cursor on the name of a movement, session, scaling, cycle or piece of kit")
	}
	if err := checkRenamable(s, r); err != nil {
		return nil, err
	}
	if to = strings.Join(strings.Fields(to), " "); r.Kind != refs.Session && r.Kind != refs.Cycle &&
		r.Kind != refs.House {
		to = strings.ToLower(to)
	}
	if err := checkName(s, r.Kind, to); err != nil {
		return nil, err
	}
	if err := checkClash(s, r, to); err != nil {
		return nil, err
	}
	out := &Renaming{}
	was := renamedName(s, r)
	for _, o := range s.Uses(r.ID) {
		if o.Also != r.Also {
			continue
		}
		name := to
		if o.Kind == refs.Movement || o.Kind == refs.Kit {
			in := inflection(was, o.At.Text())
			if in == nil {
				continue // another of its names
			}
			name = in(to)
		}
		if o.At.Text() != name {
			out.Edits = append(out.Edits, diag.Edit{At: o.At, New: name})
		}
		if o.Def && !o.Also {
			out.renameFile(s, o, to)
		}
	}
	return out, nil
}

// renamedName is the name that a rename at a place changes, in the singular: the thing's own or,
// on another name of a movement, that one, as the line that gives it has it.
func renamedName(s *workspace.Snapshot, r refs.Ref) string {
	if !r.Also {
		return r.Name
	}
	for _, o := range s.Uses(r.ID) {
		if o.Def && o.Also && inflection(o.At.Text(), r.At.Text()) != nil {
			return o.At.Text()
		}
	}
	return r.At.Text()
}

// inflection is how a name is written, as what it makes of another name: that, or one of its
// plurals. It is nil where the words are another name.
func inflection(name, written string) func(string) string {
	k := book.Key(written)
	if k == book.Key(name) {
		return func(to string) string { return to }
	}
	i := slices.IndexFunc(book.Plurals(name), func(p string) bool { return book.Key(p) == k })
	if i < 0 {
		return nil
	}
	return func(to string) string {
		ps := book.Plurals(to)
		return ps[min(i, len(ps)-1)]
	}
}

// renameFile has the file renamed that is called after the thing that it declares, if it
// holds nothing else.
func (r *Renaming) renameFile(s *workspace.Snapshot, def refs.Ref, to string) {
	f := s.File(def.At.File.Name)
	if def.Kind == refs.Scaling || def.Kind == refs.Kit || def.Kind == refs.House || def.Kind == refs.Effort {
		return
	}
	entries := 0
	for _, b := range f.Syntax().Roots {
		if e, ok := b.Line.Stmt.(*syntax.Entry); ok && e.Kind != "stint" {
			entries++
		}
	}
	next := path.Join(path.Dir(f.Path), workspace.FileFor(to))
	if entries != 1 || path.Base(f.Path) != workspace.FileFor(def.Name) || next == f.Path || s.File(next) != nil {
		return
	}
	r.From, r.To = f.Path, next
}

// Package refs finds the references in a text: each name, what it resolves to, and whether it is
// declared there. Definition, references, rename and semantic tokens build on it.
package refs

import (
	"cmp"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// SymbolKind is what a name is the name of.
type SymbolKind string

// The kinds.
const (
	Movement SymbolKind = "movement"
	Session  SymbolKind = "session"
	Scaling  SymbolKind = "scaling"
	Cycle    SymbolKind = "cycle"
	House    SymbolKind = "house"
	Kit      SymbolKind = "kit"
	Pattern  SymbolKind = "pattern"
	Rule     SymbolKind = "rule"
	Effort   SymbolKind = "effort" // a word for how hard
)

// An ID tells things apart. Two names with one ID are names of one thing.
type ID struct {
	Kind SymbolKind
	Key  string // the key of its name (book.Key)
	// In is the key of the session that a scaling belongs to. It is empty for one that the
	// house declares, which is the same in every session.
	In string
}

// A Ref is a name where it stands.
type Ref struct {
	ID
	Name  string       // as whoever declares it has it; as written where nothing does
	At    source.Place // the words
	Def   bool         // it is declared here
	Also  bool         // it is another name than the movement's own
	Known bool         // something declares it, or the notation has it
}

// Of finds the names in a file, in the order in which they stand.
func Of(f *syntax.File, env *model.Env) []Ref {
	w := walker{file: f, env: env}
	for _, b := range f.Roots {
		w.root(b)
	}
	slices.SortStableFunc(w.out, func(a, b Ref) int { return cmp.Compare(a.At.Start, b.At.Start) })
	return w.out
}

// At is the name among those of a file that an offset is in. The end of a name counts, so
// that a cursor behind its last letter is still on it.
func At(rs []Ref, off int) (Ref, bool) {
	i := slices.IndexFunc(rs, func(r Ref) bool { return r.At.Contains(off) })
	if i < 0 {
		return Ref{}, false
	}
	return rs[i], true
}

type walker struct {
	file    *syntax.File
	env     *model.Env
	session string // the key of the one that lines at the margin belong to
	out     []Ref
}

func (w *walker) add(l *syntax.Line, n syntax.Name, r Ref) {
	if n.Text == "" {
		return
	}
	r.At = w.file.Src.At(l.Span(n.Span))
	if r.Name == "" {
		r.Name = n.Text
	}
	if r.Key == "" {
		r.Key = book.Key(r.Name)
	}
	w.out = append(w.out, r)
}

func (w *walker) root(b *syntax.Block) {
	switch e := b.Line.Stmt.(type) {
	case *syntax.Entry:
		w.entry(b, e)
	default:
		w.block(b, "")
	}
}

func (w *walker) entry(b *syntax.Block, e *syntax.Entry) {
	w.session = ""
	kinds := map[string]SymbolKind{"session": Session, "movement": Movement, "house": House, "cycle": Cycle}
	kind, ok := kinds[e.Kind]
	if !ok {
		return // the version of the notation
	}
	name := e.Name.Text
	if kind == Movement {
		if m, _ := w.env.Book.Lookup(name); m != nil {
			name = m.Name
		}
	}
	w.add(b.Line, e.Name, Ref{ID: ID{Kind: kind}, Name: name, Def: true, Known: true})
	if kind == Session {
		w.session = book.Key(name)
	}
	for _, k := range b.Kids {
		w.block(k, kind)
	}
}

// block walks a line and what stands under it. In is the kind of entry that it is in, or
// empty for the lines of a session at the margin.
func (w *walker) block(b *syntax.Block, in SymbolKind) {
	w.stmt(b.Line, b.Line.Stmt, in)
	if p, ok := b.Line.Stmt.(*syntax.Property); ok && p.Key == "kit" {
		for _, k := range b.Kids {
			if it, ok := k.Line.Stmt.(*syntax.Item); ok {
				for _, m := range it.Moves {
					w.kit(k.Line, m.Name, true)
				}
			}
			w.kitNames(k)
			w.waivers(k)
		}
		return
	}
	for _, k := range b.Kids {
		w.block(k, in)
	}
}

// kitNames are the other names of a line of kit.
func (w *walker) kitNames(b *syntax.Block) {
	for _, k := range b.Kids {
		if p, ok := k.Line.Stmt.(*syntax.Property); ok && p.Key == "also" {
			for _, n := range p.Names {
				w.kit(k.Line, n, true)
			}
		}
	}
}

// waivers are the names in the waivers under a line whose other lines have been read.
func (w *walker) waivers(b *syntax.Block) {
	for _, k := range b.Kids {
		if p, ok := k.Line.Stmt.(*syntax.Property); !ok || p.Key != "also" {
			w.block(k, House)
		}
	}
}

func (w *walker) stmt(l *syntax.Line, s syntax.Stmt, in SymbolKind) {
	switch s := s.(type) {
	case *syntax.Property:
		w.property(l, s, in)
	case *syntax.Scaling:
		w.scaling(l, s.Name, true)
		for _, n := range s.From {
			w.scaling(l, n, false)
		}
	case *syntax.Head:
		w.clauses(l, s.Clauses)
		w.stmt(l, s.Inline, in)
	case *syntax.Lead:
		w.stmt(l, s.Inline, in)
	case *syntax.Item:
		w.item(l, s)
	case *syntax.Rest:
		w.stmt(l, s.Inline, in)
	case *syntax.Swap:
		w.stmt(l, s.From, in)
		w.stmt(l, s.To, in)
	case *syntax.ClauseSide:
		w.clauses(l, []syntax.Clause{s.Clause})
	case *syntax.LoadSide:
		w.loads(l, s.Loads)
	}
}

func (w *walker) property(l *syntax.Line, p *syntax.Property, in SymbolKind) {
	for _, n := range p.Names {
		switch p.Key {
		case "also":
			w.movement(l, n)
			if last := len(w.out) - 1; last >= 0 {
				w.out[last].Def = true
			}
		case "easier", "harder", "instead", "progress":
			w.movement(l, n)
		case "trains":
			known := slices.Contains(book.Patterns, book.Pattern(strings.ToLower(n.Text)))
			w.add(l, n, Ref{ID: ID{Kind: Pattern}, Name: strings.ToLower(n.Text), Known: known})
		case "needs", "has":
			if p.Key == "needs" && in == House {
				w.scaling(l, n, false)
			} else if !strings.EqualFold(n.Text, "nothing") {
				w.kit(l, n, false)
			}
		case "allow", "rule":
			w.add(l, n, Ref{ID: ID{Kind: Rule}, Name: n.Text, Known: true})
		case "effort":
			w.add(l, n, Ref{ID: ID{Kind: Effort}, Name: strings.ToLower(n.Text), Def: true, Known: true})
		}
		if slices.Contains(syntax.Weekdays, p.Key) && !strings.EqualFold(n.Text, "rest") {
			name, ok := w.env.Sessions[book.Key(n.Text)]
			if !ok {
				name = n.Text
			}
			w.add(l, n, Ref{ID: ID{Kind: Session}, Name: name, Known: ok})
			before := w.session
			w.session = book.Key(name)
			w.scaling(l, p.Version, false)
			w.session = before
		}
	}
	for i := range p.Or {
		for _, n := range p.Or[i] {
			w.kit(l, n, false)
		}
	}
	for _, it := range p.Items {
		w.item(l, it)
	}
	w.loads(l, p.Loads)
	if p.Rest != nil {
		w.stmt(l, p.Rest, in)
	}
}

func (w *walker) item(l *syntax.Line, it *syntax.Item) {
	for _, m := range it.Moves {
		w.movement(l, m.Name)
	}
	w.loads(l, it.Loads)
	w.clauses(l, it.Clauses)
}

func (w *walker) movement(l *syntax.Line, n syntax.Name) {
	r := Ref{ID: ID{Kind: Movement}}
	if m, _ := w.env.Book.Lookup(n.Text); m != nil {
		r.Name, r.Known, r.Also = m.Name, true, !m.Called(n.Text)
	}
	w.add(l, n, r)
}

func (w *walker) kit(l *syntax.Line, n syntax.Name, def bool) {
	r := Ref{ID: ID{Kind: Kit}, Def: def}
	r.Name, r.Known = w.env.Book.Kit(n.Text)
	r.Also = r.Known && !book.Called(r.Name, n.Text)
	w.add(l, n, r)
}

func (w *walker) scaling(l *syntax.Line, n syntax.Name, def bool) {
	r := Ref{ID: ID{Kind: Scaling}, Name: strings.ToLower(n.Text), Known: true}
	if h := w.env.House.Scaling(n.Text); h != nil {
		r.Name = h.Name
		// In a session it only says what changes.
		r.Def = def && h.At.File == w.file.Src
	} else {
		r.In, r.Def = w.session, def
	}
	w.add(l, n, r)
}

func (w *walker) clauses(l *syntax.Line, cs []syntax.Clause) {
	for _, c := range cs {
		if c.Kind == syntax.With {
			w.kit(l, c.Kit, false)
		}
		w.loads(l, c.Loads)
		if c.Rest != nil {
			w.stmt(l, c.Rest, "")
		}
	}
}

func (w *walker) loads(l *syntax.Line, lds []syntax.Load) {
	for _, ld := range lds {
		if ld.Kind == syntax.Named {
			_, known := w.env.House.Efforts[book.Key(ld.Word.Text)]
			w.add(l, ld.Word, Ref{ID: ID{Kind: Effort}, Name: strings.ToLower(ld.Word.Text), Known: known})
		}
		if m, _ := w.env.Book.Lookup(ld.Base.Text); m != nil && ld.Base.Text != "" {
			w.movement(l, ld.Base)
		}
	}
}

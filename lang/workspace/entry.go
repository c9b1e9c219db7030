package workspace

import (
	"sort"

	"stint.example/stint/lang/syntax"
)

// RootAt is the block at the margin that an offset is in, or nil above the first.
func (f *File) RootAt(off int) *syntax.Block {
	roots := f.Syntax().Roots
	i := sort.Search(len(roots), func(i int) bool { return roots[i].Line.Body > off })
	if i == 0 {
		return nil
	}
	return roots[i-1]
}

// EntryAt is the entry that an offset is in: the last one declared above it, or nil. The lines of
// a session at the margin are in its entry. It looks at the tree alone, which is far cheaper than
// the program.
func (f *File) EntryAt(off int) *syntax.Block {
	var last *syntax.Block
	for _, b := range f.Syntax().Roots {
		if b.Line.Body > off {
			break
		}
		if _, ok := b.Line.Stmt.(*syntax.Entry); ok {
			last = b
		}
	}
	return last
}

// SessionNameAt is the name of the session that an offset is in, as written; empty where it is
// in none.
func (f *File) SessionNameAt(off int) string {
	b := f.EntryAt(off)
	if b == nil {
		return ""
	}
	if e := b.Line.Stmt.(*syntax.Entry); e.Kind == "session" {
		return e.Name.Text
	}
	return ""
}

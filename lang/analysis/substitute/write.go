package substitute

import (
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// WriteScaling is an edit that writes swaps from the book into a session's scaling of a
// name, the one that it has or a new one, so that its members can do all of it with the kit
// that they have. Left names the work that the book has nothing for. There is no edit where
// nothing lacks.
func WriteScaling(env *model.Env, f *syntax.File, s *model.Session, version string) (e diag.Edit, left []string, ok bool) {
	swaps, lack := Replacements(env, s, version)
	if len(swaps) == 0 {
		return e, nil, false
	}
	return WriteSwaps(f, s, version, swaps), Names(lack), true
}

// WriteSwaps is an edit that puts swaps into a session's scaling of a name: before its
// totals or, where it has none, in a scaling of their own behind the session.
func WriteSwaps(f *syntax.File, s *model.Session, version string, swaps []Replacement) diag.Edit {
	b := ScalingBlock(f, s, version)
	if b == nil {
		end := s.Block.Start
		for _, r := range f.Roots {
			if r.Line.Stmt != nil && s.Block.Contains(r.Line.Body) {
				end = max(end, endOf(r)) // a comment behind it may be of the next session
			}
		}
		at := source.Span{Start: end, End: end}
		return diag.Edit{At: f.Src.At(at), New: Block(version, swaps)}
	}
	last := b
	for _, k := range b.Kids {
		if prop, ok := k.Line.Stmt.(*syntax.Property); ok && prop.Key == "total" {
			break
		}
		last = k
	}
	end := last.Line.Body + last.Line.Len
	if last != b {
		end = endOf(last)
	}
	indent := "\n" + strings.Repeat("  ", b.Line.Depth+1)
	return diag.Edit{At: f.Src.At(source.Span{Start: end, End: end}), New: indent + strings.Join(Lines(swaps), indent)}
}

// ScalingBlock is the session's own scaling of a name, or nil.
func ScalingBlock(f *syntax.File, s *model.Session, name string) *syntax.Block {
	for _, b := range f.Roots {
		if sc, ok := b.Line.Stmt.(*syntax.Scaling); ok && s.Block.Contains(b.Line.Body) && book.Key(sc.Name.Text) == book.Key(name) {
			return b
		}
	}
	return nil
}

// endOf is where the last line of a block ends.
func endOf(b *syntax.Block) int {
	end := b.Line.Body + b.Line.Len
	for _, k := range b.Kids {
		end = max(end, endOf(k))
	}
	return end
}

// Names are the movements, or the kit that is carried, of work that the book has nothing
// instead of, each once.
func Names(left []Lack) []string {
	var out []string
	for _, l := range left {
		name := strings.Join(l.Kit, " and ")
		if l.Work != nil {
			name = l.Work.MoveNames()
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

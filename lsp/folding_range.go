package lsp

import (
	"cmp"
	"slices"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// folding are the lines that can be folded away: what stands under a line, all of a
// session under its name, and runs of comments.
func (v *view) folding(protocol.FoldingRangeParams) ([]protocol.FoldingRange, error) {
	f := foldingCollector{view: v}
	roots := v.file.Syntax().Roots
	for i, b := range roots {
		e, entry := b.Line.Stmt.(*syntax.Entry)
		if !entry || e.Kind != "session" {
			f.block(b, 1)
			continue
		}
		all := spanOf(b)
		for _, next := range roots[i+1:] {
			if _, entry := next.Line.Stmt.(*syntax.Entry); entry {
				break
			}
			all = all.Join(spanOf(next))
		}
		f.add(all, 0, protocol.FoldingRangeKindRegion)
		for _, k := range b.Kids {
			f.block(k, 1)
		}
	}
	f.comments()
	return f.limited(), nil
}

// foldingCollector gathers what can be folded, with how deep it is nested.
type foldingCollector struct {
	*view
	found []nestedRange
}

type nestedRange struct {
	protocol.FoldingRange
	depth int
}

// block adds what stands under a line, and so on in it.
func (f *foldingCollector) block(b *syntax.Block, depth int) {
	if len(b.Kids) > 0 {
		f.add(spanOf(b), depth, protocol.FoldingRangeKindRegion)
	}
	for _, k := range b.Kids {
		f.block(k, depth+1)
	}
}

// comments adds runs of lines that are nothing but comments.
func (f *foldingCollector) comments() {
	lines := f.file.Syntax().Lines
	for i := 0; i < len(lines); i++ {
		start := i
		for i < len(lines) && lines[i].Comment != nil && lines[i].Stmt == nil && lines[i].Note == nil {
			i++
		}
		if i > start {
			f.add(source.Span{Start: lines[start].Body, End: lines[i-1].Body}, lines[start].Depth+1,
				protocol.FoldingRangeKindComment)
		}
	}
}

// add adds the lines of a span, if they are more than one.
func (f *foldingCollector) add(at source.Span, depth int, kind protocol.FoldingRangeKind) {
	r := f.rangeOf(f.file.Src.At(at))
	if r.Start.Line < r.End.Line {
		fold := protocol.FoldingRange{StartLine: r.Start.Line, EndLine: r.End.Line, Kind: kind}
		f.found = append(f.found, nestedRange{fold, depth})
	}
}

// limited is what was found, by line, or as much of it as the client takes: the outermost.
func (f *foldingCollector) limited() []protocol.FoldingRange {
	if t := f.caps.client.TextDocument; t != nil && t.FoldingRange != nil && t.FoldingRange.RangeLimit != nil {
		slices.SortStableFunc(f.found, func(a, b nestedRange) int { return cmp.Compare(a.depth, b.depth) })
		f.found = f.found[:min(len(f.found), int(*t.FoldingRange.RangeLimit))]
	}
	slices.SortStableFunc(f.found, func(a, b nestedRange) int {
		return cmp.Or(cmp.Compare(a.StartLine, b.StartLine), cmp.Compare(b.EndLine, a.EndLine))
	})
	out := make([]protocol.FoldingRange, len(f.found))
	for i, r := range f.found {
		out[i] = r.FoldingRange
	}
	return out
}

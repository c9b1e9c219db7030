package coaching

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var EasierMissing = check.Rule{Name: "easier-missing", Family: "coaching", Severity: diag.Suggestion,
	Summary: "a movement of the workspace's own that has no easier form",
	File: func(p *check.Pass, f *model.File) {
		eachOwnMovement(p, f, func(m *book.Movement, b *syntax.Block) {
			if len(m.Easier) > 0 || easiest(m) {
				return
			}
			d := diag.Diagnostic{At: m.At, Message: fmt.Sprintf("the %s has no easier form", m.Name),
				Label: "none here, and none in the book",
				Help:  "add a line like easier ring row, with what somebody does who cannot do this yet"}
			if names := easierBy(p, m); len(names) > 0 {
				at := b.Line.Body + b.Line.Len
				for _, k := range b.Kids {
					if _, ok := k.Line.Stmt.(*syntax.Property); ok {
						at = max(at, k.Line.Body+k.Line.Len)
					}
				}
				line := "easier " + names[0]
				d.Help = "add " + line + ", which the book calls this a harder form of, or another"
				d.Fixes = []diag.Fix{{Title: "add " + line,
					Edits: []diag.Edit{{At: f.Syntax.Src.At(source.Span{Start: at, End: at}), New: "\n  " + line}}}}
			}
			p.Report(d)
		})
	}}

// easiest says whether nothing easier is asked for: mobility and getting about without kit.
func easiest(m *book.Movement) bool {
	t := m.Main()
	return len(m.Needs) == 0 && (t == book.Mobility || t == book.Crawl || t.Cyclic())
}

// easierBy are the movements of which the book says that m is a harder form.
func easierBy(p *check.Pass, m *book.Movement) (names []string) {
	for _, o := range p.Env.Book.Movements() {
		if slices.ContainsFunc(o.Harder, func(n string) bool { return book.Key(n) == book.Key(m.Name) }) &&
			!slices.Contains(m.Harder, o.Name) {
			names = append(names, o.Name)
		}
	}
	return names
}

// Package syntax reads text in the notation into a tree that loses nothing of it.
//
// Reading never fails. Each line is read on its own; how it is read depends on its
// first word and on the kind of block that it stands in, and on nothing else, so one
// bad line spoils no other. What cannot be read becomes a Bad statement that keeps its
// place and the lines under it.
package syntax

import (
	"fmt"
	"strings"
	"sync"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// maxDepth is how deep blocks nest. Nobody writes half as deep; the limit keeps the
// stack of whoever walks the tree small on nonsense.
const maxDepth = 40

// Parse reads a text.
func Parse(src *source.File) *File { return new(Cache).Parse(src) }

// A Cache reads texts and remembers lines: an archive of sessions says the same lines
// over and over, and an edit changes one. It may be used from several goroutines. The
// zero value is ready.
type Cache struct {
	lines sync.Map // from lineKey to *Parsed
}

type lineKey struct {
	body string
	ctx  Context
}

func (c *Cache) line(body string, ctx Context) *Parsed {
	if p, ok := c.lines.Load(lineKey{body, ctx}); ok {
		return p.(*Parsed)
	}
	p := parseLine(body, ctx)
	// The key is a copy, so that remembering a line does not keep its whole file.
	c.lines.Store(lineKey{strings.Clone(body), ctx}, p)
	return p
}

// Parse reads a text, with the cache's help.
func (c *Cache) Parse(src *source.File) *File {
	f := &File{Src: src, Lines: make([]*Line, 0, src.Lines())}
	a := assembler{file: f}
	for i := range src.Lines() {
		span := src.Line(i)
		text := src.Slice(span)
		body := strings.TrimLeftFunc(text, func(r rune) bool { return isBlank(r) || isInvisible(r) })
		indent := text[:len(text)-len(body)]
		if body == "" {
			f.Lines = append(f.Lines, &Line{Body: span.Start + len(indent), Parsed: blank})
			continue
		}
		depth, odd := depthOf(indent)
		ctx, at := a.place(depth)
		l := &Line{Body: span.Start + len(indent), Depth: at, Parsed: c.line(body, ctx)}
		f.Lines = append(f.Lines, l)
		if (odd != "" || depth > at) && l.Stmt != nil {
			a.indent(l, indent, odd, depth, at)
		}
		a.add(l)
	}
	for _, l := range f.Lines {
		for _, d := range l.diags {
			f.Diags = append(f.Diags, d.diagnostic(l, src))
		}
	}
	f.plain()
	diag.Sort(f.Diags)
	return f
}

var blank = &Parsed{}

// depthOf is how many levels an indent makes, and what is odd about it.
func depthOf(indent string) (depth int, odd string) {
	blanks, tabs := 0, 0
	for _, r := range indent {
		switch {
		case r == '\t':
			tabs++
		case isBlank(r):
			blanks++
		}
	}
	switch {
	case tabs > 0:
		odd = "a tab stands in the indent"
	case blanks%2 == 1:
		odd = fmt.Sprintf("the line is indented by %d blanks", blanks)
	}
	return tabs + blanks/2, odd
}

// An assembler hangs lines under the nearest line above that is less deep.
type assembler struct {
	file *File
	open []*Block // the last block at each depth
}

// place says what kind of block a line of that depth stands in, and how deep it then
// really is.
func (a *assembler) place(depth int) (Context, int) {
	at := min(depth, len(a.open), maxDepth)
	if at == 0 {
		return InFile, 0
	}
	return a.open[at-1].Line.opens, at
}

func (a *assembler) add(l *Line) {
	b := &Block{Line: l}
	if l.Stmt == nil && l.Note == nil {
		return // a comment opens nothing and closes nothing
	}
	if l.Depth == 0 {
		a.file.Roots = append(a.file.Roots, b)
	} else {
		parent := a.open[l.Depth-1]
		parent.Kids = append(parent.Kids, b)
	}
	if l.Stmt == nil {
		return // so a note under a head does not take the lines below it
	}
	a.open = append(a.open[:l.Depth], b)
}

// indent reports an indent that is not two blanks a level, or a line too deep for
// what stands above it.
func (a *assembler) indent(l *Line, indent, odd string, depth, at int) {
	src := a.file.Src
	span := source.Span{Start: l.Body - len(indent), End: l.Body}
	want := strings.Repeat("  ", at)
	d := diag.Diagnostic{Rule: indentOdd, Severity: diag.Error, At: src.At(span), Message: odd,
		Help: "each level is two blanks",
		Fixes: []diag.Fix{{Title: fmt.Sprintf("indent it by %d blanks", len(want)), Safe: true,
			Edits: []diag.Edit{{At: src.At(span), New: want}}}}}
	if depth > at {
		d.Message = fmt.Sprintf("the line is %d levels deep, but what stands above it opens only %d", depth, at)
		d.Help = "it is read as if it were indented by " + fmt.Sprint(len(want)) + " blanks; each level is two"
	} else {
		d.Severity = diag.Suggestion
		d.Message += "; the notation uses two blanks a level"
	}
	a.file.Diags = append(a.file.Diags, d)
}

func (d lineDiag) diagnostic(l *Line, src *source.File) diag.Diagnostic {
	out := diag.Diagnostic{Rule: d.rule, Severity: diag.Error, At: src.At(l.Span(d.span)), Message: d.message, Label: d.label, Help: d.help}
	if d.fix != nil {
		out.Fixes = []diag.Fix{{Title: d.fix.title, Safe: d.fix.safe,
			Edits: []diag.Edit{{At: src.At(l.Span(d.fix.span)), New: d.fix.new}}}}
	}
	return out
}

// plain suggests, once a file, to write the plain characters that were read in the
// place of what a keyboard or an editor left.
func (f *File) plain() {
	var first *Line
	var fix diag.Fix
	for _, l := range f.Lines {
		if l.Parsed == blank {
			continue
		}
		for _, p := range l.Parsed.plain {
			if first == nil {
				first = l
			}
			fix.Edits = append(fix.Edits, diag.Edit{At: f.Src.At(l.Span(p.Span)), New: p.plain})
		}
	}
	if first == nil {
		return
	}
	n := len(fix.Edits)
	fix.Title, fix.Safe = "write the plain characters", true
	d := diag.Diagnostic{Rule: plainer_, Severity: diag.Suggestion, At: fix.Edits[0].At,
		Message: "this character is read as a plain one", Help: "stint fmt writes - for dashes, ' for apostrophes, ... for dots and plain blanks",
		Fixes: []diag.Fix{fix}}
	if n > 1 {
		d.Message = fmt.Sprintf("this character, and %d more in the file, are read as plain ones", n-1)
	}
	f.Diags = append(f.Diags, d)
}

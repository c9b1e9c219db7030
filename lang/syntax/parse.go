// Package syntax reads text in the notation into a tree that loses nothing of it.
//
// Reading never fails. Each line is read on its own; how it is read depends on its
// first word and on the kind of block that it stands in, and on nothing else, so one
// bad line affects no other. What cannot be read becomes a Bad statement that keeps its
// place and the lines under it.
package syntax

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// maxDepth is how deep blocks nest. Nobody writes half as deep; the limit keeps the
// stack of a traversal small on nonsense.
const maxDepth = 40

// Parse reads a text.
func Parse(src *source.File) *File { return new(Cache).Parse(src) }

// Parse reads a text, with the cache's help.
func (c *Cache) Parse(src *source.File) *File {
	f := &File{Src: src, Lines: make([]*Line, 0, src.Lines())}
	if isUTF16(src.Text) {
		f.keepUnread()
		return f
	}
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
		if ctx == InNothing && l.misplaced {
			// It is too deep: the line above holds notes and waivers only.
			for ctx == InNothing {
				ctx, at = a.place(at - 1)
			}
			l.Depth, l.Parsed = at, c.line(body, ctx)
		}
		if odd != "" && l.Bad {
			// One blank too few may have been meant as well as one too many.
			if ctx, up := a.place(depth + 1); up > at {
				if p := c.line(body, ctx); !p.Bad {
					l.Depth, l.Parsed = up, p
				}
			}
		}
		f.Lines = append(f.Lines, l)
		if (odd != "" || depth > l.Depth) && l.Stmt != nil {
			a.indent(l, indent, odd, depth)
		}
		a.add(l)
	}
	told := f.workUnderColon()
	for _, l := range f.Lines {
		if told[l] {
			continue
		}
		for _, d := range l.diags {
			f.Diags = append(f.Diags, d.diagnostic(l, src))
		}
	}
	f.suggestPlain()
	diag.Sort(f.Diags)
	return f
}

// workUnderColon reports parts of scalings that end in a colon with nothing but work under them, once a part, and
// returns the lines of that work.
func (f *File) workUnderColon() map[*Line]bool {
	told := map[*Line]bool{}
	var visit func(bs []*Block)
	visit = func(bs []*Block) {
		for _, b := range bs {
			under := linesUnder(b)
			lead, ok := b.Line.Stmt.(*Lead)
			if !ok || b.Line.opens != InScaling || len(under) == 0 ||
				slices.ContainsFunc(under, func(l *Line) bool { return !swapsNothing(l) }) {
				visit(b.Kids)
				continue
			}
			for _, l := range under {
				told[l] = true
			}
			f.Diags = append(f.Diags, f.workUnder(b.Line, under[len(under)-1], lead))
		}
	}
	visit(f.Roots)
	return told
}

// swapsNothing says whether a line of a scaling has no arrow, and nothing else that belongs there.
func swapsNothing(l *Line) bool {
	return slices.ContainsFunc(l.diags, func(d lineDiag) bool { return d.noSwap })
}

// linesUnder are the lines under a block, in order.
func linesUnder(b *Block) []*Line {
	var out []*Line
	for _, k := range b.Kids {
		out = append(append(out, k.Line), linesUnder(k)...)
	}
	return out
}

// workUnder is the error of one such part, with both of what may be meant.
func (f *File) workUnder(l, last *Line, lead *Lead) diag.Diagnostic {
	first, end := f.Src.Line(f.Src.LineAt(l.Body)), f.Src.Line(f.Src.LineAt(last.Body))
	whole := source.Span{Start: first.Start, End: min(end.End+1, len(f.Src.Text))}
	colon := l.Toks[slices.IndexFunc(l.Toks, func(t Tok) bool { return t.Kind == Colon })]
	place := strings.TrimSpace(lead.Kind + " " + lead.Letter.Text)
	return diag.Diagnostic{Rule: unreadable, Severity: diag.Error, At: f.Src.At(l.Span(lead.Extent())),
		Message: fmt.Sprintf("behind the colon of %s stands what takes the place of what in it, and under it is work", place),
		Help:    fmt.Sprintf("write %s -> to do this in its place, or take the block out", place),
		Fixes: []diag.Fix{
			{Title: "write " + place + " -> to do this in its place", Edits: []diag.Edit{{At: f.Src.At(l.Span(colon.Span)), New: " ->"}}},
			{Title: "take the block out", Edits: []diag.Edit{{At: f.Src.At(whole)}}},
		}}
}

// isUTF16 reports whether a text starts with the byte order mark of UTF-16, in which some
// editors save.
func isUTF16(text string) bool {
	return strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff")
}

// keepUnread keeps the lines of a text that is not in UTF-8 as they are, and reports that once.
func (f *File) keepUnread() {
	f.NotUTF8 = true
	for i := range f.Src.Lines() {
		s := f.Src.Line(i)
		body := f.Src.Slice(s)
		l := &Line{Body: s.Start, Parsed: blank}
		f.Lines = append(f.Lines, l)
		if body == "" {
			continue
		}
		l.Parsed = &Parsed{Text: body, Len: len(body), Bad: true, Stmt: &Bad{node{source.Span{End: len(body)}}},
			Toks: []Tok{{Kind: Odd, Span: source.Span{End: len(body)}, Raw: body}}}
		f.Roots = append(f.Roots, &Block{Line: l})
	}
	f.Diags = append(f.Diags, diag.Diagnostic{Rule: oddCharacter, Severity: diag.Error, At: f.Src.At(source.Span{End: 2}),
		Message: "the file is saved as UTF-16 and cannot be read", Help: "save it as UTF-8: editors have that beside the file's name when they save"})
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
	case blanks == 1:
		odd = "one blank stands before the line"
	case blanks%2 == 1:
		odd = fmt.Sprintf("%d blanks stand before the line", blanks)
	}
	return tabs + blanks/2, odd
}

// An assembler attaches lines to the nearest line above that is less deep.
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

// add attaches a line to the tree. A comment opens nothing and closes nothing, a note
// does not take the lines below it from their head, and neither does a line that cannot
// be read and is no head: whoever writes "12 burpee" at the margin, in the middle of a
// part, gets a message for that line alone. It is attached to the block that is open, at its own depth.
func (a *assembler) add(l *Line) {
	b := &Block{Line: l}
	if l.Stmt == nil && l.Note == nil {
		return
	}
	_, bad := l.Stmt.(*Bad)
	if bad && l.opens == InNothing && len(a.open) > l.Depth {
		last := a.open[len(a.open)-1]
		last.Kids = append(last.Kids, b)
		return
	}
	if l.Depth == 0 {
		a.file.Roots = append(a.file.Roots, b)
	} else {
		parent := a.open[l.Depth-1]
		parent.Kids = append(parent.Kids, b)
	}
	if l.Stmt == nil {
		return
	}
	a.open = append(a.open[:l.Depth], b)
}

// indent reports an indent that is not two blanks a level, or a line too deep for
// what stands above it.
func (a *assembler) indent(l *Line, indent, odd string, depth int) {
	src, at := a.file.Src, l.Depth
	if depth > at && l.misplaced {
		return // that has been said, and is the same mistake
	}
	span := source.Span{Start: l.Body - len(indent), End: l.Body}
	want := strings.Repeat("  ", at)
	d := diag.Diagnostic{Rule: indentOdd, Severity: diag.Error, At: src.At(span), Message: odd,
		Help: "each level is two blanks",
		Fixes: []diag.Fix{{Title: fmt.Sprintf("indent it by %d blanks", len(want)), Safe: true,
			Edits: []diag.Edit{{At: src.At(span), New: want}}}}}
	if at == 0 {
		d.Fixes[0].Title = "put it at the margin"
	}
	if depth > at {
		d.Message = "the line is indented too far for what stands above it"
		d.Help = "it is read as if it were indented by " + fmt.Sprint(len(want)) + " blanks; each level is two, and work goes under a part or another head"
	} else {
		d.Severity = diag.Suggestion
		d.Message += ", where each level is two blanks"
		d.Help = d.Fixes[0].Title + ", or run stint fmt"
	}
	a.file.Diags = append(a.file.Diags, d)
}

func (d lineDiag) diagnostic(l *Line, src *source.File) diag.Diagnostic {
	out := diag.Diagnostic{Rule: d.rule, Severity: diag.Error, At: src.At(l.Span(d.span)), Message: d.message, Label: d.label, Help: d.help}
	if d.fix != nil {
		for _, fix := range append([]lineFix{*d.fix}, d.others...) {
			out.Fixes = append(out.Fixes, diag.Fix{Title: fix.title, Safe: fix.safe,
				Edits: []diag.Edit{{At: src.At(l.Span(fix.span)),
					New: strings.ReplaceAll(fix.text, "\n", "\n"+strings.Repeat("  ", l.Depth))}}})
		}
	}
	return out
}

// suggestPlain suggests, once a file, to write the plain characters that typographic ones
// were read as.
func (f *File) suggestPlain() {
	var fix diag.Fix
	for i, l := range f.Lines {
		whole := f.Src.Line(i)
		for _, p := range plainIndent(f.Src.Slice(source.Span{Start: whole.Start, End: l.Body})) {
			fix.Edits = append(fix.Edits, diag.Edit{At: f.Src.At(p.Shift(whole.Start)), New: p.plain})
		}
		for _, p := range l.Parsed.plain {
			fix.Edits = append(fix.Edits, diag.Edit{At: f.Src.At(l.Span(p.Span)), New: p.plain})
		}
		if end := whole.End; f.Src.Slice(source.Span{Start: end, End: end + 1}) == "\r" {
			fix.Edits = append(fix.Edits, diag.Edit{At: f.Src.At(source.Span{Start: end, End: end + 1})})
		}
	}
	if len(fix.Edits) == 0 {
		return
	}
	fix.Title, fix.Safe = "write the plain characters", true
	first := fix.Edits[0]
	d := diag.Diagnostic{Rule: plainCharacters, Severity: diag.Suggestion, At: first.At, Message: plainMessage(first.At.Text(), first.New),
		Help: "stint fmt writes - for dashes, ' for apostrophes, ... for dots, plain blanks and plain line ends", Fixes: []diag.Fix{fix}}
	switch n := len(fix.Edits) - 1; {
	case n == 1:
		d.Message += "; the file holds one more such character"
	case n > 1:
		d.Message += fmt.Sprintf("; the file holds %d more such characters", n)
	}
	f.Diags = append(f.Diags, d)
}

// plainIndent finds what is read as a blank, or as nothing, in an indent.
func plainIndent(indent string) []substitution {
	var out []substitution
	for i, r := range indent {
		if r == ' ' || r == '\t' {
			continue
		}
		p := substitution{Span: source.Span{Start: i, End: i + utf8.RuneLen(r)}}
		if isBlank(r) {
			p.plain = " "
		}
		out = append(out, p)
	}
	return out
}

func plainMessage(raw, plain string) string {
	r, _ := utf8.DecodeRuneInString(raw)
	what := fmt.Sprintf("the character U+%04X", r)
	switch {
	case isDash(r):
		what = dashName(r)
	case isApostrophe(r):
		what = "a curly apostrophe"
	case r == '…':
		what = "an ellipsis"
	case r == '→':
		what = "an arrow"
	case r == 0xA0:
		what = "a no-break space"
	case r == 0xFEFF:
		what = "a byte order mark"
	case plain == " s" || plain == " min":
		return fmt.Sprintf("%s behind a number is read as%s", raw, plain)
	case r == ')' || r == '.':
		return fmt.Sprintf("%s behind a letter is read as the colon of a label", raw)
	case plain == "" && strings.HasSuffix(raw, " "):
		return fmt.Sprintf("%q before a line is a bullet, which is left out", strings.TrimSpace(raw))
	case r == '\r' && plain == "":
		return "this line ends in a carriage return, which is left out"
	}
	switch plain {
	case "":
		return "this is " + what + ", which is left out"
	case " ":
		return "this is " + what + ", read as a blank"
	}
	return "this is " + what + ", read as " + plain
}

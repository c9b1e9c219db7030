// Package format prints text in the notation the one way that it is written.
//
// It prints a line at a time, from what the line says and how deep it stands, and
// looks at no other line: an edit of one line never re-formats another. It moves no
// line, joins none and aligns nothing. Notes and comments keep their text, and a line
// with an error keeps all of its own: only its indent is repaired and the blanks at its
// end are dropped.
//
// It does not know the book. How a movement's name is spelt is for a rule to say, so
// names keep the words and the case in which they are written.
package format

import (
	"strings"
	"unicode"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// level is what a line is indented by for each level of its depth.
const level = "  "

// Source prints a whole file. Each line ends in a line feed, the last one too; blank
// lines stay, emptied of blanks. A text without lines stays empty.
func Source(f *syntax.File) string {
	if f.NotUTF8 {
		return f.Src.Text
	}
	var b strings.Builder
	b.Grow(len(f.Src.Text) + 1)
	for _, l := range f.Lines {
		b.WriteString(Line(l))
		b.WriteByte('\n')
	}
	return b.String()
}

// Line prints one line at its depth, without a line end.
func Line(l *syntax.Line) string {
	text := body(l.Parsed)
	if text == "" {
		return ""
	}
	return strings.Repeat(level, l.Depth) + text
}

// body prints a line without its indent.
func body(p *syntax.Parsed) string {
	written := trimRight(p.Text)
	if _, unread := p.Stmt.(*syntax.Bad); unread || p.Bad {
		return written
	}
	var parts []string
	if p.Stmt != nil {
		parts = append(parts, statement(p.Stmt))
	}
	if p.Note != nil {
		parts = append(parts, note(p.Note))
	}
	if p.Comment != nil {
		parts = append(parts, comment(p))
	}
	text := strings.Join(parts, " ")
	if len(text) > syntax.MaxBody {
		return written // as long as this, it would not be read again
	}
	return text
}

// note prints a note: a blank stands between the mark and the text, if there is one.
func note(t *syntax.Text) string {
	if t.Text == "" {
		return ">"
	}
	return "> " + t.Text
}

// comment prints a comment as it is written, blanks behind the mark included: they may
// be the writer's indent.
func comment(p *syntax.Parsed) string {
	for _, t := range p.Toks {
		if t.Kind == syntax.Comment {
			return trimRight(t.Raw)
		}
	}
	return "#"
}

// trimRight drops the blanks at the end of a text, those that only look like blanks
// included.
func trimRight(s string) string {
	return strings.TrimRightFunc(s, func(r rune) bool {
		return r == '\t' || r == '\r' || unicode.Is(unicode.Zs, r)
	})
}

// Edits are what turns the file's text into what Source prints, one for each line that
// changes: a line that is not as it should be, that ends in a carriage return and a
// line feed, or that ends the file without a line feed. An edit leaves alone what its
// line begins and ends with and keeps, so that an editor's cursor stays where it was.
func Edits(f *syntax.File) []diag.Edit {
	var out []diag.Edit
	if f.NotUTF8 {
		return nil
	}
	for i, l := range f.Lines {
		span := wholeLine(f.Src, i)
		old, want := f.Src.Slice(span), Line(l)+"\n"
		if old == want {
			continue
		}
		out = append(out, diag.Edit{At: f.Src.At(span), New: want}.Narrow())
	}
	return out
}

// wholeLine is the span of line i with its line end, if it has one.
func wholeLine(src *source.File, i int) source.Span {
	span := src.Line(i)
	for span.End < len(src.Text) {
		span.End++
		if src.Text[span.End-1] == '\n' {
			break
		}
	}
	return span
}

package report

import (
	"io"
	"strconv"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// Text writes each diagnostic with the line that it is about, carets under the exact
// words, the numbers that prove it, related places and what to do:
//
//	sessions/bowline.stint:13:1: error: part A leaves 0:20 of rest [rest-gap-short]
//	   |
//	13 | part A at 0:00 for completion
//	   | ^^^^^^ typical work 10:40, part B starts at 11:00
//	   = help: start part B at 14:00
//
// An empty line follows each. Whatever the source holds, what is written is valid
// UTF-8 without control characters (but for colours, when asked for), and the carets
// stand under the words. The error is the writer's.
func Text(w io.Writer, ds []diag.Diagnostic, opt Options) error {
	t := textWriter{opt: opt}
	for d := range visible(ds) {
		t.diagnostic(d)
	}
	_, err := io.WriteString(w, t.String())
	return err
}

type textWriter struct {
	strings.Builder
	opt    Options
	colors palette
	gutter int // cells for a line number, as wide as the widest of the diagnostic
}

func (t *textWriter) diagnostic(d diag.Diagnostic) {
	t.colors = newPalette(t.opt.Color, d.Severity)
	t.gutter = gutterOf(d)
	t.WriteString(header(d, t.opt, t.colors))
	if e, ok := excerptOf(d.At); ok {
		t.bar("")
		t.excerpt(e, "^", t.colors.mark, d.Label)
	} else if d.Label != "" {
		t.remark("note", d.Label, "")
	}
	for _, r := range d.Related {
		t.related(r)
	}
	if d.Help != "" {
		t.remark("help", d.Help, "")
	}
	for _, f := range d.Fixes {
		suffix := ""
		if !f.Safe {
			suffix = " (look before you take it)"
		}
		t.remark("fix", f.Title, suffix)
	}
	t.WriteByte('\n')
}

// gutterOf is how wide the line numbers of a diagnostic are.
func gutterOf(d diag.Diagnostic) int {
	width := 1
	places := []source.Place{d.At}
	for _, r := range d.Related {
		places = append(places, r.At)
	}
	for _, p := range places {
		if p.File != nil {
			number := p.File.LineAt(clamp(p).Start) + 1
			width = max(width, len(strconv.Itoa(number)))
		}
	}
	return width
}

// related writes another place that the diagnostic speaks of: the same manner without
// the bar on top, and underlined rather than pointed at.
func (t *textWriter) related(r diag.Related) {
	t.WriteString(t.colors.place(location(r.At, t.opt)) + t.colors.note("note:") + " " + printable(r.Message) + "\n")
	if e, ok := excerptOf(r.At); ok {
		t.excerpt(e, "-", t.colors.note, "")
	}
}

// excerpt writes a source line, and under it the mark and the label.
func (t *textWriter) excerpt(e excerpt, mark string, paint paint, label string) {
	number := strconv.Itoa(e.number)
	t.WriteString(strings.Repeat(" ", t.gutter-len(number)))
	t.WriteString(t.colors.gutter(number + " |"))
	if e.text != "" {
		t.WriteString(" " + e.text)
	}
	t.WriteByte('\n')
	under := strings.Repeat(mark, e.carets)
	if label != "" {
		under += " " + printable(label)
	}
	t.bar(strings.Repeat(" ", e.indent) + paint(under))
}

// bar writes a line of the gutter without a number.
func (t *textWriter) bar(text string) {
	t.WriteString(strings.Repeat(" ", t.gutter+1) + t.colors.gutter("|"))
	if text != "" {
		t.WriteString(" " + text)
	}
	t.WriteByte('\n')
}

// remark writes "= kind: text" under the gutter.
func (t *textWriter) remark(kind, text, suffix string) {
	t.WriteString(strings.Repeat(" ", t.gutter+1) + t.colors.gutter("="))
	t.WriteString(" " + t.colors.faint(kind+":") + " " + printable(text) + suffix + "\n")
}

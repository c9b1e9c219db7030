package lsp

import (
	"strings"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// formatting is the canonical print of the document, with an edit for each line that changes.
// The client's options are ignored: a level is two blanks.
func (v *view) formatting(protocol.DocumentFormattingParams) ([]protocol.TextEdit, error) {
	return v.textEdits(v.file.Src, format.Edits(v.file.Syntax())), nil
}

// rangeFormatting does so for the lines of a range.
func (v *view) rangeFormatting(p protocol.DocumentRangeFormattingParams) ([]protocol.TextEdit, error) {
	return v.formatted(p.Range), nil
}

// rangesFormatting does so for the lines of several ranges.
func (v *view) rangesFormatting(p protocol.DocumentRangesFormattingParams) ([]protocol.TextEdit, error) {
	return v.formatted(p.Ranges...), nil
}

// formatted is the edits of the lines that ranges touch. A range that ends at the margin
// of a line does not touch that line, unless it is empty.
func (v *view) formatted(rs ...protocol.Range) []protocol.TextEdit {
	src := v.file.Src
	var es []diag.Edit
	for _, e := range format.Edits(v.file.Syntax()) {
		line := src.LineAt(e.At.Start)
		for _, r := range rs {
			at := v.span(r)
			first, last := src.LineAt(at.Start), src.LineAt(at.End)
			if last > first && at.End == src.Line(last).Start {
				last--
			}
			if first <= line && line <= last {
				es = append(es, e)
				break
			}
		}
	}
	return v.textEdits(src, es)
}

// onTypeFormatting formats the line that a line feed has just left, and indents the new one: one
// level deeper where the left one opens a block.
func (v *view) onTypeFormatting(p protocol.DocumentOnTypeFormattingParams) ([]protocol.TextEdit, error) {
	src := v.file.Src
	now := src.LineAt(v.offset(p.Position))
	if p.Ch != "\n" || now == 0 || v.file.Syntax().NotUTF8 {
		return nil, nil
	}
	left := v.file.Syntax().Lines[now-1]
	var es []diag.Edit
	for _, e := range format.Edits(v.file.Syntax()) {
		if src.LineAt(e.At.Start) == now-1 {
			es = append(es, e)
		}
	}
	if left.Text != "" {
		at := source.Span{Start: len(src.Text), End: len(src.Text)}
		if now < src.Lines() {
			at = src.Line(now)
		}
		es = append(es, indented(src.At(at), left)...)
	}
	return v.textEdits(src, es), nil
}

// indented is the edit that indents a new line with nothing on it below another: as far as
// that one, or further if it opens a block.
func indented(at source.Place, above *syntax.Line) []diag.Edit {
	depth := above.Depth
	if opens(above.Stmt) {
		depth++
	}
	want := strings.Repeat("  ", depth)
	if text := at.Text(); text == want || strings.Trim(text, " \t") != "" {
		return nil
	}
	return []diag.Edit{{At: at, New: want}}
}

// opens says whether a statement is written for the lines under it.
func opens(s syntax.Stmt) bool {
	switch s := s.(type) {
	case *syntax.Entry:
		return s.Kind != "stint"
	case *syntax.Head:
		return s.Inline == nil
	case *syntax.Lead:
		return s.Inline == nil
	case *syntax.Scaling:
		return true
	case *syntax.Property:
		return s.Key == "kit" || s.Key == "week"
	}
	return false
}

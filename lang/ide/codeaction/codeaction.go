// Package codeaction computes the edits that a coach can ask for: fixes of diagnostics, renames,
// conversions of units, stated totals, starts of parts, scalings and waivers. It applies none.
package codeaction

import (
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// An Action is a change that can be made at a place.
type Action struct {
	Title string // what it does, in the imperative: "write it in pounds: 53/35 lb"
	Edits []diag.Edit
}

// inWorkspace says whether a file is one of the workspace's, and not one of the built-in book.
func inWorkspace(s *workspace.Snapshot, f *source.File) bool {
	if f == nil {
		return false
	}
	own := s.File(f.Name)
	return own != nil && own.Src == f
}

// lineAt is the line of a file that an offset is in, and its number from 0; nil where the
// file has none there.
func lineAt(f *workspace.File, off int) (*syntax.Line, int) {
	i := f.Src.LineAt(off)
	if i >= len(f.Syntax().Lines) {
		return nil, 0
	}
	return f.Syntax().Lines[i], i
}

// insertBelow is an edit that puts a line under line i of a file, so deep. It stands at the margin
// of the line after that, where there is one: an editor that indents what it inserts as the
// line that it inserts in has nothing to add there.
func insertBelow(f *workspace.File, i, depth int, text string) diag.Edit {
	src := f.Src
	text = strings.Repeat("  ", depth) + text
	end := src.Line(i).End
	if n := strings.IndexByte(src.Text[end:], '\n'); n >= 0 {
		at := end + n + 1
		return diag.Edit{At: src.At(source.Span{Start: at, End: at}), New: text + "\n"}
	}
	return diag.Edit{At: src.At(source.Span{Start: end, End: end}), New: "\n" + text}
}

// Package edit builds the edits of fixes: lines that are added, and numbers that are replaced.
package edit

import (
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// Lines is the edit that adds lines of text, at a depth, before the line that begins at or
// behind an offset.
func Lines(f *source.File, off, depth int, lines []string) diag.Edit {
	indent := strings.Repeat("  ", depth)
	text := indent + strings.Join(lines, "\n"+indent) + "\n"
	if off > 0 && f.Text[off-1] != '\n' { // the last line has no end
		text = "\n" + strings.TrimSuffix(text, "\n")
	}
	return diag.Edit{At: f.At(source.Span{Start: off, End: off}), New: text}
}

// LineStart is where the line of an offset begins.
func LineStart(f *source.File, off int) int { return f.Line(f.LineAt(off)).Start }

// BehindLine is where the line begins that follows the one of an offset and what stands under
// it, such as a waiver.
func BehindLine(f *source.File, off int) int {
	depth := DepthOf(f, off)
	for i := f.LineAt(off) + 1; i < f.Lines(); i++ {
		if at := f.Line(i).Start; DepthOf(f, at) <= depth {
			return at
		}
	}
	return len(f.Text)
}

// DepthOf is how many levels a line is indented.
func DepthOf(f *source.File, off int) int {
	line := f.Slice(f.Line(f.LineAt(off)))
	return (len(line) - len(strings.TrimLeft(line, " "))) / 2
}

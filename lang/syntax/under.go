package syntax

import "strings"

// Under says what kind of block a line at an offset stands in, or would stand in, and the
// lines that it stands under, the nearest first. Of a blank line the blanks before the
// offset are its indent.
func (f *File) Under(off int) (ctx Context, up []*Line) {
	i := f.Src.LineAt(off)
	if i >= f.Src.Lines() {
		i = f.Src.Lines() // behind the last line end
	}
	indent := ""
	if i < f.Src.Lines() {
		s := f.Src.Line(i)
		text := f.Src.Slice(s)
		body := strings.TrimLeftFunc(text, isBlank)
		if indent = text[:len(text)-len(body)]; body == "" {
			indent = text[:min(max(off-s.Start, 0), len(text))]
		}
	}
	depth, _ := depthOf(indent)
	for j := min(i, len(f.Lines)) - 1; j >= 0 && depth > 0; j-- {
		l := f.Lines[j]
		_, bad := l.Stmt.(*Bad)
		if l.Stmt == nil || bad && l.opens == InNothing || l.Depth >= depth {
			continue
		}
		up = append(up, l)
		depth = l.Depth
	}
	if len(up) == 0 {
		return InFile, nil
	}
	return up[0].opens, up
}

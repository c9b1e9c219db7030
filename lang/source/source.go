// Package source holds the text of one file and turns byte offsets into places
// that people and editors can read.
//
// Inside stint a place is always a half-open range of byte offsets. Lines,
// columns and the encodings that editors ask for are worked out at the edge, here.
package source

import (
	"encoding/json"
	"sort"
	"unicode/utf8"
)

// A Span is a half-open range of byte offsets, [Start, End).
type Span struct {
	Start int `json:"start"`
	End   int `json:"end"`
}

// Len is the number of bytes that the span covers.
func (s Span) Len() int { return s.End - s.Start }

// Shift moves both ends by n bytes.
func (s Span) Shift(n int) Span { return Span{s.Start + n, s.End + n} }

// Contains reports whether off lies inside the span; the end itself counts, so that
// a cursor behind the last letter of a word is still on it.
func (s Span) Contains(off int) bool { return s.Start <= off && off <= s.End }

// Join is the smallest span that covers both.
func (s Span) Join(t Span) Span { return Span{min(s.Start, t.Start), max(s.End, t.End)} }

// A File is a name and a text, which never change once made.
type File struct {
	Name  string
	Text  string
	lines []int // byte offset of each line's first byte
}

// New makes a file of text. Name is how messages call it; it is not opened.
func New(name, text string) *File {
	f := &File{Name: name, Text: text, lines: []int{0}}
	for i := range len(text) {
		if text[i] == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
	return f
}

// Lines is the number of lines. A final line feed does not start another line,
// and an empty text has none.
func (f *File) Lines() int {
	n := len(f.lines)
	if f.lines[n-1] == len(f.Text) {
		n--
	}
	return n
}

// Line returns the span of line i (from 0), without its line end: a line feed, or
// a carriage return and a line feed.
func (f *File) Line(i int) Span {
	start := f.lines[i]
	end := len(f.Text)
	if i+1 < len(f.lines) {
		end = f.lines[i+1] - 1
	}
	if end > start && f.Text[end-1] == '\r' {
		end--
	}
	return Span{start, end}
}

// LineAt returns the index (from 0) of the line that holds the offset. Offsets
// outside the text are read as its nearest end.
func (f *File) LineAt(off int) int {
	return max(0, sort.SearchInts(f.lines, off+1)-1)
}

// Slice returns the text of a span; what lies outside the text is left out.
func (f *File) Slice(s Span) string {
	end := min(max(s.End, 0), len(f.Text))
	return f.Text[min(max(s.Start, 0), end):end]
}

// A Position is a line and a column, both from 1, as people count them. The column
// counts characters (Unicode code points); a broken byte counts as one.
type Position struct {
	Line   int `json:"line"`
	Column int `json:"column"`
}

// Position turns a byte offset into a line and a column.
func (f *File) Position(off int) Position {
	off = min(max(off, 0), len(f.Text))
	line := f.LineAt(off)
	return Position{line + 1, utf8.RuneCountInString(f.Text[f.lines[line]:off]) + 1}
}

// A Place is a span in a file.
type Place struct {
	File *File
	Span
}

// At is the place of s in f.
func (f *File) At(s Span) Place { return Place{f, s} }

// MarshalJSON writes the place as people count it: the file, and lines and columns from 1.
// A place in no file is null.
func (p Place) MarshalJSON() ([]byte, error) {
	if p.File == nil {
		return []byte("null"), nil
	}
	return json.Marshal(struct {
		File  string   `json:"file"`
		Start Position `json:"start"`
		End   Position `json:"end"`
	}{p.File.Name, p.File.Position(p.Start), p.File.Position(p.End)})
}

// Within says whether the place lies inside another one, of the same file.
func (p Place) Within(o Place) bool {
	return p.File != nil && p.File == o.File && o.Start <= p.Start && p.End <= o.End
}

// Text is what stands at the place.
func (p Place) Text() string {
	if p.File == nil {
		return ""
	}
	return p.File.Slice(p.Span)
}

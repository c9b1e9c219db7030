package lsp

import (
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"go.lsp.dev/protocol"

	"stint.example/stint/lang/source"
)

// An encoding is what a client counts columns in.
type encoding uint8

// The encodings of the protocol. Every client knows UTF-16.
const (
	utf16 encoding = iota
	utf8s
	utf32
)

// negotiateEncoding picks the encoding of those that a client offers: UTF-8, as the texts are in it,
// where it may.
func negotiateEncoding(offered []protocol.PositionEncodingKind) (encoding, protocol.PositionEncodingKind) {
	if slices.Contains(offered, protocol.PositionEncodingKindUTF8) {
		return utf8s, protocol.PositionEncodingKindUTF8
	}
	if slices.Contains(offered, protocol.PositionEncodingKindUTF32) &&
		!slices.Contains(offered, protocol.PositionEncodingKindUTF16) {
		return utf32, protocol.PositionEncodingKindUTF32
	}
	return utf16, protocol.PositionEncodingKindUTF16
}

// width is how many columns a character takes. A byte that is no character takes one in
// all encodings: editors show one sign in its place.
func (e encoding) width(r rune, size int) int {
	switch {
	case e == utf8s:
		return size
	case e == utf16 && r > 0xFFFF:
		return 2
	}
	return 1
}

// lineIndex turns byte offsets of a text into positions and back. To the protocol a lone
// carriage return ends a line too, so these are not the lines of source.File.
type lineIndex struct {
	text   string
	enc    encoding
	starts []int // byte offset of each line's first byte
}

func newLineIndex(text string, enc encoding) *lineIndex {
	l := &lineIndex{text: text, enc: enc, starts: append(make([]int, 0, 1+strings.Count(text, "\n")), 0)}
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '\r':
			if i+1 < len(text) && text[i+1] == '\n' {
				i++
			}
			l.starts = append(l.starts, i+1)
		case '\n':
			l.starts = append(l.starts, i+1)
		}
	}
	return l
}

// end is where a line ends, without its line end.
func (l *lineIndex) end(line int) int {
	if line+1 == len(l.starts) {
		return len(l.text)
	}
	end := l.starts[line+1] - 1
	if end > l.starts[line] && l.text[end] == '\n' && l.text[end-1] == '\r' {
		end--
	}
	return end
}

// offset is the byte offset of a position. What lies past the end of a line or of the
// text is read as that end, and what lies inside a character as its beginning.
func (l *lineIndex) offset(p protocol.Position) int {
	if int64(p.Line) >= int64(len(l.starts)) {
		return len(l.text)
	}
	at, end := l.starts[p.Line], l.end(int(p.Line))
	for left := int64(p.Character); at < end; {
		r, size := utf8.DecodeRuneInString(l.text[at:end])
		if left -= int64(l.enc.width(r, size)); left < 0 {
			break
		}
		at += size
	}
	return at
}

// position is the position of a byte offset.
func (l *lineIndex) position(off int) protocol.Position {
	off = min(max(off, 0), len(l.text))
	line := max(0, sort.SearchInts(l.starts, off+1)-1)
	// Between the two bytes of a line end there is no position.
	until := min(off, l.end(line))
	column := 0
	for at := l.starts[line]; at < until; {
		r, size := utf8.DecodeRuneInString(l.text[at:])
		if at+size > until {
			break
		}
		column += l.enc.width(r, size)
		at += size
	}
	return protocol.Position{Line: uint32(line), Character: uint32(column)}
}

// span is the range of bytes of a range, with its ends in order.
func (l *lineIndex) span(r protocol.Range) source.Span {
	a, b := l.offset(r.Start), l.offset(r.End)
	return source.Span{Start: min(a, b), End: max(a, b)}
}

// rangeOf is the range of a span.
func (l *lineIndex) rangeOf(s source.Span) protocol.Range {
	return protocol.Range{Start: l.position(s.Start), End: l.position(s.End)}
}

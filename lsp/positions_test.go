package lsp

import (
	"regexp"
	"testing"
	unicode16 "unicode/utf16"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"go.lsp.dev/protocol"
	"pgregory.net/rapid"

	"stint.example/stint/lang/source"
)

var lineEnd = regexp.MustCompile("\r\n|\r|\n")

// plainPosition works a position out the long way, as the protocol describes it.
func plainPosition(text string, enc encoding, off int) protocol.Position {
	line, from := 0, 0
	for _, end := range lineEnd.FindAllStringIndex(text, -1) {
		if end[1] > off {
			break
		}
		line, from = line+1, end[1]
	}
	before := text[from:off]
	column := map[encoding]int{
		utf8s: len(before), utf16: len(unicode16.Encode([]rune(before))), utf32: utf8.RuneCountInString(before),
	}[enc]
	return protocol.Position{Line: uint32(line), Character: uint32(column)}
}

func plainRange(text string, enc encoding, at source.Span) protocol.Range {
	return protocol.Range{Start: plainPosition(text, enc, at.Start), End: plainPosition(text, enc, at.End)}
}

// words are what the texts of the property tests are made of: what takes more than one
// unit, or more than one character, in some encoding, and every line end.
var words = rapid.SliceOfN(rapid.SampledFrom([]string{
	"a", " ", "10 burpee", "é", "e\u0301", "💪", "🏋🏽", "ﬁ", "\u200d", "\n", "\r\n", "\r", "\n\n", "  ",
	"stint 1\n", "session Bowline\n", "part A\n", "  3 rounds\n", "    10 burpee\n", "total 30 burpee\n", "> ", "#", "\t",
}), 0, 30)

func draw(t *rapid.T, label string) string {
	out := ""
	for _, w := range words.Draw(t, label) {
		out += w
	}
	return out
}

// between says whether an offset is between characters, and not inside a line end, where
// no position is.
func between(text string, off int) bool {
	return (off == len(text) || utf8.RuneStart(text[off])) &&
		!(off > 0 && off < len(text) && text[off-1] == '\r' && text[off] == '\n')
}

func TestPositionsAreThoseOfTheProtocol(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := draw(t, "text")
		for _, enc := range []encoding{utf8s, utf16, utf32} {
			ls := newLineIndex(text, enc)
			for off := 0; off <= len(text); off++ {
				p := ls.position(off)
				if !between(text, off) {
					assert.LessOrEqual(t, ls.offset(p), off, "%q %d", text, off)
					continue
				}
				assert.Equal(t, plainPosition(text, enc, off), p, "%q %d", text, off)
				assert.Equal(t, off, ls.offset(p), "%q %d", text, off)
			}
		}
	})
}

func TestPositionsPastTheEnd(t *testing.T) {
	const text = "é💪\r\nab\rc\n"
	for _, c := range []struct {
		enc       encoding
		line, col uint32
		want      int
	}{
		{utf16, 0, 0, 0}, {utf16, 0, 1, 2}, {utf16, 0, 2, 2}, {utf16, 0, 3, 6}, {utf16, 0, 4, 6}, {utf16, 0,
			4_000_000_000, 6},
		{utf8s, 0, 1, 0}, {utf8s, 0, 2, 2}, {utf8s, 0, 5, 2}, {utf8s, 0, 6, 6}, {utf8s, 0, 7, 6},
		{utf32, 0, 2, 6}, {utf32, 0, 3, 6},
		{utf16, 1, 2, 10}, {utf16, 1, 3, 10}, {utf16, 2, 0, 11}, {utf16, 2, 9, 12}, {utf16, 3, 0, 13}, {utf16, 3, 5,
			13},
		{utf16, 4, 0, 13}, {utf16, 4_294_967_295, 4_294_967_295, 13},
	} {
		assert.Equal(t, c.want, newLineIndex(text, c.enc).offset(protocol.Position{Line: c.line, Character: c.col}),
			"%v", c)
	}
	assert.Equal(t, source.Span{Start: 2, End: 10}, newLineIndex(text, utf16).span(protocol.Range{
		Start: protocol.Position{Line: 1, Character: 2}, End: protocol.Position{Line: 0,
			Character: 1}}), "a range the wrong way about")
	assert.Equal(t, protocol.Position{Line: 3}, newLineIndex(text, utf16).position(99))
	assert.Equal(t, protocol.Position{}, newLineIndex(text, utf16).position(-1))
	assert.Equal(t, protocol.Position{Line: 0, Character: 3}, newLineIndex(text, utf16).position(7),
		"inside a line end")
	assert.Equal(t, 0, newLineIndex("", utf16).offset(protocol.Position{Line: 1, Character: 1}))
}

func TestTheEncodingIsChosen(t *testing.T) {
	u8, u16, u32 := protocol.PositionEncodingKindUTF8, protocol.PositionEncodingKindUTF16, protocol.PositionEncodingKindUTF32
	for _, c := range []struct {
		offered []protocol.PositionEncodingKind
		want    protocol.PositionEncodingKind
	}{
		{nil, u16}, {[]protocol.PositionEncodingKind{u16}, u16}, {[]protocol.PositionEncodingKind{u16, u8}, u8},
		{[]protocol.PositionEncodingKind{u32}, u32}, {[]protocol.PositionEncodingKind{u32, u16},
			u16}, {[]protocol.PositionEncodingKind{"utf-7"}, u16},
	} {
		_, got := negotiateEncoding(c.offered)
		assert.Equal(t, c.want, got, "%v", c.offered)
	}
}

package report

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/clipperhouse/uax29/v2/graphemes"

	"stint.example/stint/lang/render/layout"
)

// A cluster is what a reader takes for one character: a letter with its accents, an
// emoji with its skin tone, a tab. It is never cut or underlined in part. What cannot
// be seen is a cluster for each code point, so that none is wider than <U+10FFFF>.
type cluster struct {
	start, end int    // its bytes in the line
	shown      string // what to print for it: always valid, never a control character
	width      int    // how many terminal cells that takes, at least 1
}

// tabText stands for a tab: two blanks, as the formatter writes one.
const tabText = "  "

// brokenText stands for a byte that is no part of a UTF-8 character.
const brokenText = string(utf8.RuneError)

// clusters splits a line into what it shows.
func clusters(line string) []cluster {
	cs := make([]cluster, 0, len(line))
	for at := 0; at < len(line); {
		// Clusters are found in valid text only: the rules of segmentation say
		// nothing of broken bytes, and would glue them to their neighbours.
		valid := validPrefix(line[at:])
		if valid == 0 {
			cs = append(cs, cluster{at, at + 1, brokenText, 1})
			at++
			continue
		}
		for g := graphemes.FromString(line[at : at+valid]); g.Next(); {
			cs = appendShown(cs, at+g.Start(), g.Value())
		}
		at += valid
	}
	return cs
}

// validPrefix is how many bytes of s come before the first broken one.
func validPrefix(s string) int {
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(s)
}

// appendShown appends what shows for one cluster c of valid text, which starts at a
// byte of the line.
func appendShown(cs []cluster, start int, c string) []cluster {
	end := start + len(c)
	r, _ := utf8.DecodeRuneInString(c)
	switch {
	case c == "\t":
		return append(cs, cluster{start, end, tabText, len(tabText)})
	case r < 0x20: // NUL and the like, which always stand alone
		return append(cs, cluster{start, end, string(0x2400 + r), 1}) // Unicode block Control Pictures
	case r == 0x7f:
		return append(cs, cluster{start, end, "␡", 1})
	}
	// What is left and cannot be seen by itself would shift the carets, turn the line
	// round (the bidirectional controls) or hide the very fault that is reported.
	width := layout.ClusterCells(c)
	hidden := unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Zl, unicode.Zp)
	if width > 0 && !hidden && !joins(c) {
		return append(cs, cluster{start, end, c, width})
	}
	for i, r := range c {
		name := fmt.Sprintf("<U+%04X>", r)
		cs = append(cs, cluster{start + i, start + i + utf8.RuneLen(r), name, len(name)})
	}
	return cs
}

// joins says whether a cluster would melt into whatever is shown beside it. One does
// that stands alone only because its neighbour is a broken byte, a control or the end
// of the line: an accent on nothing.
func joins(c string) bool {
	if c[0] < utf8.RuneSelf {
		return false // it starts with ASCII, which never joins
	}
	const neighbour = "x"
	before := graphemes.FromString(neighbour + c)
	after := graphemes.FromString(c + neighbour)
	return before.Next() && before.Value() != neighbour || after.Next() && after.Value() != c
}

// printable is a text as it can be shown on one line, whatever is in it.
func printable(s string) string {
	plain := true
	for i := range len(s) {
		plain = plain && 0x20 <= s[i] && s[i] < 0x7f
	}
	if plain {
		return s
	}
	var b strings.Builder
	for _, c := range clusters(s) {
		b.WriteString(c.shown)
	}
	return b.String()
}

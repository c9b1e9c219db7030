// Package layout fits texts into lines and columns.
package layout

import (
	"slices"
	"strings"
	"unicode"

	"github.com/clipperhouse/uax29/v2/graphemes"
	"github.com/mattn/go-runewidth"
)

// terminal is fixed, so that output is the same text everywhere: the package's own default
// looks at the locale.
var terminal = &runewidth.Condition{EastAsianWidth: false, StrictEmojiNeutral: true}

// Cells is how many cells a text takes on a terminal: some letters take two, accents none.
func Cells(text string) int {
	n := 0
	for g := graphemes.FromString(text); g.Next(); {
		n += ClusterCells(g.Value())
	}
	return n
}

// ClusterCells is how many cells one grapheme cluster takes: those of its first character
// that has any, but for two kinds of emoji that go-runewidth may count as 1. What asks for
// its picture with U+FE0F is wide by UAX #11, section 5; a flag, a pair of regional
// indicators, is shown as wide as its two letters: common practice, no source.
func ClusterCells(cluster string) int {
	width := terminal.StringWidth(cluster)
	if width == 1 && (strings.ContainsRune(cluster, '\uFE0F') || isFlag(cluster)) {
		return 2
	}
	return width
}

func isFlag(cluster string) bool {
	indicators := 0
	for _, r := range cluster {
		if unicode.Is(unicode.Regional_Indicator, r) {
			indicators++
		}
	}
	return indicators == 2
}

// Wrap breaks a text at its blanks into lines that fit. A word that does not fit by itself is
// cut between grapheme clusters, into pieces of one cluster at least.
func Wrap(text string, fits func(line string) bool) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(text) {
		for !fits(word) {
			head := longestPrefix(word, fits)
			if head == word {
				break
			}
			if line != "" {
				out, line = append(out, line), ""
			}
			out, word = append(out, head), word[len(head):]
		}
		switch {
		case line == "":
			line = word
		case fits(line + " " + word):
			line += " " + word
		default:
			out, line = append(out, line), word
		}
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// longestPrefix is the longest prefix of a word that fits, and its first cluster at least.
func longestPrefix(word string, fits func(string) bool) string {
	end := 0
	for g := graphemes.FromString(word); g.Next(); {
		if end > 0 && !fits(word[:g.End()]) {
			break
		}
		end = g.End()
	}
	return word[:end]
}

// WrapCells wraps a text to a number of cells.
func WrapCells(text string, width int) []string {
	return Wrap(text, func(line string) bool { return Cells(line) <= width })
}

// Table prints rows in columns that are two cells apart. A column is as wide as its widest
// text, and as its number in least, if there is one. A cell may hold several lines; a row may
// have fewer cells than others, and one without any is an empty line.
func Table(rows [][]string, least ...int) string {
	const space = 2
	widths := slices.Clone(least)
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			for line := range strings.SplitSeq(cell, "\n") {
				widths[i] = max(widths[i], Cells(line))
			}
		}
	}
	var out strings.Builder
	for _, row := range rows {
		height := 1
		cells := make([][]string, len(row))
		for i, cell := range row {
			cells[i] = strings.Split(cell, "\n")
			height = max(height, len(cells[i]))
		}
		for k := range height {
			var line strings.Builder
			for i, cell := range cells {
				text := ""
				if k < len(cell) {
					text = cell[k]
				}
				line.WriteString(text + strings.Repeat(" ", widths[i]-Cells(text)+space))
			}
			out.WriteString(strings.TrimRight(line.String(), " ") + "\n")
		}
	}
	return out.String()
}

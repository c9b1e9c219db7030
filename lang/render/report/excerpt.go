package report

import (
	"strings"

	"stint.example/stint/lang/source"
)

const (
	// maxCells is how wide a source line is shown before it is cut, in terminal
	// cells: two of the usual terminal's lines.
	maxCells = 160
	// minContext is how much of a cut line is kept in front of the words meant.
	minContext = 20
	cutMark    = "…" // one cell wide
)

// An excerpt is the one line of source that shows a place.
type excerpt struct {
	number int    // of the line, from 1
	text   string // the line as shown
	indent int    // cells in front of the first caret
	carets int    // how many carets, at least 1
}

// excerptOf shows a place. Of a place over several lines it shows the first, with
// carets to the line's end; of an empty place, one caret where it is. There is none
// for a place in no file or in an empty one.
func excerptOf(p source.Place) (excerpt, bool) {
	if p.File == nil || p.File.Text == "" {
		return excerpt{}, false
	}
	span := clamp(p)
	n := p.File.LineAt(span.Start)
	line := p.File.Line(n)
	row := layOut(clusters(p.File.Slice(line)), span.Start-line.Start, span.End-line.Start)
	row.cut()
	e := excerpt{number: n + 1, text: row.String(), indent: row.width(0, row.from), carets: row.width(row.from, row.to)}
	if row.lead {
		e.indent++
	}
	e.carets = max(e.carets, 1)
	return e, true
}

// A row is a line as clusters, and which of them the place covers: [from, to).
type row struct {
	cs         []cluster
	from, to   int
	lead, tail bool // text was cut in front, behind
}

// layOut finds the clusters that bytes [from, to) of the line touch. An empty place
// between two of them touches neither, nor does one in the line's end touch any.
func layOut(cs []cluster, from, to int) *row {
	r := &row{cs: cs}
	for r.from < len(cs) && cs[r.from].end <= from {
		r.from++
	}
	r.to = r.from
	for r.to < len(cs) && cs[r.to].start < to {
		r.to++
	}
	return r
}

// cut shortens a row that is too wide to a window around its place. A place that is
// itself too wide is cut at its end: where it starts matters most.
func (r *row) cut() {
	total := r.width(0, len(r.cs))
	if total <= maxCells {
		return
	}
	const room = maxCells - 2 // a cut mark at either end
	indent, place := r.width(0, r.from), r.width(r.from, r.to)
	left := indent - max((room-place)/2, minContext)
	left = max(0, min(left, total-room))

	first, at := 0, 0
	for at < left {
		at += r.cs[first].width
		first++
	}
	last, used := first, 0
	for last < len(r.cs) && used+r.cs[last].width <= room {
		used += r.cs[last].width
		last++
	}
	r.lead, r.tail = first > 0, last < len(r.cs)
	r.cs = r.cs[first:last]
	r.from -= first
	r.to = min(r.to-first, len(r.cs))
}

// width is how many cells the clusters [from, to) take.
func (r *row) width(from, to int) int {
	n := 0
	for _, c := range r.cs[from:to] {
		n += c.width
	}
	return n
}

func (r *row) String() string {
	var b strings.Builder
	if r.lead {
		b.WriteString(cutMark)
	}
	for _, c := range r.cs {
		b.WriteString(c.shown)
	}
	if r.tail {
		b.WriteString(cutMark)
	}
	return b.String()
}

package marktest

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stint.example/stint/lang/diag"
)

// Check compares what a layer reported with the markers, both ways: every marker
// needs exactly one diagnostic of its rule that starts on its line, and every
// diagnostic needs a marker.
func (c *Case) Check(t testing.TB, ds []diag.Diagnostic) {
	t.Helper()
	for _, p := range c.problems(ds) {
		t.Error(p)
	}
}

func (c *Case) problems(ds []diag.Diagnostic) []string {
	ds = slices.Clone(ds)
	diag.Sort(ds)
	left, missed := ds, []Marker(nil)
	for _, group := range c.byLine() {
		var m []Marker
		m, left = match(group, left)
		missed = append(missed, m...)
	}
	var out []string
	for _, m := range missed {
		out = append(out, c.missing(m, ds, left))
	}
	for _, d := range left {
		if slices.ContainsFunc(missed, func(m Marker) bool { return m.Rule == d.Rule && m.on(d) }) {
			continue // reported for the marker that it nearly meets
		}
		out = append(out, fmt.Sprintf("%s: no marker asks for %s", c.where(place(d)), drawn(d)))
	}
	return out
}

// byLine groups the markers by the line that they are about.
func (c *Case) byLine() [][]Marker {
	var out [][]Marker
	for _, m := range c.markers {
		i := slices.IndexFunc(out, func(g []Marker) bool { return g[0].File == m.File && g[0].Line == m.Line })
		if i < 0 {
			out = append(out, []Marker{m})
			continue
		}
		out[i] = append(out[i], m)
	}
	return out
}

// match pairs the markers of a line with diagnostics, as many as can be, and returns
// what stays alone on either side. Markers that ask for more go first, and a pair that
// stands in the way of another is changed where it can be (an augmenting path), so that
// the order of markers does not matter.
func match(ms []Marker, ds []diag.Diagnostic) (missed []Marker, left []diag.Diagnostic) {
	slices.SortStableFunc(ms, func(a, b Marker) int { return b.asks() - a.asks() })
	of := make([]int, len(ds)) // the marker that each diagnostic is paired with
	for i := range of {
		of[i] = -1
	}
	var pair func(m int, tried []bool) bool
	pair = func(m int, tried []bool) bool {
		for i, d := range ds {
			if tried[i] || !ms[m].meets(d) {
				continue
			}
			tried[i] = true
			if of[i] < 0 || pair(of[i], tried) {
				of[i] = m
				return true
			}
		}
		return false
	}
	for m := range ms {
		if !pair(m, make([]bool, len(ds))) {
			missed = append(missed, ms[m])
		}
	}
	for i, d := range ds {
		if of[i] < 0 {
			left = append(left, d)
		}
	}
	return missed, left
}

// asks is how much a marker asks for beyond its rule.
func (m Marker) asks() int {
	n := 0
	if m.Words != "" {
		n++
	}
	if m.about.Regexp != nil {
		n++
	}
	return n
}

// on reports whether the diagnostic starts on the marker's line.
func (m Marker) on(d diag.Diagnostic) bool {
	file, line := place(d)
	return file == m.File && line == m.Line
}

func (m Marker) meets(d diag.Diagnostic) bool {
	return m.Rule == d.Rule && m.on(d) && (m.Words == "" || m.Words == d.At.Text()) && m.about.matches(d.Message)
}

// missing is what a marker asked for, and what there was in its place: all that is on
// its line or, where nothing is, what no marker asks for of its rule elsewhere.
func (c *Case) missing(m Marker, ds, left []diag.Diagnostic) string {
	here, there := []string{}, []string{}
	for _, d := range ds {
		if m.on(d) {
			here = append(here, drawn(d))
		}
	}
	for _, d := range left {
		if d.Rule == m.Rule {
			file, line := place(d)
			there = append(there, fmt.Sprintf("%s at %s:%d", drawn(d), file, line))
		}
	}
	instead := "the line draws nothing"
	switch {
	case len(here) > 0:
		instead = "the line draws " + strings.Join(here, "; ")
	case len(there) > 0:
		instead += ", but there is " + strings.Join(there, "; ")
	}
	return fmt.Sprintf("%s: want %s: %s", c.where(m.File, m.Line), m, instead)
}

// drawn is a diagnostic as a failure shows it.
func drawn(d diag.Diagnostic) string {
	return fmt.Sprintf("%s %q (%s)", d.Rule, d.At.Text(), d.Message)
}

func place(d diag.Diagnostic) (file string, line int) {
	if d.At.File == nil {
		return "(no file)", 0
	}
	return d.At.File.Name, d.At.File.Position(d.At.Start).Line
}

// Package diag is the one kind of message that stint gives: a rule that does not
// hold, on the exact words, with the numbers that prove it and, where there is
// one, the edit that fixes it. Every front end shows the same diagnostics.
package diag

import (
	"cmp"
	"encoding/json"
	"slices"
	"unicode/utf8"

	"stint.example/stint/lang/source"
)

// Severity is how much a diagnostic matters. Only errors make a check fail.
type Severity uint8

// The severities, from silent to failing.
const (
	Off Severity = iota
	Suggestion
	Warning
	Error
)

var severityNames = [...]string{"off", "suggestion", "warning", "error"}

func (s Severity) String() string { return severityNames[s] }

// MarshalJSON writes the severity as its name.
func (s Severity) MarshalJSON() ([]byte, error) { return json.Marshal(s.String()) }

// A Diagnostic says what does not hold at one place.
type Diagnostic struct {
	Rule     string // the plain name of the rule, such as total-wrong
	Severity Severity
	At       source.Place
	Message  string    // what is wrong, in one sentence without a full stop
	Label    string    // a few words to stand beside the place: the numbers that prove it
	Help     string    // what to do, one sentence without a full stop
	Related  []Related // other places that the message speaks of
	Fixes    []Fix     // edits that fix it, the best first
}

// Related is another place that a diagnostic speaks of.
type Related struct {
	At      source.Place
	Message string
}

// A Fix is a set of edits that, made together, silence a diagnostic.
type Fix struct {
	Title string // what it does, in the imperative: "write total 57 kettlebell swing"
	Safe  bool   // it can change neither the dose (counts, loads, times) nor a comment
	Edits []Edit
}

// An Edit puts New in place of what stands At.
type Edit struct {
	At  source.Place
	New string
}

// Narrow is the edit without what it begins and ends with and keeps, so that an editor's
// cursor stays where it was. It cuts no character.
func (e Edit) Narrow() Edit {
	old := e.At.Text()
	n := commonPrefix(old, e.New)
	m := commonSuffix(old[n:], e.New[n:])
	e.At.Start, e.At.End = e.At.Start+n, e.At.End-m
	e.New = e.New[n : len(e.New)-m]
	return e
}

// commonPrefix is how many bytes two texts begin with alike, cutting no character.
func commonPrefix(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	for n > 0 && (n < len(a) && !utf8.RuneStart(a[n]) || n < len(b) && !utf8.RuneStart(b[n])) {
		n--
	}
	return n
}

// commonSuffix is how many bytes two texts end with alike, cutting no character.
func commonSuffix(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[len(a)-1-n] == b[len(b)-1-n] {
		n++
	}
	for n > 0 && !utf8.RuneStart(a[len(a)-n]) {
		n--
	}
	return n
}

// Sort orders diagnostics by file, place, severity and rule, so that every run
// and every front end lists them alike.
func Sort(ds []Diagnostic) {
	slices.SortStableFunc(ds, func(a, b Diagnostic) int {
		return cmp.Or(
			cmp.Compare(fileName(a.At), fileName(b.At)),
			cmp.Compare(a.At.Start, b.At.Start),
			cmp.Compare(a.At.End, b.At.End),
			-cmp.Compare(a.Severity, b.Severity),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(a.Message, b.Message),
		)
	})
}

func fileName(p source.Place) string {
	if p.File == nil {
		return ""
	}
	return p.File.Name
}

// Apply makes edits on one file's text and returns the new text. Edits of other
// files are left out. Where two edits overlap, the later one in the list is left
// out and false is returned: making it could only garble the text.
func Apply(f *source.File, edits []Edit) (text string, all bool) {
	var mine []Edit
	all = true
	for _, e := range edits {
		if e.At.File != f {
			continue
		}
		if slices.ContainsFunc(mine, func(m Edit) bool { return overlap(m.At.Span, e.At.Span) }) {
			all = false
			continue
		}
		mine = append(mine, e)
	}
	slices.SortStableFunc(mine, func(a, b Edit) int { return cmp.Compare(a.At.Start, b.At.Start) })
	var out []byte
	at := 0
	for _, e := range mine {
		out = append(out, f.Text[at:e.At.Start]...)
		out = append(out, e.New...)
		at = e.At.End
	}
	return string(append(out, f.Text[at:]...)), all
}

// overlap reports whether two spans share a byte. Two insertions at one offset do too,
// since their order would be a guess.
func overlap(a, b source.Span) bool {
	if a == b {
		return true
	}
	return a.Start < b.End && b.Start < a.End
}

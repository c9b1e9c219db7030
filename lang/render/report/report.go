// Package report writes diagnostics for people and for other programs: as text with
// the source line and carets, as one line each, and as JSON.
//
// All of them list diagnostics in the order given (diag.Sort makes the usual one),
// and leave out those whose severity is Off.
package report

import (
	"fmt"
	"iter"
	"strconv"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

// Options say how to write a report. The zero value is plain text with the files'
// names as they are.
type Options struct {
	// Color paints the text for a terminal. Whether there is one is for the caller
	// to know; nothing here looks at the environment.
	Color bool
	// Path turns a file's name into the one to show, such as a path from the folder
	// that the command runs in. Nil shows the name itself.
	Path func(name string) string
}

// path is the name to show for the file of a place; empty if it is in no file.
func (o Options) path(p source.Place) string {
	if p.File == nil {
		return ""
	}
	if o.Path == nil {
		return p.File.Name
	}
	return o.Path(p.File.Name)
}

// Counts is how many diagnostics there are of each severity.
type Counts struct {
	Errors      int `json:"errors"`
	Warnings    int `json:"warnings"`
	Suggestions int `json:"suggestions"`
}

// Count counts diagnostics by severity.
func Count(ds []diag.Diagnostic) Counts {
	var c Counts
	for d := range visible(ds) {
		switch d.Severity {
		case diag.Error:
			c.Errors++
		case diag.Warning:
			c.Warnings++
		case diag.Suggestion:
			c.Suggestions++
		case diag.Off: // is not visible
		}
	}
	return c
}

// Summary is the last line of a report, without a line feed: "2 errors, 1 warning in
// 3 files", or "no findings". Only files with findings are counted.
func Summary(ds []diag.Diagnostic) string {
	c := Count(ds)
	var parts []string
	for _, p := range []struct {
		n    int
		noun string
	}{{c.Errors, "error"}, {c.Warnings, "warning"}, {c.Suggestions, "suggestion"}} {
		if p.n > 0 {
			parts = append(parts, plural(p.n, p.noun))
		}
	}
	if len(parts) == 0 {
		return "no findings"
	}
	files := map[string]bool{}
	for d := range visible(ds) {
		if d.At.File != nil {
			files[d.At.File.Name] = true
		}
	}
	s := strings.Join(parts, ", ")
	if len(files) > 0 {
		s += " in " + plural(len(files), "file")
	}
	return s
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// visible lists the diagnostics that are not Off.
func visible(ds []diag.Diagnostic) iter.Seq[diag.Diagnostic] {
	return func(yield func(diag.Diagnostic) bool) {
		for _, d := range ds {
			if d.Severity != diag.Off && !yield(d) {
				return
			}
		}
	}
}

// clamp brings a span inside its file's text, so that a rule's slip in arithmetic
// still shows a message, at the nearest place there is.
func clamp(p source.Place) source.Span {
	if p.File == nil {
		return source.Span{}
	}
	start := min(max(p.Start, 0), len(p.File.Text))
	return source.Span{Start: start, End: min(max(p.End, start), len(p.File.Text))}
}

// location is "path:line:col: ", as editors and terminals know how to open it; empty
// for a place in no file.
func location(p source.Place, opt Options) string {
	if p.File == nil {
		return ""
	}
	at := p.File.Position(clamp(p).Start)
	return printable(opt.path(p)) + ":" + strconv.Itoa(at.Line) + ":" + strconv.Itoa(at.Column) + ": "
}

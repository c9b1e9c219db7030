package report

import (
	"github.com/fatih/color"

	"stint.example/stint/lang/diag"
)

// A paint colours a text, or leaves it alone.
type paint func(text string) string

// A palette is the paints of one diagnostic. Colour only ever repeats what the words
// say: without it nothing is lost.
type palette struct {
	mark   paint // the severity and the carets
	note   paint // the word and the underline of a related place
	strong paint // the message
	place  paint // path, line and column
	gutter paint // line numbers and the bar
	faint  paint // the rule's name, the words help and fix
}

func newPalette(on bool, s diag.Severity) palette {
	var severity color.Attribute
	switch s {
	case diag.Error:
		severity = color.FgRed
	case diag.Warning:
		severity = color.FgYellow
	case diag.Suggestion, diag.Off:
		severity = color.FgCyan
	}
	return palette{
		mark:   newPaint(on, color.Bold, severity),
		note:   newPaint(on, color.FgCyan),
		strong: newPaint(on, color.Bold),
		place:  newPaint(on, color.Underline),
		gutter: newPaint(on, color.FgBlue),
		faint:  newPaint(on, color.Faint),
	}
}

func newPaint(on bool, attributes ...color.Attribute) paint {
	if !on {
		return func(text string) string { return text }
	}
	c := color.New(attributes...)
	// Without this the package would look at NO_COLOR, TERM and standard output;
	// that decision is made once, by whoever calls.
	c.EnableColor()
	return func(text string) string {
		if text == "" {
			return ""
		}
		return c.Sprint(text)
	}
}

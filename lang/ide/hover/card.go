// Package hover says what there is to say of a place in a text: what a word means, what a
// number comes to, how long a part takes. It is what an editor shows under the pointer and
// beside a line. It reckons little itself: the rooms to its left do.
package hover

import (
	"strings"

	"stint.example/stint/lang/source"
)

// A Card is what there is to say of one place.
type Card struct {
	At    source.Place // the words that it is about
	Title string
	Kind  string // what the title names: movement, part, rule
	Rows  []Row
	Foot  string // what holds for all of it: that it is an estimate
}

// A Row is one thing that a card says.
type Row struct {
	Label string // one or two words; empty for plain text
	Text  string
	Code  bool   // the text is in the notation
	Link  string // where the text leads to, if it does
}

func (c *Card) row(label string, texts ...string) {
	for _, t := range texts {
		if t != "" {
			c.Rows = append(c.Rows, Row{Label: label, Text: t})
		}
	}
}

func (c *Card) code(label, text string) {
	if text != "" {
		c.Rows = append(c.Rows, Row{Label: label, Text: text, Code: true})
	}
}

// Plain is the card as plain text.
func (c *Card) Plain() string {
	var b strings.Builder
	b.WriteString(c.Title)
	if c.Kind != "" {
		b.WriteString(" (" + c.Kind + ")")
	}
	b.WriteString("\n")
	for i, r := range c.Rows {
		if i == 0 {
			b.WriteString("\n")
		}
		if r.Label != "" {
			b.WriteString(r.Label + ": ")
		}
		b.WriteString(r.Text)
		if r.Link != "" {
			b.WriteString(" <" + r.Link + ">")
		}
		b.WriteString("\n")
	}
	if c.Foot != "" {
		b.WriteString("\n" + c.Foot + "\n")
	}
	return b.String()
}

// Markdown is the card in Markdown. Nothing of the text that it is about is taken for
// Markdown's own marks.
func (c *Card) Markdown() string {
	var b strings.Builder
	b.WriteString("**" + escape(c.Title) + "**")
	if c.Kind != "" {
		b.WriteString(" (" + escape(c.Kind) + ")")
	}
	b.WriteString("\n")
	for i, r := range c.Rows {
		if i == 0 {
			b.WriteString("\n")
		}
		text := escape(r.Text)
		if r.Code {
			text = code(r.Text)
		}
		if r.Link != "" {
			text = "[" + text + "](" + r.Link + ")"
		}
		b.WriteString("- ")
		if r.Label != "" {
			b.WriteString("*" + escape(r.Label) + "* ")
		}
		b.WriteString(text + "\n")
	}
	if c.Foot != "" {
		b.WriteString("\n*" + escape(c.Foot) + "*\n")
	}
	return b.String()
}

// special are the characters that mean something in Markdown, wherever they stand.
const special = "\\`*_{}[]<>#|~&!"

func escape(text string) string {
	var b strings.Builder
	for i, r := range text {
		switch {
		case r == '\n' || r == '\r':
			r = ' '
		case strings.ContainsRune(special, r), i == 0 && strings.ContainsRune("+-=", r):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	// A number with a dot at the start of a line would be the head of a list.
	if i := strings.IndexAny(b.String(), ".)"); i > 0 && strings.Trim(b.String()[:i], "0123456789") == "" {
		return b.String()[:i] + "\\" + b.String()[i:]
	}
	return b.String()
}

// code is a text of the notation between backticks.
func code(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	marks := "`"
	for strings.Contains(text, marks) {
		marks += "`"
	}
	if len(marks) > 1 {
		text = " " + text + " "
	}
	return marks + text + marks
}

// Package hover makes hover cards: what there is to say of a place in a text, such as what a word
// means, what a count adds up to, or how long a part takes. A file is a subject: movement.go,
// part.go, load.go. hover.go finds the subject at an offset. The figures are from lang/analysis.
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
	Rows  []CardRow
	Foot  string // what holds for all of it: that it is an estimate
}

// A CardRow is one thing that a card says.
type CardRow struct {
	Label string // one or two words; empty for plain text
	Text  string
	Code  bool   // the text is in the notation
	Link  string // where the text leads to, if it does
}

func (c *Card) row(label string, texts ...string) {
	for _, t := range texts {
		if t != "" {
			c.Rows = append(c.Rows, CardRow{Label: label, Text: t})
		}
	}
}

func (c *Card) code(label, text string) {
	if text != "" {
		c.Rows = append(c.Rows, CardRow{Label: label, Text: text, Code: true})
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

package hover

import (
	"strings"
)

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

// markdownSpecial are the characters that mean something in Markdown, wherever they stand.
const markdownSpecial = "\\`*_{}[]<>#|~&!"

func escape(text string) string {
	var b strings.Builder
	for i, r := range text {
		switch {
		case r == '\n' || r == '\r':
			r = ' '
		case strings.ContainsRune(markdownSpecial, r), i == 0 && strings.ContainsRune("+-=", r):
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

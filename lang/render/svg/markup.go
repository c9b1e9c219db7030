package svg

import (
	"encoding/xml"
	"fmt"
	"strings"
	"unicode"

	"stint.example/stint/lang/render/internal/round"
	"stint.example/stint/lang/units"
)

// A Markup builds XML. Texts and attribute values are escaped on their way in.
type Markup struct{ b strings.Builder }

// String is the XML so far.
func (m *Markup) String() string { return m.b.String() }

// Open begins an element; attributes are names and values in turn. An attribute without a
// value is left out.
func (m *Markup) Open(name string, attributes ...string) { m.tag(name, ">\n", attributes) }

// Close ends an element.
func (m *Markup) Close(name string) { m.b.WriteString("</" + name + ">\n") }

// Element writes an element without content.
func (m *Markup) Element(name string, attributes ...string) { m.tag(name, "/>\n", attributes) }

// Leaf writes an element that holds a text.
func (m *Markup) Leaf(name, text string, attributes ...string) {
	m.tag(name, ">"+escape(text), attributes)
	m.Close(name)
}

func (m *Markup) tag(name, end string, attributes []string) {
	m.b.WriteString("<" + name)
	for i := 0; i+1 < len(attributes); i += 2 {
		if attributes[i+1] != "" {
			m.b.WriteString(" " + attributes[i] + `="` + escape(attributes[i+1]) + `"`)
		}
	}
	m.b.WriteString(end)
}

// Line draws a straight line. Dash is an SVG dash array, or empty for a solid line.
func (m *Markup) Line(x1, y1, x2, y2 float64, colour string, width float64, dash string) {
	m.Element("line", "x1", Px(x1), "y1", Px(y1), "x2", Px(x2), "y2", Px(y2),
		"stroke", colour, "stroke-width", Px(width), "stroke-dasharray", dash)
}

// Path draws a path as a line, not filled.
func (m *Markup) Path(path, colour string, width float64, dash string) {
	m.Element("path", "d", path, "fill", "none", "stroke", colour, "stroke-width", Px(width), "stroke-dasharray", dash)
}

// An Anchor says which end of a line of type stands at its x.
type Anchor string

const (
	Start  Anchor = ""
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Type writes a line of type.
func (m *Markup) Type(x, y, size float64, anchor Anchor, words string) {
	m.typed(x, y, size, "", anchor, words)
}

// Bold writes a line of bold type.
func (m *Markup) Bold(x, y, size float64, anchor Anchor, words string) {
	m.typed(x, y, size, "bold", anchor, words)
}

func (m *Markup) typed(x, y, size float64, weight string, anchor Anchor, words string) {
	m.Leaf("text", words, "x", Px(x), "y", Px(y), "font-size", Px(size), "font-weight", weight,
		"text-anchor", string(anchor), "fill", Text)
}

// escape makes a text safe to stand in XML. Control characters, and format characters that
// could reverse the order of what follows, are removed.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\t', r == '\r':
			return ' '
		case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co):
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a builder never fails
	return b.String()
}

// Px writes a length in pixels, to a tenth.
func Px(v float64) string { return units.FormatNumber(round.To(v, 10)) }

// PathData is the data of a path: each %s of the format is a length in px.
func PathData(format string, lengths ...float64) string {
	args := make([]any, len(lengths))
	for i, l := range lengths {
		args[i] = Px(l)
	}
	return fmt.Sprintf(format, args...)
}

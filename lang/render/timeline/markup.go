package timeline

import (
	"encoding/xml"
	"strings"
	"unicode"

	"stint.example/stint/lang/units"
)

// A markup is XML in the making: whatever goes into it as a text or an attribute comes out
// as one.
type markup struct{ strings.Builder }

// open begins an element; attributes are names and values in turn.
func (m *markup) open(name string, attributes ...string) { m.tag(name, ">\n", attributes) }

// close ends an element.
func (m *markup) close(name string) { m.WriteString("</" + name + ">\n") }

// el is an element without content.
func (m *markup) el(name string, attributes ...string) { m.tag(name, "/>\n", attributes) }

// leaf is an element with a text.
func (m *markup) leaf(name, text string, attributes ...string) {
	m.tag(name, ">"+escape(text), attributes)
	m.close(name)
}

func (m *markup) tag(name, end string, attributes []string) {
	m.WriteString("<" + name)
	for i := 0; i+1 < len(attributes); i += 2 {
		if attributes[i+1] == "" || attributes[i+1] == "none" && attributes[i] == "stroke-dasharray" {
			continue
		}
		m.WriteString(" " + attributes[i] + `="` + escape(attributes[i+1]) + `"`)
	}
	m.WriteString(end)
}

// text writes a line of type.
func (m *markup) text(x, y, size float64, weight, anchor, words string) {
	if anchor == "start" {
		anchor = ""
	}
	m.leaf("text", words, "x", px(x), "y", px(y), "font-size", px(size), "font-weight", weight, "text-anchor", anchor, "fill", text)
}

// escape makes a text safe to stand in XML. What would turn a line round, or cannot be
// seen, is left out.
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

// px is a length in pixels, to a tenth.
func px(v float64) string { return units.FormatNumber(to(v, 10)) }

// lines writes texts, each from a new line on, broken where they get too wide.
func (d *drawing) lines(x, wide, size float64, texts ...string) {
	for _, t := range texts {
		for _, l := range wrap(t, wide, size) {
			d.y += size + 4
			d.text(x, d.y, size, "", "start", l)
		}
	}
}

// wrap breaks a text into lines of no more than a width; a word that is wider by itself is
// cut.
func wrap(text string, wide, size float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(text) {
		for extent(word, size, false) > wide {
			if line != "" {
				out = append(out, line)
				line = ""
			}
			n := 1
			rs := []rune(word)
			for n < len(rs)-1 && extent(string(rs[:n+1]), size, false) <= wide {
				n++
			}
			if n >= len(rs) {
				break
			}
			out = append(out, string(rs[:n]))
			word = string(rs[n:])
		}
		switch {
		case line == "":
			line = word
		case extent(line+" "+word, size, false) <= wide:
			line += " " + word
		default:
			out = append(out, line)
			line = word
		}
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// extent is about how wide a text is in the usual fonts, rather more than less: a picture
// cannot measure.
func extent(s string, size float64, bold bool) float64 {
	em := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("iljtfrI.,:;'|!()[]/- \"", r):
			em += 0.37
		case strings.ContainsRune("mwMW%@…−", r):
			em += 0.92
		case unicode.IsUpper(r):
			em += 0.70
		case r > 0x2e80: // most scripts beyond are as wide as they are high
			em += 1.05
		default:
			em += 0.60
		}
	}
	if bold {
		em *= 1.08
	}
	return em * size
}

package marktest

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"stint.example/stint/lang/source"
)

// pattern is a regular expression over a message; the zero pattern matches any.
type pattern struct{ *regexp.Regexp }

func (p pattern) matches(s string) bool { return p.Regexp == nil || p.MatchString(s) }

const mark = "#@"

// markers reads the expectations of a file's comments. Whatever looks like a marker
// and is none is an error: an expectation that nobody checks is worse than none.
func markers(f *source.File) ([]Marker, error) {
	var out []Marker
	above := 0 // the nearest line above that is no #@^
	for i := range f.Lines() {
		text := f.Slice(f.Line(i))
		at, alone := comment(text)
		line := i + 1
		if at < 0 || !strings.HasPrefix(text[at:], mark) {
			if strings.Contains(text, mark) {
				return nil, fmt.Errorf("%s:%d: %s stands where no comment can start", f.Name, line, mark)
			}
			above = line
			continue
		}
		body := text[at+len(mark):]
		upward := strings.HasPrefix(body, "^")
		switch {
		case upward && !alone:
			return nil, fmt.Errorf("%s:%d: %s^ stands on a line of its own", f.Name, line, mark)
		case upward && above == 0:
			return nil, fmt.Errorf("%s:%d: no line stands above this %s^", f.Name, line, mark)
		case !upward && alone:
			return nil, fmt.Errorf("%s:%d: a marker on a line of its own starts with %s^", f.Name, line, mark)
		}
		of := line
		if upward {
			of, body = above, body[1:]
		} else {
			above = line
		}
		ms, err := expectations(body)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", f.Name, line, err)
		}
		for _, m := range ms {
			m.File, m.Line, m.at = f.Name, of, line
			out = append(out, m)
		}
	}
	return out, nil
}

// comment finds the # that starts a line's comment, or -1, and reports whether nothing
// stands before it. As in the notation, # and > count behind a blank or at the start
// only, and whichever is first has the rest of the line.
func comment(line string) (at int, alone bool) {
	before := ' '
	for i, r := range line {
		if unicode.IsSpace(before) || before == 0xFEFF {
			switch r {
			case '>':
				return -1, false
			case '#':
				return i, strings.TrimFunc(line[:i], unicode.IsSpace) == ""
			}
		}
		before = r
	}
	return -1, false
}

var ruleName = regexp.MustCompile(`^[a-z]+(-[a-z0-9]+)*`)

// expectations reads what stands behind the mark: "diag RULE", each with its words
// and its pattern if it has them, and semicolons between.
func expectations(text string) ([]Marker, error) {
	var out []Marker
	for {
		rest, ok := strings.CutPrefix(strings.TrimSpace(text), "diag ")
		if !ok {
			return nil, fmt.Errorf("a marker is written %s diag RULE, not %q", mark, strings.TrimSpace(text))
		}
		rest = strings.TrimSpace(rest)
		m := Marker{Rule: ruleName.FindString(rest)}
		if m.Rule == "" {
			return nil, fmt.Errorf("%q does not start with the name of a rule", rest)
		}
		rest = strings.TrimSpace(rest[len(m.Rule):])
		var err error
		if strings.HasPrefix(rest, `"`) {
			if rest, err = m.quoted(rest); err != nil {
				return nil, err
			}
		}
		if strings.HasPrefix(rest, "/") {
			if rest, err = m.slashed(rest); err != nil {
				return nil, err
			}
		}
		out = append(out, m)
		if rest == "" {
			return out, nil
		}
		if text, ok = strings.CutPrefix(rest, ";"); !ok {
			return nil, fmt.Errorf("%q cannot follow %s", rest, m)
		}
	}
}

func (m *Marker) quoted(text string) (rest string, err error) {
	q, err := strconv.QuotedPrefix(text)
	if err != nil {
		return "", fmt.Errorf("the quoted words in %s do not end", text)
	}
	m.Words, err = strconv.Unquote(q)
	if err == nil && m.Words == "" {
		err = fmt.Errorf("a marker cannot ask for no words")
	}
	return strings.TrimSpace(text[len(q):]), err
}

func (m *Marker) slashed(text string) (rest string, err error) {
	end := 1
	for end < len(text) && text[end] != '/' {
		if text[end] == '\\' {
			end++
		}
		end++
	}
	if end >= len(text) {
		return "", fmt.Errorf("the pattern %s does not end", text)
	}
	m.about.Regexp, err = regexp.Compile(strings.ReplaceAll(text[1:end], `\/`, "/"))
	return strings.TrimSpace(text[end+1:]), err
}

// String is the marker as it is written, without the place.
func (m Marker) String() string {
	s := m.Rule
	if m.Words != "" {
		s += " " + strconv.Quote(m.Words)
	}
	if m.about.Regexp != nil {
		s += " /" + m.about.String() + "/"
	}
	return s
}

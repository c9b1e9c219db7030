package syntax

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"stint.example/stint/lang/source"
)

// A title is any text: the name of a session, a house or a cycle. Behind the word that it belongs to
// the scanner cuts it at its blanks alone, and what it holds is neither a number nor a mark.

// A titling is where on a line a title may stand.
type titling uint8

const (
	noTitle    titling = iota
	entryTitle         // behind the first word, to the end of the line
	dayTitle           // behind the first word and a time of day, to a comma
)

// titled says which titles a line of a block may have.
func titled(ctx Context) titling {
	switch ctx {
	case InFile:
		return entryTitle
	case InWeek:
		return dayTitle
	default:
		return noTitle
	}
}

// dayTime is a time of day, or what looks like one with a title behind it.
var dayTime = regexp.MustCompile(`^(([01]?\d|2[0-3]):[0-5]\d\+?(\s|,|$)|\d{1,2}:\d{2}\s+[^\s,>#])`)

// startsTitle reports whether a title, or more of one, stands at the scanner's place.
func (s *scanner) startsTitle(r rune) bool {
	switch {
	case len(s.toks) == 0 || s.toks[0].Kind != Word, untitled(r), r == '#', r == '>': // behind a blank these two are a comment and a note
		return false
	case s.title == entryTitle:
		return slices.Contains([]string{"session", "house", "cycle"}, s.toks[0].Text)
	case s.title == dayTitle && r != ',':
		k := keywords[InWeek][s.toks[0].Text]
		if _, spelled := keywordSpellings[s.toks[0].Text]; k.shape != aDay && !spelled {
			return false
		}
		return len(s.toks) > 1 || !dayTime.MatchString(s.body[s.pos:])
	}
	return false
}

// untitled holds for what is no text, and so of no title.
func untitled(r rune) bool { return r == utf8.RuneError || unicode.IsControl(r) }

// titleWord reads what stands between two blanks of a title.
func (s *scanner) titleWord() {
	start := s.pos
	var text strings.Builder
	for s.pos < len(s.body) {
		r, size := utf8.DecodeRuneInString(s.body[s.pos:])
		if isBlank(r) || untitled(r) || r == ',' && s.title == dayTitle {
			break
		}
		at := source.Span{Start: s.pos, End: s.pos + size}
		plain := string(r)
		switch {
		case isInvisible(r):
			plain = ""
		case isDash(r):
			plain = "-"
		case isApostrophe(r):
			plain = "'"
		}
		if plain != string(r) {
			s.plain = append(s.plain, substitution{at, plain})
		}
		text.WriteString(strings.ToLower(plain))
		s.pos += size
	}
	s.emit(Word, start, text.String())
}

// nameless reports whether a title has neither a letter nor a digit, by which names are compared.
func nameless(n Name) bool {
	return !strings.ContainsFunc(n.Text, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) })
}

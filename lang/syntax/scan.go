package syntax

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// scan cuts the body of a line, without its indent, into tokens. It never fails: a
// character that means nothing becomes an Odd token and the rest is still read.
func scan(body string) *scanner { return scanTitled(body, noTitle) }

func scanTitled(body string, title titling) *scanner {
	code := body
	if i := strings.Index(body, " >"); i >= 0 {
		code = body[:i+2]
	}
	s := &scanner{body: body, title: title, toks: make([]Tok, 0, strings.Count(code, " ")+2)} // most tokens stand between blanks
	s.bullet()
	for s.pos < len(body) {
		s.next()
	}
	return s
}

type scanner struct {
	body   string
	pos    int
	toks   []Tok
	plain  []substitution // typographic characters, which the formatter prints plain
	faults []fault        // what is wrong with single tokens
	load   bool           // inside "@ ...": the units are those of loads
	title  titling        // which title the line may have
}

// A substitution is a typographic character and the plain one that it was read as.
type substitution struct {
	source.Span
	plain string
}

func (s *scanner) next() {
	start := s.pos
	r, size := utf8.DecodeRuneInString(s.body[start:])
	switch {
	case isBlank(r):
		if r != ' ' && r != '\t' {
			s.plain = append(s.plain, substitution{source.Span{Start: start, End: start + size}, " "})
		}
		s.pos += size
	case isInvisible(r):
		s.plain = append(s.plain, substitution{source.Span{Start: start, End: start + size}, ""})
		s.pos += size
	case r == '>' && s.blankBefore(start):
		s.pos = len(s.body)
		s.emit(Note, start, "")
	case r == '#' && s.blankBefore(start):
		s.pos = len(s.body)
		s.emit(Comment, start, "")
	case s.startsTitle(r):
		s.titleWord()
	case isDigit(r):
		s.number()
	case isLetter(r):
		s.word()
	case s.primed(r, size), s.bareSeconds(r), s.listed(r):
	case r == '×' || r == '*':
		s.pos += size
		if s.timesFollows() {
			s.emit(Times, start, "x")
		} else {
			s.odd(start)
		}
	case r == '…' || strings.HasPrefix(s.body[start:], "..."):
		if r == '…' {
			s.plain = append(s.plain, substitution{source.Span{Start: start, End: start + size}, "..."})
		} else {
			size = 3
		}
		s.pos += size
		s.emit(Dots, start, "...")
	case r == '°' && len(s.toks) > 0 && s.toks[0].Text == "heat" && s.letterAt(s.pos+size): // 29 °C
		s.plain = append(s.plain, substitution{source.Span{Start: start, End: start + size}, ""})
		s.pos += size
	case r == '→':
		s.plain = append(s.plain, substitution{source.Span{Start: start, End: start + size}, "->"})
		s.pos += size
		s.emit(Arrow, start, "->")
	case isDash(r):
		s.dash(r, size)
	case r == '/':
		s.slash()
	default:
		s.pos += size
		if k, ok := marks[r]; ok {
			s.emit(k, start, string(r))
			return
		}
		s.odd(start)
	}
}

var marks = map[rune]Kind{'@': At, ',': Comma, '+': Plus, '=': Equals, ':': Colon, '%': Percent}

func (s *scanner) emit(k Kind, start int, text string) {
	switch k {
	case At:
		s.load = true
	case Plus, Dash:
		if s.eachTurn() || s.last() == Comma && s.toks[0].Text == "score" && slices.ContainsFunc(s.toks, isLoadWord) {
			s.load = true // ", each +5 kg", "score load, +5 kg": what is added is a load
		}
	case Until:
		s.load = true // what a monitor shows
	case Comma, Arrow, Colon:
		s.load = false
		if s.title == dayTitle {
			s.title = noTitle
		}
	}
	s.toks = append(s.toks, Tok{Kind: k, Span: source.Span{Start: start, End: s.pos}, Text: text, Raw: s.body[start:s.pos]})
}

// odd reports a run of characters that mean nothing, once. Their token is left out,
// so that what stands around them is read as if they were not there.
func (s *scanner) odd(start int) {
	if n := len(s.toks); n > 0 && s.toks[n-1].Kind == Odd && s.toks[n-1].End == start {
		s.toks[n-1].End = s.pos
		s.toks[n-1].Raw = s.body[s.toks[n-1].Start:s.pos]
		return
	}
	s.emit(Odd, start, "")
}

func (s *scanner) last() Kind {
	if len(s.toks) == 0 {
		return EOL
	}
	return s.toks[len(s.toks)-1].Kind
}

func (s *scanner) lastWord(words ...string) bool {
	if s.last() != Word {
		return false
	}
	for _, w := range words {
		if s.toks[len(s.toks)-1].Text == w {
			return true
		}
	}
	return false
}

func isLoadWord(t Tok) bool { return t.Kind == Word && t.Text == "load" }

// eachTurn reports whether the last token is the each of a clause, "each +5 kg".
func (s *scanner) eachTurn() bool {
	n := len(s.toks)
	if !s.lastWord("each") {
		return false
	}
	if n > 1 { // on a section's head the first clause has no comma
		switch s.toks[0].Text {
		case "part", "warm-up", "warmup", "warm", "cool-down", "cooldown", "cool":
			return true
		}
	}
	return n == 1 || s.toks[n-2].Kind == Comma || s.toks[n-2].Kind == Arrow || s.toks[n-2].Kind == Colon
}

func (s *scanner) lastUnit(units ...string) bool {
	return s.last() == Unit && slices.Contains(units, s.toks[len(s.toks)-1].Text)
}

// per reports whether what follows is what a pace is per: "per rep", "per 10 cal".
func (s *scanner) per() bool {
	if n := len(s.toks); n > 1 && s.toks[n-1].Kind == Number {
		return s.toks[n-2].Kind == Word && s.toks[n-2].Text == "per"
	}
	return s.lastWord("per")
}

func (s *scanner) blankBefore(at int) bool {
	if at == 0 {
		return true
	}
	r, _ := utf8.DecodeLastRuneInString(s.body[:at])
	return isBlank(r) || isInvisible(r)
}

// peekRune is the first rune at or behind off that can be seen.
func (s *scanner) peekRune(off int) (rune, int) {
	for off < len(s.body) {
		r, size := utf8.DecodeRuneInString(s.body[off:])
		if !isBlank(r) && !isInvisible(r) {
			return r, off
		}
		off += size
	}
	return 0, off
}

// timesFollows reports whether an x at the position stands between a number, or a
// duration, and what it may multiply: a number, "work", "max" or a bound.
func (s *scanner) timesFollows() bool {
	switch s.last() {
	case Number, Clock, Dots, Side:
	case Unit:
		if !s.lastUnit("s", "min", "h") {
			return false
		}
	default:
		return false
	}
	r, off := s.peekRune(s.pos)
	return isDigit(r) || r == ':' && s.digitAt(off+1) ||
		slices.ContainsFunc(multiplied, func(w string) bool { return hasWord(s.body[off:], w) })
}

// multiplied are the words that may stand behind an x.
var multiplied = []string{"work", "max", "up", "at"}

func hasWord(text, word string) bool {
	if len(text) < len(word) || !strings.EqualFold(text[:len(word)], word) {
		return false
	}
	r, _ := utf8.DecodeRuneInString(text[len(word):])
	return !isLetter(r)
}

func (s *scanner) word() {
	start := s.pos
	if r := s.body[start]; (r == 'x' || r == 'X') && s.last() != EOL {
		s.pos++
		if s.timesFollows() && !s.letterAt(s.pos) {
			s.emit(Times, start, "x")
			return
		}
		s.pos = start
	}
	if s.lastWord("tempo") && s.tempo() {
		return
	}
	text := s.letters()
	if s.lastWord("per") && slices.Contains(sideWords, text) {
		start = s.toks[len(s.toks)-1].Start // "8 lunge per side"
		s.toks = s.toks[:len(s.toks)-1]
		s.emit(Side, start, "/side")
		return
	}
	if s.counts() || s.lastWord("max", "per") {
		if text == "km" && s.load && hasWord(s.body[s.pos:], "/h") {
			s.pos += len("/h")
			text = "km/h" // one word, which is refused with what to write
		}
		if text == "k" && s.kilometres(start) {
			text = "km"
		}
		if u, ok := unitAt(text, s.load, s.per()); ok {
			s.emit(Unit, start, u)
			return
		}
	}
	switch text {
	case "at", "up":
		s.emitBound(start, text)
	case "or":
		s.emit(Or, start, text)
	case "until":
		s.emit(Until, start, text)
	case "to":
		s.load = s.load || s.rounding() // "round loads down to 2.5 kg"
		s.emit(Word, start, text)
	default:
		s.emit(Word, start, text)
	}
}

// rounding reports whether the line says how loads are rounded.
func (s *scanner) rounding() bool {
	return len(s.toks) > 1 && (s.toks[0].Text == "round" && s.toks[1].Text == "loads" || s.toks[0].Text == "loads" && s.toks[1].Text == "round")
}

// emitBound emits the two words of a bound as one token, or the one word where they are none. "up
// to 10" is read as "at most 10".
func (s *scanner) emitBound(start int, word string) {
	_, off := s.peekRune(s.pos)
	rest := s.body[off:]
	switch {
	case word == "at" && hasWord(rest, "least"), word == "at" && hasWord(rest, "most"):
		s.pos = off + len("most")
		if hasWord(rest, "least") {
			s.pos = off + len("least")
		}
		s.emit(Bound, start, "at "+strings.ToLower(s.body[off:s.pos]))
	case word == "up" && hasWord(rest, "to") && s.numberAt(off+len("to")) && !s.rounding():
		s.pos = off + len("to")
		s.emit(Bound, start, AtMost)
	default:
		s.emit(Word, start, word)
	}
}

// numberAt reports whether a number stands behind blanks at off.
func (s *scanner) numberAt(off int) bool {
	r, _ := s.peekRune(off)
	return isDigit(r)
}

// counts reports whether the last token ends an amount that a unit may follow: one whose
// last number is no clock value.
func (s *scanner) counts() bool {
	n := len(s.toks) - 1
	if n >= 2 && s.toks[n].Kind == Dots {
		n -= 2 // the hyphen between
	}
	return n >= 0 && s.toks[n].Kind == Number
}

func (s *scanner) letterAt(off int) bool {
	r, _ := utf8.DecodeRuneInString(s.body[off:])
	return isLetter(r)
}

// seen is what stands at off or behind nothing but invisible characters there.
func (s *scanner) seen(off int) (rune, int) {
	for off < len(s.body) {
		r, size := utf8.DecodeRuneInString(s.body[off:])
		off += size
		if !isInvisible(r) {
			return r, off
		}
	}
	return 0, off
}

func (s *scanner) letterBehind(off int) bool {
	r, _ := s.seen(off)
	return isLetter(r)
}

// wordGoesOn reports whether a word goes on behind an invisible character in it.
func (s *scanner) wordGoesOn(off int) bool {
	r, behind := s.seen(off)
	return isLetter(r) || unicode.IsMark(r) || (isDash(r) || isApostrophe(r)) && s.letterBehind(behind)
}

// letters reads a word: letters of any script, with hyphens and apostrophes between
// them. It returns the word in lower case, its hyphens and apostrophes plain.
func (s *scanner) letters() string {
	var b strings.Builder
	for s.pos < len(s.body) {
		r, size := utf8.DecodeRuneInString(s.body[s.pos:])
		switch {
		case isInvisible(r):
			if !s.wordGoesOn(s.pos + size) {
				return b.String()
			}
			s.plain = append(s.plain, substitution{source.Span{Start: s.pos, End: s.pos + size}, ""})
		case isLetter(r) || unicode.IsMark(r):
			b.WriteRune(unicode.ToLower(r))
		case (isDash(r) || isApostrophe(r)) && s.letterBehind(s.pos+size) && !strings.HasPrefix(s.body[s.pos:], "->"):
			plain := "-"
			if isApostrophe(r) {
				plain = "'"
			}
			if string(r) != plain {
				s.plain = append(s.plain, substitution{source.Span{Start: s.pos, End: s.pos + size}, plain})
			}
			b.WriteString(plain)
		default:
			return b.String()
		}
		s.pos += size
	}
	return b.String()
}

func (s *scanner) dash(r rune, size int) {
	start := s.pos
	s.pos += size
	if r == '-' && s.at('>') {
		s.pos++
		s.emit(Arrow, start, "->")
		return
	}
	if k := s.last(); k == Number || k == Clock || k == Dots || r == '-' || s.eachTurn() || s.lastWord("first", "last", "today") {
		if r != '-' {
			s.plain = append(s.plain, substitution{source.Span{Start: start, End: s.pos}, "-"})
		}
		s.emit(Dash, start, "-")
		return
	}
	s.odd(start)
}

// slash reads "/side" as one token, so that a slash is otherwise always between tiers.
func (s *scanner) slash() {
	start := s.pos
	s.pos++
	_, off := s.peekRune(s.pos)
	for _, w := range sideWords {
		if hasWord(s.body[off:], w) {
			s.pos = off + len(w)
			s.emit(Side, start, "/side")
			return
		}
	}
	if s.load && s.perFollows(off) {
		s.emit(Word, start, "per") // 2:05/500 m, 5:00/km
		return
	}
	s.emit(Slash, start, "/")
}

// perFollows reports whether what stands behind the slash of a pace is what it is per: a
// unit, or behind a duration a number that is no clock value.
func (s *scanner) perFollows(off int) bool {
	end := off
	for s.digitAt(end) {
		end++
	}
	if end > off {
		return (s.last() == Clock || s.lastUnit("s", "min")) && !(end < len(s.body) && s.body[end] == ':')
	}
	return hasWord(s.body[off:], "km") || hasWord(s.body[off:], "k") || hasWord(s.body[off:], "m") || hasWord(s.body[off:], "mile") ||
		hasWord(s.body[off:], "cal") || hasWord(s.body[off:], "rep")
}

var sideWords = []string{"side", "leg", "arm", "hand"}

func (s *scanner) digitAt(off int) bool { return off < len(s.body) && isDigit(rune(s.body[off])) }
func (s *scanner) at(c byte) bool       { return s.pos < len(s.body) && s.body[s.pos] == c }

func isDigit(r rune) bool      { return '0' <= r && r <= '9' }
func isApostrophe(r rune) bool { return r == '\'' || r == '’' || r == '‘' || r == 'ʼ' }

// isLetter holds for the letters of any script. One of the apostrophes is a letter to
// Unicode.
func isLetter(r rune) bool { return unicode.IsLetter(r) && !isApostrophe(r) }

// isBlank holds for what leaves a gap on a screen.
func isBlank(r rune) bool { return r == '\t' || r == '\r' || unicode.Is(unicode.Zs, r) }

// isInvisible holds for what leaves nothing on a screen: a byte order mark, a soft
// hyphen, zero-width spaces and marks of direction.
func isInvisible(r rune) bool {
	return r == 0xFEFF || r == 0xAD || 0x200B <= r && r <= 0x200F || 0x2060 <= r && r <= 0x2064 || 0xFE00 <= r && r <= 0xFE0F
}

// isDash holds for the hyphen and for every dash that an editor may put in its place.
func isDash(r rune) bool {
	return r == '-' || 0x2010 <= r && r <= 0x2015 || r == 0x2212 || r == 0xFE58 || r == 0xFE63 || r == 0xFF0D
}

// readings are units that only loads have, by the word in lower case: what an athlete
// feels, and what a monitor shows.
var readings = map[string]string{"rir": "RIR", "rpe": "RPE", "bpm": "bpm", "spm": "spm", "w": "W", "watt": "W", "watts": "W"}

// unitAt says which unit a word behind a number is, if any: the list is closed, and
// differs by place, so that "in" is inches behind @ only.
func unitAt(word string, load, per bool) (string, bool) {
	if u, ok := readings[word]; ok {
		return u, load
	}
	u, ok := units.Lookup(word)
	if !ok {
		return "", false
	}
	switch u {
	case units.Kilogram, units.Pound, units.Centimetre, units.Inch:
		return u.String(), load
	case units.Foot, units.Metre, units.Kilometre, units.Mile, units.Second, units.Minute:
		return u.String(), true
	}
	return u.String(), !load || per
}

package syntax

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// What boards in gyms say in a shorter way, where it has one reading: it is read as what it is
// short for, and printed so. Where it has two, idioms.go reports it.

// The scanner's part: marks that stand for words.

// bullets are what lists start their lines with.
const bullets = "-*•·–"

// bullet leaves out what a list puts before each line: "- 12 burpee", "1. 12 burpee".
func (s *scanner) bullet() {
	r, size := utf8.DecodeRuneInString(s.body)
	end := size
	if !strings.ContainsRune(bullets, r) {
		for end = 0; s.digitAt(end) && end < 2; {
			end++
		}
		if end == 0 || end == len(s.body) || s.body[end] != '.' && s.body[end] != ')' {
			return
		}
		end++
	}
	behind, off := s.peekRune(end)
	if off == end || behind == 0 || behind == '>' || behind == '#' {
		return // no blank behind it, or nothing to list
	}
	s.pos = off
	s.plain = append(s.plain, substitution{source.Span{End: off}, ""})
}

// primed reads the marks of seconds and minutes behind a number: 45", 2', 1'30. Behind @ they are
// those of inches and feet.
func (s *scanner) primed(r rune, size int) bool {
	if s.last() != Number || s.toks[len(s.toks)-1].End != s.pos {
		return false
	}
	unit, start := "", s.pos
	switch {
	case strings.ContainsRune("\"″”“", r):
		unit = "s"
		if s.load {
			unit = "in"
		}
	case (isApostrophe(r) || r == '′') && !s.letterAt(s.pos+size):
		unit = "min"
		if s.load {
			unit = "ft"
		}
		if s.minutesAndSeconds(s.pos + size) {
			return true
		}
	default:
		return false
	}
	s.pos += size
	s.plain = append(s.plain, substitution{source.Span{Start: start, End: s.pos}, " " + unit})
	s.emit(Unit, start, unit)
	return true
}

// minutesAndSeconds reads what stands behind the mark of 1'30 or 1'30": the two are a clock value.
func (s *scanner) minutesAndSeconds(at int) bool {
	if s.load || !s.digitAt(at) || !s.digitAt(at+1) || s.digitAt(at+2) {
		return false
	}
	last := &s.toks[len(s.toks)-1]
	text := last.Text + ":" + s.body[at:at+2]
	if _, err := units.ParseClock(text); err != nil {
		return false
	}
	s.plain = append(s.plain, substitution{source.Span{Start: s.pos, End: at}, ":"})
	s.pos = at + 2
	if r, size := utf8.DecodeRuneInString(s.body[s.pos:]); strings.ContainsRune("\"″”“", r) {
		s.plain = append(s.plain, substitution{source.Span{Start: s.pos, End: s.pos + size}, ""})
		s.pos += size
	}
	last.Kind, last.End, last.Text, last.Raw = Clock, s.pos, text, s.body[last.Start:s.pos]
	return true
}

// bareSeconds reads :40 as 0:40.
func (s *scanner) bareSeconds(r rune) bool {
	at := s.pos + 1
	if r != ':' || !s.blankBefore(s.pos) || !s.digitAt(at) || !s.digitAt(at+1) || s.digitAt(at+2) || s.body[at] > '5' {
		return false
	}
	start := s.pos
	s.pos += len(":40")
	s.emit(Clock, start, "0"+s.body[start:s.pos])
	return true
}

// listed reads the bracket of A) or A1) as the colon of a label.
func (s *scanner) listed(r rune) bool {
	n := len(s.toks)
	if r != ')' && r != '.' || n == 0 || n > 2 || s.toks[n-1].End != s.pos || s.toks[0].Kind != Word || len([]rune(s.toks[0].Text)) > 1 ||
		n == 2 && (s.toks[1].Kind != Number || s.toks[0].End != s.toks[1].Start || strings.Contains(s.toks[1].Text, ".")) {
		return false
	}
	if behind, off := s.peekRune(s.pos + 1); off == s.pos+1 || behind == 0 {
		return false
	}
	start := s.pos
	s.pos++
	s.plain = append(s.plain, substitution{source.Span{Start: start, End: s.pos}, ":"})
	s.emit(Colon, start, ":")
	return true
}

// kilometres reports whether the k at start is that of 2k, or 5k pace, and can be nothing else:
// behind @ it may as well be one of kg.
func (s *scanner) kilometres(start int) bool {
	if s.toks[len(s.toks)-1].End != start {
		return false
	}
	if s.lastWord("per") {
		return true
	}
	_, off := s.peekRune(s.pos)
	return !s.load || hasWord(s.body[off:], "pace")
}

// The reader's part: words that stand for others.

// spellings puts words of the trade into those of the notation.
func (r *reader) spellings() {
	switch r.ctx {
	case InFile, InGroup, InScaling:
	default:
		return
	}
	r.toks = slices.Clone(r.toks)
	for i := 0; i < len(r.toks); i++ {
		switch w := r.word(i); {
		case r.number(i-1) && slices.Contains(roundSpellings, w):
			r.toks[i].Text = "rounds"
		case w == "of" && (r.word(i-1) == "rounds" || r.word(i-1) == "round"):
			switch next := r.kind(i + 1); {
			case next == EOL || next == Colon:
				r.toks = slices.Delete(r.toks, i, i+1)
			case next == Number || next == Clock:
				r.toks[i].Kind, r.toks[i].Text = Colon, ":"
			}
		case r.word(i-1) == "each" && slices.Contains(sideWords, w):
			r.toks[i].Text = "side"
		case r.number(i-1) && w == "rft" && r.holdsHead():
			r.replace(i, 1, "rounds", "for", "time")
		case w == "w" && r.kind(i+1) == Slash && r.kind(i+2) == Word && r.joined(i, i+2):
			switch next := r.word(i + 2); {
			case i == 0 && (next == "u" || next == "up"):
				r.replace(i, 3, "warm-up")
			case i == 0 && (next == "d" || next == "down"):
				r.replace(i, 3, "cool-down")
			}
		case w == "w" && r.kind(i+1) == Slash && i > 0:
			r.replace(i, 2, "with")
		case w == "r" && r.restsFrom(i):
			r.toks[i].Text = "rest"
		case w == "x" && r.kind(i-1) == Number && r.word(i+1) == "amrap":
			r.toks[i].Kind, r.toks[i+1].Text = Times, "max"
		}
	}
	r.formerEnds()
}

// holdsHead reports whether a head may stand on the line: it is one, stands behind a lead, or is a side
// of a swap.
func (r *reader) holdsHead() bool {
	switch keywords[r.ctx][r.word(0)].shape {
	case noShape, aHead, aLead, aSwap:
		return true
	}
	return false
}

var roundSpellings = []string{"rd", "rds", "rnd", "rnds"}

// RoundsBehindCount reports whether a word behind a number is read as rounds.
func RoundsBehindCount(word string) bool {
	return word == "rounds" || word == "round" || word == "rft" || slices.Contains(roundSpellings, word)
}

// nameUnfit reports a name that is something else as soon as its line is written in another order:
// one that begins or ends with what says that a count is for each side, or that is a unit of mass.
func (r *reader) nameUnfit(n Name) bool {
	words := strings.Fields(strings.ToLower(n.Text))
	first, last := words[0], words[len(words)-1]
	d := lineDiag{rule: unreadable, span: n.Span}
	switch {
	case isEach(first) || isEach(last):
		word := first
		if isEach(last) {
			word = last
		}
		d.message = fmt.Sprintf("%q says that a count is for each side, and stands where a name does", word)
		d.help = "write it behind the count, and then the movement: 10/side lunge"
	case len(words) == 1 && slices.Contains([]string{"kg", "lb", "lbs"}, first):
		d.message = fmt.Sprintf("%q is a unit, and stands where a name does", first)
		d.help = "write a load behind the movement, like 12 kettlebell swing @ 24/16 kg"
	default:
		return false
	}
	r.report(d)
	return true
}

// isEach reports a short word that says, next to a movement, that a count is for each side.
func isEach(word string) bool { return word == "e" || word == "ea" }

// joined reports whether no blank stands between the tokens from i to j.
func (r *reader) joined(i, j int) bool {
	for ; i < j; i++ {
		if r.toks[i].End != r.toks[i+1].Start {
			return false
		}
	}
	return true
}

// replace puts words in the place of n tokens. The first has their span, the others stand at its
// end.
func (r *reader) replace(i, n int, words ...string) {
	span := r.toks[i].Join(r.toks[i+n-1].Span)
	var put []Tok
	for _, w := range words {
		put = append(put, Tok{Kind: Word, Span: span, Text: w, Raw: r.body[span.Start:span.End]})
		span.Start = span.End
	}
	r.toks = slices.Replace(r.toks, i, i+n, put...)
}

// restsFrom reports whether an r is that of "r 2:00": a duration stands behind it, apart.
func (r *reader) restsFrom(i int) bool {
	_, _, next := r.timeAt(i + 1)
	return next > i+1 && r.toks[i+1].Start > r.toks[i].End
}

// ratio reads "rest 1:2", the work to the rest, as "rest 2 x work".
func (r *reader) ratio(i int) bool {
	if r.kind(i) != Clock || r.word(i-1) != "rest" {
		return false
	}
	work, rest, _ := strings.Cut(r.toks[i].Raw, ":")
	if len(work) != 1 || len(rest) != 1 || work == "0" || rest == "0" {
		return false
	}
	share := float64(rest[0]-'0') / float64(work[0]-'0')
	if share*100 != float64(int(share*100)) {
		return false // 2:3 is a rest of one and a half; 3:2 is no number with an end
	}
	span := r.toks[i].Span
	end := source.Span{Start: span.End, End: span.End}
	r.toks = slices.Replace(r.toks, i, i+1,
		Tok{Kind: Number, Span: span, Text: units.FormatNumber(share), Raw: r.toks[i].Raw},
		Tok{Kind: Times, Span: end, Text: "x"}, Tok{Kind: Word, Span: end, Text: "work"})
	return true
}

// sidesOf reads "ea", "e/s", "each leg" and their like behind the count or the movement as /side.
// Where nothing else could be the movement, it is the movement.
func (r *reader) sidesOf() {
	for i := len(r.toks) - 1; i > 0; i-- { // from the end on, so that two of them are one
		n := r.sideWords(i)
		if n == 0 || r.inLoad(i) || r.joined(i-1, i) {
			continue
		}
		switch r.kind(i - 1) {
		case Number, Clock, Unit, Word:
		default:
			continue
		}
		named := false // the movement that it belongs to: "2 squat + 3 ea" has one called "ea"
		for j := i - 1; j >= 0 && r.kind(j) != Plus && r.kind(j) != Or; j-- {
			named = named || r.kind(j) == Word
		}
		switch next := r.kind(i + n); {
		case named && (slices.Contains([]Kind{EOL, Comma, At, Plus, Equals}, next) || r.doseAt(i+n)):
		case next == Word && r.kind(i-1) != Word: // "10 ea leg swing"
		default:
			continue
		}
		r.replace(i, n, "/side")
		r.toks[i].Kind = Side
	}
}

// inLoad reports whether a token stands behind an @, and before the comma that ends its load.
func (r *reader) inLoad(i int) bool {
	for i--; i >= 0 && r.kind(i) != Comma; i-- {
		if r.kind(i) == At {
			return true
		}
	}
	return false
}

// sideWords is how many tokens from i on say that a count is for each side; 0 where they do not.
func (r *reader) sideWords(i int) int {
	switch w := r.word(i); {
	case w == "e" && r.kind(i+1) == Slash && r.word(i+2) == "s" && r.joined(i, i+2):
		return 3
	case (w == "e" || w == "ea" || w == "each") && (r.kind(i+1) == Side || slices.Contains(sideWords, r.word(i+1))):
		return 2
	case w == "ea" || w == "e" && (r.kind(i+1) == EOL || r.doseAt(i+1)):
		return 1
	}
	return 0
}

// doseAt reports whether a count behind the movement starts at a token. It is printed in front, so
// what ends the name stands last then.
func (r *reader) doseAt(i int) bool {
	switch r.kind(i) {
	case Number, Clock, RM, Bound:
		return true
	case Word:
		return (r.word(i) == "x" || r.word(i) == "max") && i+1 < len(r.toks)
	default:
		return false
	}
}

// countBehind reads "push-up x 10" as "10 push-up", where nothing else says how many: the x goes.
func (r *reader) countBehind() {
	if r.number(0) || r.word(0) == "max" {
		return
	}
	for i := range r.toks {
		if r.word(i) == "x" && r.number(i+1) && (i == 0 || r.kind(i-1) == Word) && (r.kind(i+2) != Times) {
			r.toks = slices.Delete(slices.Clone(r.toks), i, i+1)
			return
		}
	}
}

// setsBehind reports "10 push-up x 3", whose sets stand behind it.
func (r *reader) setsBehind() Stmt {
	i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == Word && t.Text == "x" })
	if i < 2 || len(r.p.diags) > 0 || r.kind(0) != Number || r.kind(i+1) != Number || slices.ContainsFunc(r.toks[:i], func(t Tok) bool { return t.Kind == Times }) {
		return nil
	}
	switch r.kind(i + 2) {
	case EOL, Comma, At:
	default:
		return nil
	}
	mend := r.toks[i+1].Raw + " x " + r.text(0, i)
	span := r.toks[0].Join(r.toks[i+1].Span)
	r.report(lineDiag{rule: unreadable, span: r.toks[i].Join(r.toks[i+1].Span), message: "sets stand before the count of each",
		help: "write " + mend, fix: &lineFix{title: "write " + mend, span: span, text: mend}})
	return r.bad()
}

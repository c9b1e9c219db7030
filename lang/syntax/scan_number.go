package syntax

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// tempo reads four phases behind the word tempo: 31X1, or with hyphens where a phase
// has ten seconds or more.
func (s *scanner) tempo() bool {
	end := s.pos
	for end < len(s.body) && (isDigit(rune(s.body[end])) || strings.IndexByte("xX-", s.body[end]) >= 0) {
		end++
	}
	text := strings.ToUpper(s.body[s.pos:end])
	phases := strings.Split(text, "-")
	if len(phases) == 1 {
		phases = strings.Split(text, "")
	}
	if len(phases) != 4 || s.letterAt(end) {
		return false
	}
	for _, p := range phases {
		if _, err := strconv.Atoi(p); err != nil && p != "X" {
			return false
		}
	}
	start := s.pos
	s.pos = end
	s.emit(Tempo, start, text)
	return true
}

func (s *scanner) number() {
	start := s.pos
	if s.lastWord("tempo") && s.tempo() {
		return
	}
	if (len(s.toks) == 1 && s.lastWord("date", "from") || s.last() == Date) && s.date() {
		return
	}
	s.digits()
	switch {
	case s.at(':') && s.digitAt(s.pos+1):
		for s.at(':') && s.digitAt(s.pos+1) {
			s.pos++
			s.digits()
		}
		if s.at('.') && s.digitAt(s.pos+1) {
			s.pos++
			s.digits()
		}
		s.clock(start)
		return
	case s.at('.') && s.digitAt(s.pos+1):
		s.pos++
		s.digits()
	case s.at(',') && s.digitAt(s.pos+1):
		s.pos++
		s.digits()
		text := strings.Replace(s.body[start:s.pos], ",", ".", 1)
		s.emit(Number, start, text)
		s.fault("a comma cannot stand inside a number", "write "+text+", or put a blank behind the comma if these are two things", text)
		return
	}
	text := s.body[start:s.pos]
	if _, off := s.peekRune(s.pos); hasWord(s.body[off:], "RM") {
		s.pos = off + len("RM")
		s.emit(RM, start, text+"RM")
		return
	}
	trimmed := strings.TrimLeft(text, "0")
	if trimmed == "" || trimmed[0] == '.' {
		trimmed = "0" + trimmed
	}
	s.counted(Number, start, text)
	switch v, err := strconv.ParseFloat(text, 64); {
	case err != nil || v > maxNumber:
		s.fault("this number is too large to be meant", "nothing in a session is over a billion", "")
	case trimmed != text:
		t := &s.toks[len(s.toks)-1]
		t.Text = trimmed
		if t.More {
			trimmed += "+"
		}
		s.fault("a number does not start with a zero", "write "+trimmed, trimmed)
	}
}

// counted emits a number or a clock value, and the plus of 5+ with it.
func (s *scanner) counted(k Kind, start int, text string) {
	more := s.at('+') && !s.digitAt(s.pos+1)
	if more {
		s.pos++
	}
	s.emit(k, start, text)
	s.toks[len(s.toks)-1].More = more
}

// maxNumber keeps sums of products far inside what a float64 counts exactly.
const maxNumber = 1e9

func (s *scanner) clock(start int) {
	text := s.body[start:s.pos]
	s.counted(Clock, start, text)
	_, err := units.ParseClock(text)
	if wrong := (*units.ClockError)(nil); errors.As(err, &wrong) {
		help, mend := "a clock is written minutes and two digits of seconds, such as 9:00, or 1:30:00 with hours", wrong.Reading
		if mend != "" {
			help = "write " + mend
		}
		message := text + " is no clock value: behind a colon stand two digits, 59 at most"
		if _, fraction, split := strings.Cut(text, "."); split && len(fraction) > 1 {
			message = text + " is no clock value: behind the point stands one digit, for tenths of a second"
			rounded, _ := strconv.ParseFloat("0."+fraction, 64)
			if whole, err := units.ParseClock(strings.TrimSuffix(text, "."+fraction)); err == nil {
				mend = units.FormatTime(whole + math.Round(rounded*10)/10)
				help = "write " + mend
			}
		}
		s.fault(message, help, mend)
		s.toks[len(s.toks)-1].Text = mend
		if mend == "" {
			s.toks[len(s.toks)-1].Text = "0:00"
		}
	}
}

func (s *scanner) date() bool {
	end := s.pos
	for end < len(s.body) {
		r, size := utf8.DecodeRuneInString(s.body[end:])
		if !isDigit(r) && !isDash(r) {
			break
		}
		end += size
	}
	if strings.IndexFunc(s.body[s.pos:end], isDash) < 0 {
		return false
	}
	start := s.pos
	s.pos = end
	text := strings.Map(func(r rune) rune {
		if isDash(r) {
			return '-'
		}
		return r
	}, s.body[start:end])
	for i, r := range s.body[start:end] {
		if isDash(r) && r != '-' {
			s.plain = append(s.plain, substitution{source.Span{Start: start + i, End: start + i + utf8.RuneLen(r)}, "-"})
		}
	}
	s.emit(Date, start, text)
	if _, err := parseDate(text); err != nil {
		mend := ""
		if day, err := time.Parse("2006-1-2", text); err == nil {
			mend = day.Format(time.DateOnly)
		}
		s.fault("there is no day "+text, "a date is written year-month-day, such as 2027-03-01", mend)
	}
	return true
}

func (s *scanner) digits() {
	for s.digitAt(s.pos) {
		s.pos++
	}
}

package syntax

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

// kinds lists the tokens of a line, each as its kind and what it is read as.
func kinds(body string) string {
	var out []string
	for _, t := range scan(body).toks {
		s := t.Kind.String()
		switch {
		case t.Kind == Note || t.Kind == Comment || t.Kind == Odd:
			s += " " + t.Raw
		case t.Text != "":
			s += " " + t.Text
		}
		out = append(out, s)
	}
	return strings.Join(out, " | ")
}

func TestScan(t *testing.T) {
	for _, tt := range []struct{ body, want string }{
		{"12 air squat", "Number 12 | Word air | Word squat"},
		{"300m run", "Number 300 | Unit m | Word run"},
		{"12 in", "Number 12 | Word in"},
		{"@ 12 in", "At @ | Number 12 | Unit in"},
		{"12 m, 12 kg", "Number 12 | Unit m | Comma , | Number 12 | Word kg"},
		{"@ 12 kg, 12 kg", "At @ | Number 12 | Unit kg | Comma , | Number 12 | Word kg"},
		{"each +5 kg", "Word each | Plus + | Number 5 | Unit kg"},
		{"max cal row", "Word max | Unit cal | Word row"},
		{"3 s per 500 m", "Number 3 | Unit s | Word per | Number 500 | Unit m"},
		{"80%", "Number 80 | Percent %"},
		{"9:00", "Clock 9:00"},
		{"at 9:00: x", "Word at | Clock 9:00 | Colon : | Word x"},
		{"2-4-...-10", "Number 2 | Dash - | Number 4 | Dash - | Dots ... | Dash - | Number 10"},
		{"5 x 3", "Number 5 | Times x | Number 3"},
		{"5x3", "Number 5 | Times x | Number 3"},
		{"2 x work", "Number 2 | Times x | Word work"},
		{"5 xylo", "Number 5 | Word xylo"},
		{"10/side", "Number 10 | Side /side"},
		{"10 / arm", "Number 10 | Side /side"},
		{"24/16", "Number 24 | Slash / | Number 16"},
		{"10/sided", "Number 10 | Slash / | Word sided"},
		{"tempo 31X1", "Word tempo | Tempo 31X1"},
		{"tempo x0x0", "Word tempo | Tempo X0X0"},
		{"tempo 3-1-10-x", "Word tempo | Tempo 3-1-10-X"},
		{"tempo 311", "Word tempo | Number 311"},
		{"5RM", "RM 5RM"},
		{"date 2027-03-01", "Word date | Date 2027-03-01"},
		{"2027-03-01", "Number 2027 | Dash - | Number 3 | Dash - | Number 1"},
		{"pull-up", "Word pull-up"},
		{"child's pose", "Word child's | Word pose"},
		{"row -> run", "Word row | Arrow -> | Word run"},
		{"row->run", "Word row | Arrow -> | Word run"},
		{"row or ski until done", "Word row | Or or | Word ski | Until until | Word done"},
		{"row > a # b", "Word row | Note > a # b"},
		{"row # a > b", "Word row | Comment # a > b"},
		{"row# a", "Word row | Odd # | Word a"},
		{"row> a", "Word row | Odd > | Word a"},
		{"> a", "Note > a"},
		{"((a", "Odd (( | Word a"},
		{"( (", "Odd ( | Odd ("},
	} {
		assert.Equal(t, tt.want, kinds(tt.body), tt.body)
	}
}

// FuzzScan cuts any line into tokens that follow one another, say what stands in them,
// and leave out only what is blank or invisible.
func FuzzScan(f *testing.F) {
	for _, s := range []string{"12 air squat @ 2x24/16 kg, tempo 31X1 > note", "date 2027-03-01", "2-4-…-10", "row → run # c", "5RM 10/side 3 × 5 \xff\x00 ½",
		"tempo 3-1-10-X", "99999999999 012 1:75 12,5", "each −5 kg", "push\u00adup child’s\u00a0pose"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, body string) {
		if strings.ContainsRune(body, '\n') || len(body) > MaxBody {
			return
		}
		s := scan(body)
		at := 0
		for _, tok := range s.toks {
			if tok.Start < at || tok.End <= tok.Start || tok.End > len(body) {
				t.Fatalf("%s reaches from %d to %d, behind %d", tok.Kind, tok.Start, tok.End, at)
			}
			if tok.Raw != body[tok.Start:tok.End] {
				t.Errorf("%s says %q where %q stands", tok.Kind, tok.Raw, body[tok.Start:tok.End])
			}
			if gap := body[at:tok.Start]; !emptyLooking(gap) && !s.replaced(at, tok.Start) {
				t.Errorf("%q is in no token", gap)
			}
			at = tok.End
		}
		if !emptyLooking(body[at:]) && !s.replaced(at, len(body)) {
			t.Errorf("%q is in no token", body[at:])
		}
		for _, p := range s.plain {
			if p.Start < 0 || p.End > len(body) || p.Len() <= 0 {
				t.Errorf("a plain character stands at %v", p.Span)
			}
		}
	})
}

// replaced says whether what stands at a place is said to be printed otherwise, as a bullet is.
func (s *scanner) replaced(from, to int) bool {
	return slices.ContainsFunc(s.plain, func(p substitution) bool { return p.Start <= from && to <= p.End })
}

func emptyLooking(s string) bool {
	for len(s) > 0 {
		r, size := utf8.DecodeRuneInString(s)
		if !isBlank(r) && !isInvisible(r) {
			return false
		}
		s = s[size:]
	}
	return true
}

func TestNearest(t *testing.T) {
	words := []string{"amrap", "emom", "every", "ladder", "meanwhile", "rest", "tag"}
	for word, want := range map[string][]string{
		"amrpa": {"amrap"}, "evry": {"every"}, "lader": {"ladder"}, "meanwile": {"meanwhile"}, "menawihle": {"meanwhile"},
		"tga": {"tag"}, "squat": {}, "": {}, "x": {}, "rest": {"rest"},
	} {
		assert.Equal(t, want, Nearest(word, words, 2), word)
	}
}

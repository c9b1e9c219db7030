package completion

import (
	"math/bits"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/syntax"
)

// How well something matches what is typed; less is better.
const (
	exactMatch        = iota // it is called so
	prefixMatch              // it begins so, whatever the hyphens and the case
	wordPrefixesMatch        // its words begin so, in order: kb sw
	innerWordMatch           // a word of it begins so
	typoMatch                // a few slips of the fingers away
	subsequenceMatch         // its letters come in that order
	noMatch
)

// searchName is a name made ready to be compared.
type searchName struct {
	name  string
	tails []string // the keys of the name, and of it from its second word on, and so on
	words []string // the keys of its words
	has   uint32   // its letters
}

func searchNames(names ...string) []searchName {
	out := make([]searchName, len(names))
	for i, n := range names {
		s := searchName{name: n, words: wordsOf(n)}
		s.tails = []string{keyOf(n)}
		for j := 1; j < len(s.words); j++ {
			s.tails = append(s.tails, strings.Join(s.words[j:], ""))
		}
		s.has = letterMask(s.tails[0])
		out[i] = s
	}
	return out
}

// query is what has been typed, made ready to be compared.
type query struct {
	key   string
	words []string
	has   uint32
}

// wordsOf are the keys of the words of a text.
func wordsOf(text string) []string {
	var out []string
	for w := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ' ' || r == '-' || r == '/' }) {
		if k := book.Key(w); k != "" {
			out = append(out, k)
		}
	}
	return out
}

// keyOf is a text without what does not count. Marks such as % and @ count where there are
// no letters.
func keyOf(text string) string {
	if k := book.Key(text); k != "" {
		return k
	}
	return strings.TrimSpace(text)
}

// letterMask is the set of the letters of a key.
func letterMask(key string) uint32 {
	var m uint32
	for i := range len(key) {
		if c := key[i]; c >= 'a' && c <= 'z' {
			m |= 1 << (c - 'a')
		}
	}
	return m
}

// match says how well the names of a thing fit what is typed, the first before the others,
// and by which of the others where that is better.
func (c *completer) match(names []searchName) (how int, also string) {
	if c.query == nil {
		text := c.file.Src.Text[c.from:c.off]
		c.query = &query{key: keyOf(text), words: wordsOf(text)}
		c.query.has = letterMask(c.query.key)
	}
	how = c.query.match(&names[0])
	for i := 1; i < len(names); i++ {
		if o := c.query.match(&names[i]); o < how && (how > wordPrefixesMatch || o == exactMatch) {
			how, also = o, names[i].name
		}
	}
	return how, also
}

func (t *query) match(s *searchName) int {
	if t.key == "" {
		return prefixMatch
	}
	key := s.tails[0]
	switch {
	case key == t.key:
		return exactMatch
	case strings.HasPrefix(key, t.key):
		return prefixMatch
	}
	// Each slip puts one letter in another's place, at most.
	if bits.OnesCount32(t.has&^s.has) > maxTypos(t.key) {
		return noMatch
	}
	if len(t.words) > 1 && wordsInOrder(t.words, s.words) {
		return wordPrefixesMatch
	}
	for _, tail := range s.tails[1:] {
		if strings.HasPrefix(tail, t.key) {
			return innerWordMatch
		}
	}
	if len(t.key) >= 4 && t.hasTypo(s) {
		return typoMatch
	}
	if len(t.key) > 1 && key != "" && key[0] == t.key[0] && subsequence(t.key, key) {
		return subsequenceMatch
	}
	return noMatch
}

// wordsInOrder says whether each of some words begins one of others, in their order.
func wordsInOrder(typed, words []string) bool {
	i := 0
	for _, w := range words {
		if i < len(typed) && strings.HasPrefix(w, typed[i]) {
			i++
		}
	}
	return i == len(typed)
}

func subsequence(letters, in string) bool {
	i := 0
	for j := 0; j < len(in) && i < len(letters); j++ {
		if in[j] == letters[i] {
			i++
		}
	}
	return i == len(letters)
}

// maxTypos is how many slips are forgiven in a word.
func maxTypos(key string) int {
	if len(key) > 6 {
		return 2
	}
	return 1
}

// hasTypo says whether a name, as far as it is typed, is a few slips of the fingers away.
func (t *query) hasTypo(s *searchName) bool {
	limit := maxTypos(t.key)
	for _, tail := range s.tails {
		for n := len(t.key) - 1; n <= len(t.key)+1; n++ {
			if n <= len(tail) && syntax.Distance(t.key, tail[:n], limit) <= limit {
				return true
			}
		}
	}
	return false
}

package completion

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/syntax"
)

// How well something fits what is typed; less is better.
const (
	same    = iota // it is called so
	begins         // it begins so, whatever the hyphens and the case
	inWords        // its words begin so, in order: kb sw
	inside         // a word of it begins so
	slips          // a few slips of the fingers away
	letters        // its letters come in that order
	unfit
)

// best are the items in order, the best first.
func best(items []Item, typed string) []Item {
	// Forgiveness is for when nothing fits better.
	if slices.ContainsFunc(items, func(it Item) bool { return it.how <= inside }) {
		items = slices.DeleteFunc(items, func(it Item) bool { return it.how > inside })
	}
	slices.SortStableFunc(items, func(a, b Item) int {
		// Of names of which more than a letter or two are typed the shortest comes first, as far as there is kit.
		if long := len(a.Label) - len(b.Label); len(typed) > 2 && a.Kind == b.Kind && a.Kind >= Movement && a.Kind <= Kit {
			return cmp.Or(a.how-b.how, also(a)-also(b), a.rank/unstocked-b.rank/unstocked, long, a.rank-b.rank, cmp.Compare(a.Label, b.Label))
		}
		return cmp.Or(a.how-b.how, also(a)-also(b), a.rank-b.rank, cmp.Compare(a.Label, b.Label))
	})
	return items
}

// also is 1 for what was found by another name.
func also(it Item) int { return min(1, len(it.Also)) }

// spelled is a name made ready to be compared.
type spelled struct {
	name  string
	tails []string // the keys of the name, and of it from its second word on, and so on
	words []string // the keys of its words
	has   uint32   // its letters
}

func spell(names ...string) []spelled {
	out := make([]spelled, len(names))
	for i, n := range names {
		s := spelled{name: n, words: wordsOf(n)}
		s.tails = []string{keyOf(n)}
		for j := 1; j < len(s.words); j++ {
			s.tails = append(s.tails, strings.Join(s.words[j:], ""))
		}
		s.has = mask(s.tails[0])
		out[i] = s
	}
	return out
}

// typed is what has been typed, made ready to be compared.
type typed struct {
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

// mask is the set of the letters of a key.
func mask(key string) uint32 {
	var m uint32
	for i := range len(key) {
		if c := key[i]; c >= 'a' && c <= 'z' {
			m |= 1 << (c - 'a')
		}
	}
	return m
}

// fits says how well the names of a thing fit what is typed, the first before the others,
// and by which of the others where that is better.
func (h *here) fits(names []spelled) (how int, also string) {
	if h.want == nil {
		text := h.file.Src.Text[h.from:h.off]
		h.want = &typed{key: keyOf(text), words: wordsOf(text)}
		h.want.has = mask(h.want.key)
	}
	how = h.want.fits(&names[0])
	for i := 1; i < len(names); i++ {
		if o := h.want.fits(&names[i]); o < how && (how > inWords || o == same) {
			how, also = o, names[i].name
		}
	}
	return how, also
}

func (t *typed) fits(s *spelled) int {
	if t.key == "" {
		return begins
	}
	key := s.tails[0]
	switch {
	case key == t.key:
		return same
	case strings.HasPrefix(key, t.key):
		return begins
	}
	// Each slip puts one letter in another's place, at most.
	if bits.OnesCount32(t.has&^s.has) > allowed(t.key) {
		return unfit
	}
	if len(t.words) > 1 && inOrder(t.words, s.words) {
		return inWords
	}
	for _, tail := range s.tails[1:] {
		if strings.HasPrefix(tail, t.key) {
			return inside
		}
	}
	if len(t.key) >= 4 && t.slipped(s) {
		return slips
	}
	if len(t.key) > 1 && key != "" && key[0] == t.key[0] && subsequence(t.key, key) {
		return letters
	}
	return unfit
}

// inOrder says whether each of some words begins one of others, in their order.
func inOrder(typed, words []string) bool {
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

// allowed is how many slips are forgiven in a word.
func allowed(key string) int {
	if len(key) > 6 {
		return 2
	}
	return 1
}

// slipped says whether a name, as far as it is typed, is a few slips of the fingers away.
func (t *typed) slipped(s *spelled) bool {
	limit := allowed(t.key)
	for _, tail := range s.tails {
		for n := len(t.key) - 1; n <= len(t.key)+1; n++ {
			if n <= len(tail) && syntax.Distance(t.key, tail[:n], limit) <= limit {
				return true
			}
		}
	}
	return false
}

package complete

import (
	"cmp"
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

// matching are the items that fit what is typed, the best first.
func matching(items []Item, typed string) []Item {
	type fit struct {
		Item
		how int
	}
	want := newTyped(typed)
	var out []fit
	for _, it := range items {
		how := want.fits(it.Label)
		for _, k := range it.keys {
			if h := want.fits(k); h < how && (how > inWords || h == same) {
				how = h
				it.Also = k
			}
		}
		if how == unfit {
			continue
		}
		it.Loose = how >= inWords || it.Also != "" || !prefixFold(it.Label, strings.TrimLeft(typed, " "))
		out = append(out, fit{it, how})
	}
	// Forgiveness is for when nothing fits better.
	if slices.ContainsFunc(out, func(f fit) bool { return f.how <= inside }) {
		out = slices.DeleteFunc(out, func(f fit) bool { return f.how > inside })
	}
	slices.SortStableFunc(out, func(a, b fit) int {
		// Of names that are being typed the shortest comes first, as far as there is kit.
		if long := len(a.Label) - len(b.Label); want.key != "" && a.Kind == b.Kind && a.Kind >= Movement && a.Kind <= Kit {
			return cmp.Or(a.how-b.how, also(a.Item)-also(b.Item), a.rank/unstocked-b.rank/unstocked, long, a.rank-b.rank, cmp.Compare(a.Label, b.Label))
		}
		return cmp.Or(a.how-b.how, a.rank-b.rank, cmp.Compare(a.Label, b.Label))
	})
	list := make([]Item, len(out))
	for i, f := range out {
		list[i] = f.Item
	}
	return list
}

// also is 1 for what was found by another name.
func also(it Item) int { return min(1, len(it.Also)) }

func prefixFold(s, prefix string) bool {
	return len(s) >= len(prefix) && strings.EqualFold(s[:len(prefix)], prefix)
}

// typed is what has been typed, made ready to be compared.
type typed struct {
	key   string   // its letters and digits
	words []string // the keys of its words
}

func newTyped(text string) typed {
	t := typed{key: keyOf(text)}
	for w := range strings.FieldsFuncSeq(text, apart) {
		if k := keyOf(w); k != "" {
			t.words = append(t.words, k)
		}
	}
	return t
}

func apart(r rune) bool { return r == ' ' || r == '-' || r == '/' }

// keyOf is a text without what does not count. Marks such as % and @ count where there are
// no letters.
func keyOf(text string) string {
	if k := book.Key(text); k != "" {
		return k
	}
	return strings.TrimSpace(text)
}

func (t typed) fits(name string) int {
	if t.key == "" {
		return begins
	}
	key := keyOf(name)
	switch {
	case key == t.key:
		return same
	case strings.HasPrefix(key, t.key):
		return begins
	}
	words := strings.FieldsFunc(strings.ToLower(name), apart)
	if len(t.words) > 1 && inOrder(t.words, words) {
		return inWords
	}
	for i := range words {
		if i > 0 && strings.HasPrefix(book.Key(strings.Join(words[i:], "")), t.key) {
			return inside
		}
	}
	if len(t.key) >= 4 && t.slipped(key, words) {
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
		if i < len(typed) && strings.HasPrefix(book.Key(w), typed[i]) {
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

// slipped says whether a name, as far as it is typed, is a few slips of the fingers away.
func (t typed) slipped(key string, words []string) bool {
	limit := 1
	if len(t.key) > 6 {
		limit = 2
	}
	for i := range words {
		rest := key
		if i > 0 {
			rest = book.Key(strings.Join(words[i:], ""))
		}
		for n := len(t.key) - 1; n <= len(t.key)+1; n++ {
			if n <= len(rest) && syntax.Slips(t.key, rest[:n], limit) <= limit {
				return true
			}
		}
	}
	return false
}

package book

import (
	"slices"
	"strings"
	"unicode"
)

// Key is what names are matched by: their letters, in lower case. Blanks, hyphens and
// apostrophes do not count, so pull-up, Pull Up and pullup are one.
func Key(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, name)
}

func words(name string) []string {
	return strings.FieldsFunc(name, func(r rune) bool { return r == ' ' || r == '-' })
}

// plurals are the keys of a name's plurals. What is typed is then looked up exactly;
// nothing is stemmed.
func plurals(name string) []string {
	out := Plurals(name)
	for i, p := range out {
		out[i] = Key(p)
	}
	return out
}

// Plurals are a name's plurals: of its last word, and of the first word of "x and y" and
// "x to y", and of both.
func Plurals(name string) []string {
	fields := strings.Fields(name)
	last := len(fields) - 1
	if last < 0 {
		return nil
	}
	with := func(is ...int) string {
		c := slices.Clone(fields)
		for _, i := range is {
			c[i] = plural(c[i])
		}
		return strings.Join(c, " ")
	}
	out := []string{with(last)}
	if last == 2 && (fields[1] == "and" || fields[1] == "to") {
		out = append(out, with(0), with(0, last))
	}
	return out
}

func plural(w string) string {
	low := strings.ToLower(w)
	for _, end := range []string{"s", "x", "z", "ch", "sh"} {
		if strings.HasSuffix(low, end) {
			return w + "es"
		}
	}
	if n := len(low); n > 1 && low[n-1] == 'y' && !strings.ContainsRune("aeiou", rune(low[n-2])) {
		return w[:n-1] + "ies"
	}
	return w + "s"
}

package book

import (
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

// plurals are the keys of a name's plurals: of its last word, and of the first word of
// "x and y" and "x to y". What is typed is then looked up exactly; nothing is stemmed.
func plurals(name string) []string {
	fields := strings.Fields(name)
	last := len(fields) - 1
	if last < 0 {
		return nil
	}
	with := func(i int, w string) string {
		c := append([]string{}, fields...)
		c[i] = w
		return Key(strings.Join(c, " "))
	}
	out := []string{with(last, plural(fields[last]))}
	if last == 2 && (fields[1] == "and" || fields[1] == "to") {
		out = append(out, with(0, plural(fields[0])))
		c := append([]string{}, fields...)
		c[0], c[2] = plural(c[0]), plural(c[2])
		out = append(out, Key(strings.Join(c, " ")))
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

package syntax

import (
	"cmp"
	"slices"
)

// Nearest returns those of words whose edit distance from word (letters inserted, deleted,
// replaced, or two neighbours transposed) is at most limit, the nearest first. One edit
// more is allowed for words of more than six letters, and never more than a third of the
// word's letters: of a short word, two edits make another one.
func Nearest(word string, words []string, limit int) []string {
	type near struct {
		word string
		d    int
	}
	var found []near
	n := len([]rune(word))
	if n > 6 {
		limit++
	}
	limit = min(limit, n/3)
	for _, w := range words {
		if d := distance(word, w, limit); d <= limit {
			found = append(found, near{w, d})
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.word, b.word)) })
	out := make([]string, len(found))
	for i, f := range found {
		out[i] = f.word
	}
	return out
}

// Distance is the edit distance of two words, and limit+1 where it is more than limit.
func Distance(a, b string, limit int) int { return min(distance(a, b, limit), limit+1) }

// distance is the optimal string alignment distance: Levenshtein's, with the swap of
// two neighbours as one step. It gives up past limit.
func distance(a, b string, limit int) int {
	s, t := []rune(a), []rune(b)
	if abs(len(s)-len(t)) > limit {
		return limit + 1
	}
	before, last, row := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := range s {
		row[0] = i + 1
		for j := range t {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			row[j+1] = min(last[j]+cost, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(t)]
}

func abs(n int) int { return max(n, -n) }

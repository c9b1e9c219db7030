package syntax

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/spec"
)

// How many words the notation may have, and how many of them start lines. Both go down where words
// go; a word that comes in takes the place of another.
const (
	maxWords      = 145
	maxFirstWords = 73
)

// The page of words has each word of the grammar once, with what it is for, and those that start
// lines first.
func TestWordsPage(t *testing.T) {
	page, err := spec.FS.ReadFile("words.md")
	require.NoError(t, err)
	row := regexp.MustCompile("(?m)^\\| `([^`]+)` \\| (.+) \\|$")
	listed := map[string][]string{}
	for _, section := range strings.Split(string(page), "\n## ")[1:] {
		title, text, _ := strings.Cut(section, "\n")
		for _, m := range row.FindAllStringSubmatch(text, -1) {
			listed[title] = append(listed[title], strings.ToLower(m[1]))
		}
		assert.True(t, slices.IsSorted(listed[title]), "%s are not in order", title)
	}
	first := map[string]bool{}
	for _, ks := range keywords {
		for w := range ks {
			first[w] = true
		}
	}
	assert.Equal(t, slices.Sorted(maps.Keys(first)), listed["First words"], "spec/words.md lists the words that lines start with")
	all := slices.Concat(listed["First words"], listed["Words behind the first"], listed["Units"])
	slices.Sort(all)
	words := quotedWords(t)
	assert.Equal(t, slices.Sorted(maps.Keys(words)), all, "spec/words.md lists the words that the grammar of spec/language.md quotes")
	assert.LessOrEqual(t, len(words), maxWords, "the notation has %d words", len(words))
	assert.LessOrEqual(t, len(first), maxFirstWords, "lines start with %d words", len(first))
}

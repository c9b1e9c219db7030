package syntax

import (
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
	"stint.example/stint/spec"
)

// ebnf is the grammar at the end of the language's page, its comments left out.
func ebnf(t *testing.T) string {
	t.Helper()
	page, err := spec.FS.ReadFile("language.md")
	require.NoError(t, err)
	_, text, found := strings.Cut(string(page), "```ebnf\n")
	require.True(t, found)
	text, _, found = strings.Cut(text, "```")
	require.True(t, found)
	return regexp.MustCompile(`(?s)\(\*.*?\*\)`).ReplaceAllString(text, "")
}

var (
	quoted  = regexp.MustCompile(`"([^"]*)"`)
	literal = regexp.MustCompile(`'([^']*)'`)
)

// quotedWords are the words that the grammar quotes, in lower case.
func quotedWords(t *testing.T) map[string]bool {
	out := map[string]bool{}
	for _, m := range quoted.FindAllStringSubmatch(ebnf(t), -1) {
		if regexp.MustCompile(`^[A-Za-z-]*[A-Za-z]$`).MatchString(m[1]) {
			out[strings.ToLower(m[1])] = true
		}
	}
	return out
}

// grammarWords are the words in the tags of the grammar's structs.
func grammarWords() map[string]bool {
	out := map[string]bool{}
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct || seen[typ] || typ == reflect.TypeFor[tok]() {
			return
		}
		seen[typ] = true
		for i := range typ.NumField() {
			f := typ.Field(i)
			for _, m := range literal.FindAllStringSubmatch(f.Tag.Get("parser"), -1) {
				out[m[1]] = true
			}
			walk(f.Type)
		}
	}
	for _, g := range []any{gHead{}, gLead{}, gItem{}, gRest{}, gClause{}, gNames{}, gNamedAmount{}, gPace{}, gDate{}, gHeat{}, gScore{}, gAim{},
		gTotal{}, gProgress{}, gRule{}, gWeek{}} {
		walk(reflect.TypeOf(g))
	}
	return out
}

// inCode are the words that are known in the code rather than in a table or a tag, each
// in a text that holds it. With another word in its place the text is another.
var inCode = map[string]string{
	"missed":     "part A\n  every 1:00 until missed\n",
	"twice":      "part A\n  every 1:00 until missed twice\n",
	"done":       "part A\n  every 1:00 until done\n",
	"form":       "part A\n  max burpee until form breaks\n",
	"failure":    "part A\n  max burpee until failure\n",
	"bpm":        "part A\n  5:00 bike @ 120 bpm\n",
	"spm":        "part A\n  5:00 row @ 24 spm\n",
	"rpm":        "part A\n  5:00 bike @ 90 rpm\n",
	"w":          "part A\n  5:00 bike @ 250 W\n",
	"nothing":    "scaling shed\n  part C -> nothing\n",
	"from":       "scaling shed from light\n",
	"need":       "house Quayside Hall\n  sessions need shed\n",
	"suggestion": "house Quayside Hall\n  rule x suggestion > Why.\n",
	"warning":    "house Quayside Hall\n  rule x warning > Why.\n",
	"error":      "house Quayside Hall\n  rule x error > Why.\n",
	"x":          "part A\n  every 1:00 x 5\n",
	"or":         "part A\n  500 m row or ski\n",
	"until":      "part A\n  max burpee until 2:00\n",
	"rm":         "part A\n  3 front squat @ 80% of 5rm\n",
	"rpe":        "part A\n  3 front squat @ RPE 8\n",
	"rir":        "part A\n  3 front squat @ 8 RIR\n",
}

// The grammar in the spec and the one that reads know the same words.
func TestEBNF(t *testing.T) {
	words := quotedWords(t)
	known := map[string]bool{}
	for ctx, ks := range keywords {
		for w := range ks {
			known[w] = true
			assert.True(t, words[w], "the grammar of the spec lacks %q, which may stand %s", w, block[ctx])
		}
	}
	for w := range grammarWords() {
		known[w] = true
		assert.True(t, words[w], "the grammar of the spec lacks %q", w)
	}
	for _, u := range units.All() {
		known[u.String()] = true
		assert.True(t, words[u.String()], "the grammar of the spec lacks the unit %q", u)
	}
	for w := range words {
		text, code := inCode[w]
		assert.True(t, known[w] || code, "nothing that reads knows %q, which the grammar of the spec has", w)
		if !code {
			continue
		}
		f := Parse(source.New("a.stint", text))
		assert.Empty(t, f.Diags, "%s", text)
		other := Parse(source.New("a.stint", regexp.MustCompile(`(?i)`+w).ReplaceAllString(text, "zzz")))
		same := len(other.Diags) == 0
		for i, l := range f.Lines {
			same = same && reflect.DeepEqual(l.Stmt, other.Lines[i].Stmt)
		}
		assert.False(t, same, "%q is a word like any other", w)
	}
}

// What the grammar of the spec calls by a name it says what that is.
func TestEBNFIsClosed(t *testing.T) {
	text := quoted.ReplaceAllString(ebnf(t), "")
	defined := map[string]bool{"digit": true, "letter": true, "any": true, "character": true}
	rule := regexp.MustCompile(`(?m)^([a-z-]+)\s*=`)
	used := map[string]bool{"line": true}
	for _, m := range rule.FindAllStringSubmatch(text, -1) {
		assert.False(t, defined[m[1]], "%s is said twice", m[1])
		defined[m[1]] = true
	}
	for _, block := range []string{"margin", "in-session", "in-group", "in-scaling", "in-movement", "in-house", "in-version", "in-kit", "in-cycle", "in-week", "elsewhere"} {
		used[block] = true // a line's statement is one of these
	}
	for _, w := range regexp.MustCompile(`[a-z][a-z-]*`).FindAllString(rule.ReplaceAllString(text, ""), -1) {
		used[w] = true
		assert.True(t, defined[w] || w == "statement", "the grammar does not say what %s is", w)
	}
	for w := range defined {
		assert.True(t, used[w] || w == "any", "%s is said and never used", w)
	}
}

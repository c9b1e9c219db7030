package syntax

import (
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/units"
)

// A paint is a rule of the grammar that editors colour a file with before the server has
// spoken. It is written by hand, so its words are held against those that are read.
type paint struct {
	Begin    string  `json:"begin"`
	Match    string  `json:"match"`
	Include  string  `json:"include"`
	Patterns []paint `json:"patterns"`
}

type painting struct {
	Repository map[string]paint `json:"repository"`
}

func readPainting(t *testing.T) painting {
	text, err := os.ReadFile(filepath.Join("..", "..", "editors", "vscode", "syntaxes", "stint.tmLanguage.json"))
	require.NoError(t, err)
	var p painting
	require.NoError(t, json.Unmarshal(text, &p))
	return p
}

// wordLists are the lists of words in a pattern: (?i:one|two).
var wordLists = regexp.MustCompile(`\(\?i:([^()]*)\)`)

// words are the words of the rules and of those that they include, and with deep also of
// the rules inside them.
func (p painting) words(deep bool, rules ...paint) []string {
	var out []string
	seen := map[string]bool{}
	var walk func([]paint)
	walk = func(rs []paint) {
		for _, r := range rs {
			for _, list := range wordLists.FindAllStringSubmatch(r.Begin+" "+r.Match, -1) {
				out = append(out, strings.Split(list[1], "|")...)
			}
			if name := strings.TrimPrefix(r.Include, "#"); name != "" && !seen[name] {
				seen[name] = true
				walk([]paint{p.Repository[name]})
			}
			if deep || r.Begin == "" {
				walk(r.Patterns)
			}
		}
	}
	walk(rules)
	return out
}

// blockOf is the rule of a block at the margin.
func (p painting) blockOf(word string) paint {
	for _, r := range p.Repository["margin"].Patterns {
		if strings.Contains(r.Begin, "(?i:"+word+")") {
			return r
		}
	}
	return paint{}
}

// holds reports whether a word of a list, which may be a pattern such as warm[- ]?up, is w.
func holds(list []string, w string) bool {
	return slices.ContainsFunc(list, func(p string) bool {
		return regexp.MustCompile("^(?:" + p + ")$").MatchString(w)
	})
}

// The words that start a line are painted where they do, and no others.
func TestPaintedKeywords(t *testing.T) {
	p := readPainting(t)
	of := func(names ...string) []paint {
		var out []paint
		for _, n := range names {
			require.Contains(t, p.Repository, n)
			out = append(out, paint{Include: "#" + n})
		}
		return out
	}
	for _, tt := range []struct {
		name  string
		ctx   Context
		rules []paint
	}{
		{"margin", InFile, of("margin")},
		{"session", InSession, p.blockOf("session").Patterns},
		{"kit", InKitItem, p.Repository["kit-block"].Patterns[0].Patterns},
		{"part", InGroup, of("line-group")},
		{"scaling", InScaling, of("line-scaling")},
		{"house's scaling", InHouseScaling, of("line-house-scaling")},
		{"movement", InMovement, of("line-movement")},
		{"house", InHouse, p.blockOf("house").Patterns},
		{"cycle", InCycle, p.blockOf("cycle").Patterns},
		{"week", InWeek, of("line-week")},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rules := tt.rules
			for _, r := range tt.rules { // the lines of a block that has others inside it
				if r.Include == "" && strings.HasPrefix(r.Begin, `^[ \t]+`) {
					rules = append(rules, r.Patterns...)
				}
			}
			painted := p.words(false, rules...)
			for w := range keywords[tt.ctx] {
				assert.True(t, holds(painted, w), "%s is not painted", w)
			}
			known := slices.Collect(maps.Keys(keywords[tt.ctx]))
			for w, as := range keywordSpellings {
				if keywords[tt.ctx][as] != (keyword{}) {
					known = append(known, w)
					assert.True(t, holds(painted, w), "%s is not painted", w)
				}
			}
			known = append(known, "rounds", "from", "rest", "s", "secs?", "seconds?", "min", "mins", "minutes?") // behind the first word
			for _, w := range painted {
				plain := strings.ReplaceAll(w, "[- ]?", "-")
				assert.Contains(t, known, plain, "%s is painted and is no keyword", w)
			}
		})
	}
}

// The words that the grammar of a line names are painted somewhere.
func TestPaintedWords(t *testing.T) {
	p := readPainting(t)
	painted := p.words(true, paint{Include: "#margin"})
	quoted := regexp.MustCompile(`'([a-z-]+)'`)
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct || seen[typ] {
			return
		}
		seen[typ] = true
		for i := range typ.NumField() {
			f := typ.Field(i)
			for _, w := range quoted.FindAllStringSubmatch(f.Tag.Get("parser"), -1) {
				assert.True(t, holds(painted, w[1]), "%s of %s is not painted", w[1], typ.Name())
			}
			walk(f.Type)
		}
	}
	for _, g := range []any{gHead{}, gLead{}, gItem{}, gRest{}, gClause{}, gNames{}, gNamedAmount{}, gPace{}, gDate{},
		gScore{}, gAim{}, gTotal{}, gProgress{}, gRule{}, gWeek{}, gLoads{}, gHeat{}, gStart{}, gNeeds{}, gRounding{}} {
		walk(reflect.TypeOf(g))
	}
	for _, w := range clauseWords() {
		assert.True(t, holds(painted, w), "%s is not painted", w)
	}
}

// Every spelling of a unit is painted.
func TestPaintedUnits(t *testing.T) {
	p := readPainting(t)
	work := p.words(true, p.Repository["amounts"])
	load := p.words(true, p.Repository["load"])
	for _, u := range units.All() {
		for _, w := range u.Spellings() {
			assert.True(t, holds(work, w) || holds(load, w), "%s is not painted", w)
		}
	}
	for w := range readings {
		assert.True(t, holds(load, w), "%s is not painted", w)
	}
}

package syntax

import (
	"flag"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/ebnf"
	"github.com/alecthomas/participle/v2/lexer"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
	"stint.example/stint/spec"
)

// printedGrammar is the grammar of all kinds of lines, as participle prints it, each
// production once and in order.
func printedGrammar() string {
	var lines []string
	for _, g := range []string{headGrammar.p.String(), leadGrammar.p.String(), itemGrammar.p.String(), restGrammar.p.String(), clauseGrammar.p.String(),
		namesGrammar.p.String(), amountGrammar.p.String(), paceGrammar.p.String(), dateGrammar.p.String(), heatGrammar.p.String(), startGrammar.p.String(), needsGrammar.p.String(), roundingGrammar.p.String(), scoreGrammar.p.String(),
		aimGrammar.p.String(), totalGrammar.p.String(), progressGrammar.p.String(), ruleGrammar.p.String(), weekGrammar.p.String(), loadsGrammar.p.String()} {
		lines = append(lines, strings.Split(g, "\n")...)
	}
	slices.Sort(lines)
	return strings.Join(slices.Compact(lines), "\n") + "\n"
}

// The grammar as it is recorded, so that each change of it is seen.
func TestGrammarIsRecorded(t *testing.T) {
	const path = "testdata/grammar.ebnf"
	got := printedGrammar()
	if flag.Lookup("update").Value.String() == "true" {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got, "run with -update if the change is right")
}

// specGrammar is the grammar at the end of the language's page, its comments left out.
func specGrammar(t *testing.T) string {
	t.Helper()
	page, err := spec.FS.ReadFile("language.md")
	require.NoError(t, err)
	_, text, found := strings.Cut(string(page), "```ebnf\n")
	require.True(t, found)
	text, _, found = strings.Cut(text, "```")
	require.True(t, found)
	return regexp.MustCompile(`(?s)\(\*.*?\*\)`).ReplaceAllString(text, "")
}

// Its form is that of ISO/IEC 14977, as far as the page uses it.
type (
	isoGrammar struct {
		Rules []*isoRule `parser:"@@*"`
	}
	isoRule struct {
		Name string  `parser:"@Ident '='"`
		Expr *isoAlt `parser:"@@ ';'"`
	}
	isoAlt struct {
		Seqs []*isoSeq `parser:"@@ ( '|' @@ )*"`
	}
	isoSeq struct {
		Terms []*isoTerm `parser:"@@ ( ',' @@ )*"`
	}
	isoTerm struct {
		Times    string   `parser:"( @Int '*' )?"`
		Name     []string `parser:"(   @Ident+"`
		Quoted   string   `parser:"  | @String"`
		Optional *isoAlt  `parser:"  | '[' @@ ']'"`
		Repeated *isoAlt  `parser:"  | '{' @@ '}'"`
		Group    *isoAlt  `parser:"  | '(' @@ ')' )"`
	}
)

var isoParser = participle.MustBuild[isoGrammar](participle.Unquote("String"), participle.UseLookahead(2), participle.Elide("Blank"),
	participle.Lexer(lexer.MustSimple([]lexer.SimpleRule{
		{Name: "Blank", Pattern: `\s+`}, {Name: "Ident", Pattern: `[a-z][a-z-]*`}, {Name: "Int", Pattern: `\d+`}, {Name: "String", Pattern: `"[^"]*"`}, {Name: "Mark", Pattern: `[][(){}|,;=*]`},
	})))

// differences are where the specification and the grammar are meant to differ: what the
// specification has in a rule, what the grammar has there, and why.
var differences = []struct{ rule, spec, code, why string }{
	{"one", `number , [ "+" ]`, `number`, "the plus of or more is of the number's token"},
	{"head-tail", `, [ inline ]`, ``, "a line is cut at its colon before it is read"},
	{"lead", `, [ inline ] | label , inline`, `| place`,
		"a line is cut at its colon, and labels are read by hand; the place of a swap is read as a lead"},
	{"place", `"part" , letter`, `"part" , letter , [ "at" , quantity ]`, "a part's start is read with its letter"},
	{"lead", `( "slot" | "station" | "round" ) , amount`, `( "slot" | "station" | "round" ) , quantity`, "a unit is refused with a reason"},
	{"until", `"missed" | "done"`, `name`, "an event that is none is named in the message"},
	{"mode", `"completion" )`, `"completion" | "practice" )`, "another word"},
	{"clause", `opening |`, `opening | "at" , quantity |`, "a start stands in swaps, as a thing of its own; elsewhere it is refused with a reason"},
	{"clause", `"split" , [ "evenly" ] |`, `"split" , [ "evenly" ] | "effort" , quantity |`, "an effort is no clause, and refused with a reason"},
	{"item", `[ for-side | dose ]`, `[ for-side ] , [ dose ]`, "a second dose is refused with a reason"},
	{"load", `[ per ] ]`, `[ per ] , [ quantity ] ]`, "a second unit is refused with a reason"},
	{"people", `"pairs" | (`, `"pairs" | "threes" | "fours" | "halves" | (`, "other spellings, and halves, which are refused with a reason"},
	{"clause", `"together" |`, `"together" | "synchronised" | "not" , "scored" |`, "another spelling, and what is refused with a reason"},
	{"score", `"each" ] , ( "reps" | "load" | "time" | "distance" | "cal" | "rounds" )`,
		`"each" | "lowest" | "fewest" | "slowest" ] , ( "reps" | "load" | "time" | "distance" | "cal" | "calories" | "rounds" | "laps" | "rungs" | "sets" | "breaks" | "points" | "level" | "power" )`,
		"other spellings, and what is refused with a reason"},
	{"per", `( "per" | "/" )`, `"per"`, "the scanner reads the slash of a pace as per"},
	{"rest", `, [ ":" , item ] | quantity , "rest"`, ``, "a line is cut at its colon; 2:00 rest is read by hand"},
}

// specRules are the rules of the specification, with the differences made.
func specRules(t *testing.T) map[string]*isoAlt {
	t.Helper()
	text := strings.Join(strings.Fields(specGrammar(t)), " ")
	text = strings.ReplaceAll(text, `number , "RM"`, "rm") // one token
	for _, d := range differences {
		from := strings.Index(" "+text, " "+d.rule+" = ")
		require.GreaterOrEqual(t, from, 0, d.rule)
		end := from + strings.Index(text[from:], " ;")
		rule := text[from:end]
		require.Equal(t, 1, strings.Count(rule, d.spec), "%s no longer has %s: take the difference out", d.rule, d.spec)
		text = text[:from] + strings.Replace(rule, d.spec, d.code, 1) + text[end:]
	}
	g, err := isoParser.ParseString("language.md", text)
	require.NoError(t, err)
	out := map[string]*isoAlt{}
	for _, r := range g.Rules {
		out[r.Name] = r.Expr
	}
	return out
}

// tokenRules are the rules of the specification that are tokens of the scanner, and
// tokenMarks the texts that it quotes and that are no words to the scanner.
var (
	tokenRules = map[string]Kind{"number": Number, "clock": Clock, "date": Date, "tempo": Tempo, "unit": Unit, "word": Word, "letter": Word, "bound": Bound, "for-side": Side, "rm": RM}
	tokenMarks = map[string]Kind{"x": Times, "-": Dash, "+": Plus, "/": Slash, ",": Comma, "@": At, "=": Equals, ":": Colon, "%": Percent, "...": Dots, "->": Arrow, "or": Or, "until": Until}
)

func tokenSymbol(k Kind) string { return "<" + strings.ToLower(k.String()) + ">" }

// A reading turns a grammar into patterns. Rules in whole are symbols of their own.
type reading struct {
	iso   map[string]*isoAlt
	code  map[string]*ebnf.Expression
	whole map[string]string // from a rule of either grammar to its symbol
}

func (r *reading) isoRule(name string) *pattern { return r.isoAlt(r.iso[name]) }

func (r *reading) isoAlt(a *isoAlt) *pattern {
	var out []*pattern
	for _, s := range a.Seqs {
		var terms []*pattern
		for _, term := range s.Terms {
			terms = append(terms, r.isoTerm(term))
		}
		out = append(out, sequence(terms...))
	}
	return alternatives(out...)
}

func (r *reading) isoTerm(x *isoTerm) *pattern {
	switch {
	case x.Optional != nil:
		return optional(r.isoAlt(x.Optional))
	case x.Repeated != nil:
		return repeated(r.isoAlt(x.Repeated))
	case x.Group != nil:
		return r.isoAlt(x.Group)
	case len(x.Name) == 0:
		if k, ok := tokenMarks[x.Quoted]; ok {
			return sym(tokenSymbol(k))
		}
		return sym(`"` + strings.ToLower(x.Quoted) + `"`)
	}
	name := x.Name[0]
	if k, ok := tokenRules[name]; ok {
		return sym(tokenSymbol(k))
	}
	if s := r.whole[name]; s != "" || r.iso[name] == nil {
		return sym(s)
	}
	return r.isoRule(name)
}

func (r *reading) codeRule(name string) *pattern { return r.codeExpr(r.code[name]) }

func (r *reading) codeExpr(x *ebnf.Expression) *pattern {
	var out []*pattern
	for _, s := range x.Alternatives {
		var terms []*pattern
		for _, term := range s.Terms {
			terms = append(terms, r.codeTerm(term))
		}
		out = append(out, sequence(terms...))
	}
	return alternatives(out...)
}

func (r *reading) codeTerm(x *ebnf.Term) *pattern {
	var p *pattern
	switch {
	case x.Literal != "":
		p = sym(x.Literal)
	case x.Token != "":
		p = sym("<" + x.Token + ">")
	case x.Group != nil:
		p = r.codeExpr(x.Group.Expr)
	case r.whole[x.Name] != "":
		p = sym(r.whole[x.Name])
	default:
		p = r.codeRule(x.Name)
	}
	switch x.Repetition {
	case "?":
		return optional(p)
	case "*":
		return repeated(p)
	case "+":
		return sequence(p, repeated(p))
	}
	return p
}

// sameRules are the rules of the specification and the structs that read them.
var sameRules = map[string]string{"value": "GValue", "amount": "GAmount", "quantity": "GQuantity", "name": "GName", "names": "GNames", "dose": "GDose",
	"max": "GMax", "term": "GTerm", "until": "GUntil", "load": "GLoad", "base": "GBase", "past": "GPast", "per": "GPer", "item": "GItem", "clause": "GClause", "rest": "GRest",
	"mode": "GMode", "repeat": "GRepeat", "place": "GPart", "lead": "GLead", "score": "GScore", "aim": "GAim", "totals": "GTotal", "total": "GItemDose"}

func read(t *testing.T) *reading {
	t.Helper()
	printed, err := ebnf.ParseString(printedGrammar())
	require.NoError(t, err)
	r := &reading{iso: specRules(t), code: map[string]*ebnf.Expression{}}
	for _, p := range printed.Productions {
		r.code[p.Production] = p.Expression
	}
	return r
}

// The grammar in the specification and the one that reads have the same structure: rule by
// rule, they match the same sequences of tokens and of other rules.
func TestGrammarsAgree(t *testing.T) {
	r := read(t)
	for rule, code := range sameRules {
		require.NotNil(t, r.iso[rule], rule)
		require.NotNil(t, r.code[code], code)
		r.whole = map[string]string{}
		for other, otherCode := range sameRules {
			if other != rule {
				r.whole[other], r.whole[otherCode] = other, other
			}
		}
		spec, reads := r.isoRule(rule), r.codeRule(code)
		if s, found := missing(spec, reads); found {
			t.Errorf("%s does not read what the specification has as %s: %s", code, rule, strings.Join(s, " "))
		}
		if s, found := missing(reads, spec); found {
			t.Errorf("%s reads what the specification does not have as %s: %s", code, rule, strings.Join(s, " "))
		}
	}
}

// One grammar reads sections and heads: what may stand behind a section's name, with or
// without that. The clauses that may open a head are those of the table.
func TestHeadsAreRead(t *testing.T) {
	r := read(t)
	r.whole = map[string]string{"inline": "<inline>"}
	heads, tail := r.codeRule("GHead"), sequence(optional(r.codeRule("GPart")), r.isoRule("head-tail"))
	for _, tt := range []struct {
		what  string
		p, in *pattern
	}{
		{"a head is not read", r.isoRule("head"), sequence(heads, optional(sym("<inline>")))},
		{"a section or a head is not read", tail, heads},
		{"what is no section and no head is read", heads, tail},
	} {
		if s, found := missing(tt.p, tt.in); found {
			t.Errorf("%s: %s", tt.what, strings.Join(s, " "))
		}
	}
	var openers []string
	for _, c := range clauseTypes {
		if c.opens != "" {
			openers = append(openers, `"`+c.kind.first()+`"`)
		}
	}
	assert.ElementsMatch(t, openers, r.isoRule("opening").first())
	all := []string{`"not"`, `"synchronised"`} // refused with a reason, and another spelling
	for _, w := range clauseWords() {
		all = append(all, `"`+w+`"`)
	}
	slices.Sort(all)
	assert.Equal(t, slices.Compact(all), r.codeRule("GClause").first(), "the table of clauses and the grammar")
}

// blockRules are the rules of the specification that say which lines a block has.
var blockRules = map[Context]string{InFile: "margin", InSession: "in-session", InGroup: "in-group", InScaling: "in-scaling", InMovement: "in-movement",
	InHouse: "in-house", InHouseScaling: "in-version", InKit: "in-kit", InKitItem: "in-kit-item", InCycle: "in-cycle", InWeek: "in-week", InNothing: "elsewhere"}

// shapeGrammars are what reads what stands behind the first word of a line; empty where
// nothing does. Lines of other shapes are read by hand, or with their first word.
var shapeGrammars = map[shape]string{aAim: "GAim", aAllow: "GNames", aAmount: "GNamedAmount", aBare: "", aDate: "GDate", aEffort: "GNamedAmount", aHeat: "GHeat",
	aNames: "GNames", aPace: "GPace", aProgress: "GProgress", aRule: "GRule", aScore: "GScore", aStart: "GStart", aNeeds: "GNeeds", aRounding: "GRounding", aTag: "", aTotal: "GTotal", aWeek: "GWeek"}

// Each block has the lines that the specification gives it, and what may stand behind their
// first words is read.
func TestBlocksAgree(t *testing.T) {
	r := read(t)
	r.whole = map[string]string{"item": "<item>", "label": "<label>", "thing": "<thing>", "inline": "<inline>"}
	for ctx, rule := range blockRules {
		delete(r.whole, "place")
		if ctx == InGroup || ctx == InHouseScaling { // the place of a swap, which is no keyword there
			r.whole["place"] = "<place>"
		}
		lines := r.isoRule(rule)
		var words []string
		for _, s := range lines.first() {
			if w, ok := strings.CutPrefix(s, `"`); ok {
				words = append(words, strings.TrimSuffix(w, `"`))
			}
		}
		assert.Equal(t, KeywordsIn(ctx), words, "the lines that may stand %s", block[ctx])
		for w, k := range keywords[ctx] {
			code, known := shapeGrammars[k.shape]
			if !known {
				continue
			}
			reads := emptySeq
			if code != "" {
				reads = r.codeRule(code)
			}
			if s, found := missing(lines.after(`"`+w+`"`), reads); found {
				t.Errorf("%s: what stands behind %q is not read: %s", block[ctx], w, strings.Join(s, " "))
			}
		}
	}
}

var quoted = regexp.MustCompile(`"([^"]*)"`)

// quotedWords are the words that the grammar quotes, in lower case.
func quotedWords(t *testing.T) map[string]bool {
	out := map[string]bool{}
	for _, m := range quoted.FindAllStringSubmatch(specGrammar(t), -1) {
		if regexp.MustCompile(`^[A-Za-z-]*[A-Za-z]$`).MatchString(m[1]) {
			out[strings.ToLower(m[1])] = true
		}
	}
	return out
}

// inCode are the words that are known in the code rather than in a table or a tag, each
// in a text that holds it. With another word in its place the text is another.
var inCode = map[string]string{
	"missed":  "part A\n  every 1:00 until missed\n",
	"done":    "part A\n  every 1:00 until done\n",
	"bpm":     "part A\n  5:00 bike @ 120 bpm\n",
	"spm":     "part A\n  5:00 row @ 24 spm\n",
	"w":       "part A\n  5:00 bike @ 250 W\n",
	"nothing": "scaling shed\n  part C -> nothing\n",
	"from":    "scaling shed from light\n",
	"error":   "house Quayside Hall\n  rule x error > Why.\n",
	"x":       "part A\n  every 1:00 x 5\n",
	"or":      "part A\n  500 m row or ski\n",
	"until":   "part A\n  max burpee until 2:00\n",
	"rm":      "part A\n  3 front squat @ 80% of 5rm\n",
	"rpe":     "part A\n  3 front squat @ RPE 8\n",
	"rir":     "part A\n  3 front squat @ 8 RIR\n",
	"least":   "part A\n  at least 7 burpee\n",
	"most":    "part A\n  at most 7 burpee\n",
	"up":      "part A\n  up to 7 burpee\n",
}

// What the grammar of the specification quotes is known to what reads.
func TestQuotedWordsAreKnown(t *testing.T) {
	words := quotedWords(t)
	known := map[string]bool{}
	for _, ks := range keywords {
		for w := range ks {
			known[w] = true
		}
	}
	for _, m := range quoted.FindAllStringSubmatch(printedGrammar(), -1) {
		known[m[1]] = true
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
func TestSpecGrammarIsClosed(t *testing.T) {
	text := quoted.ReplaceAllString(specGrammar(t), "")
	defined := map[string]bool{"digit": true, "letter": true, "any": true, "character": true}
	rule := regexp.MustCompile(`(?m)^([a-z-]+)\s*=`)
	used := map[string]bool{"line": true}
	for _, m := range rule.FindAllStringSubmatch(text, -1) {
		assert.False(t, defined[m[1]], "%s is said twice", m[1])
		defined[m[1]] = true
	}
	for _, block := range []string{"margin", "in-session", "in-group", "in-scaling", "in-movement", "in-house", "in-version", "in-kit", "in-kit-item", "in-cycle", "in-week", "elsewhere"} {
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

package syntax_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/internal/marktest"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// Each kind of mistake, with the diagnostic on its words; and, as a golden, all that is
// said of it, so that a change of wording is seen.
func TestMistakes(t *testing.T) {
	marktest.Glob(t, "testdata/*.txtar", func(t *testing.T, c *marktest.Case) {
		var all []diag.Diagnostic
		for _, src := range c.Files() {
			ds := syntax.Parse(src).Diags
			c.Golden(t, "said", src.Name, said(ds))
			all = append(all, ds...)
		}
		c.Check(t, all)
	})
}

// said lists messages, and what belongs to them, for people to read.
func said(ds []diag.Diagnostic) string {
	var b strings.Builder
	for _, d := range ds {
		at := d.At.File.Position(d.At.Start)
		fmt.Fprintf(&b, "%d:%d %s: %s\n", at.Line, at.Column, d.Severity, d.Message)
		for _, more := range []struct{ name, text string }{{"label", d.Label}, {"help", d.Help}} {
			if more.text != "" {
				fmt.Fprintf(&b, "    %s: %s\n", more.name, more.text)
			}
		}
		for _, f := range d.Fixes {
			safe := "unsafe"
			if f.Safe {
				safe = "safe"
			}
			fmt.Fprintf(&b, "    %s fix: %s\n", safe, f.Title)
		}
	}
	return b.String()
}

// Every fix removes what it is offered for, and adds no mistake of its own.
func TestFixesMend(t *testing.T) {
	marktest.Glob(t, "testdata/*.txtar", func(t *testing.T, c *marktest.Case) {
		for _, src := range c.Files() {
			before := syntax.Parse(src).Diags
			for _, d := range before {
				for _, f := range d.Fixes {
					text, all := diag.Apply(src, f.Edits)
					assert.True(t, all, "%s: the edits of %q overlap", src.Name, f.Title)
					after := syntax.Parse(source.New(src.Name, text)).Diags
					assert.Less(t, len(after), len(before), "%s:%d: %q leaves\n%s", src.Name, src.Position(d.At.Start).Line, f.Title, said(after))
				}
			}
		}
	})
}

// A clause without its comma, and a load behind the word at: the safe fixes give a line that
// reads without error and says what was meant.
func TestSafeFixesSayWhatWasMeant(t *testing.T) {
	for line, want := range map[string]string{
		"12 push-up effort 80%":                   "12 push-up @ effort 80%",
		"3 x 12 push-up every 1:30":               "3 x 12 push-up, every 1:30",
		"12 push-up rest 1:30":                    "12 push-up, rest 1:30",
		"12 push-up rest 2 x work":                "12 push-up, rest 2 x work",
		"15 push-up sets of 5":                    "15 push-up, sets of 5",
		"12 push-up any sets":                     "12 push-up, any sets",
		"12 push-up effort 80%, unbroken":         "12 push-up @ effort 80%, unbroken",
		"12 lunge each leg unbroken":              "12 lunge, each leg, unbroken",
		"5 front squat @ 80% unbroken rest 1:30":  "5 front squat @ 80%, unbroken, rest 1:30",
		"1 power clean + 2 front squat unbroken":  "1 power clean + 2 front squat, unbroken",
		"12 push-up, unbroken with vest @ 9/6 kg": "12 push-up, unbroken, with vest @ 9/6 kg",
		"5 front squat at 70%":                    "5 front squat @ 70%",
		"5 front squat at 70% of 5RM, unbroken":   "5 front squat @ 70% of 5RM, unbroken",
		"5 front squat at 24/16 kg unbroken":      "5 front squat @ 24/16 kg, unbroken",
		"5 front squat at RPE 8":                  "5 front squat @ RPE 8",
		"400 m run at effort 80% > Even splits.":  "400 m run @ effort 80% > Even splits.",
		"400 m run at 2:05 per 500 m":             "400 m run @ 2:05 per 500 m",
		"slot 1: 8 box jump at 24 in":             "slot 1: 8 box jump @ 24 in",
		"3 rounds for time, in pairs one works":   "3 rounds for time, in pairs, one works",
		"3 rounds for time, cap 9:00 every 2:00":  "3 rounds for time, cap 9:00 every 2:00", // not on a head
		"12 push-up cap 3:00":                     "12 push-up cap 3:00",                    // a comma would not mend it
		"0:40 hollow hold":                        "0:40 hollow hold",
		"hollow hold 0:40":                        "hollow hold 0:40",
		"12 box jump with step down":              "12 box jump with step down",
		"12 split squat @ 2x16 kg tempo 31X1":     "12 split squat @ 2x16 kg tempo 31X1",
	} {
		text := "part A\n  " + line + "\n"
		for {
			src := source.New("a.stint", text)
			var safe []diag.Edit
			for _, d := range syntax.Parse(src).Diags {
				for _, f := range d.Fixes {
					if f.Safe {
						safe = append(safe, f.Edits...)
					}
				}
			}
			if len(safe) == 0 {
				break
			}
			text, _ = diag.Apply(src, safe)
		}
		assert.Equal(t, "part A\n  "+want+"\n", text)
		if line != want {
			assert.Empty(t, said(syntax.Parse(source.New("a.stint", text)).Diags), line)
		}
	}
}

// A clause that only heads have is said to be one, comma or no comma.
func TestClausesOfHeadsOnWork(t *testing.T) {
	for _, line := range []string{"12 push-up cap 3:00", "12 push-up, cap 3:00", "12 push-up in teams of 4", "12 push-up @ 9 kg one works"} {
		f := syntax.Parse(source.New("a.stint", "part A\n  "+line+"\n"))
		if assert.Len(t, f.Diags, 1, line) {
			assert.Equal(t, "word-misplaced", f.Diags[0].Rule, line)
		}
	}
}

// What is said is meant for people who have never heard of a parser.
func TestMessagesArePlain(t *testing.T) {
	jargon := regexp.MustCompile(`\b((?i:tokens?|expect\w*|unexpected|pars\w+|lexer|EOF|EOL|identifier|syntax|invalid|nil)|g[A-Z]\w+)\b`)
	seen := map[string]bool{}
	marktest.Glob(t, "testdata/*.txtar", func(t *testing.T, c *marktest.Case) {
		for _, src := range c.Files() {
			for _, d := range syntax.Parse(src).Diags {
				seen[d.Rule] = true
				for _, text := range []string{d.Message, d.Label, d.Help} {
					assert.NotRegexp(t, jargon, text)
				}
				assert.NotEmpty(t, d.Message)
				assert.NotEmpty(t, d.Help, "%q is followed by no next step", d.Message)
				assert.False(t, strings.HasSuffix(d.Message, ".") && !strings.HasSuffix(d.Message, "..."), "%q ends in a full stop", d.Message)
				assert.LessOrEqual(t, len(d.Message), 120, "%q", d.Message)
			}
		}
	})
	for _, rule := range syntax.Rules() {
		assert.True(t, seen[rule], "no case shows %s", rule)
	}
}

// A head that cannot be read keeps the lines under it.
func TestBadHeadsKeepTheirLines(t *testing.T) {
	src := source.New("a.stint", "part AB for time\n  3 rounds off\n    12 burpee\n    slot\n      12 lunge\n  12 row\npartt C\n  12 ski\n")
	f := syntax.Parse(src)
	var walk func(bs []*syntax.Block) []string
	walk = func(bs []*syntax.Block) []string {
		var out []string
		for _, b := range bs {
			body := src.Slice(b.Line.Span(source.Span{End: b.Line.Len}))
			if kids := walk(b.Kids); len(kids) > 0 {
				body += "(" + strings.Join(kids, ", ") + ")"
			}
			out = append(out, body)
		}
		return out
	}
	assert.Equal(t, []string{"part AB for time(3 rounds off(12 burpee, slot(12 lunge)), 12 row)", "partt C(12 ski)"}, walk(f.Roots))
	assert.Len(t, f.Diags, 4)
	for _, l := range f.Lines {
		if _, item := l.Stmt.(*syntax.Item); item {
			assert.False(t, l.Bad)
		}
	}
}

// A mistake says one thing: no two diagnostics of a line share a place, and a line that
// cannot be read says so once.
func TestOneMistakeOneMessage(t *testing.T) {
	marktest.Glob(t, "testdata/*.txtar", func(t *testing.T, c *marktest.Case) {
		for _, src := range c.Files() {
			ds := syntax.Parse(src).Diags
			for i, d := range ds {
				for _, e := range ds[:i] {
					suggestion := d.Severity == diag.Suggestion || e.Severity == diag.Suggestion
					assert.False(t, !suggestion && d.At.Start < e.At.End && e.At.Start < d.At.End,
						"%s:%d: %q and %q speak of the same words", src.Name, src.Position(d.At.Start).Line, d.Message, e.Message)
				}
			}
		}
	})
}

func TestRulesAreListedOnce(t *testing.T) {
	rules := slices.Clone(syntax.Rules())
	slices.Sort(rules)
	assert.Equal(t, rules, slices.Compact(slices.Clone(rules)))
}

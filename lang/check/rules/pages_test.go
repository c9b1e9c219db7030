package rules_test

import (
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/internal/marktest"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
	"stint.example/stint/spec"
)

const pages = "../../../spec/rules"

// snapshot is the workspace of a case.
func snapshot(c *marktest.Case) *workspace.Snapshot {
	texts := map[string]string{}
	for _, f := range c.Files() {
		texts[f.Name] = f.Text
	}
	return workspace.Make(workspace.Root{Dir: "/quayside", House: true}, texts)
}

// eachCase runs f on all cases: those of the families, and those of what all rules share.
func eachCase(t *testing.T, f func(t *testing.T, c *marktest.Case)) {
	t.Helper()
	marktest.Glob(t, "testdata/*.txtar", f)
	marktest.Glob(t, "*/testdata/*.txtar", f)
}

// drawn are the diagnostics of a case that count in it, on its own files: those of rules that
// the case is about, and of lines that cannot be read.
func drawn(t *testing.T, c *marktest.Case, s *workspace.Snapshot) []diag.Diagnostic {
	t.Helper()
	for _, name := range c.Only {
		_, known := rules.Find(name)
		assert.True(t, known, "%s: it is only about %s, which is no rule", c.Name, name)
	}
	var out []diag.Diagnostic
	for _, d := range s.Check() {
		r, _ := rules.Find(d.Rule)
		if !r.Fixed && !c.About(d.Rule) {
			continue
		}
		d.At.File = c.File(d.At.File.Name)
		out = append(out, d)
	}
	return out
}

// of is what one rule finds in a workspace.
func of(s *workspace.Snapshot, rule string) []diag.Diagnostic {
	return slices.DeleteFunc(slices.Clone(s.Check()), func(d diag.Diagnostic) bool { return d.Rule != rule })
}

var kebab = regexp.MustCompile(`^[a-z]+(-[a-z]+)+$`)

func TestRulesAreNamedInPlainWords(t *testing.T) {
	seen, family := map[string]bool{}, 0
	for _, r := range rules.All() {
		assert.Regexp(t, kebab, r.Name)
		assert.False(t, seen[r.Name], "%s is listed twice", r.Name)
		seen[r.Name] = true
		at := slices.Index(rules.Families, r.Family)
		assert.GreaterOrEqual(t, at, family, "%s stands outside its family", r.Name)
		family = max(at, 0)
		assert.NotEqual(t, diag.Off, r.Severity, r.Name)
		assert.NotEmpty(t, r.Summary, r.Name)
		assert.False(t, strings.HasSuffix(r.Summary, "."), "%s: a summary has no full stop", r.Name)
		assert.Equal(t, strings.ToLower(r.Summary[:1]), r.Summary[:1], r.Name)
		for _, o := range r.Thresholds {
			assert.Regexp(t, `^[a-z]+$`, o.Name, r.Name)
			assert.NotEmpty(t, o.Source, "%s of %s does not say where it comes from", o.Name, r.Name)
		}
		found, ok := rules.Find(r.Name)
		assert.True(t, ok)
		assert.Equal(t, r.Summary, found.Summary)
	}
	_, ok := rules.Find("total-rong")
	assert.False(t, ok)
}

// What reading reports is a rule that no house can set, and the other way round.
func TestWhatReadingReportsIsFixed(t *testing.T) {
	reported := slices.Concat(syntax.Rules(), model.Rules())
	for _, name := range reported {
		r, ok := rules.Find(name)
		assert.True(t, ok, "%s is no rule", name)
		assert.True(t, r.Fixed, "%s is found while reading, so that a house could not turn it off", name)
	}
	for _, r := range rules.All() {
		// A rule of a house or a waiver that no rule is called by is known only to this
		// package, which has the list.
		if r.Fixed && r.Name != "rule-unknown" {
			assert.Contains(t, reported, r.Name)
		}
	}
}

// A page is one rule's text, taken apart.
type page struct {
	title, head, about string
	sections           []string
	advice             string
}

func read(t *testing.T, name string) page {
	t.Helper()
	text, err := fs.ReadFile(spec.FS, "rules/"+name+".md")
	require.NoError(t, err, "the rule %s has no page", name)
	var p page
	var section string
	for _, block := range strings.Split(strings.TrimSpace(string(text)), "\n\n") {
		switch {
		case strings.HasPrefix(block, "# "):
			p.title = strings.TrimPrefix(block, "# ")
		case strings.HasPrefix(block, "## "):
			section = strings.TrimPrefix(block, "## ")
			p.sections = append(p.sections, section)
		case section == "" && p.head == "":
			p.head = block
		case section == "" && p.about == "":
			p.about = strings.Join(strings.Fields(block), " ")
		case section == "What to do":
			p.advice += " " + strings.Join(strings.Fields(block), " ")
		}
	}
	return p
}

func sentences(text string) int { return strings.Count(text+" ", ". ") + strings.Count(text, "? ") }

func TestEveryRuleHasAPageThatAgrees(t *testing.T) {
	for _, r := range rules.All() {
		t.Run(r.Name, func(t *testing.T) {
			p := read(t, r.Name)
			want := fmt.Sprintf("Family: %s. Severity: %s.", r.Family, r.Severity)
			if r.Fixed {
				want += " Fixed: no house can set it."
			}
			assert.Equal(t, r.Name, p.title)
			assert.Equal(t, want, p.head)
			assert.Greater(t, len(p.about), 2*len(r.Summary), "the page says little more than the summary")
			assert.GreaterOrEqual(t, sentences(p.about), 2)
			assert.Equal(t, []string{"Wrong", "Right", "What to do"}, p.sections)
			assert.GreaterOrEqual(t, sentences(p.advice), 2, "what to do: %s", p.advice)
			assert.LessOrEqual(t, sentences(p.advice), 4, "what to do: %s", p.advice)
		})
	}
}

func TestEveryPageIsOfARule(t *testing.T) {
	found, err := fs.Glob(spec.FS, "rules/*.md")
	require.NoError(t, err)
	assert.Len(t, found, len(rules.All()))
	for _, f := range found {
		_, ok := rules.Find(strings.TrimSuffix(path.Base(f), ".md"))
		assert.True(t, ok, "%s is of no rule", f)
	}
}

// others are the rules that the wrong example of a page draws beside its own, and why.
var others = map[string]string{
	"reason-missing": "sides-uneven", // a waiver without its reason lets nothing stand
}

// cases are the examples of a page by their heading.
func cases(t *testing.T, rule string) map[string]*marktest.Case {
	t.Helper()
	out := map[string]*marktest.Case{}
	for _, c := range marktest.LoadMarkdown(t, filepath.Join(pages, rule+".md")) {
		require.Nil(t, out[c.Heading], "two cases stand under %s", c.Heading)
		c.Only = []string{rule} // a page is about its rule
		out[c.Heading] = c
	}
	return out
}

func TestPagesShowTheirRule(t *testing.T) {
	for _, r := range rules.All() {
		t.Run(r.Name, func(t *testing.T) {
			cs := cases(t, r.Name)
			require.Contains(t, cs, "Wrong")
			require.Contains(t, cs, "Right")
			wrong, right := cs["Wrong"], cs["Right"]
			wrong.Check(t, drawn(t, wrong, snapshot(wrong)))
			shown := false
			for _, m := range wrong.Markers() {
				shown = shown || m.Rule == r.Name
				assert.Contains(t, []string{r.Name, others[r.Name]}, m.Rule, "the example shows another mistake too")
			}
			assert.True(t, shown, "the example does not show the mistake")
			assert.Empty(t, right.Markers())
			right.Check(t, drawn(t, right, snapshot(right)))
		})
	}
}

// The first fix that a finding offers silences it and brings no new error. There is no
// exception: a fix that is only a guess at what was meant still has to be one that holds.
func TestFirstFixesMend(t *testing.T) {
	fixed := 0
	try := func(t *testing.T, c *marktest.Case) {
		s := snapshot(c)
		for _, d := range s.Check() {
			if len(d.Fixes) == 0 {
				continue
			}
			fixed++
			after := s
			for _, f := range s.Files {
				text, all := diag.Apply(f.Src, d.Fixes[0].Edits)
				assert.True(t, all, "the edits of one fix overlap: %s", d.Message)
				if text != f.Src.Text {
					after = after.With(f.Path, text)
				}
			}
			before, now := tallied(s.Check()), tallied(after.Check())
			assert.Less(t, now[said(d)], before[said(d)], "%s: the fix %q leaves %s", c.Name, d.Fixes[0].Title, said(d))
			for _, o := range after.Check() {
				if o.Severity == diag.Error && now[said(o)] > before[said(o)] {
					t.Errorf("%s: the fix %q of %s draws %s", c.Name, d.Fixes[0].Title, said(d), said(o))
				}
			}
		}
	}
	for _, r := range rules.All() {
		t.Run(r.Name, func(t *testing.T) { try(t, cases(t, r.Name)["Wrong"]) })
	}
	eachCase(t, try)
	assert.Greater(t, fixed, 40)
}

var clockText = regexp.MustCompile(`\d+:\d\d`)

// said is what a diagnostic says and of which words, wherever they stand. Clock values are
// left out: a fix that starts a part later moves what is said of those behind it.
func said(d diag.Diagnostic) string {
	return clockText.ReplaceAllString(fmt.Sprintf("%s %q (%s)", d.Rule, d.At.Text(), d.Message), "0:00")
}

func tallied(ds []diag.Diagnostic) map[string]int {
	out := map[string]int{}
	for _, d := range ds {
		out[said(d)]++
	}
	return out
}

func TestCases(t *testing.T) {
	eachCase(t, func(t *testing.T, c *marktest.Case) {
		c.Check(t, drawn(t, c, snapshot(c)))
	})
}

// Messages are for coaches: a sentence without a full stop or a capital, and a help that
// says what to do, on everything that this package finds.
func TestMessagesReadAlike(t *testing.T) {
	each := func(t *testing.T, c *marktest.Case) {
		for _, d := range snapshot(c).Check() {
			for _, text := range []string{d.Message, d.Help, d.Label} {
				text, _, _ = strings.Cut(text, " > ") // a note in an example may be a sentence
				assert.False(t, strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "..."), "%s: %q ends in a full stop", d.Rule, text)
				assert.NotContains(t, text, "%!", d.Rule)
				assert.NotContains(t, text, "  ", d.Rule)
				assert.NotRegexp(t, `\d\.\d{5}`, text, "%s says too many decimals", d.Rule)
			}
			assert.NotEmpty(t, d.Help, "%s: %s", d.Rule, d.Message)
		}
	}
	for _, r := range rules.All() {
		t.Run(r.Name, func(t *testing.T) { each(t, cases(t, r.Name)["Wrong"]) })
	}
	eachCase(t, each)
}

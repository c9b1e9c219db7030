package workspace

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/format"
	"stint.example/stint/lang/internal/marktest"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/readback"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// How lines are read that more than one reading was thought of for, all outputs side by side. A
// case of testdata/readings is a workspace, and four goldens: @show (its sessions and cycles in plain words,
// with the account of what they state), @totals (with what is open), @clock (each part's times,
// and what is not proven; also in the weeks of a cycle that move it) and @check (findings, with their fixes).
//
// A file that is written as the formatter prints it is held to that; one called odd.stint, or
// whose name ends in -odd.stint, is written otherwise and has a golden @fmt with its print.
// Every fix that is offered is made: it has to silence its finding and to add none.
func TestReadings(t *testing.T) {
	schema := compiledSchema(t)
	marktest.Glob(t, filepath.Join("testdata", "readings", "*.txtar"), func(t *testing.T, c *marktest.Case) {
		s := snapshotOf(c, nil)
		for _, f := range s.Files {
			printed := format.Source(f.Syntax())
			assert.Equal(t, printed, format.Source(syntax.Parse(source.New(f.Path, printed))), "printing is idempotent")
			if strings.HasSuffix(f.Path, "odd.stint") {
				c.Golden(t, "fmt", f.Path, printed)
				continue
			}
			assert.Equal(t, f.Src.Text, printed, "%s is canonical", f.Path)
		}
		assert.NoError(t, schema.Validate(document(t, s)))
		var show, clock strings.Builder
		var files []*model.File
		for _, f := range s.Files {
			files = append(files, f.Program())
			for _, session := range f.Program().Sessions {
				all := []*model.Session{session}
				for _, v := range session.Versions {
					all = append(all, v.Session)
				}
				readback.Of(session, s.Env, s.Diagnostics(f)).Write(&show)
				for _, version := range all {
					clockOf(&clock, version, s.Env)
				}
			}
		}
		for _, f := range files {
			for _, cycle := range f.Cycles {
				readback.OfCycle(cycle, s.Env.House, s.FindSession, s.Diagnostics(s.File(f.Syntax.Src.Name))).Write(&show)
				for _, w := range cycle.Plan {
					for _, d := range w.Days {
						if session := s.FindSession(d.Session); session != nil && cycle.InWeek(session, w.Number) != session {
							clockOf(&clock, cycle.InWeek(session, w.Number).InVersion(d.Version), s.Env)
						}
					}
				}
			}
		}
		c.Golden(t, "show", "", show.String())
		c.Golden(t, "totals", "", totalsOf(s, files))
		c.Golden(t, "clock", "", clock.String())
		c.Golden(t, "check", "", findingsOf(t, c, s))
	})
}

// snapshotOf is the case's workspace; texts stand in the place of those of the case, by path.
func snapshotOf(c *marktest.Case, texts map[string]string) *Snapshot {
	all := map[string]string{}
	for _, f := range c.Files() {
		all[f.Name] = f.Text
		if text, is := texts[f.Name]; is {
			all[f.Name] = text
		}
	}
	return Make(Root{Dir: "/quayside", House: true}, all)
}

func totalsOf(s *Snapshot, files []*model.File) string {
	sum := totals.Summarise(totals.ByMovement, "", s.Env.House.Tiers, files, files)
	var table [][]string
	for _, r := range sum.Rows {
		for _, m := range r.Measures {
			line := []string{r.Name, m.Name}
			for _, a := range m.Tiers {
				line = append(line, bounds(a))
			}
			table = append(table, line)
		}
	}
	var b strings.Builder
	b.WriteString(layout.Table(table))
	for _, l := range sum.LeftOut {
		fmt.Fprintf(&b, "without %s of %s: %s\n", l.What, l.Name, l.Reason)
	}
	return b.String()
}

func bounds(a totals.Amount) string {
	switch least := units.FormatNumber(a.Least); {
	case a.Most == nil:
		return least + " or more"
	case *a.Most != a.Least:
		return least + " to " + units.FormatNumber(*a.Most)
	default:
		return least
	}
}

func clockOf(b *strings.Builder, s *model.Session, env *model.Env) {
	c := timeline.NewClock(equipment.Timeline(s, env), env.House)
	fmt.Fprintln(b, c.Title())
	for _, p := range c.Parts {
		fmt.Fprintf(b, "  %s: from %s, takes %s, to %s", p.Name, p.StartText(), p.WorkText(), p.EndText())
		if left := p.LeftText(); left != "" {
			fmt.Fprintf(b, ", leaves %s", left)
		}
		fmt.Fprintln(b)
		for _, r := range p.Remarks() {
			fmt.Fprintln(b, "    "+r)
		}
	}
	fmt.Fprintln(b, "  length: "+c.Length.Text())
}

// unasked are rules of how a whole hour is planned and how files are kept, which say something of
// nearly every case. One whose case is about them names them behind only:.
func unasked(c *marktest.Case, rule string) bool {
	if len(c.Only) > 0 && slices.Contains(c.Only, rule) {
		return false
	}
	r, _ := rules.Find(rule)
	return r.Family == "warm-up" || r.Family == "coaching" || rule == "file-name" || rule == "stint-missing"
}

func found(c *marktest.Case, s *Snapshot) []diag.Diagnostic {
	return slices.DeleteFunc(s.Check(), func(d diag.Diagnostic) bool { return unasked(c, d.Rule) })
}

// findingsOf are the findings, each with its fixes and what a fix makes of the text.
func findingsOf(t *testing.T, c *marktest.Case, s *Snapshot) string {
	var b strings.Builder
	before := found(c, s)
	for _, d := range before {
		fmt.Fprintf(&b, "%s %s", d.Severity, d.Rule)
		if d.At.File != nil {
			at := d.At.File.Position(d.At.Start)
			fmt.Fprintf(&b, " %s:%d %q", d.At.File.Name, at.Line, d.At.Text())
		}
		fmt.Fprintf(&b, ": %s\n", d.Message)
		if d.Help != "" {
			fmt.Fprintf(&b, "  help: %s\n", d.Help)
		}
		for _, fix := range d.Fixes {
			safe := ""
			if fix.Safe {
				safe = " (safe)"
			}
			fmt.Fprintf(&b, "  fix%s: %s\n", safe, fix.Title)
			texts := map[string]string{}
			for _, f := range s.Files {
				text, whole := diag.Apply(f.Src, fix.Edits)
				assert.True(t, whole, "the edits of %q overlap", fix.Title)
				for _, line := range changed(f.Src.Text, text) {
					fmt.Fprintf(&b, "    %s\n", line)
				}
				texts[f.Path] = text
			}
			assertMends(t, d, fix, before, found(c, snapshotOf(c, texts)))
		}
	}
	return b.String()
}

// assertMends asserts that the fix of a finding leaves one finding fewer, or more of them, and
// brings none in.
func assertMends(t *testing.T, d diag.Diagnostic, fix diag.Fix, before, after []diag.Diagnostic) {
	t.Helper()
	count := func(ds []diag.Diagnostic) map[string]int {
		out := map[string]int{}
		for _, d := range ds {
			out[d.Rule]++
		}
		return out
	}
	was, is := count(before), count(after)
	assert.Less(t, is[d.Rule], was[d.Rule], "%q silences %s", fix.Title, d.Message)
	for _, a := range after {
		assert.LessOrEqual(t, is[a.Rule], was[a.Rule], "%q brings in %s: %s", fix.Title, a.Rule, a.Message)
	}
}

// changed are the lines of a text that another has not, in order.
func changed(from, to string) []string {
	had := strings.Split(from, "\n")
	return slices.DeleteFunc(strings.Split(to, "\n"), func(l string) bool { return slices.Contains(had, l) })
}

package syntax_test

import (
	"testing"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// FuzzParse reads any bytes: nothing panics, nothing is lost, every span lies inside
// what it is part of, a line is called unreadable once at most, and a line is Bad where,
// and only where, an error is reported on it.
func FuzzParse(f *testing.F) {
	for _, src := range append(good(f), mistaken(f)...) {
		if len(src.Text) < 8<<10 {
			f.Add(src.Text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		src := source.New("a.stint", text)
		file := syntax.Parse(src)
		if got := joined(file); got != text {
			t.Errorf("the lines give back %q", got)
		}
		for _, problem := range treeProblems(file) {
			t.Error(problem)
		}
		checkSpans(t, file, false)
		if file.NotUTF8 { // said once, of the whole file
			if len(file.Diags) != 1 {
				t.Errorf("a text that is not in UTF-8 draws\n%s", said(file.Diags))
			}
			return
		}
		unreadable := map[int]int{}
		for _, d := range file.Diags {
			if line := src.LineAt(d.At.Start); d.Rule == "line-unreadable" {
				if unreadable[line]++; unreadable[line] > 1 {
					t.Errorf("line %d is called unreadable twice:\n%s", line+1, said(file.Diags))
				}
			}
			if d.Message == "" || d.Severity == diag.Off {
				t.Errorf("%s says nothing", d.Rule)
			}
		}
		for i, l := range file.Lines {
			bad := false
			for _, d := range file.Diags {
				bad = bad || d.Severity == diag.Error && d.Rule != "indent-odd" && src.LineAt(d.At.Start) == i
			}
			if bad != l.Bad {
				t.Errorf("line %d: Bad is %v, but what is said is\n%s", i+1, l.Bad, said(file.Diags))
			}
		}
	})
}

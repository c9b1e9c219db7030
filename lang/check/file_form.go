package check

import (
	"fmt"
	"path"
	"strings"
	"unicode"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var fileName = Rule{Name: "file-name", Family: "form", Severity: diag.Suggestion,
	Summary: "a session whose file is not called after it, or shares it with another",
	file: func(p *pass, f *model.File) {
		for i, s := range f.Sessions {
			switch want := FileFor(s.Name); {
			case i > 0:
				p.report(diag.Diagnostic{At: s.At, Message: "the file has another session above this one", Help: "one session a file: move it to " + want})
			case path.Base(f.Syntax.Src.Name) != want && len(f.Sessions) == 1 && len(f.Cycles) == 0:
				p.report(diag.Diagnostic{At: s.At, Message: fmt.Sprintf("the session is called %s, its file %s", s.Name, path.Base(f.Syntax.Src.Name)),
					Help: "rename the file to " + want + ", so that it is found by its name"})
			}
		}
	}}

// FileFor is the name of the file that a session is kept in by convention.
func FileFor(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-") && r != '\'':
			b.WriteByte('-')
		}
	}
	return strings.TrimSuffix(b.String(), "-") + ".stint"
}

var stintMissing = Rule{Name: "stint-missing", Family: "form", Severity: diag.Suggestion,
	Summary: "a house file that does not say which stint its folder is written in",
	file: func(p *pass, f *model.File) {
		for _, b := range f.Syntax.Roots {
			if e, ok := b.Line.Stmt.(*syntax.Entry); ok && e.Kind == "stint" {
				return
			}
		}
		for _, b := range f.Syntax.Roots {
			e, ok := b.Line.Stmt.(*syntax.Entry)
			if !ok || e.Kind != "house" {
				continue
			}
			at := f.Syntax.Src.At(source.Span{})
			p.report(diag.Diagnostic{At: f.Syntax.Src.At(b.Line.Span(e.Name.Span)), Message: "the house does not say which stint its folder is written in",
				Help:  "write stint 1 on the first line: a later tool then knows how to read it",
				Fixes: []diag.Fix{{Title: "write stint 1 on the first line", Safe: true, Edits: []diag.Edit{{At: at, New: "stint 1\n\n"}}}}})
			return
		}
	}}

// These two are found where rules are applied (see check.go).
var (
	waiverUnused = Rule{Name: "waiver-unused", Family: "form", Severity: diag.Warning,
		Summary: "a waiver that lets nothing stand"}
	ruleUnknown = Rule{Name: "rule-unknown", Family: "form", Severity: diag.Error, Fixed: true,
		Summary: "a house or a waiver that names a rule which does not exist, or cannot be set"}
)

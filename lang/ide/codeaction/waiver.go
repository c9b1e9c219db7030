package codeaction

import (
	"fmt"

	"stint.example/stint/lang/check/rules"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// Waive lets a finding stand: it puts a waiver under its line, without the reason, which
// is the coach's to write. There is none for what no waiver lets stand.
func Waive(s *workspace.Snapshot, f *workspace.File, d diag.Diagnostic) (Action, bool) {
	r, known := rules.Find(d.Rule)
	if !known || r.Fixed || d.Rule == "waiver-unused" || d.At.File != f.Src {
		return Action{}, false
	}
	l, i := lineAt(f, d.At.Start)
	if l == nil || l.Stmt == nil {
		return Action{}, false
	}
	if _, unread := l.Stmt.(*syntax.Bad); unread {
		return Action{}, false
	}
	return Action{
		Title: fmt.Sprintf("let it stand: allow %s, and say why", d.Rule),
		Edits: []diag.Edit{insertBelow(f, i, l.Depth+1, "allow "+d.Rule+" > ")},
	}, true
}

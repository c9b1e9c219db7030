package codeaction

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// Scalings write versions of the session whose name, or whose scaling, an offset is on, with
// swaps from the book: on its name every one that the house declares, on a scaling what that
// one lacks. A session of which a line cannot be read has none.
func Scalings(s *workspace.Snapshot, f *workspace.File, off int) []Action {
	l, at := lineAt(f, off)
	if l == nil || l.Bad {
		return nil
	}
	var out []Action
	for _, o := range f.Program().Sessions {
		if !o.Block.Contains(l.Body) || hasUnreadLine(f, o) {
			continue
		}
		var names []string
		if sc, ok := l.Stmt.(*syntax.Scaling); ok {
			names = []string{strings.ToLower(sc.Name.Text)}
		} else if f.Src.LineAt(o.At.Start) == at {
			for _, h := range s.Env.House.Scalings {
				names = append(names, h.Name)
			}
		}
		for _, n := range names {
			if a, ok := writeScaling(s, f, o, n); ok {
				out = append(out, a)
			}
		}
	}
	return out
}

func writeScaling(s *workspace.Snapshot, f *workspace.File, o *model.Session, name string) (Action, bool) {
	e, left, ok := substitute.WriteScaling(s.Env, f.Syntax(), o, name)
	if !ok {
		return Action{}, false
	}
	title := fmt.Sprintf("write the scaling %s with swaps from the book", name)
	if v := o.FindVersion(name); v != nil && v.At.File == f.Src {
		title = fmt.Sprintf("complete the scaling %s with swaps from the book", name)
	}
	if len(left) > 0 {
		title += ", which has none for " + strings.Join(left, ", ")
	}
	return Action{Title: title, Edits: []diag.Edit{e}}, true
}

// hasUnreadLine says whether a line of a session could not be read.
func hasUnreadLine(f *workspace.File, o *model.Session) bool {
	return slices.ContainsFunc(f.Syntax().Lines, func(l *syntax.Line) bool { return l.Bad && o.Block.Contains(l.Body) })
}

package codeaction

import (
	"fmt"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// Start moves the start of the part whose head an offset is on, or pins it to the clock,
// so that the class is done with the part before and has its rest.
func Start(s *workspace.Snapshot, f *workspace.File, off int) (Action, bool) {
	l, at := lineAt(f, off)
	if l == nil || l.Bad {
		return Action{}, false
	}
	head, ok := l.Stmt.(*syntax.Head)
	if !ok || head.Part != "part" {
		return Action{}, false
	}
	for _, o := range f.Program().Sessions {
		for _, g := range o.Parts {
			if f.Src.LineAt(g.At.Start) != at {
				continue
			}
			if g.Start == nil {
				return pinStart(s, f, o, g, l, head)
			}
			fix, _, ok := estimate.Restart(equipment.Variants(o, s.Env), g)
			return Action{Title: fix.Title, Edits: fix.Edits}, ok
		}
	}
	return Action{}, false
}

// pinStart writes when a part starts behind its letter.
func pinStart(
	s *workspace.Snapshot, f *workspace.File, o *model.Session, g *model.Group, l *syntax.Line, head *syntax.Head,
) (Action, bool) {
	at, ok := estimate.StartFor(equipment.Variants(o, s.Env), g)
	if !ok || head.Letter.Text == "" {
		return Action{}, false
	}
	clock := units.FormatClock(at)
	end := l.Span(head.Letter.Span).End
	return Action{Title: fmt.Sprintf("pin part %s to the clock, at %s", head.Letter.Text, clock),
		Edits: []diag.Edit{{At: f.Src.At(source.Span{Start: end, End: end}), New: " at " + clock}}}, true
}

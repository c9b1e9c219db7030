package model

import (
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// restOfSets reports a rest on a line of its own straight behind a line of sets that says no rest. Coaches
// read it as the rest between these sets, and as one rest when all of them are done.
func (l *lowerer) restOfSets(before []Step, r *Rest) {
	w := lastLine(before)
	if w == nil || !w.inSets() || w.Rest != nil || w.Every != nil || r.Needed || r.behind != nil ||
		r.Place != RestHere && r.Place != RestAfterPart || r.Bare() {
		return
	}
	help := "write the rest behind the line where it is between the sets"
	if len(r.Steps) > 0 {
		help = "write rounds over both lines where it is between the sets"
	}
	help += "; where it is once behind all of them, say what rest there is between the sets too"
	if r.Place == RestAfterPart {
		help += ", or write after behind this one"
	}
	l.reportRest(r.At, "it is not said whether this rest is taken between the sets of the line above or once behind all of them",
		help, l.setsRestFixes(w, r)...)
}

// setsRestFixes are the fixes for the two readings of a rest behind a line of sets.
func (l *lowerer) setsRestFixes(w *Work, r *Rest) []diag.Fix {
	if l.swaps != nil || w.At.File != l.file.Src || r.At.File != l.file.Src {
		return nil
	}
	var fixes []diag.Fix
	clause := w.If == "" && (w.Until == nil || w.Until.Kind != UntilNote)
	if clause && len(r.Steps) == 0 {
		fixes = append(fixes, diag.Fix{Title: "rest between the sets", Edits: []diag.Edit{
			{At: behindPlace(w.At), New: ", " + r.At.Text()}, l.restOut(r)}})
	} else if edits := l.roundsOver(w, r); edits != nil {
		fixes = append(fixes, diag.Fix{Title: "make rounds of both lines, with the rest between them", Edits: edits})
	}
	switch {
	case r.Place == RestAfterPart:
		fixes = append(fixes, diag.Fix{Title: "rest once, after all sets", Edits: []diag.Edit{{At: restEnd(r.At), New: " after"}}})
	case clause:
		fixes = append(fixes, diag.Fix{Title: "rest once here, and as needed between the sets",
			Edits: []diag.Edit{{At: behindPlace(w.At), New: ", rest as needed"}}})
	}
	return fixes
}

// lastLine is the line of work that some steps end in, whatever label it has.
func lastLine(steps []Step) *Work {
	if len(steps) == 0 {
		return nil
	}
	switch s := steps[len(steps)-1].(type) {
	case *Work:
		return s
	case *Group:
		if s.Kind == Label {
			return lastLine(s.Steps)
		}
	}
	return nil
}

// inSets says whether a line is done in several sets.
func (w *Work) inSets() bool {
	n, one := w.Sets.One()
	return w.Sets != nil && (!one || n != 1)
}

// roundsOver are the edits that make rounds of a line of sets and of the line of rest below it; nil where
// the line says what only sets have.
func (l *lowerer) roundsOver(w *Work, r *Rest) []diag.Edit {
	work, rest := l.lineAt(w.At), l.lineAt(r.At)
	_, item := work.Stmt.(*syntax.Item)
	if _, is := rest.Stmt.(*syntax.Rest); !is || !item || rest.Depth != work.Depth || w.If != "" || w.Until.OfTurns() {
		return nil
	}
	if n, _ := w.Sets.One(); n == 2 && w.inSeries() { // in rounds, two numbers that fall would be a range
		return nil
	}
	sets := w.Sets.At.End
	text := l.file.Src.Text[sets:w.At.End]
	dose := sets + len(text) - len(strings.TrimLeft(text, "xX× "))
	return []diag.Edit{
		{At: l.file.Src.At(source.Span{Start: sets, End: dose}), New: " rounds\n" + strings.Repeat("  ", work.Depth+1)},
		{At: l.file.Src.At(source.Span{Start: rest.Body, End: rest.Body}), New: "  "},
	}
}

// inSeries says whether a line has one number for each of its sets.
func (w *Work) inSeries() bool {
	return w.Dose != nil && w.Dose.Form == syntax.Series ||
		slices.ContainsFunc(w.Loads, func(ld Load) bool { return ld.Amount != nil && ld.Amount.Form == syntax.Series })
}

// lineAt is the line of the file that a place starts on.
func (l *lowerer) lineAt(at source.Place) *syntax.Line {
	return l.file.Lines[l.file.Src.LineAt(at.Start)]
}

// restOut takes a line of rest, with work above it, out of its file; a note or a comment behind it stays.
func (l *lowerer) restOut(r *Rest) diag.Edit {
	line, src := l.lineAt(r.At), l.file.Src
	if line.Note != nil || line.Comment != nil {
		end := len(src.Text) - len(strings.TrimLeft(src.Text[r.At.End:], " "))
		return diag.Edit{At: src.At(source.Span{Start: r.At.Start, End: end})}
	}
	at := src.Line(src.LineAt(r.At.Start))
	return diag.Edit{At: src.At(source.Span{Start: at.Start - 1, End: at.End})}
}

// behindPlace is the empty place right behind another.
func behindPlace(at source.Place) source.Place {
	return at.File.At(source.Span{Start: at.End, End: at.End})
}

// restsOfPartners reports rests as long as the work of the others where one works at a time: the others' turns
// are that rest already.
func (l *lowerer) restsOfPartners(part *Group) {
	Walk(part, OnlySteps, func(s Step, around []*Group) bool {
		var r *Rest
		fix := func() []diag.Edit { return []diag.Edit{l.restOut(r)} }
		switch s := s.(type) {
		case *Rest:
			r = s
		case *Work:
			r = s.Rest
			fix = func() []diag.Edit { return []diag.Edit{clauseOut(r.At)} }
		}
		if r == nil || r.Work == nil || r.At.File != l.file.Src {
			return true
		}
		size := 0.0
		solo := false
		for _, g := range around {
			if g.People != nil {
				size, _ = g.People.Size.One()
			}
			solo = solo || g.Solo
		}
		if times, one := r.Work.One(); !solo || !one || times != size-1 {
			return true
		}
		l.reportRest(r.At, "one works while the others rest, so the turns of the others are this rest already",
			"take it out; where all of them rest besides, write how long, such as rest 1:00",
			diag.Fix{Title: "take the rest out", Edits: fix()})
		return true
	})
}

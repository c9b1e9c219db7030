package model

import (
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// Depends says whether it depends on a condition whether a step is done.
func Depends(s Step) bool {
	switch s := s.(type) {
	case *Work:
		return s.If != ""
	case *Group:
		return s.If != "" || s.Kind == Otherwise
	}
	return false
}

// Chooses says whether an athlete does one of the group's steps, as they like.
func (g *Group) Chooses() bool {
	return g.Repeat.Kind == ChooseOne && !slices.ContainsFunc(g.Steps, Depends)
}

// MayDoNothing says whether it depends on conditions which of the group's steps is done, and on no
// condition that one is.
func (g *Group) MayDoNothing() bool {
	return g.Repeat.Kind == ChooseOne && !g.Chooses() && !slices.ContainsFunc(g.Steps, func(s Step) bool {
		k, ok := s.(*Group)
		return ok && k.Kind == Otherwise
	})
}

// depends says whether clauses hold a condition.
func depends(cs []syntax.Clause) bool {
	return slices.ContainsFunc(cs, func(c syntax.Clause) bool { return c.Kind == syntax.If })
}

// sectionRules reports what stands wrongly in a section, once all of it has been read.
func (l *lowerer) sectionRules(section *Group) {
	l.labels(section)
	for g := range section.Groups(Everything) {
		l.conditions(g)
	}
}

// conditions reports an otherwise that says nothing, and a choice of which some depends on a condition
// and some does not.
func (l *lowerer) conditions(g *Group) {
	steps := WorkSteps(g.Steps)
	of := g.Repeat.Kind == ChooseOne && slices.ContainsFunc(steps, func(s Step) bool { return Condition(s) != "" })
	for i, s := range steps {
		k, is := s.(*Group)
		is = is && k.Kind == Otherwise
		switch {
		case is && !of:
			l.report(wordMisplaced, l.wordAt(k), "otherwise is what is done where none of the ifs beside it holds, and these stand in a choose one",
				"put the ifs and the otherwise under choose one", l.underChoose(steps[:i+1]))
		case is && i < len(steps)-1:
			l.report(wordMisplaced, l.wordAt(k), "otherwise is the last of a choose one, and stands in it once", "move it behind the ifs, or make an if of it", nil)
		case of && !is && Condition(s) == "":
			d := diag.Diagnostic{Rule: wordMisplaced, Severity: diag.Error, At: s.Where(),
				Message: "a choose one holds either what athletes choose from or ifs, and here is both",
				Help:    "say under if when this is done, or otherwise: " + s.Where().Text()}
			if i == len(steps)-1 {
				start := source.Span{Start: s.Where().Start, End: s.Where().Start}
				d.Fixes = []diag.Fix{{Title: "write otherwise before it", Edits: []diag.Edit{{At: l.file.Src.At(start), New: "otherwise: "}}}}
			}
			*l.diags = append(*l.diags, d)
			return
		}
	}
	l.nothingChosen(g, steps)
}

// Condition is what it depends on whether a step is done; empty where that is said of it nowhere.
func Condition(s Step) string {
	switch s := s.(type) {
	case *Work:
		return s.If
	case *Group:
		return s.If
	}
	return ""
}

// wordAt is the place of the first word of a group's head.
func (l *lowerer) wordAt(g *Group) source.Place {
	word, _, _ := strings.Cut(strings.TrimRight(strings.Fields(g.At.Text())[0], ":"), ":")
	return l.file.Src.At(source.Span{Start: g.At.Start, End: g.At.Start + len(word)})
}

// underChoose puts an otherwise and the ifs straight before it under a choose one; nil where there are
// none.
func (l *lowerer) underChoose(steps []Step) *diag.Fix {
	last := steps[len(steps)-1].(*Group)
	first := last
	for _, s := range slices.Backward(steps[:len(steps)-1]) {
		k, is := s.(*Group)
		if !is || k.Kind != OnlyIf {
			break
		}
		first = k
	}
	if first == last {
		return nil
	}
	e := blockEditor{l.file.Src}
	span := e.lines(first.Block.Join(last.Block))
	text := l.file.Src.Slice(span)
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	return &diag.Fix{Title: "put them under choose one", Edits: []diag.Edit{{At: l.file.Src.At(span), New: indent + "choose one\n" + indented(text, true)}}}
}

// nothingChosen reports "nothing" as one of what athletes choose from: a condition says whether any of
// it is done.
func (l *lowerer) nothingChosen(g *Group, steps []Step) {
	const mend = "if > You have it in you."
	if g.Repeat.Kind != ChooseOne {
		return
	}
	i := slices.IndexFunc(steps, func(s Step) bool {
		w, ok := s.(*Work)
		return ok && isNothing(w)
	})
	if i < 0 {
		return
	}
	e := blockEditor{l.file.Src}
	line := e.lines(steps[i].Where().Span)
	edits := []diag.Edit{{At: l.file.Src.At(line)}}
	head := g.Repeat.At
	if len(steps) > 2 {
		head.Start = g.At.End
		head.End = g.At.End
		edits = append(edits, diag.Edit{At: head, New: ", " + mend})
	} else {
		edits = append(edits, diag.Edit{At: head, New: mend})
	}
	var fix *diag.Fix
	if len(g.Notes) == 0 && g.At.End <= line.Start {
		fix = &diag.Fix{Title: "write " + mend, Edits: edits}
	}
	unknown := steps[i].(*Work).Moves[0].At
	*l.diags = slices.DeleteFunc(*l.diags, func(d diag.Diagnostic) bool { return d.Rule == book.MovementUnknown && d.At == unknown })
	l.report(wordMisplaced, steps[i].Where(), "nothing is no choice: whether anything is done is a condition", "write "+mend, fix)
}

// isNothing says whether a line of work is the word nothing.
func isNothing(w *Work) bool {
	return len(w.Moves) == 1 && w.Moves[0].Movement == nil && book.Key(w.Moves[0].Name) == "nothing"
}

// Package scaling has the rules about versions of a session: kit, movement patterns, volume, notes.
package scaling

import (
	"slices"

	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

// A trainedMove line is one of the main work with a movement of it.
type trainedMove struct {
	work *model.Work
	move model.Move
	part *model.Group
}

// mainWork is what the parts of a session train, line by line: warm-up, cool-down, what is
// done in rests, stretches and duties are none of it.
func mainWork(s *model.Session) []trainedMove {
	var out []trainedMove
	for _, g := range s.Parts {
		if g.Kind != model.Part {
			continue
		}
		for w := range g.Lines(model.InsideEvents) {
			for _, m := range w.Moves {
				if m.Movement != nil && m.Movement.Main() != "" && m.Movement.Main() != book.Mobility {
					out = append(out, trainedMove{w, m, g})
				}
			}
		}
	}
	return out
}

func (t trainedMove) pattern() book.Pattern { return substitute.Pattern(t.move.Movement) }

// trainsAlso says whether a line trains a pattern, if not as its main one.
func trainsAlso(lines []trainedMove, p book.Pattern) bool {
	return slices.ContainsFunc(lines, func(t trainedMove) bool {
		return slices.ContainsFunc(t.move.Movement.Trains,
			func(o book.Pattern) bool { return substitute.PatternOf(o) == p })
	})
}

func withPattern(lines []trainedMove, p book.Pattern) []trainedMove {
	return slices.DeleteFunc(slices.Clone(lines), func(t trainedMove) bool { return t.pattern() != p })
}

// A loss is a pattern that no line of a version has as its main one any more.
type loss struct {
	pattern book.Pattern
	was     []trainedMove // as written
	now     []trainedMove // what has taken their place
	kept    string        // what is left of it all the same, empty where nothing is
}

// lostPatterns are the patterns that a version has lost, but for those that it leaves out with a
// reason.
func lostPatterns(p *check.Pass, s *model.Session) []loss {
	before, after := mainWork(p.Written), mainWork(s)
	before = slices.DeleteFunc(before, func(t trainedMove) bool {
		return slices.ContainsFunc(p.Version.Left,
			func(at source.Place) bool { return t.work.At.Within(at) || t.move.At.Within(at) })
	})
	var out []loss
	for _, t := range before {
		pt := t.pattern()
		if len(withPattern(after, pt)) > 0 || slices.ContainsFunc(out, func(l loss) bool { return l.pattern == pt }) {
			continue
		}
		l := loss{pattern: pt, was: withPattern(before, pt)}
		for _, n := range after {
			if slices.ContainsFunc(l.was, func(w trainedMove) bool {
				anew := n.work.Written.File == nil && n.part.Letter == w.part.Letter
				return anew || n.work.Written.File != nil && n.work.Written == w.work.At
			}) {
				l.now = append(l.now, n)
			}
		}
		c := pt.Coarse()
		switch {
		case allComplexes(l.was) && trainsAlso(l.now, pt):
			continue // one movement has taken over all of a complex
		case c != "" && slices.ContainsFunc(l.now,
			func(n trainedMove) bool { return n.move.Movement.Main().Coarse() == c }):
			l.kept = "it keeps the " + c
			if c == "bend and lift" || c == "single leg" {
				l.kept = "it is still " + c
			}
		case trainsAlso(after, pt):
			l.kept = "it is trained beside something else"
		}
		out = append(out, l)
	}
	return out
}

// allComplexes says whether all of some lines are of several movements without letting go.
func allComplexes(lines []trainedMove) bool {
	return !slices.ContainsFunc(lines, func(t trainedMove) bool { return len(t.work.Moves) < 2 || t.work.Choice })
}

// placeOf is where a loss shows: the right side that has taken the place, if the session says
// it, else the name of the version or of the session.
func placeOf(p *check.Pass, l loss) source.Place {
	for _, n := range l.now {
		if p.Here(n.work.At) && n.work.At != n.work.Written {
			return n.work.At
		}
	}
	return versionAt(p)
}

// keepPattern is a fix that puts a movement with a pattern on the right side of a swap, and
// its name. The name is empty where the book has none.
func keepPattern(p *check.Pass, was, now trainedMove) (fix *diag.Fix, name string) {
	kit := p.Version.Has
	if !p.Version.HasOnly {
		kit = nil
		for _, t := range mainWork(p.Written) {
			kit = append(kit, t.move.Movement.Kit()...) // the session has what it is written for
		}
	}
	w := now.work
	unit := "s"
	if w.Dose != nil && w.From != model.FromClock {
		unit = w.Dose.Unit
	}
	to := substitute.Choose(p.Env, was.move.Movement, kit, unit)
	if to == nil || !substitute.Kept(was.move.Movement, to) || to == now.move.Movement {
		return nil, ""
	}
	if was.work.Dose != nil && was.work.From != model.FromClock && was.work.Dose.Unit != unit {
		return nil, to.Name // twenty of one are not twenty of the other
	}
	if to == was.move.Movement || !p.Here(w.At) || w.At == w.Written || len(w.Moves) > 1 ||
		slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.At.Within(w.At) }) {
		return nil, to.Name
	}
	return &diag.Fix{Title: "write " + to.Name, Edits: []diag.Edit{{At: now.move.At, New: to.Name}}}, to.Name
}

// versionAt is the name of the version at hand, or of the session where only the house has
// it.
func versionAt(p *check.Pass) source.Place {
	if p.Here(p.Version.At) {
		return p.Version.At
	}
	return p.Written.At
}

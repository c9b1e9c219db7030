package check

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// warmUps are the warm-ups of a session; seldom more than one.
func warmUps(s *model.Session) []*model.Group {
	var out []*model.Group
	for _, g := range s.Parts {
		if g.Kind == model.WarmUp {
			out = append(out, g)
		}
	}
	return out
}

// judged says whether a session can be judged as a whole hour: it is one, it has a part,
// and every line of it could be read. Else one mistake would draw another.
func (p *pass) judged(s *model.Session) bool {
	return p.whole(s) && !p.badSection(p.written) && !slices.ContainsFunc(s.Parts, func(g *model.Group) bool {
		return g.Unread || g.Gaps || !p.sound(g)
	}) && slices.ContainsFunc(s.Parts, func(g *model.Group) bool { return g.Kind == model.Part && len(g.Steps) > 0 })
}

// drawnAsWritten is what a function finds in the session as written, where a version of it is
// looked at: what it says of the version too has been said.
func drawnAsWritten[T comparable](p *pass, f func(*model.Session) []T) []T {
	if p.version == nil {
		return nil
	}
	return f(p.written)
}

// coldPatterns are those that hard work may find cold. Trunk, rotation and carries
// are held rather than moved through, and any work before them wakes them; what is run, rowed
// or cycled is its own warm-up, but for a sprint.
var coldPatterns = []book.Pattern{book.Squat, book.Hinge, book.Lunge, book.HorizontalPush, book.VerticalPush, book.HorizontalPull, book.VerticalPull, book.Jump}

// readied are the patterns that a hard line of a movement asks a warm-up for: its main one, and
// the press overhead wherever there is one.
func readied(m *book.Movement) []book.Pattern {
	if m == nil {
		return nil
	}
	if sprints(m) {
		return []book.Pattern{book.Run}
	}
	var out []book.Pattern
	for i, t := range m.Trains {
		if slices.Contains(coldPatterns, t) && (i == 0 || t == book.VerticalPush) {
			out = append(out, t)
		}
	}
	return out
}

var cyclicPatterns = []book.Pattern{book.Run, book.Row, book.Bike, book.Ski, book.Swim}

// touchesPattern says whether a movement moves as a pattern does. A pull is a pull, as among the
// five patterns of the American Council on Exercise, and a press overhead readies one in front,
// but not the other way round. A machine that is rowed or skied readies nothing but its own.
func touchesPattern(m *book.Movement, want book.Pattern) bool {
	return m != nil && slices.ContainsFunc(m.Trains, func(t book.Pattern) bool {
		if slices.Contains(cyclicPatterns, m.Main()) && t != book.Run && t != book.Jump {
			return false
		}
		return t == want || want != book.VerticalPush && want.Coarse() == t.Coarse() && (want.Coarse() == "pull" || want.Coarse() == "push")
	})
}

// drillFor is what a coach adds to a warm-up for a pattern: light, and with no kit.
var drillFor = map[book.Pattern]string{
	book.Squat: "8 air squat", book.Hinge: "8 hip hinge drill", book.Lunge: "8 reverse lunge, alternating",
	book.HorizontalPush: "8 scapular push-up", book.VerticalPush: "8 wall slide", book.HorizontalPull: "8 prone pull",
	book.VerticalPull: "8 prone pull", book.Jump: "15 pogo hop", book.Run: "20 high knees",
}

// A cold is a pattern that a session loads hard and nothing readies.
type cold struct {
	pattern book.Pattern
	line    *doneLine
	move    model.Move
}

// colds are the patterns that hard lines find cold, each at its first. What is not hard touches
// a pattern, in the warm-up as in the parts before; so do the lighter turns of the line itself.
func (p *pass) colds(s *model.Session) []cold {
	var out []cold
	var before []*doneLine
	seen := map[book.Pattern]bool{}
	p.eachLine(s, func(l *doneLine) {
		if l.why == "" {
			before = append(before, l)
			return
		}
		if p.ownRamp(l) > 0 {
			before = append(before, &doneLine{work: l.work})
		}
		for _, m := range l.work.Moves {
			for _, pattern := range readied(m.Movement) {
				touched := slices.ContainsFunc(before, func(o *doneLine) bool {
					return o.share < max(l.share, p.setting("share")) && slices.ContainsFunc(o.work.Moves, func(om model.Move) bool {
						return touchesPattern(om.Movement, pattern)
					})
				})
				if !touched && !seen[pattern] {
					seen[pattern] = true
					out = append(out, cold{pattern, l, m})
				}
			}
		}
	})
	return out
}

// ownRamp is how many turns of a line are lighter than its heaviest: by their share of a
// maximum or, where the load goes by feel, with more repetitions.
func (p *pass) ownRamp(h *doneLine) int {
	w, n := h.work, 0
	if ld := shareOf(w); ld != nil {
		for _, share := range p.turnShares(w, h.around, map[*book.Movement]float64{}) {
			if share < h.share-1e-9 {
				n++
			}
		}
		return n / ld.Amount.Tiers()
	}
	byFeel := slices.ContainsFunc(w.Loads, func(l model.Load) bool {
		return l.Kind == syntax.RPE || l.Kind == syntax.RIR || l.Kind == syntax.Rising
	})
	if !byFeel && !goesHeavy(w, h.around) || w.Dose == nil || w.Dose.Form != syntax.Series {
		return 0
	}
	for _, row := range w.Dose.Terms {
		if row[0] > fewestReps(w) {
			n++
		}
	}
	return n
}

// A rampSet is a set that leads up to a heavier one.
type rampSet struct{ reps, share int }

// rampSets are the sets that lead up to a heavy one, the lightest first: the repetitions are
// those of the test warm-up of a maximum (see rampMissing), the shares its light, middling and
// near-maximal ones in numbers, as coaches write them: common practice, no source.
var rampSets = []rampSet{{5, 50}, {3, 70}, {2, 80}}

// leadUp are lines for the last so many of those sets of a lift.
func leadUp(lift string, n int) []string {
	var out []string
	for _, r := range rampSets[len(rampSets)-min(max(n, 0), len(rampSets)):] {
		out = append(out, fmt.Sprintf("%d %s @ %d%%", r.reps, lift, r.share))
	}
	return out
}

// newLines is the edit that adds lines of text, at a depth, before the line that begins at or
// behind an offset.
func newLines(f *source.File, off, depth int, lines []string) diag.Edit {
	indent := strings.Repeat("  ", depth)
	text := indent + strings.Join(lines, "\n"+indent) + "\n"
	if off > 0 && f.Text[off-1] != '\n' { // the last line has no end
		text = "\n" + strings.TrimSuffix(text, "\n")
	}
	return diag.Edit{At: f.At(source.Span{Start: off, End: off}), New: text}
}

// lineStart is where the line of an offset begins.
func lineStart(f *source.File, off int) int { return f.Line(f.LineAt(off)).Start }

// behindLine is where the line begins that follows the one of an offset and what stands under
// it, such as a waiver.
func behindLine(f *source.File, off int) int {
	depth := depthOf(f, off)
	for i := f.LineAt(off) + 1; i < f.Lines(); i++ {
		if at := f.Line(i).Start; depthOf(f, at) <= depth {
			return at
		}
	}
	return len(f.Text)
}

// depthOf is how many levels a line is indented.
func depthOf(f *source.File, off int) int {
	line := f.Slice(f.Line(f.LineAt(off)))
	return (len(line) - len(strings.TrimLeft(line, " "))) / 2
}

// asItStands is a group as the session as written has it, whose lines can be edited: of a
// version, they may be swaps that stand elsewhere. It is nil where a version has it for itself,
// and where lines cannot be added to it: they stand behind its head, or a clock or slots say
// when each is done.
func (p *pass) asItStands(g *model.Group) *model.Group {
	var found *model.Group
	walk(p.written, func(st model.Step, _ []*model.Group) {
		if k, ok := st.(*model.Group); ok && k.At == g.At {
			found = k
		}
	})
	f := p.File.Syntax.Src
	if found == nil || found.At.File != f || len(found.Steps) == 0 || found.Slots() > 0 || found.Repeat.Clocked() ||
		f.LineAt(found.Steps[0].Where().Start) == f.LineAt(found.At.Start) {
		return nil
	}
	return found
}

// addDrills is the edit that adds light lines to a warm-up: to its rounds, where it has some.
func (p *pass) addDrills(g *model.Group, lines []string) (diag.Edit, bool) {
	for _, st := range g.Steps {
		if k, ok := st.(*model.Group); ok && k.Repeat.Kind == model.Rounds {
			if e, ok := p.addLines(k, lines); ok {
				return e, true
			}
		}
	}
	return p.addLines(g, lines)
}

// addLines is the edit that adds lines to the end of a group.
func (p *pass) addLines(g *model.Group, lines []string) (diag.Edit, bool) {
	if g = p.asItStands(g); g == nil {
		return diag.Edit{}, false
	}
	f := g.At.File
	last := g.Steps[len(g.Steps)-1].Where().Start
	return newLines(f, behindLine(f, last), depthOf(f, g.Steps[0].Where().Start), lines), true
}

// addFirst is the edit that adds lines to the beginning of a group.
func (p *pass) addFirst(g *model.Group, lines []string) (diag.Edit, bool) {
	if g = p.asItStands(g); g == nil {
		return diag.Edit{}, false
	}
	at := g.Steps[0].Where().Start
	return newLines(g.At.File, lineStart(g.At.File, at), depthOf(g.At.File, at), lines), true
}

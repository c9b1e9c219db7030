package arithmetic

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var LadderFlat = check.Rule{Name: "ladder-flat", Family: "arithmetic", Severity: diag.Warning,
	Summary: "a ladder of one rung, of equal rungs, of two far apart that were perhaps meant as its ends, or of numbers that no line takes",
	Session: func(p *check.Pass, s *model.Session) {
		for g := range s.Groups(model.Everything) {
			if g.Repeat.Series != nil && !p.ErrorOnLine(g.Repeat.Series.At) && unusedLadder(g) {
				p.Report(unused(s, g))
				continue
			}
			if g.Repeat.Series == nil || g.Repeat.Series.Open || g.Repeat.Series.Uneven() || len(g.Repeat.Series.Terms) == 0 || p.ErrorOnLine(g.Repeat.Series.At) {
				continue
			}
			if d, ok := flatLadder(g.Repeat.Series); ok {
				p.Report(d)
			}
		}
	}}

func flatLadder(q *model.Quantity) (diag.Diagnostic, bool) {
	d := diag.Diagnostic{At: q.At}
	first, last := q.Terms[0][0], q.Terms[len(q.Terms)-1][0]
	switch {
	case len(q.Terms) == 1:
		d.Message, d.Help = "this ladder has one rung", "write its rungs: ladder 12-9-6, or a plain count on each line"
	case flat(q):
		d.Message, d.Help = fmt.Sprintf("all %d rungs of this ladder are %s", len(q.Terms), units.FormatNumber(first)), fmt.Sprintf("write %d rounds, and the count on each line", len(q.Terms))
	case q.Unit == "rep" && len(q.Terms) == 2 && math.Abs(first-last) > 4 && min(first, last) <= 2 && q.Tiers() == 1:
		step := 1.0
		if last < first {
			step = -1
		}
		text := fmt.Sprintf("%s-%s-...-%s", units.FormatNumber(first), units.FormatNumber(first+step), units.FormatNumber(last))
		d.Message = fmt.Sprintf("this ladder has two rungs, %s and %s, and none between", units.FormatNumber(first), units.FormatNumber(last))
		d.Help = "where those between are meant too, write " + text
		d.Fixes = []diag.Fix{{Title: "write " + text, Edits: []diag.Edit{{At: q.At, New: text}}}}
	default:
		return d, false
	}
	return d, true
}

// flat says whether all rungs are alike, for every tier.
func flat(q *model.Quantity) bool {
	for _, row := range q.Terms {
		for tier := range q.Tiers() {
			if row[min(tier, len(row)-1)] != q.Terms[0][min(tier, len(q.Terms[0])-1)] {
				return false
			}
		}
	}
	return true
}

// unusedLadder says whether every line under a ladder has a count of its own.
func unusedLadder(g *model.Group) bool {
	lines := 0
	for w, around := range g.Lines(model.Everything) {
		if w.From == model.FromHead || w.From == model.FromLine && w.Dose == nil ||
			slices.ContainsFunc(around, func(o *model.Group) bool { return o.Unread || o.Gaps }) {
			return false
		}
		lines++
	}
	return lines > 0
}

// unused is a ladder whose numbers no line takes: it is either rounds, or the counts on its lines are too much.
func unused(s *model.Session, g *model.Group) diag.Diagnostic {
	d := diag.Diagnostic{At: g.Repeat.Series.At, Message: "no line takes the numbers of this ladder: each has a count of its own",
		Help: "take the count off the lines that go by the ladder, or write rounds"}
	if s.Version != "" {
		return d
	}
	var off []diag.Edit
	for w := range g.Lines(model.OnlySteps) {
		if w.Dose == nil || w.Dose.Unit != g.Repeat.Series.Unit || w.Sets != nil || w.Side || w.RM > 0 || w.Past != nil || w.Dose.Max || len(w.Moves) > 1 {
			continue
		}
		at := w.Dose.At
		at.End += len(at.File.Text[at.End:]) - len(strings.TrimLeft(at.File.Text[at.End:], " "))
		off = append(off, diag.Edit{At: at})
	}
	if len(off) > 0 {
		d.Fixes = append(d.Fixes, diag.Fix{Title: "take the counts off the lines", Edits: off})
	}
	rungs := false
	model.Walk(g, model.OnlySteps, func(s model.Step, _ []*model.Group) bool {
		r, is := s.(*model.Rest)
		rungs = rungs || is && r.Of == model.OfRungs
		return true
	})
	if q := g.Repeat.Series; !q.Open && !rungs {
		text := phrase.Many(float64(len(q.Terms)), "round")
		d.Fixes = append(d.Fixes, diag.Fix{Title: "write " + text, Edits: []diag.Edit{{At: g.Repeat.At, New: text}}})
	}
	return d
}

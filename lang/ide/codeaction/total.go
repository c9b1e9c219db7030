package codeaction

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// Total writes the line total, with every movement, of the session or the part whose head or whose
// line total an offset is on. There is none where it stands there already, or where nothing can
// be added up.
func Total(s *workspace.Snapshot, f *workspace.File, off int) (Action, bool) {
	l, at := lineAt(f, off)
	if l == nil || l.Bad {
		return Action{}, false
	}
	if h, ok := l.Stmt.(*syntax.Head); ok && h.Inline != nil {
		return Action{}, false // nothing but notes may stand under it
	}
	tiers := len(s.Env.House.Tiers)
	for _, o := range f.Program().Sessions {
		if f.Src.LineAt(o.At.Start) == at || hasTotalOn(f, o.Totals, at) {
			last := o.Parts
			if len(last) == 0 {
				return Action{}, false
			}
			end := last[len(last)-1].Block.End
			return writeTotal(f, totals.OfSession(o, tiers), o.Totals, "the session", end, "\n\n")
		}
		for _, g := range o.Parts {
			if f.Src.LineAt(g.At.Start) == at || hasTotalOn(f, g.Totals, at) {
				return writeTotal(f, totals.OfGroup(g, tiers), g.Totals, "this part", g.Block.End, "\n  ")
			}
		}
	}
	return Action{}, false
}

// hasTotalOn says whether one of some totals stands on a line.
func hasTotalOn(f *workspace.File, ts []*model.Total, line int) bool {
	return slices.ContainsFunc(ts, func(t *model.Total) bool { return f.Src.LineAt(t.At.Start) == line })
}

// writeTotal is the action that states sums: in the place of the line that states some of them
// or, where there is none, as a line of its own at the end.
func writeTotal(
	f *workspace.File, sums *totals.Totals, ts []*model.Total, what string, end int, before string,
) (Action, bool) {
	src := f.Src
	onOtherLine := func(t *model.Total) bool { return src.LineAt(t.At.Start) != src.LineAt(ts[0].At.Start) }
	if sums.Unread || slices.ContainsFunc(ts, onOtherLine) {
		return Action{}, false
	}
	list := totalTexts(sums, ts)
	if len(list) == 0 {
		return Action{}, false
	}
	text := "total " + strings.Join(list, ", ")
	if len(text) > syntax.MaxBody {
		return Action{}, false
	}
	out := Action{Title: "state all that " + what + " comes to"}
	if len(ts) == 0 {
		at := source.Span{Start: end, End: end}
		out.Edits = []diag.Edit{{At: src.At(at), New: before + text}}
		return out, true
	}
	l := f.Syntax().Lines[src.LineAt(ts[0].At.Start)]
	at := src.At(l.Span(l.Stmt.Extent()))
	if at.Text() == text {
		return Action{}, false
	}
	out.Edits = []diag.Edit{{At: at, New: text}}
	return out, true
}

// totalTexts are sums as a line total has them, an amount and a movement each: first those that
// are stated already, in their order, then the rest. Open or uncertain sums are left out.
func totalTexts(sums *totals.Totals, ts []*model.Total) []string {
	var out []string
	done := map[string]bool{}
	add := func(r totals.Row, written string) {
		sure := !r.Unread && !slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return s.Open })
		some := slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return s.Hi > 0 })
		if k := r.Movement + "\n" + r.Unit; sure && some && !done[k] {
			done[k] = true
			out = append(out, strings.TrimSpace(totals.Text(r, written, r.Movement != "")+" "+r.Movement))
		}
	}
	for _, t := range ts {
		if t.Name == "" {
			add(sums.All(t.Amount.Unit), t.Amount.Written)
			continue
		}
		if r, found := sums.Row(t.Name, t.Amount.Unit); found {
			add(r, t.Amount.Written)
		}
	}
	for _, r := range sums.Rows {
		if !r.Duty {
			add(r, "")
		}
	}
	return out
}

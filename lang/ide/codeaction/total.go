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
			return writeTotal(f, tiers, o.Parts, o.Totals, "the session", end, "\n\n")
		}
		for _, g := range o.Parts {
			if f.Src.LineAt(g.At.Start) == at || hasTotalOn(f, g.Totals, at) {
				return writeTotal(f, tiers, []*model.Group{g}, g.Totals, "this part", g.Block.End, "\n  ")
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
	f *workspace.File, tiers int, groups []*model.Group, ts []*model.Total, what string, end int, before string,
) (Action, bool) {
	src := f.Src
	onOtherLine := func(t *model.Total) bool { return src.LineAt(t.At.Start) != src.LineAt(ts[0].At.Start) }
	rows, unread := totals.RowsOfEach(tiers, groups...)
	ofRounds := func(t *model.Total) bool { return t.After > 0 }
	if unread || slices.ContainsFunc(ts, onOtherLine) || slices.ContainsFunc(ts, ofRounds) {
		return Action{}, false
	}
	all := func(whose model.Whose) *totals.Totals { return totals.View{Whose: whose}.Of(tiers, groups...) }
	list := totalTexts(rows, all, ts)
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
// Where a team comes to something else than one athlete, the team's sum is stated.
func totalTexts(rows []totals.WhoseRow, all func(model.Whose) *totals.Totals, ts []*model.Total) []string {
	var out []string
	done := map[string]bool{}
	add := func(r totals.WhoseRow, written string) {
		sure := !r.Unread && !slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return s.Open })
		some := slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return s.Hi > 0 })
		if k := r.Movement + "\n" + r.Unit; sure && some && !done[k] {
			done[k] = true
			text := string(r.Whose) + " " + totals.Text(r.Row, written, r.Movement != "") + " " + r.Movement
			out = append(out, strings.TrimSpace(text))
		}
	}
	for _, t := range ts {
		if t.Name == "" {
			add(totals.WhoseRow{Row: all(t.Whose).All(t.Amount.Unit), Whose: t.Whose}, t.Amount.Written)
			continue
		}
		for _, r := range rows {
			if r.Movement == t.Name && r.Unit == t.Amount.Unit && (r.Whose == t.Whose || t.Whose == model.OfAnyone) {
				add(r, t.Amount.Written)
			}
		}
	}
	for i, r := range rows {
		team := i+1 < len(rows) && rows[i+1].Whose == model.OfTeam && rows[i+1].Movement == r.Movement && rows[i+1].Unit == r.Unit
		if !r.Duty && !team {
			add(r, "")
		}
	}
	return out
}

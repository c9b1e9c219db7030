// Package kit has the rules about equipment: whether the house has it, and enough of it for the class.
package kit

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
)

// kitCounted says whether the house says how many come and lists its kit, and the session is
// done with that.
func kitCounted(p *check.Pass) bool {
	return p.Env.House.Class > 0 && len(p.Env.House.Kit) > 0 && !p.OwnKit()
}

// lacksKit is kit that a movement needs and the house does not list, or empty.
func lacksKit(p *check.Pass, m *book.Movement) string {
	if m == nil {
		return ""
	}
	for _, ways := range m.Ways() {
		if !slices.ContainsFunc(ways, func(k string) bool { return equipment.Has(p.Env, k) }) {
			for i, k := range ways {
				ways[i] = equipment.Name(p.Env.Book, k)
			}
			return strings.Join(ways, " or ")
		}
	}
	return ""
}

// alternatives are the movements that the book names in the place of one, of the same main
// pattern. Going somewhere counts as one pattern, by foot or by whatever machine.
func alternatives(p *check.Pass, m *book.Movement) []*book.Movement {
	going := []book.Pattern{book.Run, book.Row, book.Bike, book.Ski}
	var out []*book.Movement
	for _, name := range slices.Concat(m.Instead, m.Easier) {
		o, _ := p.Env.Book.Lookup(name)
		if o == nil || o == m || slices.Contains(out, o) {
			continue
		}
		if o.Main() == m.Main() || slices.Contains(going, o.Main()) && slices.Contains(going, m.Main()) {
			out = append(out, o)
		}
	}
	return out
}

// linesOf are the lines that are of one movement alone.
func linesOf(parts []*model.Group, m *book.Movement) []*model.Work {
	var out []*model.Work
	for _, g := range parts {
		for w := range g.Lines(model.Everything) {
			if len(w.Moves) == 1 && w.Moves[0].Movement == m {
				out = append(out, w)
			}
		}
	}
	return out
}

// dosesFit says whether a movement can be done in the doses of another and is about as
// long at them: one takes no more than twice as long as the other.
func dosesFit(s *model.Session, m, other *book.Movement) bool {
	return !slices.ContainsFunc(linesOf(s.Parts, m), func(w *model.Work) bool {
		if w.Dose == nil || w.Dose.Unit == "s" {
			return false
		}
		a, known := paceIn(m, w.Dose.Unit)
		b, ok := paceIn(other, w.Dose.Unit)
		return !ok || known && (a.Typical > 2*b.Typical || b.Typical > 2*a.Typical) || w.Tempo != "" || len(w.Terms) > 0
	})
}

// paceIn is a movement's pace per unit. The rower's goes by metres, of which a calorie on its
// monitor is about 16 at 2:05 per 500 m, by the published formula; that will do to tell
// whether two doses are about as long.
func paceIn(m *book.Movement, unit string) (book.Pace, bool) {
	if pace, ok := m.Pace(unit); ok || unit != "cal" || m.Main() != book.Row {
		return pace, ok
	}
	pace, ok := m.Pace("m")
	pace.Typical *= metresPerCal
	return pace, ok
}

const metresPerCal = 16

// swappable says whether one movement can be written for another without anything else
// losing its hold: no version swaps it, no total counts it, and it stands in no choice or
// complex.
func swappable(p *check.Pass, s *model.Session, m *book.Movement) bool {
	if p.Version != nil || len(s.Versions) > 0 ||
		slices.ContainsFunc(s.Totals, func(t *model.Total) bool { return t.Movement == m || t.Movement == nil }) {
		return false
	}
	for g := range s.Groups(model.Everything) {
		if len(g.Totals) > 0 {
			return false
		}
	}
	for w := range s.Lines(model.Everything) {
		if len(w.Moves) > 1 && slices.ContainsFunc(w.Moves, func(o model.Move) bool { return o.Movement == m }) {
			return false
		}
	}
	return true
}

// swapEdits are the edits that write one movement for another. A load belongs to its kit: it
// is kept where both movements need the same.
func swapEdits(parts []*model.Group, m, other *book.Movement) []diag.Edit {
	var out []diag.Edit
	keep := slices.Equal(m.Needs, other.Needs)
	for _, w := range linesOf(parts, m) {
		out = append(out, diag.Edit{At: w.Moves[0].At, New: other.Name})
		for _, l := range w.Loads {
			if keep || !ofKit(l) {
				continue
			}
			at := l.At
			for at.Start > 0 && strings.ContainsRune(" @", rune(at.File.Text[at.Start-1])) {
				at.Start--
			}
			out = append(out, diag.Edit{At: at})
		}
	}
	return out
}

// withArticle is a piece of kit with its article: a rower, an air bike, rings.
func withArticle(name string) string {
	var out []string
	for _, n := range strings.Split(name, " or ") {
		switch {
		case n == "" || strings.HasSuffix(n, "s"):
		case strings.ContainsRune("aeiou", rune(n[0])):
			n = "an " + n
		default:
			n = "a " + n
		}
		out = append(out, n)
	}
	return strings.Join(out, " or ")
}

// ofKit says whether a load belongs to the implement, so that it goes with it.
func ofKit(l model.Load) bool {
	return l.Kind == syntax.Mass || l.Kind == syntax.Height || l.Kind == syntax.Share
}

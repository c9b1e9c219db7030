package totals

import (
	"slices"
	"strings"

	"stint.example/stint/lang/model"
)

// mine marks the names of the movements of one line among those of all others. No name in
// the notation has a mark in it.
const mine = "#"

// OfLine adds up one line of a part, over all turns of it. Of a choice between movements
// it is what is done of either; its row has no name.
func OfLine(part *model.Group, line *model.Work, tiers int) *Totals {
	r := &rewriter{line: func(w *model.Work, _ surround) model.Step {
		if w != line {
			return w
		}
		return calledAs(w, func(m model.Move) string {
			if w.Choice {
				return mine
			}
			return mine + m.Name
		})
	}}
	t := total(tiers, r.all([]*model.Group{part})...)
	t.Rows = slices.DeleteFunc(t.Rows, func(r Row) bool { return !strings.HasPrefix(r.Movement, mine) })
	for i := range t.Rows {
		t.Rows[i].Movement = strings.TrimPrefix(t.Rows[i].Movement, mine)
	}
	return t
}

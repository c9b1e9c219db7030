package kit

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

// offerChoice leaves a choice of another movement, with other kit or none.
func offerChoice(p *check.Pass, s *model.Session, i int, u *shortKit) (remedy, bool) {
	return trySwap(p, s, i, u, func(w *model.Work, m *book.Movement) (*model.Work, bool) {
		if w.Dose == nil || w.From != model.FromLine || w.Dose.At.Start > w.Moves[0].At.Start ||
			slices.ContainsFunc(w.Loads, ofKit) {
			return nil, false
		}
		c := *w
		c.Choice, c.Moves = true,
			append(slices.Clone(w.Moves), model.Move{Movement: m, Name: m.Name, At: w.Moves[0].At})
		return &c, true
	}, func(m, other *book.Movement) (string, func([]*model.Group) []diag.Edit) {
		text := m.Name + " or " + other.Name
		return text, func(parts []*model.Group) []diag.Edit {
			var out []diag.Edit
			for _, w := range linesOf(parts, m) {
				out = append(out, diag.Edit{At: w.Moves[0].At, New: text})
			}
			return out
		}
	})
}

// offerSubstitute writes another movement, of whose kit there is enough.
func offerSubstitute(p *check.Pass, s *model.Session, i int, u *shortKit) (remedy, bool) {
	return trySwap(p, s, i, u, func(w *model.Work, m *book.Movement) (*model.Work, bool) {
		c := *w
		c.Moves = []model.Move{{Movement: m, Name: m.Name, At: w.Moves[0].At}}
		if !slices.Equal(w.Moves[0].Movement.Needs, m.Needs) {
			c.Loads = slices.DeleteFunc(slices.Clone(w.Loads), ofKit)
		}
		return &c, true
	}, func(m, other *book.Movement) (string, func([]*model.Group) []diag.Edit) {
		return other.Name, func(parts []*model.Group) []diag.Edit { return swapEdits(parts, m, other) }
	})
}

// trySwap tries what another movement makes of the lines of one, all through a part.
func trySwap(p *check.Pass, s *model.Session, i int, u *shortKit,
	line func(*model.Work, *book.Movement) (*model.Work, bool),
	write func(m, other *book.Movement) (string, func([]*model.Group) []diag.Edit)) (remedy, bool) {
	part := s.Parts[i]
	if len(u.Lines) != 1 || len(u.Lines[0].Moves) != 1 || u.Lines[0].Moves[0].Movement == nil {
		return remedy{}, false
	}
	m := u.Lines[0].Moves[0].Movement
	for _, other := range alternatives(p, m) {
		if lacksKit(p, other) != "" || !dosesFit(s, m, other) {
			continue
		}
		able := true
		_, ok := tryRemedy(p, s, i, u.kits, func(g *model.Group) *model.Group {
			return copyGroup(g, nil, func(w *model.Work) *model.Work {
				if len(w.Moves) != 1 || w.Moves[0].Movement != m {
					return w
				}
				c, ok := line(w, other)
				if able = able && ok; !ok {
					return w
				}
				return c
			})
		})
		if !ok || !able {
			continue
		}
		text, edits := write(m, other)
		r := remedy{text: "write " + text + ", for which there is kit enough"}
		if swappable(p, s, m) {
			r.fix = &diag.Fix{Title: "write " + text, Edits: edits([]*model.Group{part})}
		}
		return r, true
	}
	return remedy{}, false
}

// offerStagger starts half of the people with another line of the same rounds.
func offerStagger(u *shortKit) (remedy, bool) {
	if len(u.Lines) != 1 || u.Each == 0 || (u.People+1)/2 > u.Fits() {
		return remedy{}, false
	}
	var other *model.Work
	for g := range u.Part.Groups(model.Everything) {
		if !g.ComesRound() || g.Slots() > 0 || !slices.Contains(g.Steps, model.Step(u.Lines[0])) {
			continue
		}
		for _, s := range g.Steps {
			w, ok := s.(*model.Work)
			if ok && other == nil && !shareKit(w, u.Lines[0]) {
				other = w
			}
		}
	}
	if other == nil {
		return remedy{}, false
	}
	return remedy{text: fmt.Sprintf("say in a note that half of them start with %s: %d at once fit", other.MoveNames(),
		(u.People+1)/2)}, true
}

// shareKit says whether two lines need the same kit.
func shareKit(a, b *model.Work) bool {
	needs := func(w *model.Work) (out []string) {
		for _, m := range w.Moves {
			if m.Movement != nil {
				out = append(out, m.Movement.Kit()...)
			}
		}
		return out
	}
	return slices.ContainsFunc(needs(a), func(k string) bool { return slices.Contains(needs(b), k) })
}

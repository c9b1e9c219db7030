// Package substitute writes versions of sessions from the book: what members who lack some of
// the kit do instead.
package substitute

import (
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// Kit is what a version of a session has, by the names of the book; known is false where
// neither the session nor the house says, so that it has whatever the hall has.
func Kit(env *model.Env, s *model.Session, version string) (kit []string, known bool) {
	if v := s.FindVersion(version); v != nil {
		return named(env, v.Has), v.HasOnly
	}
	kit, known = houseKit(env, version, nil)
	return named(env, kit), known
}

// houseKit is what a scaling of the house has: its own line says it, or the last that says
// so of those that it starts from.
func houseKit(env *model.Env, version string, chain []string) (kit []string, known bool) {
	h := env.House.Scaling(version)
	if h == nil || slices.Contains(chain, book.Key(version)) {
		return nil, false
	}
	if h.HasOnly {
		return h.Has, true
	}
	for _, from := range slices.Backward(h.From) {
		if kit, known := houseKit(env, from.Text, append(chain, book.Key(version))); known {
			return kit, true
		}
	}
	return nil, false
}

func named(env *model.Env, kit []string) []string {
	out := make([]string, len(kit))
	for i, k := range kit {
		out[i] = k
		if name, ok := env.Book.Kit(k); ok {
			out[i] = name
		}
	}
	return out
}

// A Lack is work that needs kit which is not there.
type Lack struct {
	Work *model.Work // nil where a head asks for the kit
	With *model.Kit  // what is carried or worn, where that is what lacks
	Part *model.Group
	Kit  []string // that lacks

	around []*model.Group
}

// Lacking is all work of a session that cannot be done with some kit, in order. Of a choice
// it is enough that one can be done.
func Lacking(env *model.Env, s *model.Session, kit []string) []Lack {
	l := &lacking{env: env, kit: kit}
	for _, g := range s.Parts {
		l.part = g
		l.steps([]model.Step{g}, nil)
	}
	return l.out
}

type lacking struct {
	env  *model.Env
	kit  []string
	part *model.Group
	out  []Lack
}

func (l *lacking) steps(steps []model.Step, around []*model.Group) {
	for _, s := range steps {
		switch s := s.(type) {
		case *model.Work:
			l.work(s, around)
		case *model.Rest:
			l.steps(s.Steps, around)
		case *model.Group:
			l.group(s, around)
		}
	}
}

func (l *lacking) group(g *model.Group, around []*model.Group) {
	l.with(nil, g.With, around)
	inner := append(slices.Clip(around), g)
	before := len(l.out)
	if g.Chooses() {
		for _, s := range g.Steps {
			at := len(l.out)
			if l.steps([]model.Step{s}, inner); len(l.out) == at {
				l.out = l.out[:before] // whoever lacks the others' kit takes this one
				break
			}
		}
	} else {
		l.steps(g.Steps, inner)
	}
	for _, e := range g.Events {
		l.steps(e.Steps, inner)
	}
}

func (l *lacking) work(w *model.Work, around []*model.Group) {
	var lacks []string
	for _, m := range w.Moves {
		if m.Movement == nil {
			return // reported as unknown
		}
		out := missing(l.env, l.kit, m.Movement.Ways())
		if w.Choice && len(out) == 0 {
			lacks = nil
			break
		}
		lacks = append(lacks, out...)
	}
	if len(lacks) > 0 {
		l.out = append(l.out, Lack{Work: w, Part: l.part, Kit: once(lacks), around: around})
	}
	l.with(w, w.With, around)
}

func (l *lacking) with(w *model.Work, with []model.Kit, around []*model.Group) {
	for i := range with {
		if out := missing(l.env, l.kit, [][]string{{with[i].Name}}); len(out) > 0 {
			l.out = append(l.out, Lack{Work: w, With: &with[i], Part: l.part, Kit: out, around: around})
		}
	}
}

// missing is what is needed and not there: of each need one of the pieces that will do.
func missing(env *model.Env, kit []string, needs [][]string) []string {
	var out []string
	for _, ways := range needs {
		ways = named(env, ways)
		if !slices.ContainsFunc(ways, func(n string) bool {
			return slices.ContainsFunc(kit, func(k string) bool { return book.Key(k) == book.Key(n) })
		}) {
			out = append(out, strings.Join(ways, " or "))
		}
	}
	return out
}

func once(list []string) []string {
	var out []string
	for _, s := range list {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// Missing is the kit that a movement needs and that is not there.
func Missing(env *model.Env, kit []string, m *book.Movement) []string {
	return missing(env, kit, m.Ways())
}

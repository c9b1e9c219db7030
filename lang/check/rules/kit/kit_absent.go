package kit

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

var KitAbsent = check.Rule{Name: "kit-absent", Family: "kit", Severity: diag.Warning,
	Summary: "work that needs kit which the house does not list",
	Session: func(p *check.Pass, s *model.Session) {
		if !kitCounted(p) {
			return
		}
		var found []absence
		add := func(a absence) {
			i := slices.IndexFunc(found, func(o absence) bool { return o.kit == a.kit && o.name == a.name })
			if i < 0 {
				found = append(found, a)
				return
			}
			found[i].also = append(found[i].also, a.at)
		}
		s.Walk(model.Everything, func(step model.Step, around []*model.Group) bool {
			switch st := step.(type) {
			case *model.Group:
				absentWith(p, st.With, add)
			case *model.Work:
				absentWith(p, st.With, add)
				if m, missing, ok := absentOf(p, st); !ok && !avoidable(p, around) {
					add(absence{at: m.At, name: m.Name, kit: missing, move: m.Movement})
				}
			}
			return true
		})
		for _, a := range found {
			p.Report(absent(p, s, a))
		}
	}}

// An absence is kit that is needed and that the house does not list.
type absence struct {
	at   source.Place
	name string // of what needs it
	kit  string
	move *book.Movement // nil of what is carried or worn beside the movement's own kit
	also []source.Place // where else
}

func absentWith(p *check.Pass, with []model.Kit, add func(absence)) {
	for _, k := range with {
		if name, ok := p.Env.Book.Kit(k.Name); ok && !equipment.Has(p.Env, name) {
			add(absence{at: k.At, kit: name})
		}
	}
}

// absentOf is the first movement of a line that cannot be done, and the kit that it lacks;
// ok where it can be done, in one way of those that it leaves open.
func absentOf(p *check.Pass, w *model.Work) (m model.Move, missing string, ok bool) {
	for _, o := range w.Moves {
		lacks := lacksKit(p, o.Movement)
		switch {
		case lacks == "" && w.Choice:
			return m, "", true
		case lacks != "" && missing == "":
			m, missing = o, lacks
		}
	}
	return m, missing, missing == ""
}

// avoidable says whether a line stands in a choice of lines of which another can be done.
func avoidable(p *check.Pass, around []*model.Group) bool {
	for _, g := range around {
		if g.Chooses() && slices.ContainsFunc(g.Steps, func(s model.Step) bool { return doable(p, s) }) {
			return true
		}
	}
	return false
}

// doable says whether the house has all that a step needs.
func doable(p *check.Pass, s model.Step) bool {
	works, can := false, true
	model.Walk(s, model.Everything, func(step model.Step, _ []*model.Group) bool {
		if w, ok := step.(*model.Work); ok {
			_, _, able := absentOf(p, w)
			works, can = true, can && able
		}
		return true
	})
	return works && can
}

func absent(p *check.Pass, s *model.Session, a absence) diag.Diagnostic {
	whose := p.WhoseKit()
	d := diag.Diagnostic{At: a.at, Label: "none in " + whose + "'s kit"}
	for _, at := range a.also {
		d.Related = append(d.Related, diag.Related{At: at, Message: "and here"})
	}
	first, _, _ := strings.Cut(a.kit, " or ")
	list := fmt.Sprintf("add a line to %s's kit, such as 16 %s", whose, first)
	if a.move == nil {
		d.Message = fmt.Sprintf("%s is asked for, and %s lists none", a.kit, whose)
		d.Help = "leave it out, or " + list
		return d
	}
	d.Message = fmt.Sprintf("%s needs %s, and %s lists none", a.name, withArticle(a.kit), whose)
	d.Help = "write a movement that " + whose + " has kit for, or " + list
	for _, other := range alternatives(p, a.move) {
		if lacksKit(p, other) != "" || !dosesFit(s, a.move, other) {
			continue
		}
		with := ""
		if len(other.Needs) > 0 {
			with = ", which " + whose + " has kit for"
		}
		d.Help = fmt.Sprintf("write %s%s, or %s", other.Name, with, list)
		if swappable(p, s, a.move) {
			d.Fixes = []diag.Fix{{Title: "write " + other.Name, Edits: swapEdits(s.Parts, a.move, other)}}
		}
		break
	}
	return d
}

package scaling

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var skillOthers = &check.Threshold{Name: "others", Unit: "%", Default: 25,
	Source: "no source: where one in four cannot do a movement, the text says what they do"}

var SkillUnscaled = check.Rule{Name: "skill-unscaled", Family: "scaling", Severity: diag.Warning,
	Summary:    "a movement that many of the class cannot do, where nothing says what they do instead",
	Thresholds: []*check.Threshold{skillOthers},
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version != nil || p.Week != nil || !p.SessionReadWithoutErrors() {
			return
		}
		var order []*book.Movement
		alone := map[*book.Movement][]estimate.Skill{} // where nothing leaves it out
		for _, g := range s.Parts {
			for _, skill := range estimate.SkillsOf(g) {
				m := skill.Movement
				if !tooFew(p, m) || !p.Here(skill.At) || leftOut(p, s, g, m) {
					continue
				}
				if len(alone[m]) == 0 {
					order = append(order, m)
				}
				alone[m] = append(alone[m], skill)
			}
		}
		for _, m := range order {
			p.Report(unscaled(p, alone[m]))
		}
	}}

// tooFew says whether more of a class cannot do a movement than a house lets pass.
func tooFew(p *check.Pass, m *book.Movement) bool {
	return m.Skill() && 100*(1-m.Class.Of) > p.Value(skillOthers)+1e-9
}

// leftOut says whether a version of the session asks nobody for a movement in a part, nor for something else there
// that too few can do.
func leftOut(p *check.Pass, s *model.Session, g *model.Group, m *book.Movement) bool {
	asked := estimate.SkillsOf(g)
	return slices.ContainsFunc(s.Versions, func(v *model.Version) bool {
		i := slices.IndexFunc(v.Session.Parts, func(o *model.Group) bool { return o.Kind == g.Kind && o.Letter == g.Letter })
		return i < 0 || !slices.ContainsFunc(estimate.SkillsOf(v.Session.Parts[i]), func(o estimate.Skill) bool {
			asWritten := slices.ContainsFunc(asked, func(a estimate.Skill) bool { return a.Movement == o.Movement })
			return o.Movement == m || !asWritten && tooFew(p, o.Movement)
		})
	})
}

// unscaled is the finding of a skill that nothing takes the place of in some lines.
func unscaled(p *check.Pass, alone []estimate.Skill) diag.Diagnostic {
	skill := alone[0]
	m := skill.Movement
	able := estimate.AbleTo(skill, p.Env.House.Class)
	label := m.WhoCan()
	if m.Class.Source != "" {
		label += ": " + m.Class.Source
	}
	d := diag.Diagnostic{At: skill.At, Label: label,
		Message: fmt.Sprintf("%s, who cannot do the %s, and nothing says what they do", able.NeedText(), m.Name),
		Help:    "write or and what they do behind it, swap it in a scaling, or write class in a movement of your own if more can do it"}
	for _, other := range alone[1:] {
		if other.At != skill.At {
			d.Related = append(d.Related, diag.Related{At: other.At, Message: "it stands here too"})
		}
	}
	to := easierForm(p, alone)
	if to == nil {
		return d
	}
	text := " or " + to.Name
	d.Help = "write" + text + " behind it, swap it in a scaling, or write class in a movement of your own if more can do it"
	fix := diag.Fix{Title: "write" + text}
	for _, a := range alone {
		at, ok := behindMoves(a.Work)
		if !ok {
			return d
		}
		fix.Edits = append(fix.Edits, diag.Edit{At: at, New: text})
	}
	d.Fixes = []diag.Fix{fix}
	return d
}

// easierForm is the nearest form of a movement that enough can do, that there is the kit for in the house and in each
// version, and that is counted as the lines are; nil where the book knows none.
func easierForm(p *check.Pass, alone []estimate.Skill) *book.Movement {
	counted := func(o *book.Movement) bool {
		return !slices.ContainsFunc(alone, func(a estimate.Skill) bool {
			d := a.Work.Dose
			if d == nil || a.Work.From == model.FromClock || d.Unit == "s" {
				return false
			}
			_, ok := estimate.Pace(p.Env.House, o, d.Unit)
			return !ok
		})
	}
	seen := map[*book.Movement]bool{alone[0].Movement: true}
	for level := []*book.Movement{alone[0].Movement}; len(level) > 0; {
		var next []*book.Movement
		for _, m := range level {
			for _, name := range m.Easier {
				o, _ := p.Env.Book.Lookup(name)
				if o == nil || seen[o] {
					continue
				}
				seen[o] = true
				next = append(next, o)
				if !tooFew(p, o) && counted(o) && hasKitFor(p, o) {
					return o
				}
			}
		}
		level = next
	}
	return nil
}

// hasKitFor says whether there is the kit for a movement, where it is known what kit there is.
func hasKitFor(p *check.Pass, m *book.Movement) bool {
	lacks := len(p.Env.House.Kit) > 0 && slices.ContainsFunc(m.Ways(), func(ways []string) bool {
		return !slices.ContainsFunc(ways, func(k string) bool { return equipment.Has(p.Env, k) })
	})
	return !lacks && !slices.ContainsFunc(p.Written.Versions, func(v *model.Version) bool {
		return v.HasOnly && len(substitute.Missing(p.Env, v.Has, m)) > 0
	})
}

// behindMoves is the place behind the movements of a line, where another to choose may be written.
func behindMoves(w *model.Work) (source.Place, bool) {
	if len(w.Moves) > 1 && !w.Choice || w.Share != "" ||
		slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Mass || l.Kind == syntax.Share }) {
		return source.Place{}, false
	}
	at := w.Moves[len(w.Moves)-1].At
	if at.File == nil {
		return source.Place{}, false
	}
	at.Start = at.End
	rest, _, _ := strings.Cut(at.File.Text[at.End:], "\n")
	rest = strings.TrimSpace(rest)
	for _, next := range []string{",", "@", ">", "#", "until"} {
		if strings.HasPrefix(rest, next) {
			return at, true
		}
	}
	return at, rest == ""
}

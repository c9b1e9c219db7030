package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/book"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// leastFar is how much work, in s, has to lie between a version and its session before the
// two are held against each other: a few sit-ups are no other hour. No source.
const leastFar = 60

var versionFar = Rule{Name: "version-far", Family: "scaling", Severity: diag.Warning,
	Summary: "a version with much more or less time, work or load than the session as written",
	Settings: []Setting{
		{Name: "time", Unit: "%", Default: 25, Source: "no source: of how long the parts take a typical member"},
		{Name: "work", Unit: "%", Default: 40, Source: "no source: of the repetitions or the distance of a pattern"},
		{Name: "load", Unit: "%", Default: 50, Source: "no source: of the load moved, where all weights are stated"},
	},
	session: func(p *pass, s *model.Session) {
		if p.version == nil || !p.whole(p.written) || !p.readable() {
			return
		}
		before, after := p.comparable(s)
		var all []far
		all = append(all, p.timeFar(s, before, after)...)
		all = append(all, p.workFar(before, after)...)
		all = append(all, p.loadFar(before, after)...)
		if len(all) == 0 {
			return
		}
		var messages, near []string
		for _, f := range all {
			messages = append(messages, f.message)
			if text := f.setting + " " + percent(p.setting(f.setting)); !slices.Contains(near, text) {
				near = append(near, text)
			}
		}
		help := "mend the counts in the scaling"
		if slices.ContainsFunc(all, func(f far) bool { return f.less }) {
			help += ", or give the version an effort or a length of its own if it is meant to be less"
		}
		p.reportVersion(diag.Diagnostic{At: p.versionAt(), Message: strings.Join(messages, "; "), Help: help,
			Label: "near enough: within " + and(near...)})
	}}

// far is one way in which a version is far from its session.
type far struct {
	message, setting string
	less             bool
}

// comparable are the parts of the session and of a version that can be held against each
// other: those that both have.
func (p *pass) comparable(s *model.Session) (before, after []*model.Group) {
	for _, g := range p.written.Parts {
		at := source.Place{File: g.At.File, Span: g.Block}
		out := slices.ContainsFunc(p.version.Left, func(l source.Place) bool { return within(at, l) || within(l, at) })
		i := slices.IndexFunc(s.Parts, func(o *model.Group) bool { return o.Kind == model.Part && o.Letter == g.Letter })
		if g.Kind == model.Part && !out && i >= 0 {
			before, after = append(before, g), append(after, s.Parts[i])
		}
	}
	return before, after
}

// lighter says whether a version is meant to be less than the session: it says so by an
// effort or a length of its own, or has the same kit.
func (p *pass) lighter() bool {
	return !p.version.HasOnly || p.easier() || own(p.version.Session.Length, p.written.Length)
}

// easier says whether a version has an effort of its own, which makes the same work longer.
func (p *pass) easier() bool { return own(p.version.Session.Effort, p.written.Effort) }

// own says whether a version states something anew.
func own(v, o *model.Quantity) bool { return v != nil && (o == nil || v.At != o.At) }

// beyond says whether two amounts are further apart than a threshold lets them be.
func (p *pass) beyond(was, is float64, setting string) bool {
	if was <= 0 || is <= 0 || is < was && p.lighter() {
		return false
	}
	return math.Abs(is-was) > p.setting(setting)/100*was+1e-9
}

// farther says what a version comes to, what its session does, and how far that is.
func farther(what string, was, is float64, setting string, say func(float64) string) []far {
	word := "more"
	if is < was {
		word = "less"
	}
	return []far{{fmt.Sprintf("%s %s, and %s as written: %s %s", what, say(is), say(was), percent(math.Round(100*math.Abs(is-was)/was)), word), setting, is < was}}
}

// timeFar holds the time that the parts take a typical member against each other.
func (p *pass) timeFar(s *model.Session, before, after []*model.Group) []far {
	if p.easier() {
		return nil
	}
	was, ok := p.timeOf(p.written, before)
	is, known := p.timeOf(s, after)
	if !ok || !known || math.Abs(is-was) < leastFar || !p.beyond(was, is, "time") {
		return nil
	}
	return farther("by an estimate the parts take", was, is, "time", units.FormatClock)
}

// timeOf is how long some parts take a typical member.
func (p *pass) timeOf(s *model.Session, parts []*model.Group) (sum float64, ok bool) {
	for _, t := range p.timeline(s).Parts {
		if slices.Contains(parts, t.Group) {
			if !t.Proven() || !p.sound(t.Group) {
				return 0, false
			}
			sum += t.CappedWork.Typical
		}
	}
	return sum, sum > 0
}

// A patternWork is what a pattern comes to: amounts by unit, and how long they take at the
// book's paces.
type patternWork struct {
	name    string
	of      map[string]float64
	seconds float64
	open    bool
}

// workFar holds the repetitions and distances of each pattern against each other. Parts of
// heavy sets are left out: there, less weight is more repetitions. Either the count or the
// time that it takes has to be near.
func (p *pass) workFar(before, after []*model.Group) (out []far) {
	var a, b []*model.Group
	for i, g := range before {
		if !strengthWork(g) {
			a, b = append(a, g), append(b, after[i])
		}
	}
	was, is := p.patternWorks(a), p.patternWorks(b)
	for _, w := range was {
		i := slices.IndexFunc(is, func(o patternWork) bool { return o.name == w.name })
		if i < 0 || w.open || is[i].open || math.Abs(is[i].seconds-w.seconds) < leastFar || !p.beyond(w.seconds, is[i].seconds, "work") {
			continue
		}
		o := is[i]
		unit := ""
		for _, u := range []string{"rep", "m", "cal"} {
			if len(w.of) == 1 && len(o.of) == 1 && w.of[u] > 0 && o.of[u] > 0 {
				unit = u
			}
		}
		x, y := w.seconds, o.seconds
		if unit != "" {
			x, y = w.of[unit], o.of[unit]
			if !p.beyond(x, y, "work") {
				continue
			}
		}
		say := func(v float64) string {
			if unit == "" {
				return units.FormatClock(v)
			}
			return units.FormatNumber(v) + " " + unitWord(unit)
		}
		out = append(out, farther("work with the pattern "+w.name+" comes to", x, y, "work", say)...)
	}
	return out
}

// strengthWork says whether a part is one of heavy sets.
func strengthWork(g *model.Group) bool {
	heavy := g.Mode == model.ForLoad
	walkStep(g, nil, func(step model.Step, _ []*model.Group) {
		if w, ok := step.(*model.Work); ok {
			heavy = heavy || w.RM > 0 || slices.ContainsFunc(w.Loads, func(l model.Load) bool {
				return slices.Contains([]syntax.LoadKind{syntax.Share, syntax.RPE, syntax.RIR, syntax.Rising}, l.Kind)
			})
		}
	})
	return heavy
}

// patternWorks adds up some parts by pattern, for the first tier.
func (p *pass) patternWorks(groups []*model.Group) []patternWork {
	var out []patternWork
	for _, g := range groups {
		for _, r := range totals.OfGroup(g, 1).Rows {
			m, _ := p.Env.Book.Lookup(r.Movement)
			if m == nil || m.Main() == "" || m.Main() == book.Mobility {
				continue
			}
			name := m.Main().Coarse()
			if name == "" {
				name = string(substitute.Pattern(m))
			}
			i := slices.IndexFunc(out, func(o patternWork) bool { return o.name == name })
			if i < 0 {
				i = len(out)
				out = append(out, patternWork{name: name, of: map[string]float64{}})
			}
			w := &out[i]
			per, ok := estimate.Pace(p.Env.House, m, r.Unit)
			sum := r.Tiers[0]
			w.open = w.open || sum.Open || r.Unread || !ok
			mid := (sum.Lo + sum.Hi) / 2
			w.of[r.Unit] += mid
			w.seconds += mid * per
		}
	}
	return out
}

// loadFar holds the load moved against each other, where both say all their weights.
func (p *pass) loadFar(before, after []*model.Group) []far {
	if !weighed(after) || !weighed(before) {
		return nil
	}
	was, ok := p.moved(before)
	is, known := p.moved(after)
	if !ok || !known || !p.beyond(was, is, "load") {
		return nil
	}
	return farther("the load moved comes to", was, is, "load", func(v float64) string { return units.FormatNumber(math.Round(v)) + " kg" })
}

// weighed says whether all lines of some parts state their weights, as far as the kit that
// they need has one: nobody says how heavy the bag at home is.
func weighed(groups []*model.Group) bool {
	known := true
	for _, g := range groups {
		walkStep(g, nil, func(step model.Step, _ []*model.Group) {
			w, ok := step.(*model.Work)
			if !ok || slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Mass }) {
				return
			}
			for _, m := range w.Moves {
				counted := w.Dose != nil && (w.Dose.Unit == "rep" || w.Dose.Unit == "%")
				known = known && m.Movement != nil && (len(m.Movement.Needs) == 0 || !counted)
			}
		})
	}
	return known
}

// moved is the load that some parts move, for the first tier.
func (p *pass) moved(groups []*model.Group) (kg float64, known bool) {
	m := totals.LoadMoved(groups, len(p.Env.House.Tiers))
	if !m.Known || m.Tiers[0].Open {
		return 0, false
	}
	return (m.Tiers[0].Lo + m.Tiers[0].Hi) / 2, true
}

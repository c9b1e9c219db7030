package scaling

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"

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
// two are compared: a few sit-ups are no other hour. No source.
const leastFar = 60

var (
	versionFarTime = &check.Threshold{Name: "time", Unit: "%", Default: 25,
		Source: "no source: of how long the parts take a typical member"}
	versionFarWork = &check.Threshold{Name: "work", Unit: "%", Default: 40,
		Source: "no source: of the repetitions or the distance of a pattern"}
	versionFarLoad = &check.Threshold{Name: "load", Unit: "%", Default: 50,
		Source: "no source: of the load moved, where all weights are stated"}
)

var VersionFar = check.Rule{Name: "version-far", Family: "scaling", Severity: diag.Warning,
	Summary:    "a version with much more or less time, work or load than the session as written",
	Thresholds: []*check.Threshold{versionFarTime, versionFarWork, versionFarLoad},
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version == nil || !p.Whole(p.Written) || !p.SessionReadWithoutErrors() {
			return
		}
		before, after := commonParts(p, s)
		var all []far
		all = append(all, timeFar(p, s, before, after)...)
		all = append(all, workFar(p, before, after)...)
		all = append(all, loadFar(p, before, after)...)
		if len(all) == 0 {
			return
		}
		var messages, near []string
		for _, f := range all {
			messages = append(messages, f.message)
			if text := f.setting.Name + " " + phrase.Percent(p.Value(f.setting)); !slices.Contains(near, text) {
				near = append(near, text)
			}
		}
		help := "mend the counts in the scaling"
		if slices.ContainsFunc(all, func(f far) bool { return f.less }) {
			help += ", or give the version an effort or a length of its own if it is meant to be less"
		}
		help += "; where it is meant to be so far, say why under the scaling: allow version-far > ..."
		p.Report(diag.Diagnostic{At: versionAt(p), Message: strings.Join(messages, "; "), Help: help,
			Label: "near enough: within " + phrase.And(near...)}, check.OfVersion)
	}}

// far is one way in which a version is far from its session.
type far struct {
	message string
	setting *check.Threshold // that says how far is far
	less    bool
}

// commonParts are the parts of the session and of a version that can be compared with each
// other: those that both have.
func commonParts(p *check.Pass, s *model.Session) (before, after []*model.Group) {
	for _, g := range p.Written.Parts {
		at := source.Place{File: g.At.File, Span: g.Block}
		out := slices.ContainsFunc(p.Version.Left, func(l source.Place) bool { return at.Within(l) || l.Within(at) })
		i := slices.IndexFunc(s.Parts,
			func(o *model.Group) bool { return o.Kind == model.Part && o.Letter == g.Letter })
		if g.Kind == model.Part && !out && i >= 0 {
			before, after = append(before, g), append(after, s.Parts[i])
		}
	}
	return before, after
}

// lighter says whether a version is meant to be less than the session: it says so by an
// effort or a length of its own, or has the same kit.
func lighter(p *check.Pass) bool {
	return !p.Version.HasOnly || easier(p) || own(p.Version.Session.Length, p.Written.Length)
}

// easier says whether a version has an effort of its own, which makes the same work longer.
func easier(p *check.Pass) bool { return own(p.Version.Session.Effort, p.Written.Effort) }

// own says whether a version states something anew.
func own(v, o *model.Quantity) bool { return v != nil && (o == nil || v.At != o.At) }

// tooFar says whether two amounts are further apart than a threshold lets them be.
func tooFar(p *check.Pass, was, is float64, setting *check.Threshold) bool {
	if was <= 0 || is <= 0 || is < was && lighter(p) {
		return false
	}
	return math.Abs(is-was) > p.Value(setting)/100*was+1e-9
}

// farther says how much a version has of something, how much its session has, and the difference.
func farther(what string, was, is float64, setting *check.Threshold, say func(float64) string) []far {
	word := "more"
	if is < was {
		word = "less"
	}
	return []far{{fmt.Sprintf("%s %s, and %s as written: %s %s", what, say(is), say(was),
		phrase.Percent(math.Round(100*math.Abs(is-was)/was)), word), setting, is < was}}
}

// timeFar holds the time that the parts take a typical member against each other.
func timeFar(p *check.Pass, s *model.Session, before, after []*model.Group) []far {
	if easier(p) {
		return nil
	}
	was, ok := timeOf(p, p.Written, before)
	is, known := timeOf(p, s, after)
	if !ok || !known || math.Abs(is-was) < leastFar || !tooFar(p, was, is, versionFarTime) {
		return nil
	}
	return farther("by an estimate the parts take", was, is, versionFarTime, units.FormatClock)
}

// timeOf is how long some parts take a typical member.
func timeOf(p *check.Pass, s *model.Session, parts []*model.Group) (sum float64, ok bool) {
	for _, t := range p.Timeline(s).Parts {
		if slices.Contains(parts, t.Group) {
			if !t.Proven() || !p.PartReadWithoutErrors(t.Group) {
				return 0, false
			}
			sum += t.CappedWork.Typical
		}
	}
	return sum, sum > 0
}

// A patternWork is the work of a pattern: amounts by unit, and how long they take at the
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
func workFar(p *check.Pass, before, after []*model.Group) (out []far) {
	var a, b []*model.Group
	for i, g := range before {
		if !strengthWork(g) {
			a, b = append(a, g), append(b, after[i])
		}
	}
	was, is := patternWorks(p, a), patternWorks(p, b)
	for _, w := range was {
		i := slices.IndexFunc(is, func(o patternWork) bool { return o.name == w.name })
		if i < 0 || w.open || is[i].open || math.Abs(is[i].seconds-w.seconds) < leastFar ||
			!tooFar(p, w.seconds, is[i].seconds, versionFarWork) {
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
			if !tooFar(p, x, y, versionFarWork) {
				continue
			}
		}
		say := func(v float64) string {
			if unit == "" {
				return units.FormatClock(v)
			}
			return units.FormatNumber(v) + " " + totals.UnitWord(unit)
		}
		out = append(out, farther("work with the pattern "+w.name+" comes to", x, y, versionFarWork, say)...)
	}
	return out
}

// strengthWork says whether a part is one of heavy sets.
func strengthWork(g *model.Group) bool {
	heavy := g.Mode == model.ForLoad
	for w := range g.Lines(model.Everything) {
		heavy = heavy || w.RM > 0 || slices.ContainsFunc(w.Loads, func(l model.Load) bool {
			return slices.Contains([]syntax.LoadKind{syntax.Share, syntax.RPE, syntax.RIR, syntax.Rising}, l.Kind)
		})
	}
	return heavy
}

// patternWorks adds up some parts by pattern, for the first tier.
func patternWorks(p *check.Pass, groups []*model.Group) []patternWork {
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
func loadFar(p *check.Pass, before, after []*model.Group) []far {
	if !weighed(after) || !weighed(before) {
		return nil
	}
	was, ok := moved(p, before)
	is, known := moved(p, after)
	if !ok || !known || !tooFar(p, was, is, versionFarLoad) {
		return nil
	}
	return farther("the load moved comes to", was, is, versionFarLoad,
		func(v float64) string { return units.FormatNumber(math.Round(v)) + " kg" })
}

// weighed says whether all lines of some parts state their weights, as far as the kit that
// they need has one: nobody says how heavy the bag at home is.
func weighed(groups []*model.Group) bool {
	known := true
	for _, g := range groups {
		for w := range g.Lines(model.Everything) {
			if slices.ContainsFunc(w.Loads, func(l model.Load) bool { return l.Kind == syntax.Mass }) {
				continue
			}
			for _, m := range w.Moves {
				counted := w.Dose != nil && (w.Dose.Unit == "rep" || w.Dose.Unit == "%")
				known = known && m.Movement != nil && (len(m.Movement.Needs) == 0 || !counted)
			}
		}
	}
	return known
}

// moved is the load that some parts move, for the first tier.
func moved(p *check.Pass, groups []*model.Group) (kg float64, known bool) {
	m := totals.LoadMoved(groups, len(p.Env.House.Tiers))
	if !m.Known || m.Tiers[0].Open {
		return 0, false
	}
	return (m.Tiers[0].Lo + m.Tiers[0].Hi) / 2, true
}

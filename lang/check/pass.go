package check

import (
	"slices"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A Pass is one rule at work on one file.
type Pass struct {
	Env       *model.Env // of the session at hand: its own kit stands in the place of the house's
	File      *model.File
	Workspace WorkspaceQueries
	Version   *model.Version // the version that is looked at, or nil as written
	Written   *model.Session // the session that it is a version of; as written, the session itself
	// Week is the week of a cycle in which the session is looked at; nil as it stands in the text. What
	// has been found as it stands is not found again.
	Week *model.PlannedWeek

	rule       *HouseRule
	houseRules *HouseRules
	given      []diag.Diagnostic // what resolving the file drew
	found      []diag.Diagnostic
	others     int                                 // how many of those were found before the rules that run after others
	weeks      map[*model.Session][]*model.Session // the session in each week that moves something of it
	times      map[*model.Session]*estimate.Timeline
	unqueued   map[*model.Session]*estimate.Timeline
	sums       map[any]*totals.Totals // by session or group
}

// File runs the rules on one file of a workspace. Given are the diagnostics that resolving it
// drew; they and those of its text obey waivers and the house as the rules' own do.
func File(env *model.Env, houseRules *HouseRules, f *model.File, given []diag.Diagnostic, ws WorkspaceQueries) []diag.Diagnostic {
	p := &Pass{Env: env, File: f, Workspace: ws, houseRules: houseRules, given: given, found: slices.Clone(given),
		weeks: map[*model.Session][]*model.Session{}, times: map[*model.Session]*estimate.Timeline{},
		unqueued: map[*model.Session]*estimate.Timeline{}, sums: map[any]*totals.Totals{}}
	if houseRules.house == f.Syntax.Src {
		p.found = append(p.found, houseRules.diags...)
	}
	for _, late := range []bool{false, true} {
		p.others = len(p.found)
		for i := range houseRules.rules {
			if r := &houseRules.rules[i]; r.AfterOthers == late {
				p.run(r)
			}
		}
	}
	found := append(onGoodLines(f.Syntax, p.found), f.Syntax.Diags...)
	for i := range found {
		if sev, ok := houseRules.severity[found[i].Rule]; ok { // of a finding that matters less than its rule, too
			found[i].Severity = sev
		}
	}
	return waive(f, houseRules, found)
}

// run applies one rule to the file.
func (p *Pass) run(r *HouseRule) {
	p.rule, p.Version, p.Written, p.Week = r, nil, nil, nil
	if r.File != nil {
		r.File(p, p.File)
	}
	if r.Cycle != nil {
		for _, c := range p.File.Cycles {
			r.Cycle(p, c)
		}
	}
	if r.Session == nil {
		return
	}
	house := p.Env
	defer func() { p.Env = house }()
	for _, s := range p.File.Sessions {
		p.Env = house.For(s)
		p.variants(s)
		for _, moved := range p.inWeeks(s) {
			p.variants(moved)
		}
	}
}

// variants applies the rule to a session as written and in its versions.
func (p *Pass) variants(s *model.Session) {
	p.Version, p.Written, p.Week = nil, s, s.Week
	p.rule.Session(p, s)
	for _, v := range s.Versions {
		p.Version = v
		p.rule.Session(p, v.Session)
	}
}

// inWeeks is a session in the weeks of the cycles that plan it, where they move something of it: of
// weeks that move the same, in the first.
func (p *Pass) inWeeks(s *model.Session) []*model.Session {
	if out, known := p.weeks[s]; known {
		return out
	}
	var out []*model.Session
	moved := map[string]bool{"": true}
	for _, day := range p.Workspace.Planned(s.Name) {
		k := day.Cycle.MovedBy(s.Name, day.Week.Number)
		if moved[k] {
			continue
		}
		moved[k] = true
		if in := day.Cycle.InWeek(s, day.Week.Number); in != s {
			out = append(out, in)
		}
	}
	p.weeks[s] = out
	return out
}

// onGoodLines leaves out findings on lines that could not be read as they stand. The
// mistake there is reported, and what else they draw may well come from it.
func onGoodLines(f *syntax.File, found []diag.Diagnostic) []diag.Diagnostic {
	return slices.DeleteFunc(found, func(d diag.Diagnostic) bool {
		return d.At.File == f.Src && f.Lines[f.Src.LineAt(d.At.Start)].Bad
	})
}

// Value is what a threshold of the rule at work is in this house.
func (p *Pass) Value(t *Threshold) float64 { return p.houseRules.value(p.rule.Name, t) }

// ValueOf is what a threshold of another rule is in this house, for a rule that leaves that one
// nothing to find, or what that one finds to it.
func (p *Pass) ValueOf(rule string, t *Threshold) float64 { return p.houseRules.value(rule, t) }

// Severity is how much the rule matters in this house.
func (p *Pass) Severity() diag.Severity { return p.rule.Severity }

// Timeline is how long a session takes, as written or in a version. The rules of a file share
// it, so that it is worked out once.
func (p *Pass) Timeline(s *model.Session) *estimate.Timeline {
	t := p.times[s]
	if t == nil {
		t = equipment.Timeline(s, p.Env)
		p.times[s] = t
	}
	return t
}

// Unqueued is how long a session takes as if nobody waited for kit, for the rules that say who would.
func (p *Pass) Unqueued(s *model.Session) *estimate.Timeline {
	if t := p.Timeline(s); !t.Waits {
		return t
	}
	t := p.unqueued[s]
	if t == nil {
		t = estimate.Of(s, p.Env)
		p.unqueued[s] = t
	}
	return t
}

// Timelines are those of the session at hand as written and in all its versions: what an edit
// of its lines may change.
func (p *Pass) Timelines() []*estimate.Timeline {
	var out []*estimate.Timeline
	for _, s := range p.Written.Variants() {
		out = append(out, p.Timeline(s))
	}
	return out
}

// Totals are the totals of a session, as written or in a version, seen as a view sees them.
func (p *Pass) Totals(v totals.View, s *model.Session) *totals.Totals {
	return p.sum(seen{v, s}, func() *totals.Totals { return v.OfSession(s, len(p.Env.House.Tiers)) })
}

// TotalsOf are the totals of a part, or of any group, seen as a view sees them.
func (p *Pass) TotalsOf(v totals.View, g *model.Group) *totals.Totals {
	return p.sum(seen{v, g}, func() *totals.Totals { return v.OfGroup(g, len(p.Env.House.Tiers)) })
}

// seen is a session or a group, and how it is added up.
type seen struct {
	view totals.View
	what any
}

func (p *Pass) sum(what any, add func() *totals.Totals) *totals.Totals {
	t := p.sums[what]
	if t == nil {
		t = add()
		p.sums[what] = t
	}
	return t
}

// Whole says whether a session is planned as a whole hour: it or its house says how long it
// lasts. Of a fragment, nothing is asked but what stands there.
func (p *Pass) Whole(s *model.Session) bool { return s.Length != nil || p.Env.House.Length != nil }

// Here says whether a place is in the file at hand: words of a version may stand in the
// house's.
func (p *Pass) Here(at source.Place) bool { return at.File == p.File.Syntax.Src }

// WhoseKit is who lists the kit that there is.
func (p *Pass) WhoseKit() string {
	if p.Written != nil && len(p.Written.Kit) > 0 {
		return "the session"
	}
	return "the house"
}

// OwnKit says whether the version at hand is done with kit of its own, such as at home, where
// nothing is known of the house's.
func (p *Pass) OwnKit() bool { return p.Version != nil && p.Version.HasOnly }

// readErrorAt says whether an error that comes from reading the text stands at such a place.
func (p *Pass) readErrorAt(at func(source.Place) bool) bool {
	in := func(d diag.Diagnostic) bool { return d.Severity == diag.Error && at(d.At) }
	return slices.ContainsFunc(p.given, in) || slices.ContainsFunc(p.File.Syntax.Diags, in)
}

// NoReadErrorsIn says whether all lines at a place could be read and resolved.
func (p *Pass) NoReadErrorsIn(scope source.Place) bool {
	return !p.readErrorAt(func(at source.Place) bool { return at.Within(scope) })
}

// PartReadWithoutErrors says whether all lines of a part could be read and resolved. Otherwise
// nothing is said of how long it takes until that is fixed.
func (p *Pass) PartReadWithoutErrors(part *model.Group) bool {
	return p.NoReadErrorsIn(source.Place{File: part.At.File, Span: part.Block})
}

// SessionReadWithoutErrors says whether all lines of the session at hand, and of its scalings, could
// be read and resolved: else what a version lacks may well be on a line that could not.
func (p *Pass) SessionReadWithoutErrors() bool {
	return !p.readErrorAt(func(at source.Place) bool {
		return at.File == p.Written.At.File && p.Written.Block.Contains(at.Start)
	})
}

// HasUnreadableLine says whether a line of the session cannot be read, so that what looks
// empty is not.
func (p *Pass) HasUnreadableLine(s *model.Session) bool {
	return slices.ContainsFunc(p.File.Syntax.Lines, func(l *syntax.Line) bool { return l.Bad && s.Block.Contains(l.Body) })
}

// ErrorOnLine says whether another rule has found an error on the line of a place, from which what
// is wrong there may well come. Only a rule that runs after others can ask.
func (p *Pass) ErrorOnLine(at source.Place) bool {
	if at.File == nil {
		return true
	}
	line := at.File.LineAt(at.Start)
	return slices.ContainsFunc(p.found[:p.others], func(d diag.Diagnostic) bool {
		return d.Severity == diag.Error && d.At.File == at.File && d.At.File.LineAt(d.At.Start) == line
	})
}

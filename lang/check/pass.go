package check

import (
	"slices"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A Pass is one rule at work on one file.
type Pass struct {
	Env     *model.Env
	File    *model.File
	Around  Around
	Version *model.Version // the version that is looked at, or nil as written
	Written *model.Session // the session that it is a version of; as written, the session itself

	rule     *HouseRule
	settings *Settings
	given    []diag.Diagnostic // what resolving the file drew
	found    []diag.Diagnostic
	times    map[*model.Session]*estimate.Timeline
	sums     map[any]*totals.Totals // by a seen
}

// File runs the rules on one file of a workspace. Given are the diagnostics that resolving it
// drew; they and those of its text obey waivers and settings as the rules' own do.
func File(env *model.Env, settings *Settings, f *model.File, given []diag.Diagnostic, around Around) []diag.Diagnostic {
	p := &Pass{Env: env, File: f, Around: around, settings: settings, given: given, found: slices.Clone(given),
		times: map[*model.Session]*estimate.Timeline{}, sums: map[any]*totals.Totals{}}
	if settings.house == f.Syntax.Src {
		p.found = append(p.found, settings.diags...)
	}
	for i := range settings.rules {
		p.run(&settings.rules[i])
	}
	found := append(onGoodLines(f.Syntax, p.found), f.Syntax.Diags...)
	for i := range found {
		if sev, ok := settings.severity[found[i].Rule]; ok {
			found[i].Severity = sev
		}
	}
	return waive(f, settings, found)
}

// run applies one rule to the file.
func (p *Pass) run(r *HouseRule) {
	p.rule, p.Version, p.Written = r, nil, nil
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
	for _, s := range p.File.Sessions {
		p.Version, p.Written = nil, s
		r.Session(p, s)
		for _, v := range s.Versions {
			p.Version = v
			r.Session(p, v.Session)
		}
	}
}

// onGoodLines leaves out findings on lines that could not be read as they stand. The
// mistake there is reported, and what else they draw may well come from it.
func onGoodLines(f *syntax.File, found []diag.Diagnostic) []diag.Diagnostic {
	return slices.DeleteFunc(found, func(d diag.Diagnostic) bool {
		return d.At.File == f.Src && f.Lines[f.Src.LineAt(d.At.Start)].Bad
	})
}

// Value is what a threshold of the rule at work is in this house.
func (p *Pass) Value(s *Setting) float64 { return p.settings.value(p.rule.Name, s) }

// ValueOf is what a threshold of another rule is in this house, for a rule that leaves that one
// nothing to find, or what that one finds to it.
func (p *Pass) ValueOf(rule string, s *Setting) float64 { return p.settings.value(rule, s) }

// Severity is how much the rule matters in this house.
func (p *Pass) Severity() diag.Severity { return p.rule.Severity }

// Timeline is how long a session takes, as written or in a version. The rules of a file share
// it, so that it is worked out once.
func (p *Pass) Timeline(s *model.Session) *estimate.Timeline {
	t := p.times[s]
	if t == nil {
		t = estimate.Of(s, p.Env)
		p.times[s] = t
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

// OwnKit says whether the version at hand is done with kit of its own, such as at home, where
// nothing is known of the house's.
func (p *Pass) OwnKit() bool { return p.Version != nil && p.Version.HasOnly }

// misread says whether an error that comes from reading the text stands at such a place.
func (p *Pass) misread(at func(source.Place) bool) bool {
	in := func(d diag.Diagnostic) bool { return d.Severity == diag.Error && at(d.At) }
	return slices.ContainsFunc(p.given, in) || slices.ContainsFunc(p.File.Syntax.Diags, in)
}

// ReadIn says whether all lines at a place could be read.
func (p *Pass) ReadIn(scope source.Place) bool {
	return !p.misread(func(at source.Place) bool { return at.Within(scope) })
}

// Sound says whether all lines of a part mean what they say: no error stands on one that
// comes from reading it. Else nothing is said of how long it takes until that is mended.
func (p *Pass) Sound(part *model.Group) bool {
	return p.ReadIn(source.Place{File: part.At.File, Span: part.Block})
}

// Readable says whether all of the session at hand, and of its scalings, could be read:
// else what a version lacks may well be on a line that could not.
func (p *Pass) Readable() bool {
	return !p.misread(func(at source.Place) bool {
		return at.File == p.Written.At.File && p.Written.Block.Contains(at.Start)
	})
}

// BadSection says whether a section of the session cannot be read, so that what looks
// empty is not.
func (p *Pass) BadSection(s *model.Session) bool {
	return slices.ContainsFunc(p.File.Syntax.Lines, func(l *syntax.Line) bool { return l.Bad && s.Block.Contains(l.Body) })
}

// Faulty says whether an error stands on a line already, from which what is missing there
// may well come. It knows of what the rules before this one in the list have found.
func (p *Pass) Faulty(at source.Place) bool {
	if at.File == nil {
		return true
	}
	line := at.File.LineAt(at.Start)
	return slices.ContainsFunc(p.found, func(d diag.Diagnostic) bool {
		return d.Severity == diag.Error && d.At.File == at.File && d.At.File.LineAt(d.At.Start) == line
	})
}

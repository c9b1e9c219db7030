// Package check holds the rules: what a session promises and the text has to keep. A
// rule is one file, declared once; rules.go lists them all.
package check

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// A Rule is one thing that can be wrong.
type Rule struct {
	Name     string // plain words that say what is wrong: total-wrong
	Family   string
	Severity diag.Severity // unless a house sets another
	Summary  string        // one sentence, no full stop: what it catches
	// Fixed says that the rule is about text that cannot be read or that means nothing:
	// no house can set it and no waiver lets it stand.
	Fixed bool
	// Settings are the thresholds that a house may set.
	Settings []Setting

	session func(*pass, *model.Session) // for a session as written, and for each version
	file    func(*pass, *model.File)    // once a file
	cycle   func(*pass, *model.Cycle)   // for a cycle
}

// Around is what the rules of a file may ask of the workspace that it is in.
type Around interface {
	// Session finds a session by its name, whatever its spelling; nil where no file has it.
	Session(name string) *model.Session
	// Planned are the days that cycles plan a session on, by the path of the cycle's file.
	Planned(name string) []Planned
	// Cycles says whether any cycle plans anything.
	Cycles() bool
	// Facts are what a session comes to in a version, or as written where that is empty; nil
	// where no file has it.
	Facts(name, version string) *cycle.SessionAnalysis
}

// Planned is a day that a cycle plans a session on.
type Planned struct {
	Cycle *model.Cycle
	Week  *model.Week
	Day   *model.Day
}

// A Setting is a threshold of a rule.
type Setting struct {
	Name    string
	Unit    string
	Default float64 // in Unit
	Source  string
}

// Weight is how much the rule matters, and whether a house can change that.
func (r Rule) Weight() string {
	if r.Fixed {
		return r.Severity.String() + ", fixed"
	}
	return r.Severity.String()
}

// Says is the threshold with its value and where that comes from: gap: 60 s (no source).
func (s Setting) Says() string {
	text := strings.TrimSpace(s.Name + ": " + units.FormatNumber(s.Default) + " " + s.Unit)
	if s.Source != "" {
		text += " (" + s.Source + ")"
	}
	return text
}

// Find looks up a rule by its name.
func Find(name string) (Rule, bool) {
	i := slices.IndexFunc(Rules, func(r Rule) bool { return r.Name == name })
	if i < 0 {
		return Rule{}, false
	}
	return Rules[i], true
}

// Settings are the severities and thresholds that hold in a house.
type Settings struct {
	severity map[string]diag.Severity
	values   map[string]map[string]float64 // of thresholds, by rule and name
	diags    []diag.Diagnostic             // what is wrong with the house's own rule lines
	house    *source.File
	rules    []Rule // all that are not off, as the house sets them
}

// NewSettings reads a house's rule lines.
func NewSettings(h *model.House) *Settings {
	s := &Settings{severity: map[string]diag.Severity{}, values: map[string]map[string]float64{}, house: h.At.File}
	seen := map[string]bool{}
	for _, set := range h.Rules {
		r, ok := Find(set.Rule.Text)
		switch {
		case !ok:
			s.diags = append(s.diags, unknownRule(set.Rule))
			continue
		case r.Fixed:
			s.diags = append(s.diags, diag.Diagnostic{Rule: ruleUnknown.Name, Severity: diag.Error, At: set.Rule.At,
				Message: fmt.Sprintf("no house can set %s: what it finds means nothing as it stands", r.Name), Help: "take the line out, and mend what the rule finds"})
			continue
		case seen[r.Name]:
			s.diags = append(s.diags, diag.Diagnostic{Rule: "property-twice", Severity: diag.Error, At: set.Rule.At,
				Message: fmt.Sprintf("the house sets %s already", r.Name), Help: "keep one of the two lines"})
			continue
		}
		seen[r.Name] = true
		if sev, err := diag.ParseSeverity(set.Severity); err == nil {
			s.severity[r.Name] = sev
		}
		for _, key := range slices.Sorted(maps.Keys(set.Settings)) {
			s.set(r, key, set.Settings[key], set.Rule.At)
		}
	}
	for _, r := range Rules {
		if r = s.Of(r); r.Severity != diag.Off {
			s.rules = append(s.rules, r)
		}
	}
	return s
}

// set takes the value that a house gives a threshold of a rule.
func (s *Settings) set(r Rule, key string, q *model.Quantity, rule source.Place) {
	i := slices.IndexFunc(r.Settings, func(o Setting) bool { return o.Name == key })
	if i < 0 {
		s.diags = append(s.diags, diag.Diagnostic{Rule: ruleUnknown.Name, Severity: diag.Error, At: rule,
			Message: fmt.Sprintf("%s has no threshold %q", r.Name, key), Help: thresholds(r)})
		return
	}
	o := r.Settings[i]
	v, ok := q.One()
	if !ok || q.Unit != "" && q.Unit != o.Unit {
		s.diags = append(s.diags, diag.Diagnostic{Rule: ruleUnknown.Name, Severity: diag.Error, At: q.At,
			Message: strings.TrimSpace(fmt.Sprintf("%s of %s is one number %s", o.Name, r.Name, inThe(o.Unit))),
			Help:    fmt.Sprintf("write it like %s %s, which is what holds unless the house sets it", o.Name, units.FormatNumber(o.Default))})
		return
	}
	if s.values[r.Name] == nil {
		s.values[r.Name] = map[string]float64{}
	}
	s.values[r.Name][key] = v
}

func inThe(unit string) string {
	if unit == "" {
		return ""
	}
	return "in " + unitWord(unit)
}

// Of is a rule as the house sets it.
func (s *Settings) Of(r Rule) Rule {
	if sev, ok := s.severity[r.Name]; ok {
		r.Severity = sev
	}
	if values := s.values[r.Name]; len(values) > 0 {
		r.Settings = slices.Clone(r.Settings)
		for i, o := range r.Settings {
			if v, ok := values[o.Name]; ok {
				r.Settings[i].Default = v
			}
		}
	}
	return r
}

// thresholds says what a house can set of a rule beside its severity.
func thresholds(r Rule) string {
	if len(r.Settings) == 0 {
		return "its severity is all that can be set: take out what follows it"
	}
	var names []string
	for _, o := range r.Settings {
		names = append(names, o.Name)
	}
	return "it has " + strings.Join(names, ", ")
}

func unknownRule(n model.Name) diag.Diagnostic {
	var names []string
	for _, r := range Rules {
		if !r.Fixed {
			names = append(names, r.Name)
		}
	}
	d := diag.Diagnostic{Rule: ruleUnknown.Name, Severity: diag.Error, At: n.At, Message: fmt.Sprintf("there is no rule %q", n.Text),
		Help: "stint rules lists them all"}
	if near := syntax.Nearest(n.Text, names, 3); len(near) > 0 {
		d.Help = "did you mean " + near[0] + "? " + d.Help
		d.Fixes = []diag.Fix{{Title: "write " + near[0], Edits: []diag.Edit{{At: n.At, New: near[0]}}}}
	}
	return d
}

// A pass is one rule at work on one file.
type pass struct {
	Env     *model.Env
	File    *model.File
	rule    *Rule
	version *model.Version    // the version that is looked at, or nil as written
	written *model.Session    // the session that it is a version of
	given   []diag.Diagnostic // what resolving the file drew
	found   *[]diag.Diagnostic
	times   timelines
	sums    sums
	around  Around
}

// setting is the threshold of that name: the house's, or else the rule's own.
func (p *pass) setting(name string) float64 {
	i := slices.IndexFunc(p.rule.Settings, func(o Setting) bool { return o.Name == name })
	return p.rule.Settings[i].Default // a rule asks for none that it does not declare
}

// report adds a finding. In a version the message says in which.
func (p *pass) report(d diag.Diagnostic) {
	if p.version != nil {
		// What is wrong as written is wrong in a version too, where a swap has taken over
		// the count that is wrong: once is enough.
		line := writtenAt(p.version.Session, d.At)
		if slices.ContainsFunc(*p.found, func(o diag.Diagnostic) bool { return o.Rule == p.rule.Name && within(o.At, line) }) {
			return
		}
		d.Message = fmt.Sprintf("in the version %s, %s", p.version.Name, d.Message)
	}
	p.reportText(d)
}

// reportText adds a finding about the words themselves, whatever version they are of. A
// finding may matter less than its rule does, and says so by its own severity.
func (p *pass) reportText(d diag.Diagnostic) {
	d.Rule = p.rule.Name
	if d.Severity == diag.Off || d.Severity > p.rule.Severity {
		d.Severity = p.rule.Severity
	}
	if p.version != nil && slices.ContainsFunc(*p.found, func(o diag.Diagnostic) bool {
		return o.Rule == d.Rule && o.At == d.At && o.Severity >= d.Severity
	}) {
		return // said already, as written or of another version
	}
	*p.found = append(*p.found, d)
}

// writtenAt is the line of the session as written that a swap's words at a place stand
// for in a version; nowhere if none.
func writtenAt(s *model.Session, at source.Place) source.Place {
	var line source.Place
	walk(s, func(step model.Step, _ []*model.Group) {
		if w, ok := step.(*model.Work); ok && w.At != w.Written && within(at, w.At) {
			line = w.Written
		}
	})
	return line
}

// File runs the rules on one file of a workspace. Given are the diagnostics that resolving it
// drew; they and those of its text obey waivers and settings as the rules' own do.
func File(env *model.Env, settings *Settings, f *model.File, given []diag.Diagnostic, around Around) []diag.Diagnostic {
	found := slices.Clone(given)
	if settings.house == f.Syntax.Src {
		found = append(found, settings.diags...)
	}
	p := &pass{Env: env, File: f, given: given, found: &found, times: timelines{}, sums: sums{}, around: around}
	for i := range settings.rules {
		r := &settings.rules[i]
		p.rule, p.version, p.written = r, nil, nil
		if r.file != nil {
			r.file(p, f)
		}
		if r.cycle != nil {
			for _, c := range f.Cycles {
				r.cycle(p, c)
			}
		}
		if r.session == nil {
			continue
		}
		for _, s := range f.Sessions {
			p.version, p.written = nil, s
			r.session(p, s)
			for _, v := range s.Versions {
				p.version = v
				r.session(p, v.Session)
			}
		}
	}
	found = append(onGoodLines(f.Syntax, found), f.Syntax.Diags...)
	for i := range found {
		if sev, ok := settings.severity[found[i].Rule]; ok {
			found[i].Severity = sev
		}
	}
	return waive(f, settings, found)
}

// onGoodLines leaves out findings on lines that could not be read as they stand. The
// mistake there is reported, and what else they draw may well come from it.
func onGoodLines(f *syntax.File, found []diag.Diagnostic) []diag.Diagnostic {
	return slices.DeleteFunc(found, func(d diag.Diagnostic) bool {
		return d.At.File == f.Src && f.Lines[f.Src.LineAt(d.At.Start)].Bad
	})
}

// waive takes out what waivers let stand, and reports waivers that let nothing stand.
func waive(f *model.File, settings *Settings, found []diag.Diagnostic) []diag.Diagnostic {
	type key struct{ waiver, rule int }
	used := map[key]bool{}
	kept := found[:0]
	for _, d := range found {
		waived := false
		for i, w := range f.Waivers {
			for j, n := range w.Rules {
				r, ok := Find(n.Text)
				if !ok || r.Fixed || n.Text != d.Rule || !within(d.At, w.Scope) {
					continue
				}
				used[key{i, j}] = true
				waived = waived || w.Reason != "" // without one it is an error of its own
			}
		}
		if !waived && d.Severity != diag.Off {
			kept = append(kept, d)
		}
	}
	for i, w := range f.Waivers {
		for j, n := range w.Rules {
			r, ok := Find(n.Text)
			switch {
			case !ok:
				kept = append(kept, unknownRule(n))
			case r.Fixed:
				kept = append(kept, diag.Diagnostic{Rule: waiverUnused.Name, Severity: diag.Error, At: n.At,
					Message: fmt.Sprintf("%s cannot be waived: what it finds means nothing as it stands", n.Text), Help: "mend what it finds, and take the waiver out"})
			case used[key{i, j}] || n.Text == waiverUnused.Name || settings.severity[n.Text] == diag.Off && hasSetting(settings, n.Text):
			default:
				idle := unusedWaiver(settings, n)
				if k, l := covering(f.Waivers, idle); k >= 0 {
					used[key{k, l}] = true
					continue
				}
				kept = append(kept, idle)
			}
		}
	}
	// A waiver of idle waivers is idle itself where it covers none.
	for i, w := range f.Waivers {
		for j, n := range w.Rules {
			if n.Text == waiverUnused.Name && !used[key{i, j}] {
				kept = append(kept, unusedWaiver(settings, n))
			}
		}
	}
	return slices.DeleteFunc(kept, func(d diag.Diagnostic) bool { return d.Severity == diag.Off })
}

func unusedWaiver(settings *Settings, n model.Name) diag.Diagnostic {
	return diag.Diagnostic{Rule: waiverUnused.Name, Severity: severityOf(settings, waiverUnused), At: n.At,
		Message: fmt.Sprintf("this waiver lets nothing stand: %s finds nothing here", n.Text), Help: "take it out, so that it does not hide a later mistake"}
}

// covering is the waiver, and the rule in it, that lets a finding stand, or -1.
func covering(ws []*model.Waiver, d diag.Diagnostic) (waiver, rule int) {
	for i, w := range ws {
		for j, n := range w.Rules {
			if n.Text == d.Rule && w.Reason != "" && within(d.At, w.Scope) && !within(d.At, w.At) {
				return i, j
			}
		}
	}
	return -1, -1
}

func hasSetting(s *Settings, rule string) bool { _, ok := s.severity[rule]; return ok }

func severityOf(s *Settings, r Rule) diag.Severity {
	if sev, ok := s.severity[r.Name]; ok {
		return sev
	}
	return r.Severity
}

func within(at, scope source.Place) bool {
	return at.File != nil && at.File == scope.File && scope.Start <= at.Start && at.End <= scope.End
}

// walk calls f for every step of a session, outermost first, with the groups around it.
func walk(s *model.Session, f func(step model.Step, around []*model.Group)) {
	for _, g := range s.Parts {
		walkStep(g, nil, f)
	}
}

func walkStep(s model.Step, around []*model.Group, f func(model.Step, []*model.Group)) {
	f(s, around)
	if r, ok := s.(*model.Rest); ok {
		for _, k := range r.Steps { // what is done in it, such as a jog
			walkStep(k, around, f)
		}
	}
	g, ok := s.(*model.Group)
	if !ok {
		return
	}
	inner := append(slices.Clip(around), g)
	for _, k := range g.Steps {
		walkStep(k, inner, f)
	}
	for _, e := range g.Events {
		for _, k := range e.Steps {
			walkStep(k, inner, f)
		}
	}
}

// nearest is the innermost group that comes round again, whose turns values move with;
// nil where there is none.
func nearest(around []*model.Group) *model.Group {
	for i := len(around) - 1; i >= 0; i-- {
		if around[i].ComesRound() {
			return around[i]
		}
	}
	return nil
}

// teamOf is the innermost division of people around a step, or nil.
func teamOf(around []*model.Group) *model.People {
	for i := len(around) - 1; i >= 0; i-- {
		if p := around[i].People; p != nil {
			return p
		}
	}
	return nil
}

// movesOf names the movements of a line.
func movesOf(w *model.Work) string {
	names := make([]string, len(w.Moves))
	for i, m := range w.Moves {
		names[i] = m.Name
	}
	sep := " + "
	if w.Choice {
		sep = " or "
	}
	return strings.Join(names, sep)
}

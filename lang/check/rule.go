// Package check holds what the rules share: what a rule is, the pass of one over a file, the
// thresholds that a house sets, and waivers. The rules themselves are in lang/check/rules, a
// package a family and a file a rule.
package check

import (
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
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
	// Thresholds are those that a house may set.
	Thresholds []*Threshold

	// AfterOthers says that the rule runs when those without it have, and so can ask [Pass.ErrorOnLine].
	AfterOthers bool

	Session func(*Pass, *model.Session) // for a session as written, and for each version
	File    func(*Pass, *model.File)    // once a file
	Cycle   func(*Pass, *model.Cycle)   // for a cycle
}

// Weight is how much the rule matters, and whether a house can change that.
func (r Rule) Weight() string {
	if r.Fixed {
		return r.Severity.String() + ", fixed"
	}
	return r.Severity.String()
}

// A Threshold is a number of a rule that a house may set. It is declared once, beside the rule or beside what rules
// share, and what a house makes of it is asked for by it: see [Pass.Value].
type Threshold struct {
	Name    string
	Unit    string
	Default float64 // in Unit
	Source  string
}

// String is the threshold with what holds unless a house sets another, and where that comes
// from: gap: 60 s (no source).
func (s *Threshold) String() string { return ThresholdValue{s, s.Default}.String() }

// A ThresholdValue is a threshold with the value that holds in a house.
type ThresholdValue struct {
	*Threshold
	Value float64 // in Unit
}

// String is the threshold with its value and where that comes from: gap: 60 s (no source).
func (t ThresholdValue) String() string {
	text := strings.TrimSpace(t.Name + ": " + units.FormatNumber(t.Value) + " " + t.Unit)
	if t.Source != "" {
		text += " (" + t.Source + ")"
	}
	return text
}

// A Registry is the list of all rules. It never changes.
type Registry struct{ rules []Rule }

// NewRegistry makes a registry of rules, in the order in which they are listed and run.
func NewRegistry(rules ...Rule) *Registry { return &Registry{rules} }

// All are the rules, by family; the slice is a copy.
func (r *Registry) All() []Rule { return slices.Clone(r.rules) }

// Find looks up a rule by its name.
func (r *Registry) Find(name string) (Rule, bool) {
	i := slices.IndexFunc(r.rules, func(o Rule) bool { return o.Name == name })
	if i < 0 {
		return Rule{}, false
	}
	return r.rules[i], true
}

// These two are found where rules are applied: see house_rules.go and waivers.go.
var (
	WaiverUnused = Rule{Name: "waiver-unused", Family: "form", Severity: diag.Warning,
		Summary: "a waiver that lets nothing stand"}
	RuleUnknown = Rule{Name: "rule-unknown", Family: "form", Severity: diag.Error, Fixed: true,
		Summary: "a house or a waiver that names a rule which does not exist, or cannot be set"}
)

// WorkspaceQueries are what the rules of a file may ask of the workspace that it is in.
type WorkspaceQueries interface {
	// Session finds a session by its name, whatever its spelling; nil where no file has it.
	Session(name string) *model.Session
	// Planned are the days that cycles plan a session on, by the path of the cycle's file.
	Planned(name string) []Planned
	// LacksLength is the path of the file to say in that neither the house nor any session states how long
	// the hour is; empty where one does.
	LacksLength() string
	// Cycles says whether any cycle plans anything.
	Cycles() bool
	// SessionAnalysis is the volume and intensity of a session in a version, or as written where that is
	// empty, as a cycle has it in a week; nil where no file has it.
	SessionAnalysis(of *model.Cycle, week int, name, version string) *cycle.SessionAnalysis
	// FileFor is the name of the file that a session is kept in by convention.
	FileFor(session string) string
}

// Planned is a day that a cycle plans a session on.
type Planned struct {
	Cycle *model.Cycle
	Week  *model.Week
	Day   *model.Day
}

package check

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// HouseRules are the rules with the severities and thresholds that hold in a house.
type HouseRules struct {
	registry *Registry
	severity map[string]diag.Severity      // off or error, of all that a rule finds; by rule
	values   map[string]map[string]float64 // of thresholds, by rule and name
	diags    []diag.Diagnostic             // what is wrong with the house's own rule lines
	house    *source.File
	rules    []HouseRule // all that are not off
}

// NewHouseRules reads a house's rule lines.
func NewHouseRules(h *model.House, registry *Registry) *HouseRules {
	s := &HouseRules{registry: registry, severity: map[string]diag.Severity{}, values: map[string]map[string]float64{},
		house: h.At.File}
	seen := map[string]bool{}
	for _, set := range h.Rules {
		r, ok := registry.Find(set.Rule.Text)
		switch {
		case !ok:
			s.diags = append(s.diags, registry.unknown(set.Rule))
			continue
		case r.Fixed:
			s.diags = append(s.diags, diag.Diagnostic{Rule: RuleUnknown.Name, Severity: diag.Error, At: set.Rule.At,
				Message: fmt.Sprintf("no house can set %s: what it finds means nothing as it stands", r.Name),
				Help:    "take the line out, and mend what the rule finds"})
			continue
		case seen[r.Name]:
			s.diags = append(s.diags, diag.Diagnostic{Rule: book.PropertyTwice, Severity: diag.Error, At: set.Rule.At,
				Message: fmt.Sprintf("the house sets %s already", r.Name), Help: "keep one of the two lines"})
			continue
		}
		seen[r.Name] = true
		switch {
		case set.Off:
			s.severity[r.Name] = diag.Off
		case set.Error:
			s.severity[r.Name] = diag.Error
		}
		for _, key := range slices.Sorted(maps.Keys(set.Settings)) {
			s.set(r, key, set.Settings[key], set.Rule.At)
		}
	}
	for _, r := range registry.rules {
		if h := s.Of(r); h.Severity != diag.Off {
			s.rules = append(s.rules, h)
		}
	}
	return s
}

// set takes the value that a house gives a threshold of a rule.
func (s *HouseRules) set(r Rule, key string, q *model.Quantity, rule source.Place) {
	i := slices.IndexFunc(r.Thresholds, func(o *Threshold) bool { return o.Name == key })
	if i < 0 {
		s.diags = append(s.diags, diag.Diagnostic{Rule: RuleUnknown.Name, Severity: diag.Error, At: rule,
			Message: fmt.Sprintf("%s has no threshold %q", r.Name, key), Help: thresholds(r)})
		return
	}
	o := r.Thresholds[i]
	v, ok := q.One()
	if !ok || q.Unit != "" && q.Unit != o.Unit {
		s.diags = append(s.diags, diag.Diagnostic{Rule: RuleUnknown.Name, Severity: diag.Error, At: q.At,
			Message: strings.TrimSpace(fmt.Sprintf("%s of %s is one number %s", o.Name, r.Name, inThe(o.Unit))),
			Help: fmt.Sprintf("write it like %s %s, which is what holds unless the house sets it", o.Name,
				units.FormatNumber(o.Default))})
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
	return "in " + totals.UnitWord(unit)
}

// A HouseRule is a rule as a house sets it: with its severity there, and the values of its thresholds.
type HouseRule struct {
	Rule
	Values []ThresholdValue
}

// Of is a rule as the house sets it.
func (s *HouseRules) Of(r Rule) HouseRule {
	if sev, ok := s.severity[r.Name]; ok {
		r.Severity = sev
	}
	h := HouseRule{Rule: r}
	for _, o := range r.Thresholds {
		h.Values = append(h.Values, ThresholdValue{o, s.value(r.Name, o)})
	}
	return h
}

// value is what the house says of a threshold of a rule, else its default.
func (s *HouseRules) value(rule string, o *Threshold) float64 {
	if v, ok := s.values[rule][o.Name]; ok {
		return v
	}
	return o.Default
}

// off says whether the house has turned a rule off.
func (s *HouseRules) off(rule string) bool {
	sev, set := s.severity[rule]
	return set && sev == diag.Off
}

// thresholds says what a house can set of a rule beside its severity.
func thresholds(r Rule) string {
	if len(r.Thresholds) == 0 {
		return "its severity is all that can be set: take out what follows it"
	}
	var names []string
	for _, o := range r.Thresholds {
		names = append(names, o.Name)
	}
	return "it has " + strings.Join(names, ", ")
}

// unknown reports a name that no rule has.
func (r *Registry) unknown(n model.Name) diag.Diagnostic {
	var names []string
	for _, o := range r.rules {
		if !o.Fixed {
			names = append(names, o.Name)
		}
	}
	d := diag.Diagnostic{Rule: RuleUnknown.Name, Severity: diag.Error, At: n.At,
		Message: fmt.Sprintf("there is no rule %q", n.Text),
		Help:    "stint rules lists them all"}
	if near := syntax.Nearest(n.Text, names, 3); len(near) > 0 {
		d.Help = "did you mean " + near[0] + "? " + d.Help
		d.Fixes = []diag.Fix{{Title: "write " + near[0], Edits: []diag.Edit{{At: n.At, New: near[0]}}}}
	}
	return d
}

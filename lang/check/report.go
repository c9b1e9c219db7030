package check

import (
	"slices"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

// An Option says what a finding is about, and so when it has been reported already.
type Option uint8

// Options of a report.
const (
	// OfWords is about the words themselves, whatever version they are of: the message names
	// none.
	OfWords Option = iota
	// OfVersion is about the version as a whole: it is reported whatever is found on the same
	// words in another one, but not again in versions that start from it.
	OfVersion
	// OncePerPlace is reported only where the rule has found nothing yet. The days under week 1-3 are
	// planned three times, and stand in the text once.
	OncePerPlace
)

// Report adds a finding. It may matter less than its rule does, and says so by its own
// severity, unless the house makes an error of all that the rule finds. In a version the message says in which; what has been found there as written, or
// in a version before, is not found again. In a later week of a cycle it says in which, and has no fix:
// the text has the numbers of the first.
func (p *Pass) Report(d diag.Diagnostic, options ...Option) {
	d.Rule = p.rule.Name
	if d.Severity == diag.Off || d.Severity > p.rule.Severity {
		d.Severity = p.rule.Severity
	}
	if p.reported(d, options) {
		return
	}
	if p.Version != nil && !slices.Contains(options, OfWords) {
		d.Message = inVersion(p.Version.Name, d.Message)
	}
	if p.Week != nil {
		d.Message, d.Fixes = "in "+p.Week.String()+", "+d.Message, nil
	}
	p.found = append(p.found, d)
}

// reported says whether a finding is one that the rule has reported already.
func (p *Pass) reported(d diag.Diagnostic, options []Option) bool {
	switch {
	case slices.Contains(options, OncePerPlace) && p.has(func(o diag.Diagnostic) bool { return o.At == d.At }):
		return true
	case p.Week != nil && p.has(func(o diag.Diagnostic) bool { return o.At == d.At || o.At.Within(p.writtenAt(d.At)) }):
		return true
	case p.Version == nil:
		return false
	case slices.Contains(options, OfVersion):
		// What is wrong in a version is wrong in those that start from it: once is enough.
		return slices.ContainsFunc(append(slices.Clone(p.Version.From), p.Version.Name), func(v string) bool {
			message := inVersion(v, d.Message)
			return p.has(func(o diag.Diagnostic) bool { return o.At == d.At && o.Message == message })
		})
	}
	if !slices.Contains(options, OfWords) {
		// What is wrong as written is wrong in a version too, where a swap has taken over
		// the count that is wrong.
		line := writtenAt(p.Version.Session, d.At)
		if p.has(func(o diag.Diagnostic) bool { return o.At.Within(line) }) {
			return true
		}
	}
	return p.has(func(o diag.Diagnostic) bool { return o.At == d.At && o.Severity >= d.Severity })
}

// has says whether the rule has reported such a finding in the file.
func (p *Pass) has(such func(diag.Diagnostic) bool) bool {
	return slices.ContainsFunc(p.found, func(o diag.Diagnostic) bool { return o.Rule == p.rule.Name && such(o) })
}

// ReportedIn says whether the rule has reported anything at a place.
func (p *Pass) ReportedIn(scope source.Place) bool {
	return p.has(func(o diag.Diagnostic) bool { return o.At.Within(scope) })
}

// ReportedAt says whether a rule that went before has reported something at just such a place.
func (p *Pass) ReportedAt(rule string, at source.Place) bool {
	return slices.ContainsFunc(p.found, func(o diag.Diagnostic) bool {
		return o.Rule == rule && (o.At == at || slices.ContainsFunc(o.Related, func(r diag.Related) bool { return r.At == at }))
	})
}

func inVersion(name, message string) string { return "in the version " + name + ", " + message }

// writtenAt is the line of the session as written that words of a version stand for; nowhere as written.
func (p *Pass) writtenAt(at source.Place) source.Place {
	if p.Version == nil {
		return source.Place{}
	}
	return writtenAt(p.Version.Session, at)
}

// writtenAt is the line of the session as written that a swap's words at a place stand
// for in a version; nowhere if none.
func writtenAt(s *model.Session, at source.Place) source.Place {
	var line source.Place
	for w := range s.Lines(model.Everything) {
		if w.At != w.Written && at.Within(w.At) {
			line = w.Written
		}
	}
	return line
}

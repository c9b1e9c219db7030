package scaling

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var PatternGained = check.Rule{Name: "pattern-gained", Family: "scaling", Severity: diag.Suggestion,
	Summary: "a version that trains a pattern which the session as written does not",
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version == nil || !p.Whole(p.Written) || !p.SessionReadWithoutErrors() {
			return
		}
		before := mainWork(p.Written)
		losses := lostPatterns(p, s)
		var said []book.Pattern
		for _, t := range mainWork(s) {
			pt := t.pattern()
			if trainsAlso(before, pt) || slices.Contains(said, pt) {
				continue
			}
			// What has taken the place of a pattern that is lost is spoken of there.
			if slices.ContainsFunc(losses, func(l loss) bool {
				return slices.ContainsFunc(l.now, func(n trainedMove) bool { return n.work == t.work })
			}) {
				continue
			}
			said = append(said, pt)
			d := diag.Diagnostic{At: t.work.At,
				Message: fmt.Sprintf("%s brings in the pattern %s, which no part of the session has as written",
					t.move.Name, pt),
				Help: "write a movement with the pattern of the one whose place it takes"}
			if !p.Here(d.At) {
				d.At = versionAt(p)
			}
			for _, o := range before {
				if o.work.At == t.work.Written {
					d.Related = []diag.Related{{At: o.work.At, Message: fmt.Sprintf("%s as written", o.pattern())}}
					fix, name := keepPattern(p, o, t)
					if name != "" {
						d.Help += ", such as " + name
					}
					if fix != nil {
						d.Fixes = []diag.Fix{*fix}
					}
					break
				}
			}
			p.Report(d, check.OfVersion)
		}
	}}

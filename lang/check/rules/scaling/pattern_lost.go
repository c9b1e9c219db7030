package scaling

import (
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var PatternLost = check.Rule{Name: "pattern-lost", Family: "scaling", Severity: diag.Warning,
	Summary: "a version in which no part keeps a pattern of the session; a suggestion where it keeps some of it",
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version == nil || !p.Whole(p.Written) || !p.SessionReadWithoutErrors() {
			return
		}
		for _, l := range lostPatterns(p, s) {
			was := l.was[0]
			d := diag.Diagnostic{At: placeOf(p, l),
				Related: []diag.Related{{At: was.work.At, Message: fmt.Sprintf("%s as written", l.pattern)}},
				Message: fmt.Sprintf("no part keeps the pattern %s of %s", l.pattern, was.move.Name),
				Help:    "say what keeps the pattern, or leave the line out with a note that says why"}
			if len(l.now) > 0 {
				d.Message += fmt.Sprintf(": %s has %s", l.now[0].move.Name, l.now[0].pattern())
				fix, name := keepPattern(p, was, l.now[0])
				if name != "" {
					d.Help = fmt.Sprintf("write %s, which keeps the pattern, or leave the line out with a note that says why", name)
				}
				if fix != nil {
					d.Fixes = []diag.Fix{*fix}
				}
			}
			if l.kept != "" {
				d.Severity = diag.Suggestion
				d.Label = l.kept
			}
			p.Report(d, check.OfVersion)
		}
	}}

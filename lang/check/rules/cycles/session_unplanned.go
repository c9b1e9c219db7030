package cycles

import (
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var SessionUnplanned = check.Rule{Name: "session-unplanned", Family: "cycle", Severity: diag.Suggestion,
	Summary: "a session with a date, in a workspace with cycles, that none of them plans",
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version != nil || s.Date == "" || !p.Workspace.Cycles() || len(p.Workspace.Planned(s.Name)) > 0 {
			return
		}
		p.Report(diag.Diagnostic{At: s.At,
			Message: fmt.Sprintf("%s has a date, %s, and no cycle plans it", s.Name, dayOf(s.Date)),
			Label:   "in no cycle",
			Help:    "put it in the week that holds that day, or take its date out if it is only kept"})
	}}

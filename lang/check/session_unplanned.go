package check

import (
	"fmt"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var sessionUnplanned = Rule{Name: "session-unplanned", Family: "cycle", Severity: diag.Suggestion,
	Summary: "a session with a date, in a workspace with cycles, that none of them plans",
	session: func(p *pass, s *model.Session) {
		if p.version != nil || s.Date == "" || !p.around.Cycles() || len(p.around.Planned(s.Name)) > 0 {
			return
		}
		p.report(diag.Diagnostic{At: s.At,
			Message: fmt.Sprintf("%s has a date, %s, and no cycle plans it", s.Name, dayOf(s.Date)),
			Label:   "in no cycle",
			Help:    "put it in the week that holds that day, or take its date out if it is only kept"})
	}}

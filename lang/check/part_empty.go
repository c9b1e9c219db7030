package check

import (
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
)

var partEmpty = Rule{Name: "part-empty", Family: "form", Severity: diag.Warning,
	Summary: "a part or a group without work, or a session without a part",
	session: func(p *pass, s *program.Session) {
		if len(s.Parts) == 0 && p.version == nil {
			p.report(diag.Diagnostic{At: s.At, Message: "this session has no work in it", Help: "add a part: part A, with its work indented by two blanks under it"})
		}
		walk(s, func(step program.Step, _ []*program.Group) {
			g, ok := step.(*program.Group)
			if !ok || len(g.Steps) > 0 || len(g.Events) > 0 || g.Unread {
				return
			}
			what := strings.TrimSpace(g.Kind + " " + g.Letter)
			p.report(diag.Diagnostic{At: g.At, Message: "this " + what + " holds no work", Help: "write the work under it, indented by two blanks more"})
		})
	}}

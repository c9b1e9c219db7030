package check

import (
	"fmt"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
)

var stepsUneven = Rule{Name: "steps-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "dots in a series that stand for steps which do not land on the next number",
	session: func(p *pass, s *program.Session) {
		see := func(q *program.Quantity) {
			if q.Uneven() {
				p.report(diag.Diagnostic{At: q.At, Message: fmt.Sprintf("the steps of %s do not land on its numbers", q.At.Text()),
					Label: "the dots stand for equal steps", Help: "write every number, or one that the steps reach: 2-4-...-12, 10-9-...-1"})
			}
		}
		walk(s, func(step program.Step, _ []*program.Group) {
			switch st := step.(type) {
			case *program.Group:
				see(st.Repeat.Series)
				see(st.Repeat.Count)
			case *program.Work:
				if st.From == "line" {
					see(st.Dose)
				}
				for _, ld := range st.Loads {
					see(ld.Amount)
				}
			case *program.Rest:
				see(st.Amount)
			}
		})
	}}

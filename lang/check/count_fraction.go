package check

import (
	"fmt"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var countFraction = Rule{Name: "count-fraction", Family: "arithmetic", Severity: diag.Error,
	Summary: "a count of repetitions or sets that is none, or not whole",
	session: func(p *pass, s *program.Session) {
		see := func(q *program.Quantity, what string) {
			if q == nil || q.Max || q.Form == "from-to" {
				return
			}
			for _, row := range q.Terms {
				for _, v := range row {
					if v <= 0 || (q.Unit == "rep" || q.Unit == "set" || q.Unit == "breath" || q.Unit == "person") && !isWhole(v) {
						p.report(diag.Diagnostic{At: q.At, Message: fmt.Sprintf("nobody does %s %s", units.FormatNumber(v), what), Help: "write a whole number, 1 or more"})
						return
					}
				}
			}
		}
		walk(s, func(step program.Step, _ []*program.Group) {
			switch st := step.(type) {
			case *program.Group:
				see(st.Repeat.Series, "repetitions")
				if st.People != nil {
					see(st.People.Size, "people")
				}
			case *program.Work:
				see(st.Sets, "sets")
				see(st.SetsOf, "repetitions")
				if st.From == "line" {
					what := unitWord("rep")
					if st.Dose != nil {
						what = unitWord(st.Dose.Unit)
					}
					see(st.Dose, what)
				}
				for _, m := range st.Moves {
					see(m.Count, "repetitions")
				}
			}
		})
	}}

package check

import (
	"fmt"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
)

var seriesTurns = Rule{Name: "series-turns", Family: "arithmetic", Severity: diag.Error,
	Summary: "a series with more or fewer numbers than there are turns",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, around []*program.Group) {
			switch st := step.(type) {
			case *program.Work:
				turns := turnsOf(st, around)
				what := "turns"
				if st.Sets != nil {
					what = "sets"
				}
				if st.From == "line" {
					checkTurns(p, st.Dose, turns, what)
				}
				for _, m := range st.Moves {
					checkTurns(p, m.Count, turns, what)
				}
				for _, ld := range st.Loads {
					checkTurns(p, ld.Amount, turns, what)
				}
				if st.Rest != nil && turns > 0 {
					checkTurns(p, st.Rest.Amount, turns-1, "rests between sets")
				}
			case *program.Rest:
				turns := groupTurns(around)
				if turns > 0 && st.Place == "between turns" {
					checkTurns(p, st.Amount, turns-1, "rests between turns")
				} else if st.Place == "here" {
					checkTurns(p, st.Amount, turns, "turns")
				}
			}
		})
	}}

// checkTurns reports a series that is not as long as its turns. Turns below 1 are not
// settled by the text.
func checkTurns(p *pass, q *program.Quantity, turns int, what string) {
	n := q.Turns()
	if n == 0 || turns < 1 || n == turns || q.Uneven() {
		return
	}
	help := "write as many numbers as turns, or change how often it is done"
	if turns == 1 {
		help = "a series needs a head that comes round, such as 3 rounds, or sets on its line (3 x ...); a range rises: 8-12"
	}
	p.report(diag.Diagnostic{At: q.At, Message: fmt.Sprintf("%s has %d numbers, but there %s", q.At.Text(), n, are(turns, what)),
		Label: fmt.Sprintf("%d numbers for %d", n, turns), Help: help})
}

func are(n int, what string) string {
	if n == 1 {
		return "is 1 of the " + what
	}
	return fmt.Sprintf("are %d %s", n, what)
}

package arithmetic

import (
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var (
	countBeyondTurns = &check.Threshold{Name: "turns", Default: 200,
		Source: "no source: a slip of the keyboard is far more likely"}
	countBeyondRepetitions = &check.Threshold{Name: "repetitions", Default: 2000,
		Source: "no source: a slip of the keyboard is far more likely"}
)

var CountBeyond = check.Rule{Name: "count-beyond", Family: "arithmetic", Severity: diag.Error,
	Summary:    "a count that nobody does in a session, such as a thousand rounds",
	Thresholds: []*check.Threshold{countBeyondTurns, countBeyondRepetitions},
	Session: func(p *check.Pass, s *model.Session) {
		check.EachQuantity(s, func(q *model.Quantity, what string) {
			most := p.Value(countBeyondTurns)
			switch {
			case q.Unit == "rep":
				most = p.Value(countBeyondRepetitions)
			case what != "turns" && what != "sets":
				return
			}
			for _, row := range q.Terms {
				for _, v := range row {
					if v > most {
						p.Report(diag.Diagnostic{At: q.At, Message: fmt.Sprintf("%s %s are more than anybody does in a session (at most %s are taken for meant)",
							units.FormatNumber(v), what, units.FormatNumber(most)),
							Help: "mend the number; if it is meant, the house can set the rule's threshold"})
						return
					}
				}
			}
		})
	}}

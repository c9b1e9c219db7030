package arithmetic

import (
	"fmt"
	"math"
	"slices"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var CountFraction = check.Rule{Name: "count-fraction", Family: "arithmetic", Severity: diag.Error,
	Summary: "a count of repetitions, sets, turns or people that is none, or not whole",
	Session: func(p *check.Pass, s *model.Session) {
		check.EachQuantity(s, func(q *model.Quantity, what string) {
			if q.Max || q.Form == syntax.FromTo || q.Uneven() || what == "load" || what == "effort" {
				return
			}
			whole := what != "pieces" && !slices.Contains([]string{"m", "cal", "s", "kg", "%"}, q.Unit)
			for _, row := range q.Terms {
				for _, v := range row {
					if v > 0 && (units.IsWhole(v) || !whole) || what == "time" && q.Unit == "s" {
						continue
					}
					p.Report(diag.Diagnostic{At: q.At, Message: nobody(v, what), Help: instead(v, whole)})
					return
				}
			}
		})
	}}

// nobody says that a count cannot be.
func nobody(v float64, what string) string {
	n := units.FormatNumber(v)
	switch {
	case what == "turns":
		return fmt.Sprintf("nothing comes round %s times", n)
	case what == "people":
		return fmt.Sprintf("no team is %s people", n)
	case what == "implements":
		return fmt.Sprintf("nobody holds %s implements", n)
	case what == "time", what == "length":
		return "no time at all is no time to do it in"
	case v == 0 && what == "pieces":
		return "a piece of a count that is nothing says nothing"
	}
	return fmt.Sprintf("nobody does %s %s", n, what)
}

// instead says what to write in the place of a count that cannot be.
func instead(v float64, whole bool) string {
	switch {
	case !whole:
		return "write how much it is, or take it out"
	case v < 1:
		return "write a whole number, 1 or more; what is not done at all is left out"
	}
	return fmt.Sprintf("write a whole number, such as %g or %g", math.Floor(v), math.Ceil(v))
}

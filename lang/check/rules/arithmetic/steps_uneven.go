package arithmetic

import (
	"fmt"
	"math"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var StepsUneven = check.Rule{Name: "steps-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "dots in a series that stand for steps which do not land on the next number",
	Session: func(p *check.Pass, s *model.Session) {
		check.EachQuantity(s, func(q *model.Quantity, _ string) {
			if !q.Uneven() {
				return
			}
			d := diag.Diagnostic{At: q.At,
				Message: fmt.Sprintf("the steps of %s do not land on its numbers", q.At.Text()),
				Label:   "dots stand for equal steps",
				Help:    "write every number, or one that the steps reach: 2-4-...-12, 10-9-...-1"}
			if n := len(q.Terms); q.Open && n == 1 {
				d.Message = fmt.Sprintf("%s does not say how large its steps are", q.At.Text())
				d.Help = "write two numbers before the dots: 2-4-..."
			} else if n >= 3 && !q.Open {
				// The last is what the steps miss; those before it show the step.
				step, last := q.Terms[n-2][0]-q.Terms[n-3][0], q.Terms[n-1][0]
				if last == q.Terms[n-2][0] || step == 0 {
					p.Report(d)
					return
				}
				d.Message = fmt.Sprintf("the steps of %s do not land on its numbers: in steps of %s from %s, %s is never reached",
					q.At.Text(), units.FormatNumber(max(step, -step)), units.FormatNumber(q.Terms[n-2][0]),
					units.FormatNumber(last))
				landing(&d, q.Terms[n-2][0], step, last)
			}
			p.Report(d)
		})
	}}

// landing offers series that land where the one of d, which ends in dots and a number,
// does not: it goes on in steps from a number to a last one that they miss.
func landing(d *diag.Diagnostic, from, step, last float64) {
	text, end := d.At.Text(), "...-"+units.FormatNumber(last)
	before, ok := strings.CutSuffix(text, end)
	if !ok || step == 0 || last == from {
		return
	}
	if (last-from)*step < 0 { // it turns round: the first step back has to show
		text = before + units.FormatNumber(from-step) + "-" + end
		d.Help = "show the first step back: " + text
		d.Fixes = []diag.Fix{{Title: "write " + text, Edits: []diag.Edit{{At: d.At, New: text}}}}
		return
	}
	near := from + math.Floor((last-from)/step)*step
	if near == from {
		d.Help = fmt.Sprintf("write every number, or one that the steps reach: %s...-%s", before,
			units.FormatNumber(from+step))
		return
	}
	d.Help = fmt.Sprintf("write %s...-%s or %s...-%s, or every number", before, units.FormatNumber(near), before,
		units.FormatNumber(near+step))
}

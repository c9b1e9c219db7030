package check

import (
	"fmt"
	"math"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var stepsUneven = Rule{Name: "steps-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "dots in a series that stand for steps which do not land on the next number",
	session: func(p *pass, s *model.Session) {
		eachQuantity(s, func(q *model.Quantity, _ string) {
			if !q.Uneven() {
				return
			}
			d := diag.Diagnostic{At: q.At, Message: fmt.Sprintf("the steps of %s do not land on its numbers", q.At.Text()),
				Label: "dots stand for equal steps", Help: "write every number, or one that the steps reach: 2-4-...-12, 10-9-...-1"}
			if n := len(q.Terms); q.Open && n == 1 {
				d.Message = fmt.Sprintf("%s does not say how large its steps are", q.At.Text())
				d.Help = "write two numbers before the dots: 2-4-..."
			} else if n >= 3 && !q.Open {
				// The last is what the steps miss; those before it show the step.
				step, last := q.Terms[n-2][0]-q.Terms[n-3][0], q.Terms[n-1][0]
				if last == q.Terms[n-2][0] || step == 0 {
					p.report(d)
					return
				}
				d.Message = fmt.Sprintf("the steps of %s do not land on its numbers: in steps of %s from %s, %s is never reached",
					q.At.Text(), units.FormatNumber(max(step, -step)), units.FormatNumber(q.Terms[n-2][0]), units.FormatNumber(last))
				landing(&d, q.Terms[n-2][0], step, last)
			}
			p.report(d)
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
		d.Help = fmt.Sprintf("write every number, or one that the steps reach: %s...-%s", before, units.FormatNumber(from+step))
		return
	}
	d.Help = fmt.Sprintf("write %s...-%s or %s...-%s, or every number", before, units.FormatNumber(near), before, units.FormatNumber(near+step))
}

// eachQuantity calls f for every amount that a session's work states itself, with what
// it counts. One that a ladder gives its lines comes once.
func eachQuantity(s *model.Session, f func(q *model.Quantity, what string)) {
	see := func(q *model.Quantity, what string) {
		if q != nil {
			f(q, what)
		}
	}
	loads := func(lds []model.Load) {
		for _, ld := range lds {
			see(ld.Amount, "load")
			see(ld.Count, "implements")
		}
	}
	kit := func(ks []model.Kit) {
		for _, k := range ks {
			loads(k.Loads)
		}
	}
	walk(s, func(step model.Step, _ []*model.Group) {
		switch st := step.(type) {
		case *model.Group:
			if st.Repeat.Series != nil {
				see(st.Repeat.Series, unitWord(st.Repeat.Series.Unit))
			}
			if st.Repeat.Whole == nil {
				see(st.Repeat.Count, "turns")
			}
			for _, q := range []*model.Quantity{st.Repeat.Interval, st.Repeat.On, st.Repeat.Off} {
				see(q, "time")
			}
			see(st.Effort, "effort")
			for _, who := range []*model.People{st.People, st.Heats} {
				if who != nil {
					see(who.Size, "people")
				}
			}
			kit(st.With)
		case *model.Work:
			see(st.Sets, "sets")
			see(st.SetsOf, "repetitions")
			if st.From == model.FromLine && st.Dose != nil {
				see(st.Dose, unitWord(st.Dose.Unit))
			}
			for _, m := range st.Moves {
				if m.Count != nil {
					see(m.Count, unitWord(m.Count.Unit))
				}
			}
			for _, q := range []*model.Quantity{st.Window, st.Hold, st.Every} {
				see(q, "length")
			}
			for _, t := range st.Terms {
				see(t.Count, "pieces")
			}
			loads(st.Loads)
			kit(st.With)
			if st.Rest != nil {
				see(st.Rest.Amount, "time")
			}
			see(st.Effort, "effort")
		case *model.Rest:
			see(st.Amount, "time")
		}
	})
}

package check

import (
	"fmt"
	"math"
	"slices"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/program"
	"stint.example/stint/lang/units"
)

var partnersUneven = Rule{Name: "partners-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "a count that is split evenly and does not divide between the partners, or a split without partners",
	session: func(p *pass, s *program.Session) {
		walk(s, func(step program.Step, around []*program.Group) {
			w, ok := step.(*program.Work)
			if !ok || w.Share == "" {
				return
			}
			team := teamOf(around)
			if team == nil && slices.ContainsFunc(around, func(g *program.Group) bool { return g.Unread }) {
				return // the head that cannot be read may well say
			}
			if team == nil {
				p.report(diag.Diagnostic{At: w.ShareAt(), Message: fmt.Sprintf("%s is for partners, but nobody has one here", w.Share),
					Help: "say on the part who works together: in pairs, in threes or in teams of 4"})
				return
			}
			size, ok := team.Size.One()
			if !ok || size < 2 || w.Share != "split evenly" {
				return
			}
			sets := 1.0
			if n, ok := w.Sets.One(); ok {
				sets = n // each may take whole sets
			}
			eachDose(w, around, len(p.Env.House.Tiers), func(n float64) bool {
				if divides(n, size, w.Dose) || divides(n*sets, size, w.Dose) && math.Mod(sets, size) == 0 {
					return false
				}
				each := units.FormatNumber(math.Floor(n/size*100) / 100)
				unit := ""
				if w.Dose.Unit != "rep" && w.Dose.Unit != "s" {
					unit = " " + w.Dose.Unit
				}
				if w.Dose.Unit == "s" {
					unit = " s"
				}
				p.report(diag.Diagnostic{At: w.At, Label: fmt.Sprintf("%s between %s", inUnit(n, w.Dose), units.FormatNumber(size)),
					Message: fmt.Sprintf("%s: %s does not divide evenly between %s: %s%s each", movesOf(w), inUnit(n, w.Dose), units.FormatNumber(size), each, unit),
					Help:    fmt.Sprintf("write %s, or split without evenly: then they share it as they like", shares(n, size, w.Dose)),
					Related: []diag.Related{{At: team.At, Message: fmt.Sprintf("shared by %s", units.FormatNumber(size))}}})
				return true
			})
		})
	}}

// divides says whether an amount divides between so many: into whole repetitions,
// metres, calories or seconds, or into what two decimals of the written unit say.
func divides(n, size float64, q *program.Quantity) bool {
	each := n / size
	if isWhole(each) {
		return true
	}
	u, ok := units.Lookup(q.Written)
	if !ok || u.Dimension() != units.Length {
		return false
	}
	hundredths := u.FromBase(each) * 100
	return same(hundredths, math.Round(hundredths))
}

// shares are the amounts on either side that divide.
func shares(n, size float64, q *program.Quantity) string {
	step := size
	if u, ok := units.Lookup(q.Written); ok && u.Dimension() == units.Length {
		step = size * u.ToBase(0.01)
	}
	return around2(math.Floor(n/step+1e-9), step, q)
}

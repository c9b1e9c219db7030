package check

import (
	"fmt"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// fitting are the thresholds of what has to be over in time.
var fitting = []Setting{{Name: "share", Unit: "%", Default: 25, Source: "no source: more than one in four is too many for the others to wait for"}}

var partRunsOver = Rule{Name: "part-runs-over", Family: "clock", Severity: diag.Error, Settings: fitting,
	Summary: "a part that is not over when the next one starts by the clock; a warning where only some are late",
	session: func(p *pass, s *model.Session) {
		for _, g := range gaps(p.timeline(s)) {
			if !g.next.Pinned || g.backwards() || !g.known() || !p.sound(g.part.Group) {
				continue
			}
			sev, who := p.late(g, g.window)
			if sev == diag.Off {
				continue
			}
			a, b := partName(g.part.Group), partName(g.next.Group)
			d := diag.Diagnostic{At: g.part.Group.At, Severity: sev, Label: took(g, sev),
				Related: []diag.Related{{At: g.next.Group.Start.At, Message: b + " starts here"}}}
			over := g.took(g.part.Work.Typical) - g.window
			at := units.FormatClock(g.next.Start)
			switch {
			case over > second:
				d.Message = fmt.Sprintf("%s runs %s into %s, which starts at %s", a, units.FormatClock(over), b, at)
			default:
				n, span := people(who)
				d.Message = fmt.Sprintf("%s %s still at %s when %s starts at %s%s", n, verb(who, "is", "are"), a, b, at, span)
			}
			p.report(p.withRestart(d, g.next, "ask for less work in "+a))
		}
	}}

// took is a label: how long a part takes, and how sure it is that this is too long.
func took(g gap, sev diag.Severity) string {
	switch {
	case g.exact():
		return "it takes " + units.FormatClock(g.took(g.part.Work.Typical))
	case sev == diag.Error:
		return typical(g.part.Work) + "; too long even if everyone is 10% quicker"
	}
	return typical(g.part.Work) + ", an estimate"
}

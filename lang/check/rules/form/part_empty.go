package form

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var PartEmpty = check.Rule{Name: "part-empty", Family: "form", Severity: diag.Warning,
	Summary: "a part or a group without work, or a session without a part",
	Session: func(p *check.Pass, s *model.Session) {
		if len(s.Parts) == 0 && p.Version == nil && !p.HasUnreadableLine(s) {
			p.Report(diag.Diagnostic{At: s.At, Message: "this session has no work in it",
				Help: "add a part: part A, with its work indented by two blanks under it"})
		}
		for g, around := range s.Groups(model.Everything) {
			if g.Unread || g.Gaps {
				continue
			}
			for _, e := range g.Events {
				if len(e.Steps) == 0 {
					p.Report(diag.Diagnostic{At: e.At, Message: "it is not said what happens then",
						Help: "write the work behind the colon: at 7:00: 12 lunge"})
				}
			}
			if len(g.Steps) > 0 || len(g.Events) > 0 || g.Kind == model.RoundOf && p.Version != nil { // it was left out
				continue
			}
			what := strings.TrimSpace(string(g.Kind) + " " + g.Letter)
			if g.Kind == model.Label && g.Label != "" {
				what = g.Label
			}
			if g.IsSlot() || g.Kind == model.RoundOf {
				what = fmt.Sprintf("%s %d", g.Kind, g.Number)
			}
			help := "write the work under it, indented by two blanks more"
			switch {
			case g.IsSlot() && p.Version == nil:
				help += "; where nothing is done in it, write " + what + ": rest"
			case g.IsSlot():
				help = "swap one of its lines for other work; to leave it out, write the part anew without it, behind " +
					leftOut(g, around) + " ->"
			case p.Version != nil:
				help = "swap one of its lines for other work, or leave it out: " + leftOut(g, around) + " -> nothing"
			}
			p.Report(diag.Diagnostic{At: g.At, Message: "this " + what + " holds no work", Help: help})
		}
	}}

// leftOut is the left side of the swap that leaves out a group, or the part that it stands in.
func leftOut(g *model.Group, around []*model.Group) string {
	part := append(around[:len(around):len(around)], g)[0]
	name := strings.TrimSpace(string(part.Kind) + " " + part.Letter)
	if g == part || g.Kind != model.Plain || g.Repeat.Kind == model.Once {
		return name
	}
	return name + ": " + g.Repeat.At.Text()
}

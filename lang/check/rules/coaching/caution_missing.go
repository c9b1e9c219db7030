package coaching

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/intensity"
	"stint.example/stint/lang/analysis/strength"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var CautionMissing = check.Rule{Name: "caution-missing", Family: "coaching", Severity: diag.Warning,
	Summary: "a maximum, or heavy work overhead, of which nobody says what can hurt",
	Settings: []check.Setting{
		{Name: "maximum", Unit: "%", Default: 95, Source: strength.TableSource + ": what goes twice at most"},
		{Name: "overhead", Unit: "%", Default: 80, Source: "common practice, no source"},
		{Name: "rpe", Default: 8, Source: "common practice, no source: overhead, and two repetitions left (" + strength.ReserveSource + ")"},
	},
	Session: func(p *check.Pass, s *model.Session) {
		if len(s.Cautions) > 0 {
			return
		}
		for _, r := range risks(p, s) {
			p.Report(diag.Diagnostic{At: r.move.At, Label: "neither the movement, the line, its part nor the session says it",
				Message: fmt.Sprintf("nothing says what can hurt in the %s, and it is %s", r.move.Name, r.why),
				Help:    "add a caution to the session or to the movement, or a note to the line, such as > Stop at pain, and set the catches before you lift; local rules and qualified people come first"})
		}
	}}

// A risk is a movement that is done so heavy that somebody says what can hurt.
type risk struct {
	move model.Move
	why  string
}

// risks are those of a session of which nothing is said, each movement once.
func risks(p *check.Pass, s *model.Session) []risk {
	var out []risk
	today := map[*book.Movement]float64{}
	seen := map[*book.Movement]bool{}
	check.Walk(s, func(step model.Step, around []*model.Group) {
		w, ok := step.(*model.Work)
		if !ok || len(around) == 0 || around[0].Kind != model.Part {
			return
		}
		defer intensity.NoteToday(w, around, today)
		if len(w.Notes) > 0 || slices.ContainsFunc(around, func(g *model.Group) bool { return len(g.Notes) > 0 }) {
			return
		}
		top := intensity.TopShare(w, around, today)
		for _, m := range w.Moves {
			if m.Movement == nil || seen[m.Movement] || len(m.Movement.Cautions) > 0 {
				continue
			}
			if why := risky(p, w, around, m.Movement, top); why != "" {
				seen[m.Movement] = true
				out = append(out, risk{m, why})
			}
		}
	})
	return out
}

// risky says why a movement of a line is one to be careful with, and is empty where it is not.
func risky(p *check.Pass, w *model.Work, around []*model.Group, m *book.Movement, top float64) string {
	rpe := 0.0
	if q, whose := intensity.EffortOf(&model.Session{}, w, around); q != nil && whose != "session" {
		switch q.Unit {
		case "RPE":
			rpe = intensity.Hardest(q)
		case "RIR":
			rpe = 10 - intensity.Hardest(q)
		}
	}
	overhead := slices.Contains(m.Trains, book.VerticalPush)
	switch {
	case intensity.GoesHeavy(w, around):
		return "done as heavy as it goes"
	case top >= p.Setting("maximum"):
		return "done at " + units.FormatTenth(top) + "% of a maximum"
	case rpe >= 10:
		return "done at RPE 10"
	case overhead && top >= p.Setting("overhead"):
		return "heavy work overhead, at " + units.FormatTenth(top) + "%"
	case overhead && rpe >= p.Setting("rpe"):
		return "heavy work overhead, at RPE " + units.FormatTenth(rpe)
	}
	return ""
}

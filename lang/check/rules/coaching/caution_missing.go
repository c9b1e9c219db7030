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

var (
	cautionMissingMaximum = &check.Threshold{Name: "maximum", Unit: "%", Default: 95,
		Source: strength.TableSource + ": what goes twice at most"}
	cautionMissingOverhead = &check.Threshold{Name: "overhead", Unit: "%", Default: 80,
		Source: "common practice, no source"}
	cautionMissingRPE = &check.Threshold{Name: "rpe", Default: 8,
		Source: "common practice, no source: overhead, and two repetitions left (" + strength.ReserveSource + ")"}
)

var CautionMissing = check.Rule{Name: "caution-missing", Family: "coaching", Severity: diag.Warning,
	Summary:    "a maximum, or heavy work overhead, of which nobody says what can hurt",
	Thresholds: []*check.Threshold{cautionMissingMaximum, cautionMissingOverhead, cautionMissingRPE},
	Session: func(p *check.Pass, s *model.Session) {
		if len(s.Cautions) > 0 {
			return
		}
		for _, r := range risks(p, s) {
			p.Report(diag.Diagnostic{At: r.move.At,
				Label:   "neither the movement, the line, its part nor the session says it",
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
	seen := map[*book.Movement]bool{}
	for l := range intensity.Lines(s) {
		if l.Around[0].Kind != model.Part || len(l.Work.Notes) > 0 ||
			slices.ContainsFunc(l.Around, func(g *model.Group) bool { return len(g.Notes) > 0 }) {
			continue
		}
		for _, m := range l.Work.Moves {
			if m.Movement == nil || seen[m.Movement] || len(m.Movement.Cautions) > 0 {
				continue
			}
			if why := risky(p, l, m.Movement); why != "" {
				seen[m.Movement] = true
				out = append(out, risk{m, why})
			}
		}
	}
	return out
}

// risky says why a movement of a line is one to be careful with, and is empty where it is not.
func risky(p *check.Pass, l *intensity.Line, m *book.Movement) string {
	rpe := 0.0
	// RPE and reserve say how near a load is to the most; an effort of a session, or in percent, may be
	// of work without any.
	if e, ok := intensity.EffortOf(&model.Session{}, l.Work, l.Around); ok && e.As.Unit != "%" {
		rpe = e.Hardest() / 10
	}
	overhead := slices.Contains(m.Trains, book.VerticalPush)
	switch {
	case intensity.GoesHeavy(l.Work, l.Around):
		return "done as heavy as it goes"
	case l.Share >= p.Value(cautionMissingMaximum):
		return "done at " + units.FormatTenth(l.Share) + "% of a maximum"
	case rpe >= 10:
		return "done at RPE 10"
	case overhead && l.Share >= p.Value(cautionMissingOverhead):
		return "heavy work overhead, at " + units.FormatTenth(l.Share) + "%"
	case overhead && rpe >= p.Value(cautionMissingRPE):
		return "heavy work overhead, at RPE " + units.FormatTenth(rpe)
	}
	return ""
}

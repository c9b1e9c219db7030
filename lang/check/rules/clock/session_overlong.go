package clock

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

var sessionOverlongOver = &check.Threshold{Name: "over", Unit: "s", Default: 0, Source: "choice: a length is a length"}

var SessionOverlong = check.Rule{Name: "session-overlong", Family: "clock", Severity: diag.Warning,
	Summary:    "a session that takes longer than the time that it has",
	Thresholds: []*check.Threshold{sessionOverlongOver},
	Session: func(p *check.Pass, s *model.Session) {
		length, whose := s.Length, "its length is"
		if length == nil {
			length, whose = p.Env.House.Length, "the house gives it"
		}
		limit, ok := length.One()
		if !ok || len(s.Parts) == 0 {
			return
		}
		t := p.Timeline(s)
		if t.LengthBeyond || t.Length <= limit+p.Value(sessionOverlongOver)+estimate.Tolerance {
			return
		}
		takes := units.FormatClock(t.Length)
		label := lengths(t)
		if !t.Settled { // over it even by the least
			takes, label = "at least "+takes, ""
		}
		d := diag.Diagnostic{At: s.At, Label: label,
			Message: fmt.Sprintf("the session takes %s, and %s %s", takes, whose, units.FormatClock(limit)),
			Help:    fmt.Sprintf("take %s out of it, or give it more time; what has no window counts until the slow are done, or until its cap", units.FormatClock(t.Length-limit))}
		if s.Length != nil {
			d.At = s.Length.At
		}
		p.Report(d)
	}}

// lengths says what a session's time goes on.
func lengths(t *estimate.Timeline) string {
	var out []string
	all := t.Length
	for _, kind := range []model.GroupKind{model.WarmUp, model.CoolDown} {
		sum := 0.0
		for _, p := range t.Parts {
			if p.Group.Kind == kind {
				sum += p.Room
			}
		}
		if sum > 0 {
			out = append(out, string(kind)+" "+units.FormatClock(sum))
			all -= sum
		}
	}
	return strings.Join(append(out, "parts "+units.FormatClock(all)), ", ")
}

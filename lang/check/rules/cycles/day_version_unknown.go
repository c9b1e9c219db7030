package cycles

import (
	"fmt"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

var DayVersionUnknown = check.Rule{Name: "day-version-unknown", Family: "cycle", Severity: diag.Error,
	Summary: "a day of a cycle that asks for a version that its session does not have",
	Cycle: func(p *check.Pass, c *model.Cycle) {
		for _, w := range c.Plan {
			for _, d := range w.Days {
				s := p.Workspace.Session(d.Session)
				if d.Version == "" || s == nil || s.FindVersion(d.Version) != nil {
					continue
				}
				unknownVersion(p, d, s)
			}
		}
	}}

func unknownVersion(p *check.Pass, d *model.Day, s *model.Session) {
	at, found := dayVersionAt(p, d)
	var names []string
	for _, v := range s.Versions {
		names = append(names, v.Name)
	}
	out := diag.Diagnostic{At: at, Message: fmt.Sprintf("%s has no version %s", s.Name, d.Version), Label: "none such",
		Help:    "it has " + phrase.And(names...) + "; write one of them, or none for the session as written",
		Related: []diag.Related{{At: s.At, Message: "the session"}}}
	if len(names) == 0 {
		out.Help = "it has none: write a scaling " + d.Version + " in it, or plan it as written"
	} else if near := syntax.Nearest(d.Version, names, 1); len(near) > 0 && found {
		out.Help = "did you mean " + near[0] + "? " + out.Help
		out.Fixes = []diag.Fix{{Title: "write " + near[0], Edits: []diag.Edit{{At: at, New: near[0]}}}}
	}
	p.Report(out, check.OncePerPlace)
}

// dayVersionAt is where a day names its version; the name of its session where that cannot be
// found.
func dayVersionAt(p *check.Pass, d *model.Day) (source.Place, bool) {
	f := p.File.Syntax
	line := f.Lines[f.Src.LineAt(d.At.Start)]
	if s, ok := line.Stmt.(*syntax.Property); ok && s.Version.Text != "" {
		return f.Src.At(line.Span(s.Version.Span)), true
	}
	return d.At, false
}

package scaling

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var VersionMissing = check.Rule{Name: "version-missing", Family: "scaling", Severity: diag.Error,
	Summary: "a session without a version that the house says every session needs",
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version != nil || len(s.Parts) == 0 || !p.SessionReadWithoutErrors() {
			return
		}
		for _, need := range p.Env.House.Needs {
			h := p.Env.House.Scaling(need.Text)
			if h == nil || s.FindVersion(need.Text) != nil {
				continue
			}
			kit, known := substitute.Kit(p.Env, s, h.Name)
			lack := substitute.Lacking(p.Env, s, kit)
			if known && len(lack) == 0 {
				continue // as written it is that version
			}
			d := diag.Diagnostic{At: s.At,
				Message: fmt.Sprintf("%s has no version %s, which the house says every session needs", s.Name, h.Name),
				Help:    fmt.Sprintf("write a scaling %s with what takes the place of what", h.Name),
				Related: []diag.Related{{At: need.At, Message: "the house says so"}}}
			if known {
				d.Label = "as written it needs " + phrase.And(lacks(lack)...)
				swaps, left := substitute.Replacements(p.Env, s, h.Name)
				if len(swaps) > 0 && len(left) == 0 {
					d.Fixes = []diag.Fix{{Title: fmt.Sprintf("write the scaling %s with swaps from the book", h.Name),
						Edits: []diag.Edit{substitute.WriteSwaps(p.File.Syntax, p.Written, h.Name, swaps)}}}
				}
				if len(left) > 0 {
					d.Help += "; the book says nothing that takes the place of " + phrase.And(substitute.Names(left)...)
				}
			}
			p.Report(d)
		}
	}}

// lacks names the kit that work lacks, each once, four things at most.
func lacks(lack []substitute.Lack) []string {
	var out []string
	for _, l := range lack {
		for _, k := range l.Kit {
			if !slices.Contains(out, k) {
				out = append(out, k)
			}
		}
	}
	if len(out) > 4 {
		out = append(out[:3], "more")
	}
	return out
}

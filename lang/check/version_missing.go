package check

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var versionMissing = Rule{Name: "version-missing", Family: "scaling", Severity: diag.Error,
	Summary: "a session without a version that the house says every session needs",
	session: func(p *pass, s *model.Session) {
		if p.version != nil || len(s.Parts) == 0 || !p.readable() {
			return
		}
		for _, need := range p.Env.House.Needs {
			h := p.Env.House.Scaling(need.Text)
			has := slices.ContainsFunc(s.Versions, func(v *model.Version) bool { return book.Key(v.Name) == book.Key(need.Text) })
			if h == nil || has {
				continue
			}
			kit, known := substitute.Kit(p.Env, s, h.Name)
			lack := substitute.Lacking(p.Env, s, kit)
			if known && len(lack) == 0 {
				continue // as written it is that version
			}
			d := diag.Diagnostic{At: s.At, Message: fmt.Sprintf("%s has no version %s, which the house says every session needs", s.Name, h.Name),
				Help:    fmt.Sprintf("write a scaling %s with what takes the place of what", h.Name),
				Related: []diag.Related{{At: need.At, Message: "the house says so"}}}
			if known {
				d.Label = "as written it needs " + and(lacks(lack)...)
				swaps, left := substitute.Replacements(p.Env, s, h.Name)
				if len(swaps) > 0 && len(left) == 0 {
					d.Fixes = []diag.Fix{{Title: fmt.Sprintf("write the scaling %s with swaps from the book", h.Name),
						Edits: []diag.Edit{p.writeSwaps(h.Name, swaps)}}}
				}
				if len(left) > 0 {
					d.Help += "; the book says nothing that takes the place of " + and(leftOver(left)...)
				}
			}
			p.report(d)
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

// leftOver names the work that the book has nothing instead of.
func leftOver(left []substitute.Lack) []string {
	var out []string
	for _, l := range left {
		name := strings.Join(l.Kit, " and ")
		if l.Work != nil {
			name = movesOf(l.Work)
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

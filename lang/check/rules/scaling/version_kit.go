package scaling

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/substitute"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
)

var VersionKit = check.Rule{Name: "version-kit", Family: "scaling", Severity: diag.Error,
	Summary: "work in a version that needs kit which the version does not have",
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version == nil || !p.Version.HasOnly || !p.SessionReadWithoutErrors() {
			return
		}
		kit, _ := substitute.Kit(p.Env, p.Written, p.Version.Name)
		lack := substitute.Lacking(p.Env, s, kit)
		if len(lack) == 0 {
			return
		}
		swaps, _ := substitute.Replacements(p.Env, p.Written, p.Version.Name)
		said := map[string]bool{}
		for i, l := range lack {
			key := lackKey(l)
			if said[key] {
				continue // one finding a movement
			}
			said[key] = true
			d := diag.Diagnostic{At: lackAt(p, l), Label: "it has " + had(kit)}
			what := d.At.Text()
			if l.With != nil {
				what = "with " + l.With.Name
			}
			d.Message = fmt.Sprintf("%s needs %s, which its members do not have", what, phrase.And(l.Kit...))
			for _, o := range lack[i+1:] {
				if lackKey(o) == key {
					d.Related = append(d.Related, diag.Related{At: lackAt(p, o), Message: "and so does this"})
				}
			}
			fixKit(p, &d, l, lack[i:], swaps)
			p.Report(d, check.OfVersion)
		}
	}}

// lackKey is what one finding is about: the movements of a line, or what is carried on top,
// as written or as a swap has them.
func lackKey(l substitute.Lack) string {
	if l.With != nil {
		return "with " + l.With.Name
	}
	if l.Work.At != l.Work.Written {
		return fmt.Sprintf("%d %s", l.Work.At.Start, l.Work.MoveNames())
	}
	return l.Work.MoveNames()
}

// lackAt is where a line that cannot be done stands in the session's file: the right side
// of the swap that has put it there, or the line as written.
func lackAt(p *check.Pass, l substitute.Lack) source.Place {
	at := source.Place{}
	switch {
	case l.With != nil:
		at = l.With.At
	case p.Here(l.Work.At):
		at = l.Work.At
	default:
		at = l.Work.Written // the swap is the house's
	}
	if !p.Here(at) {
		at = p.Written.At
	}
	return at
}

// had is the kit of a version as a sentence says it.
func had(kit []string) string {
	if len(kit) == 0 {
		return "no kit"
	}
	return phrase.And(kit...)
}

// fixKit says what would fix a line that a version cannot do, with the edit where the
// book has something. More are the lines from this one on.
func fixKit(p *check.Pass, d *diag.Diagnostic, l substitute.Lack, more []substitute.Lack,
	swaps []substitute.Replacement) {
	name := p.Version.Name
	own := l.With == nil && p.Here(l.Work.At) && l.Work.At != l.Work.Written
	if own {
		// The scaling itself says it: its right side, or a part that it writes anew.
		d.Help = "write on the right of the arrow what its members can do"
		if l.Work.Written.File == nil {
			d.Help = "write what its members can do"
		}
		if edits, to := fixSide(p, l, more); edits != nil {
			d.Help += ", such as " + to
			d.Fixes = []diag.Fix{{Title: "write " + to, Edits: edits}}
		}
		return
	}
	key := "with"
	if l.With != nil {
		key = "with " + l.With.Name
	} else if w := asWritten(p, l.Work); w != nil {
		key = w.MoveNames()
	}
	mine := slices.DeleteFunc(slices.Clone(swaps), func(s substitute.Replacement) bool { return s.For != key })
	if len(mine) == 0 {
		d.Help = fmt.Sprintf("say in the scaling %s what its members do instead; the book says nothing that takes its place", name)
		return
	}
	lines := substitute.Lines(mine)
	first, _, _ := strings.Cut(lines[0], " > ")
	if substitute.ScalingBlock(p.File.Syntax, p.Written, name) == nil {
		d.Help = fmt.Sprintf("write a scaling %s with what its members do instead, such as %s", name, first)
		d.Fixes = []diag.Fix{{Title: fmt.Sprintf("write the scaling %s with swaps from the book", name),
			Edits: []diag.Edit{substitute.WriteSwaps(p.File.Syntax, p.Written, name, swaps)}}}
		return
	}
	d.Help = fmt.Sprintf("say in the scaling %s what its members do instead, such as %s", name, first)
	d.Fixes = []diag.Fix{{Title: fmt.Sprintf("add %s to the scaling %s", first, name),
		Edits: []diag.Edit{substitute.WriteSwaps(p.File.Syntax, p.Written, name, mine)}}}
}

// asWritten is the line of the session that a line of a version stands for.
func asWritten(p *check.Pass, w *model.Work) *model.Work {
	var found *model.Work
	for o := range p.Written.Lines(model.Everything) {
		if o.At == w.Written {
			found = o
		}
	}
	return found
}

// fixSide are edits that put another movement in the place of one that the scaling itself
// names; nil where the book has none that is counted alike.
func fixSide(p *check.Pass, l substitute.Lack, more []substitute.Lack) ([]diag.Edit, string) {
	kit, _ := substitute.Kit(p.Env, p.Written, p.Version.Name)
	w := l.Work
	var edits []diag.Edit
	to := ""
	for _, o := range more {
		if o.With != nil || lackKey(o) != lackKey(l) {
			continue
		}
		unit := "s"
		if o.Work.Dose != nil && o.Work.From != model.FromClock {
			unit = o.Work.Dose.Unit
		}
		for _, m := range o.Work.Moves {
			if m.Movement == nil || len(substitute.Missing(p.Env, kit, m.Movement)) == 0 {
				continue
			}
			from := m.Movement
			if was := asWritten(p, w); was != nil && len(was.Moves) == 1 && was.Moves[0].Movement != nil {
				from = was.Moves[0].Movement // what the session had says more of what is meant
			}
			t := substitute.Choose(p.Env, from, kit, unit)
			if t == nil || !p.Here(m.At) {
				return nil, ""
			}
			span := source.Span{Start: m.At.Start, End: max(m.At.End, weightsEnd(o.Work))}
			e := diag.Edit{At: p.File.Syntax.Src.At(span), New: t.Name}
			if strings.Contains(e.At.Text(), "=") {
				return nil, "" // pieces of the count stand between
			}
			if !slices.Contains(edits, e) {
				edits = append(edits, e)
			}
			to = t.Name
		}
	}
	return edits, to
}

// weightsEnd is where the weights behind a movement end, which belong to its implement; 0
// where it has none, or the line says more of how hard it is.
func weightsEnd(w *model.Work) int {
	end := 0
	for _, ld := range w.Loads {
		if ld.Amount == nil || ld.Amount.Unit != "kg" || !ld.At.Within(w.At) || len(w.Moves) > 1 {
			return 0
		}
		end = max(end, ld.At.End)
	}
	return end
}

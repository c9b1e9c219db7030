// Package codelens has the code lenses of a text: lines above sessions, parts and movements.
package codelens

import (
	"cmp"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// A Lens is a line above a declaration.
type Lens struct {
	At   source.Place // the name of what is declared, or a part's head
	Kind string       // session, part, movement
	Name string       // of the session or the movement
	Part string       // its kind and letter
}

// Lenses are the lenses of a file, in order. Their titles are computed on demand, by Title.
func Lenses(f *workspace.File) []Lens {
	var out []Lens
	p := f.Program()
	for _, s := range p.Sessions {
		out = append(out, Lens{At: s.At, Kind: "session", Name: s.Name})
		for _, g := range s.Parts {
			if !g.Unread {
				out = append(out, Lens{At: g.At, Kind: "part", Name: s.Name, Part: wording.PartName(g)})
			}
		}
	}
	for _, m := range f.Decls.Movements {
		out = append(out, Lens{At: m.At, Kind: "movement", Name: m.Name})
	}
	slices.SortStableFunc(out, func(a, b Lens) int { return cmp.Compare(a.At.Start, b.At.Start) })
	return out
}

// Title is the text of a lens in a file of a snapshot; empty where what it names is gone.
func (l Lens) Title(snap *workspace.Snapshot, f *workspace.File) string {
	if l.Kind == "movement" {
		m, _ := snap.Env.Book.Lookup(l.Name)
		if m == nil {
			return ""
		}
		text := hover.Usage(snap, m)
		if i := strings.Index(text, ":"); i > 0 { // which they are is a click away
			text = text[:i]
		}
		return "used " + text
	}
	for _, s := range f.Program().Sessions {
		if book.Key(s.Name) != book.Key(l.Name) {
			continue
		}
		t := estimate.Of(s, snap.Env)
		if l.Kind == "session" {
			return sessionTitle(s, t, snap.Env.House)
		}
		for i, p := range t.Parts {
			if wording.PartName(p.Group) == l.Part {
				return partTitle(t, i)
			}
		}
	}
	return ""
}

func sessionTitle(s *model.Session, t *estimate.Timeline, h *model.House) string {
	text := t.Hedge() + units.FormatClock(t.Length)
	stated := s.Length
	if stated == nil {
		stated = h.Length
	}
	if v, ok := stated.One(); ok {
		text += " of " + units.FormatClock(v)
	}
	var names []string
	for _, v := range s.Versions {
		names = append(names, v.Name)
	}
	if len(names) > 0 {
		text += "; " + wording.Count(len(names), "version") + ": " + wording.List(names)
	}
	return text
}

func partTitle(t *estimate.Timeline, i int) string {
	p := t.Parts[i]
	text := p.Hedge() + wording.Times(p.CappedWork)
	if !p.Proven() {
		return text + ", not proven"
	}
	if p.Settled && i+1 < len(t.Parts) {
		if at, ok := t.Parts[i+1].Group.Start.One(); ok && at > 0 {
			text += "; " + restLeft(p.RestBeforeNext)
		}
	}
	return text
}

// restLeft is how much rest a part leaves a fast, a typical and a slow member, or by how
// much it runs into the next.
func restLeft(left estimate.Times) string {
	if min(left.Fast, left.Typical, left.Slow) > -0.5 {
		return "rest left " + wording.Times(left)
	}
	var out []string
	for l := range 3 {
		if v := left.At(l); v > -0.5 {
			out = append(out, units.FormatClock(v)+" left")
		} else {
			out = append(out, units.FormatClock(-v)+" over")
		}
	}
	if out[0] == out[1] && out[1] == out[2] {
		out = out[:1]
	}
	return strings.Join(out, " / ")
}

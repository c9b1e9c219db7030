// Package codelens has the code lenses of a text: lines above sessions, parts and movements.
package codelens

import (
	"cmp"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/ide/hover"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/timeline"
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
		c := timeline.NewTimes(equipment.Timeline(s, snap.Env), snap.Env.House)
		if l.Kind == "session" {
			return sessionTitle(s, c)
		}
		for i, g := range s.Parts {
			if wording.PartName(g) == l.Part {
				return partTitle(s, c, i)
			}
		}
	}
	return ""
}

func sessionTitle(s *model.Session, c *timeline.Clock) string {
	text := c.Length.TakenText()
	if stated := c.Length.Stated; stated != nil {
		text += " of " + units.FormatClock(*stated)
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

func partTitle(s *model.Session, c *timeline.Clock, i int) string {
	p := c.Parts[i]
	text := p.WorkText()
	if !p.Proven {
		return text + ", not proven"
	}
	if p.Settled && p.Left != nil {
		if at, ok := s.Parts[i+1].Start.One(); ok && at > 0 {
			text += "; " + restLeft(*p.Left)
		}
	}
	return text
}

// restLeft is how much rest a part leaves a fast, a typical and a slow member, or by how
// much it runs into the next.
func restLeft(left timeline.Levels) string {
	if min(left.Fast, left.Typical, left.Slow) > -estimate.Tolerance {
		return "rest left " + left.Times()
	}
	var out []string
	for l := range 3 {
		if v := left.At(l); v > -estimate.Tolerance {
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

package hover

import (
	"cmp"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// A Hint is a few words that an editor shows behind others, as if they stood there.
type Hint struct {
	Off  int    // of the place that it stands at
	Of   int    // an offset in the words that it is about: what At says of them is more of it
	Text string // = 45 burpee
}

// HintKinds says which hints are asked for.
type HintKinds struct {
	Totals bool // what turns come to: = 45 burpee
	Times  bool // how long a part takes, and the rest that it leaves: ~8:20, rest 2:40
	Units  bool // a weight or a length in the house's own units: ≈ 24 kg
}

// Hints are the hints that stand in some bytes of a file. What cannot be proven has none.
func Hints(snap *workspace.Snapshot, f *workspace.File, in source.Span, kinds HintKinds) []Hint {
	h := &hinting{snap: snap, file: f, in: in, kinds: kinds, imperial: imperialHouse(snap.Env.House)}
	for _, s := range f.Program().Sessions {
		if s.Block.End < in.Start || s.Block.Start > in.End {
			continue
		}
		h.session(s, nil)
		for _, v := range s.Versions {
			h.session(v.Session, s)
		}
	}
	slices.SortStableFunc(h.out, func(a, b Hint) int { return cmp.Compare(a.Off, b.Off) })
	return joined(h.out)
}

// joined are hints of which those at one place are one: editors leave no gap between two.
func joined(hs []Hint) []Hint {
	var out []Hint
	for _, h := range hs {
		n := len(out) - 1
		switch {
		case n < 0 || out[n].Off != h.Off:
			out = append(out, h)
		case out[n].Text != h.Text: // two versions may say the same of a line
			out[n].Text += "; " + h.Text
		}
	}
	return out
}

type hinting struct {
	snap     *workspace.Snapshot
	file     *workspace.File
	in       source.Span
	kinds    HintKinds
	imperial bool // the house weighs in pounds
	out      []Hint
}

// imperialHouse says whether a house's kit is weighed in pounds.
func imperialHouse(h *model.House) bool {
	lb, kg := 0, 0
	for _, k := range h.Kit {
		for _, l := range k.Loads {
			switch {
			case l.Kind != syntax.Mass || l.Amount == nil:
			case equipment.Imperial(l.Amount.Written):
				lb++
			default:
				kg++
			}
		}
	}
	return lb > kg
}

// here says whether words are the file's own and stand where hints are asked for.
func (h *hinting) here(at source.Place) bool {
	return at.File == h.file.Src && at.End >= h.in.Start && at.End <= h.in.End
}

// good says whether the line of a place could be read as it stands.
func (h *hinting) good(at source.Place) bool {
	return !h.file.Syntax().Lines[at.File.LineAt(at.Start)].Bad
}

// session adds the hints of a session or, where it is a version, those on the lines that
// the version alone has.
func (h *hinting) session(s, written *model.Session) {
	old := map[int]bool{}
	if written != nil {
		for _, p := range written.Parts {
			old[p.At.Start] = true
		}
	}
	var t *estimate.Timeline
	for i, g := range s.Parts {
		if written != nil && old[g.At.Start] {
			h.swapped([]*model.Group{g})
			continue
		}
		if h.kinds.Times && h.here(g.At) && h.good(g.At) {
			if t == nil {
				t = estimate.Of(s, h.snap.Env)
			}
			h.time(t, i)
		}
		h.group(g, g)
	}
}

// swapped adds the hints of lines that a swap has put in: of their units only, as the
// turns are those of a line elsewhere.
func (h *hinting) swapped(gs []*model.Group) {
	works(gs, func(w *model.Work) {
		if w.At != w.Written {
			h.units(w)
		}
	})
}

// time adds how long a part takes a typical member, and what rest it leaves before a start
// that is pinned to the clock. A part that lasts a stated time says that itself.
func (h *hinting) time(t *estimate.Timeline, i int) {
	p := t.Parts[i]
	if !p.Proven() || !p.Settled || p.Outlasts || p.CappedWork.Typical <= 0 {
		return
	}
	g := p.Group
	var says []string
	if whole, known := totals.Whole(g, p.Tier); !known || units.FormatClock(whole) != units.FormatClock(p.CappedWork.Typical) {
		says = append(says, "~"+units.FormatClock(p.CappedWork.Typical))
	}
	if i+1 < len(t.Parts) {
		if at, ok := t.Parts[i+1].Group.Start.One(); ok && at > 0 {
			if left := p.RestBeforeNext.Typical; left >= 0 {
				says = append(says, "rest "+units.FormatClock(left))
			} else {
				says = append(says, "over by "+units.FormatClock(-left))
			}
		}
	}
	h.add(g.At, strings.Join(says, ", "))
}

func (h *hinting) add(at source.Place, text string) {
	if text != "" && h.here(at) {
		h.out = append(h.out, Hint{Off: at.End, Of: at.Start, Text: text})
	}
}

func (h *hinting) group(g, part *model.Group) {
	if h.kinds.Totals && h.here(g.At) && h.good(g.At) && h.turns(g) {
		h.add(g.At, h.sum(totals.OfGroup(g, len(h.snap.Env.House.Tiers)), g))
	}
	for _, s := range g.Steps {
		switch s := s.(type) {
		case *model.Group:
			h.group(s, part)
		case *model.Work:
			h.line(s, part)
		}
	}
}

// turns says whether a group comes round as often for everybody as its head says.
func (h *hinting) turns(g *model.Group) bool {
	return g.ComesRound() && g.Slots() == 0 && totals.Turns(g, 0).Exact()
}

// line adds what sets come to, and other units.
func (h *hinting) line(w *model.Work, part *model.Group) {
	if !h.here(w.At) || !h.good(w.At) {
		return
	}
	h.units(w)
	if h.kinds.Totals && w.Sets != nil && w.From == model.FromLine {
		t := totals.OfLine(part, w, len(h.snap.Env.House.Tiers))
		if len(t.Rows) == 1 && exact(t.Rows[0]) && !t.Unread {
			h.add(w.At, "= "+prose.Sum(t.Rows[0]))
		}
	}
}

// sum is what the turns of a group come to, as far as that is one number for everybody.
func (h *hinting) sum(t *totals.Totals, g *model.Group) string {
	if t.Unread || slices.ContainsFunc(t.Rows, func(r totals.Row) bool { return r.Unread }) {
		return ""
	}
	t.Rows = slices.DeleteFunc(t.Rows, func(r totals.Row) bool { return !exact(r) || r.Duty })
	const most = 4
	if len(t.Rows) == 0 || len(t.Rows) > most {
		return ""
	}
	return "= " + totalsOf(t, []*model.Group{g})
}

func exact(r totals.Row) bool {
	return !r.Unread && !slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return !s.Exact() || s.Lo == 0 })
}

// units adds a weight or a length in the system that the house weighs in, where it is
// written in the other.
func (h *hinting) units(w *model.Work) {
	if !h.kinds.Units {
		return
	}
	foreign := func(q *model.Quantity) {
		if q == nil || !h.here(q.At) || !h.good(q.At) || equipment.Imperial(q.Written) == h.imperial {
			return
		}
		if text := prose.Other(q); text != "" {
			h.add(q.At, "≈ "+text)
		}
	}
	for _, l := range w.Loads {
		if l.Kind == syntax.Mass || l.Kind == syntax.Height {
			foreign(l.Amount)
		}
	}
	for _, k := range w.With {
		for _, l := range k.Loads {
			foreign(l.Amount)
		}
	}
	if w.From == model.FromLine {
		foreign(w.Dose)
	}
}

// A Lens is a line above a declaration that says something of it.
type Lens struct {
	At   source.Place // the name of what is declared, or a part's head
	Kind string       // session, part, movement
	Name string       // of the session or the movement
	Part string       // its kind and letter
}

// Lenses are those of a file; what they say is worked out when it is asked for.
func Lenses(f *workspace.File) []Lens {
	var out []Lens
	p := f.Program()
	for _, s := range p.Sessions {
		out = append(out, Lens{At: s.At, Kind: "session", Name: s.Name})
		for _, g := range s.Parts {
			if !g.Unread {
				out = append(out, Lens{At: g.At, Kind: "part", Name: s.Name, Part: nameOf(g)})
			}
		}
	}
	for _, m := range f.Decls.Movements {
		out = append(out, Lens{At: m.At, Kind: "movement", Name: m.Name})
	}
	slices.SortStableFunc(out, func(a, b Lens) int { return cmp.Compare(a.At.Start, b.At.Start) })
	return out
}

// Says is what a lens says in a file of a snapshot; empty where there is nothing to say.
func (l Lens) Says(snap *workspace.Snapshot, f *workspace.File) string {
	if l.Kind == "movement" {
		s := &spot{snap: snap, file: f}
		m, _ := snap.Env.Book.Lookup(l.Name)
		if m == nil {
			return ""
		}
		text := s.used(m)
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
			return sessionSays(s, t, snap.Env.House)
		}
		for i, p := range t.Parts {
			if nameOf(p.Group) == l.Part {
				return partSays(t, i)
			}
		}
	}
	return ""
}

func sessionSays(s *model.Session, t *estimate.Timeline, h *model.House) string {
	text := units.FormatClock(t.Length)
	if !t.Settled {
		text = "at least " + text
	}
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
		text += "; " + count(len(names), "version") + ": " + list(names)
	}
	return text
}

func partSays(t *estimate.Timeline, i int) string {
	p := t.Parts[i]
	text := times(p.CappedWork)
	if !p.Proven() {
		return "at least " + text + ", not proven"
	}
	if p.Settled && i+1 < len(t.Parts) {
		if at, ok := t.Parts[i+1].Group.Start.One(); ok && at > 0 {
			text += "; " + leftSays(p.RestBeforeNext)
		}
	}
	return text
}

// leftSays is how much rest a part leaves a fast, a typical and a slow member, or by how
// much it runs into the next.
func leftSays(left estimate.Times) string {
	if min(left.Fast, left.Typical, left.Slow) > -0.5 {
		return "rest left " + times(left)
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

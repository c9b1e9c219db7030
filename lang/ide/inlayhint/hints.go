// Package inlayhint has the inlay hints of a text: words that an editor shows beside a line, such
// as what turns add up to, how long a part takes, and weights in the house's own units.
package inlayhint

import (
	"cmp"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/ide/wording"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
	"stint.example/stint/lang/workspace"
)

// A Hint is a few words that an editor shows in a line, behind the words that they are about.
type Hint struct {
	Off  int    // byte offset of the place that it stands at
	Of   int    // byte offset in the words that it is about, whose hover card is its tooltip
	Text string // = 45 burpee
}

// Kinds says which hints are asked for.
type Kinds struct {
	Totals bool // what turns add up to: = 45 burpee
	Times  bool // how long a part takes, and the rest that it leaves: ~8:20, rest 2:40
	Units  bool // a weight or a length in the house's own units: ≈ 24 kg
}

// Hints are the hints that stand in some bytes of a file. What cannot be proven has none.
func Hints(snap *workspace.Snapshot, f *workspace.File, in source.Span, kinds Kinds) []Hint {
	h := &collector{snap: snap, file: f, in: in, kinds: kinds, imperial: isImperial(snap.Env.House)}
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
	return mergeHints(h.out)
}

// mergeHints are hints of which those at one place are one: editors leave no gap between two.
func mergeHints(hs []Hint) []Hint {
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

type collector struct {
	snap     *workspace.Snapshot
	file     *workspace.File
	in       source.Span
	kinds    Kinds
	imperial bool // the house weighs in pounds
	out      []Hint
}

// isImperial says whether a house's kit is weighed in pounds.
func isImperial(h *model.House) bool {
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

// inRange says whether words are the file's own and stand where hints are asked for.
func (h *collector) inRange(at source.Place) bool {
	return at.File == h.file.Src && at.End >= h.in.Start && at.End <= h.in.End
}

// readable says whether the line of a place could be read as it stands.
func (h *collector) readable(at source.Place) bool {
	return !h.file.Syntax().Lines[at.File.LineAt(at.Start)].Bad
}

// session adds the hints of a session or, where it is a version, those on the lines that
// the version alone has.
func (h *collector) session(s, written *model.Session) {
	old := map[int]bool{}
	if written != nil {
		for _, p := range written.Parts {
			old[p.At.Start] = true
		}
	}
	var t *estimate.Timeline
	for i, g := range s.Parts {
		if written != nil && old[g.At.Start] {
			h.swappedUnits(g)
			continue
		}
		if h.kinds.Times && h.inRange(g.At) && h.readable(g.At) {
			if t == nil {
				t = equipment.Timeline(s, h.snap.Env)
			}
			h.partTime(t, i)
		}
		for w := range g.Lines(model.Everything) {
			h.units(w)
		}
		h.totals(g)
	}
}

// swappedUnits adds the hints of lines that a swap has put in: of their units only, as the
// turns are those of a line elsewhere.
func (h *collector) swappedUnits(g *model.Group) {
	for w := range g.Lines(model.Everything) {
		if w.At != w.Written {
			h.units(w)
		}
	}
}

// partTime adds how long a part takes a typical member, and what rest it leaves before a start
// that is pinned to the clock. A part that lasts a stated time says that itself.
func (h *collector) partTime(t *estimate.Timeline, i int) {
	p := t.Parts[i]
	if !p.Proven() || !p.Settled || p.Outlasts || p.Work.Typical <= 0 {
		return
	}
	g := p.Group
	var says []string
	if whole, known := totals.Whole(g, p.Tier); !known ||
		units.FormatClock(whole) != units.FormatClock(p.Work.Typical) {
		says = append(says, "~"+units.FormatClock(p.Work.Typical))
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

func (h *collector) add(at source.Place, text string) {
	if text != "" && h.inRange(at) {
		h.out = append(h.out, Hint{Off: at.End, Of: at.Start, Text: text})
	}
}

// totals adds what the turns of a part, and of the groups in it, add up to, and the sets of
// its lines.
func (h *collector) totals(part *model.Group) {
	if !h.kinds.Totals {
		return
	}
	tiers := len(h.snap.Env.House.Tiers)
	model.Walk(part, model.OnlySteps, func(s model.Step, _ []*model.Group) bool {
		if at := s.Where(); !h.inRange(at) || !h.readable(at) {
			return true
		}
		switch s := s.(type) {
		case *model.Group:
			if h.knownTurns(s) {
				h.add(s.At, h.totalsText(totals.OfGroup(s, tiers), s))
			}
		case *model.Work:
			if s.Sets == nil || s.From != model.FromLine {
				break
			}
			if t := totals.OfLine(part, s, tiers); len(t.Rows) == 1 && exact(t.Rows[0]) && !t.Unread {
				h.add(s.At, "= "+prose.Sum(t.Rows[0]))
			}
		}
		return true
	})
}

// knownTurns says whether a group comes round as often for everybody as its head says.
func (h *collector) knownTurns(g *model.Group) bool {
	return g.ComesRound() && g.Slots() == 0 && totals.Turns(g, 0).Exact()
}

// totalsText is what the turns of a group add up to, as far as that is one number for everybody.
func (h *collector) totalsText(t *totals.Totals, g *model.Group) string {
	if t.Unread || slices.ContainsFunc(t.Rows, func(r totals.Row) bool { return r.Unread }) {
		return ""
	}
	t.Rows = slices.DeleteFunc(t.Rows, func(r totals.Row) bool { return !exact(r) || r.Duty })
	const most = 4
	if len(t.Rows) == 0 || len(t.Rows) > most {
		return ""
	}
	return "= " + wording.Totals(t, []*model.Group{g})
}

func exact(r totals.Row) bool {
	return !r.Unread && !slices.ContainsFunc(r.Tiers, func(s totals.Sum) bool { return !s.Exact() || s.Lo == 0 })
}

// units adds a weight or a length in the system that the house weighs in, where it is
// written in the other.
func (h *collector) units(w *model.Work) {
	if !h.kinds.Units || !h.inRange(w.At) || !h.readable(w.At) {
		return
	}
	foreign := func(q *model.Quantity) {
		if q == nil || !h.inRange(q.At) || !h.readable(q.At) || equipment.Imperial(q.Written) == h.imperial {
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

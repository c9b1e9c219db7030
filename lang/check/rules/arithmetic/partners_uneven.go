package arithmetic

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var PartnersUneven = check.Rule{Name: "partners-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "a count or turns that are split and do not divide between the partners, are handed on besides or are only one; a split, turns or work meanwhile without partners who take turns",
	Session: func(p *check.Pass, s *model.Session) {
		s.Walk(model.Everything, func(step model.Step, around []*model.Group) bool {
			if g, ok := step.(*model.Group); ok && !g.Unread {
				alone(p, g, around)
				nobodyFree(p, g, around)
				if g.Share != "" {
					sharedTurns(p, g, around)
				}
			}
			w, ok := step.(*model.Work)
			if !ok || w.Share == "" {
				return true
			}
			team := model.TeamOf(around)
			if team == nil && slices.ContainsFunc(around, func(g *model.Group) bool { return g.Unread }) {
				return true // the head that cannot be read may well say
			}
			if team == nil {
				p.Report(diag.Diagnostic{At: w.ShareAt(),
					Message: fmt.Sprintf("%s is for partners, but nobody has one here", w.Share),
					Help:    "say on the part who works together: in pairs, in threes or in teams of 4"})
				return true
			}
			size, ok := team.Size.One()
			if ok && sharedBeyond(p, w, size) {
				return true
			}
			if !ok || size < 2 || w.Share != model.SplitEvenly {
				return true
			}
			sets := 1.0
			if n, ok := w.Sets.One(); ok {
				sets = n // each may take whole sets
			}
			eachDose(w, around, len(p.Env.House.Tiers), func(n float64, q *model.Quantity) bool {
				if divides(n, size, q) || math.Mod(sets, size) == 0 {
					return false
				}
				p.Report(diag.Diagnostic{At: w.At,
					Label: fmt.Sprintf("%s between %s", inUnit(n, q), units.FormatNumber(size)),
					Message: fmt.Sprintf("%s: %s does not divide evenly between %s: %s each", w.MoveNames(),
						inUnit(n, q), units.FormatNumber(size), eachShare(n/size, q)),
					Help: fmt.Sprintf("write %s, or split without evenly: then they share it as they like",
						shares(n, size, q)),
					Related: []diag.Related{{At: team.At, Message: "shared by " + units.FormatNumber(size)}}})
				return true
			})
			return true
		})
	}}

// alone reports a head that says that one works, where nobody says who the others are.
func alone(p *check.Pass, g *model.Group, around []*model.Group) {
	around = append(around[:len(around):len(around)], g)
	if !g.Solo || model.TeamOf(around) != nil || slices.ContainsFunc(around, func(g *model.Group) bool { return g.Unread }) {
		return
	}
	p.Report(diag.Diagnostic{At: g.At, Message: "one works while the others of a team rest, but nobody has a team here",
		Help: "say how many take turns: in pairs, one works; or in teams of 2-5, one works, where that differs"})
}

// nobodyFree reports work for those who are not working, where all work at once.
func nobodyFree(p *check.Pass, g *model.Group, around []*model.Group) {
	around = append(around[:len(around):len(around)], g)
	if slices.ContainsFunc(around, func(g *model.Group) bool { return g.Solo || g.Unread }) || takesTurns(g) {
		return
	}
	for _, e := range g.Events {
		if e.Kind == model.Meanwhile && !slices.ContainsFunc(e.Steps, model.IsTag) {
			p.Report(diag.Diagnostic{At: e.At, Message: "this is for those who are not working, and all work at once here",
				Help: "say on the head who takes turns: in pairs, one works; or write tag where one hands on to the next"})
		}
	}
}

// takesTurns says whether somebody waits in a group: one works in it, or hands on to the next.
func takesTurns(g *model.Group) bool {
	return g.Solo || slices.ContainsFunc(g.Steps, func(s model.Step) bool {
		in, ok := s.(*model.Group)
		return model.IsTag(s) || ok && takesTurns(in)
	})
}

// sharedBeyond reports a line of which the text says how much each does, where that does not come to all
// of it.
func sharedBeyond(p *check.Pass, w *model.Work, size float64) bool {
	q := w.ShareOfEach
	if q == nil || w.Dose == nil || w.Dose.Unit != q.Unit {
		return false
	}
	for tier := range max(q.Tiers(), w.Dose.Tiers()) {
		lo, hi, known := q.Value(0, 1, tier)
		least, most, counted := w.Dose.Value(0, 1, tier)
		sets, one := 1.0, true
		if w.Sets != nil {
			sets, one = w.Sets.One()
		}
		if !known || !counted || !one || w.Dose.Form == syntax.Series || w.Dose.Form == syntax.FromTo || w.Dose.IsBound() {
			continue
		}
		text := ""
		switch {
		case q.Bound != model.AtMost && size*lo > most*sets:
			text = "at least " + inUnit(size*lo, q)
		case !q.OrMore() && size*hi < least*sets:
			text = "at most " + inUnit(size*hi, q)
		default:
			continue
		}
		p.Report(diag.Diagnostic{At: q.At,
			Message: fmt.Sprintf("%s: so the %s do %s together, and the line says %s", w.MoveNames(), units.FormatNumber(size), text, inUnit(least*sets, w.Dose)),
			Help:    "mend one of the two numbers"})
		return true
	}
	return false
}

// sharedTurns looks at a head whose turns are shared between partners: 4 rounds, in pairs,
// split evenly.
func sharedTurns(p *check.Pass, g *model.Group, around []*model.Group) {
	team := model.TeamOf(append(around[:len(around):len(around)], g))
	if team == nil {
		p.Report(diag.Diagnostic{At: g.At, Message: fmt.Sprintf("%s is for partners, but nobody has one here", g.Share),
			Help: "say on the same head who works together: in pairs, in threes or in teams of 4"})
		return
	}
	if handedOn(p, g) || oneTurn(p, g) {
		return
	}
	size, ok := team.Size.One()
	turns := totals.GroupTurns(g)
	if !ok || size < 2 || g.Share != model.SplitEvenly || turns == 0 || math.Mod(float64(turns), size) == 0 {
		return
	}
	low := float64(turns) - math.Mod(float64(turns), size)
	p.Report(diag.Diagnostic{At: g.At,
		Label: fmt.Sprintf("%s between %s", phrase.Many(float64(turns), "turn"), units.FormatNumber(size)),
		Message: fmt.Sprintf("%s do not divide evenly between %s", phrase.Many(float64(turns), "turn"),
			units.FormatNumber(size)),
		Help: fmt.Sprintf("make it %s turns, or split without evenly: then they share them as they like",
			counts(low, low+size))})
}

// handedOn reports a tag inside turns that are shared: with a tag each of the team does all of the list,
// and shared turns are done by one of them.
func handedOn(p *check.Pass, g *model.Group) bool {
	tag := g.Tag()
	if tag == nil {
		return false
	}
	p.Report(diag.Diagnostic{At: tag.At,
		Message: fmt.Sprintf("with tag each does all of it, and with %s each turn is one athlete's", g.Share),
		Help: fmt.Sprintf("take tag out: the next takes over after each turn by itself; or take %s out, and each does all the turns",
			g.Share),
		Related: []diag.Related{{At: g.ShareAt(), Message: "shared here"}},
		Fixes: []diag.Fix{
			{Title: "take tag out, so that they share the turns", Edits: []diag.Edit{lineOut(tag.At)}},
			{Title: fmt.Sprintf("take %s out, so that each does all of it", g.Share), Edits: []diag.Edit{clauseOut(g.ShareAt())}}}})
	return true
}

// oneTurn reports turns that are shared where there is only one: the rounds stand deeper, or there are none.
func oneTurn(p *check.Pass, g *model.Group) bool {
	if !g.SharesInVain() {
		return false
	}
	d := diag.Diagnostic{At: g.ShareAt(), Message: fmt.Sprintf("%s shares the turns of its head, and this head has only one", g.Share),
		Help: "write it on the head that has the rounds, or behind each line whose count they share"}
	var lines []*model.Work
	var heads []*model.Group
	others := 0
	for st := range model.Flat(g.Steps) {
		switch st := st.(type) {
		case *model.Work:
			if st.Share == "" && st.Dose != nil {
				lines = append(lines, st)
			}
		case *model.Group:
			if st.ComesRound() && st.Share == "" {
				heads = append(heads, st)
			} else {
				others++
			}
		}
	}
	fix := diag.Fix{Edits: []diag.Edit{clauseOut(g.ShareAt())}}
	add := func(at source.Place) {
		fix.Edits = append(fix.Edits, diag.Edit{At: at.File.At(source.Span{Start: at.End, End: at.End}), New: ", " + string(g.Share)})
	}
	switch {
	case others > 0:
	case len(heads) == 1 && len(lines) == 0:
		add(heads[0].At)
		fix.Title = fmt.Sprintf("write %s on the head with the rounds", g.Share)
		d.Fixes = append(d.Fixes, fix)
	case len(heads) == 0 && len(lines) > 0:
		for _, w := range lines {
			add(w.At)
		}
		fix.Title = fmt.Sprintf("write %s behind each line", g.Share)
		d.Fixes = append(d.Fixes, fix)
	}
	p.Report(d)
	return true
}

// clauseOut takes a clause out, with the comma before it.
func clauseOut(at source.Place) diag.Edit {
	start := len(strings.TrimRight(at.File.Text[:at.Start], " ,"))
	return diag.Edit{At: at.File.At(source.Span{Start: start, End: at.End})}
}

// lineOut takes out the line of a place.
func lineOut(at source.Place) diag.Edit {
	line := at.File.Line(at.File.LineAt(at.Start))
	return diag.Edit{At: at.File.At(source.Span{Start: line.Start, End: min(line.End+1, len(at.File.Text))})}
}

// counts offers two numbers, and one where the first is none.
func counts(low, high float64) string {
	if low == 0 {
		return units.FormatNumber(high)
	}
	return units.FormatNumber(low) + " or " + units.FormatNumber(high)
}

// eachShare is what one partner would do, to two decimals.
func eachShare(v float64, q *model.Quantity) string {
	text := units.FormatNumber(math.Floor(v*100) / 100)
	if q.Unit == "rep" {
		return text
	}
	return text + " " + q.Unit
}

// divides says whether an amount divides between so many: into whole repetitions,
// metres, calories or seconds, or into what two decimals of the written unit say.
func divides(n, size float64, q *model.Quantity) bool {
	each := n / size
	if units.IsWhole(each) {
		return true
	}
	u, ok := units.Lookup(q.Written)
	if !ok || u.Dimension() != units.Length {
		return false
	}
	hundredths := u.FromBase(each) * 100
	return units.Same(hundredths, math.Round(hundredths))
}

// shares are the amounts on either side that divide.
func shares(n, size float64, q *model.Quantity) string {
	step := size
	if u, ok := units.Lookup(q.Written); ok && u.Dimension() == units.Length {
		step = size * u.ToBase(0.01)
	}
	return around2(math.Floor(n/step+1e-9), step, q)
}

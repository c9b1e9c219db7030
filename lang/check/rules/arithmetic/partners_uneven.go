package arithmetic

import (
	"fmt"
	"math"
	"slices"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var PartnersUneven = check.Rule{Name: "partners-uneven", Family: "arithmetic", Severity: diag.Error,
	Summary: "a count that is split evenly and does not divide between the partners, or a split without partners",
	Session: func(p *check.Pass, s *model.Session) {
		s.Walk(model.Everything, func(step model.Step, around []*model.Group) bool {
			if g, ok := step.(*model.Group); ok && g.Share != "" && !g.Unread {
				sharedTurns(p, g, around)
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
		Help: fmt.Sprintf("make it %s, or split without evenly: then they share them as they like",
			counts(low, low+size))})
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

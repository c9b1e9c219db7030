package check

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

// rampNeed is how many sets lead up to a maximum: 5 to 10 light repetitions, 3 to 5, and 2 to 3
// near the maximum, each heavier, before the first attempt.
const rampNeed = 3

// nearMaximum is from what share of a maximum those sets are asked for.
const nearMaximum = 90

const testSource = "the protocol of the National Strength and Conditioning Association for testing a maximum: 5 to 10 light, 3 to 5, and 2 to 3 near it, then the attempts"

var rampMissing = Rule{Name: "ramp-missing", Family: "warm-up", Severity: diag.Warning,
	Summary: "a maximum, or a load near one, with too few lighter sets that lead up to it",
	Settings: []Setting{
		{Name: "share", Unit: "%", Default: nearMaximum, Source: "common practice, no source: from where a lift is near a maximum"},
		{Name: "sets", Default: rampNeed, Source: testSource},
	},
	session: func(p *pass, s *model.Session) {
		if !p.judged(s) || len(warmUps(s)) == 0 { // without a warm-up, that is what is said
			return
		}
		need := int(p.setting("sets"))
		find := func(s *model.Session) []*book.Movement {
			var out []*book.Movement
			for _, l := range p.heavyLifts(s, p.setting("share")) {
				if l.need(need) > 0 {
					out = append(out, l.lift)
				}
			}
			return out
		}
		said := drawnAsWritten(p, find)
		for _, l := range p.heavyLifts(s, p.setting("share")) {
			if l.need(need) <= 0 || slices.Contains(said, l.lift) {
				continue
			}
			p.reportRamp(s, l, need)
		}
	}}

func (p *pass) reportRamp(s *model.Session, l heavyLift, need int) {
	have := "no lighter set leads up to it"
	if l.sets > 0 {
		have = fmt.Sprintf("%d lighter %s to it", l.sets, oneOrMore(l.sets, "set leads up", "sets lead up"))
	}
	lines := leadUp(l.lift.Name, l.need(need))
	d := diag.Diagnostic{At: l.line.work.At,
		Message: fmt.Sprintf("%s %s comes to about %s of a maximum, and %s", l.lift.Name, l.line.why, tenth(l.line.share)+"%", have),
		Label:   fmt.Sprintf("%d are asked for before a set so heavy", need),
		Help:    "write lighter sets before it, in the warm-up or in the part: " + and(lines...)}
	if e, ok := p.addRamp(s, l, lines); ok {
		d.Fixes = []diag.Fix{{Title: "add " + and(lines...), Edits: []diag.Edit{e}}}
	}
	p.report(d)
}

// addRamp is the edit that adds sets to the end of a warm-up that is gone through once, or else
// right before the line, where lines are done in order and at leisure.
func (p *pass) addRamp(s *model.Session, l heavyLift, lines []string) (diag.Edit, bool) {
	for _, g := range warmUps(s) {
		if !g.ComesRound() {
			if e, ok := p.addLines(g, lines); ok {
				return e, true
			}
		}
	}
	part := l.line.around[len(l.line.around)-1]
	leisure := !part.ComesRound() && part.Repeat.Kind != model.AnyOrder && part.Repeat.Kind != model.ChooseOne && part.Mode != model.ForTime
	if len(l.line.around) > 1 || !leisure || part.Steps[0] != model.Step(l.line.work) {
		return diag.Edit{}, false
	}
	return p.addFirst(part, lines)
}

func oneOrMore(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

// A heavyLift is the first line of a lift that comes near a maximum, and how many lighter sets
// of it, or of another lift of its pattern, lead up to it.
type heavyLift struct {
	lift *book.Movement
	line *doneLine
	sets int
}

// need is how many more sets are asked for.
func (l heavyLift) need(sets int) int { return sets - l.sets }

// heavyLifts are the lifts of a session that come to a share of a maximum or more.
func (p *pass) heavyLifts(s *model.Session, share float64) []heavyLift {
	var out []heavyLift
	type led struct {
		lift  *book.Movement
		share float64
		sets  int
	}
	var before []led
	today := map[*book.Movement]float64{}
	walk(s, func(step model.Step, around []*model.Group) {
		w, ok := step.(*model.Work)
		if !ok || len(around) == 0 || testedLift(w) == nil {
			return
		}
		defer noteToday(w, around, today)
		m := testedLift(w)
		top := p.topShare(w, around, today)
		if around[0].Kind == model.Part && top >= share && !slices.ContainsFunc(out, func(l heavyLift) bool { return l.lift == m }) {
			h := heavyLift{lift: m, line: &doneLine{work: w, around: around, share: top, why: saidLoad(w, around)}}
			h.sets = p.ownSets(h.line)
			for _, b := range before {
				if b.lift.Main() == m.Main() && b.share < top {
					h.sets += b.sets
				}
			}
			out = append(out, h)
		}
		before = append(before, led{m, top, max(1, turnsOf(w, around))})
	})
	return out
}

// ownSets is how many lighter sets a line has of its own: the lighter turns of its series. One
// that goes as heavy as it will is built up to; where nobody says in how many sets, one counts.
func (p *pass) ownSets(h *doneLine) int {
	if !goesHeavy(h.work, h.around) {
		return p.ownRamp(h)
	}
	if n := turnsOf(h.work, h.around); n > 1 {
		return n - 1
	}
	return 1
}

// saidLoad is what makes a line heavy, as a sentence says it.
func saidLoad(w *model.Work, around []*model.Group) string {
	switch {
	case w.RM > 0:
		return "built up to a heaviest " + tenth(w.RM)
	case goesHeavy(w, around):
		return "as heavy as it goes"
	}
	for _, ld := range w.Loads {
		return ld.At.Text()
	}
	return ""
}

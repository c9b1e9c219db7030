package timeline

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/units"
)

// Times writes three times, or one where all are the same: 5:17 / 6:57 / 10:06.
func (l Levels) Times() string { return l.write(units.FormatClock) }

// Numbers writes three numbers, or one where all are the same.
func (l Levels) Numbers() string { return l.write(units.FormatNumber) }

// Leaves says how much time is left, behind a "which": leaves 2:10 / 1:00 / 0:40. What is less than
// nothing is said as people would: is 0:21 too long.
func (l Levels) Leaves(before, too string) string {
	over := func(v float64) bool { return units.FormatClock(-v) != "0:00" && v < 0 }
	switch n := l.count(over); {
	case n == 0:
		return "leaves " + l.Times() + before
	case n == len(LevelNames):
		return "is " + Levels{-l.Fast, -l.Typical, -l.Slow}.Times() + " too " + too
	}
	var left, late []string
	first, _, _ := strings.Cut(too, " ")
	for i, name := range LevelNames {
		if v := l.At(i); over(v) {
			late = append(late, units.FormatClock(-v)+" too "+first+" ("+name+")")
		} else {
			left = append(left, units.FormatClock(v)+" ("+name+")")
		}
	}
	return "leaves " + strings.Join(left, " and ") + before + ", and is " + strings.Join(late, " and ")
}

func (l Levels) count(of func(float64) bool) int {
	n := 0
	for i := range LevelNames {
		if of(l.At(i)) {
			n++
		}
	}
	return n
}

func (l Levels) write(one func(float64) string) string {
	a, b, c := one(l.Fast), one(l.Typical), one(l.Slow)
	if a == b && b == c {
		return a
	}
	return a + " / " + b + " / " + c
}

// WorkText is how long the work takes: "at least" where something is missing, "about" where it is beyond
// the range of the model.
func (p *Part) WorkText() string {
	if !p.Proven && !p.Beyond && p.Near != nil {
		return p.of.Hedge() + p.Near.Times()
	}
	return p.of.Hedge() + p.Work.Times()
}

// EndText is when the part is done.
func (p *Part) EndText() string {
	hedge := p.of.HedgeEnd()
	if hedge == "at least " && p.soonest != nil {
		return hedge + p.soonest.Times()
	}
	return hedge + p.End.Times()
}

// StartText is when it starts.
func (p *Part) StartText() string {
	switch {
	case p.Early > 0:
		return "not before " + units.FormatClock(p.Start-p.Early)
	case p.Settled:
	case p.of.StartBeyond:
		return "about " + units.FormatClock(p.Start)
	default:
		return "not before " + units.FormatClock(p.Start)
	}
	return units.FormatClock(p.Start)
}

// LeftText is how much rest is left before the next part; empty behind the last.
func (p *Part) LeftText() string {
	switch {
	case p.Left == nil:
		return ""
	case !p.Proven || !p.Settled:
		return "not proven"
	case *p.Left == Levels{}:
		return "none"
	}
	return p.Left.Times()
}

// Remarks are what there is to know of a part beside its times, a sentence each without a full
// stop: what it needs, how far everybody gets, who misses what, what is not proven.
func (p *Part) Remarks() []string {
	out := p.facts()
	rest := slices.ContainsFunc(p.Limits, func(l Limit) bool { return l.Kind == "rest" })
	for _, l := range p.Limits {
		if l.Kind == "start" && l.Proven && rest && l.Share <= estimate.Quickest {
			continue // the line on rest before it tells more
		}
		out = append(out, l.Text)
	}
	for _, m := range p.Missing {
		if text := m.Text(); !slices.Contains(out, text) { // several lines may lack the same
			out = append(out, text)
		}
	}
	for _, n := range p.Notes {
		out = append(out, n.Text)
	}
	return out
}

// facts are those that nobody misses.
func (p *Part) facts() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if p.Proven && p.Near != nil && p.Near.Times() != p.Work.Times() {
		say("with no more than has to be done %s", p.Near.Times())
	}
	switch {
	case p.Needs != nil && len(p.of.Groups) > 0 && p.of.Groups[0].BuildUp.Typical > 0:
		say("building up takes at least %s of it", p.Needs.Times())
	case p.Needs != nil:
		say("the work itself takes %s of it", p.Needs.Times())
	}
	held := slices.ContainsFunc(p.Missing, func(m Missing) bool {
		return m.Held && !m.Beyond && !strings.HasPrefix(m.Words, "rest") // a rest without a length is rest all the same
	})
	switch {
	case p.Needs != nil || !p.rests():
	case held: // what the clock leaves is not all rest: some of it is work of which nobody knows how long it takes
		say("how much of it is rest is not known")
	default:
		say("rest in it %s", p.Rest.Times())
	}
	if s := p.Skill; s != nil {
		say("%s: %s; times and shares are of those who can do it", s.Movement, s.Text)
	}
	for _, t := range p.Tiers {
		if t.Tier != p.Tier {
			say("%s: %s; the times shown are those of %s", t.Tier, t.Work.Times(), p.Tier)
		}
	}
	if p.Heats != nil {
		say("%s", p.Heats.text(p.Start, p.of.Team))
	}
	if longest := p.lastStart() + max(p.Cut.Fast, p.Cut.Typical, p.Cut.Slow); p.Room > longest+0.5 {
		say("the room is taken for %s", units.FormatClock(p.Room))
	}
	for _, r := range p.Rounds {
		say("%s%s", p.within(r.Of), r.Text())
	}
	if p.Queue != nil {
		out = append(out, p.Queue.text(p.of.Queue.Waits[0])...)
	}
	for _, u := range p.Uncounted {
		say("%show many %ss are done is not known", p.within(u.Of), u.Unit)
	}
	if p.Choices && len(p.Rounds) > 0 {
		say("that is counted as of who chooses what takes longest")
	}
	for _, c := range p.Counts {
		n := c.Numbers()
		if c.Unit != "rep" {
			n += " " + c.Unit
		}
		or := ""
		if c.Or {
			or = "or "
		}
		say("%sabout %s %s%s", or, n, c.Movement, c.each())
	}
	for _, t := range p.Turns {
		turn := ""
		if t.Number[1] > 1 {
			turn = fmt.Sprintf(" (turn %d)", t.Number[1])
		}
		say("%s%s takes %s%s, which %s", p.within(t.Of), t.subject(), t.Took.Times(), turn, t.Least.Leaves("", "long"))
	}
	return out
}

// subject is what takes longest, as the subject of a sentence.
func (t Turns) subject() string {
	switch {
	case t.List:
		return "the list"
	case t.Slot != "":
		return "the longest turn, " + t.Slot + ","
	}
	return "the longest turn"
}

// each is how much of it is done in a window, where there are several.
func (c Counted) each() string {
	if c.Windows == 0 {
		return ""
	}
	n := float64(c.Windows)
	one := Levels{math.Round(c.Fast / n), math.Round(c.Typical / n), math.Round(c.Slow / n)}
	return fmt.Sprintf(" in %d windows, about %s in each", c.Windows, one.Numbers())
}

// rests says whether there is rest in the work that is worth a word: a few seconds that a
// window leaves behind the last repetition are not.
func (p *Part) rests() bool {
	const worth = 10
	if g := p.of.Group; g.Mode == model.AMRAP && !inside(g.Steps) {
		return false
	}
	return max(p.Rest.Fast, p.Rest.Typical, p.Rest.Slow) >= worth
}

// inside says whether rests are written among some steps, or left by a clock.
func inside(steps []model.Step) bool {
	return slices.ContainsFunc(steps, func(s model.Step) bool {
		switch s := s.(type) {
		case *model.Rest:
			return s.Bound == "" && s.Place != model.RestAfterPart
		case *model.Work:
			return s.Rest != nil || s.Every != nil
		case *model.Group:
			return s.Repeat.Clocked() || inside(s.Steps)
		}
		return false
	})
}

// within names what a fact is of, where that is not the part itself.
func (p *Part) within(name string) string {
	if name == p.Name {
		return ""
	}
	return name + ": "
}

// Text is how far everybody gets.
func (r Rounds) Text() string {
	a, b, c := r.done(r.Fast), r.done(r.Typical), r.done(r.Slow)
	if a == b && b == c {
		return a
	}
	return a + " fast; " + b + " typical; " + c + " slow"
}

func (r Rounds) done(d Done) string {
	noun := " " + r.Unit
	if d.Rounds != 1 {
		noun += "s"
	}
	if d.Open {
		return "open, as no " + r.Unit + " is ever missed,"
	}
	parts := []string{fmt.Sprint(d.Rounds) + noun}
	for _, n := range d.Then {
		unit := ""
		if n.Unit != "rep" {
			unit = n.Unit + " "
		}
		parts = append(parts, units.FormatNumber(n.N)+" "+unit+n.Movement)
	}
	text := strings.Join(parts, ", ")
	if n := len(d.Windows); n > 1 {
		if len(d.Then) > 0 {
			text += " over"
		}
		text += fmt.Sprintf(" (%s in the first window, %s in the last)", d.Windows[0].short(), d.Windows[n-1].short())
	}
	return text
}

// short is rounds and what is done of the next: 3 + 10.
func (d Done) short() string {
	text := fmt.Sprint(d.Rounds)
	for _, n := range d.Then {
		text += " + " + units.FormatNumber(n.N)
		if n.Unit != "rep" {
			text += " " + n.Unit
		}
	}
	return text
}

// text is when those who wait for kit are done: of each group in turn, and at most.
func (q *Queue) text(w estimate.Wait) []string {
	var out []string
	if n := len(q.Groups); n > 0 {
		var each []string
		for i, g := range q.Groups {
			size := min(w.Pieces, w.People-i*w.Pieces)
			each = append(each, fmt.Sprintf("the %s %d %s", ordinal(i, n), size, g.Times()))
		}
		out = append(out, fmt.Sprintf("as %d people wait for %d of %s, about: %s", w.People, w.Pieces, w.Kit, strings.Join(each, "; ")))
	}
	return append(out, "however they queue, nobody takes longer than "+q.Most.Times())
}

// ordinal is which of n groups one is, from 0.
func ordinal(i, n int) string {
	switch {
	case i == n-1:
		return "last"
	case i == 0:
		return "first"
	}
	return "next"
}

// lastStart is when the last heat starts, in s since the part began.
func (p *Part) lastStart() float64 {
	if p.Heats == nil {
		return 0
	}
	return p.Heats.Starts[len(p.Heats.Starts)-1]
}

// text says when the heats of a part start, which does so at a time, and whose the part's times are.
func (h *Heats) text(start float64, team int) string {
	var at []string
	for _, s := range h.Starts {
		at = append(at, units.FormatClock(start+s))
	}
	n := len(at)
	who := map[int]string{1: "people", 2: "pairs"}[team]
	if who == "" {
		who = fmt.Sprintf("teams of %d", team)
	}
	return fmt.Sprintf("%d heats, at %s and %s; done at and rest left are those of the last, of %d %s",
		n, strings.Join(at[:n-1], ", "), at[n-1], h.Sizes[n-1], who)
}

// Text is what is missing, and what would supply it.
func (m Missing) Text() string {
	text := "not proven"
	switch {
	case m.Held && m.Beyond:
		text = "its counts are an estimate beyond the range of the model"
	case m.Beyond:
		text = "an estimate beyond the range of the model"
	case m.Held:
		text = "not proven inside its window"
	}
	if m.Words != "" {
		text += ", because of " + quote(m.Words)
	}
	text += ": " + m.Why
	if m.Add != "" {
		text += "; to mend it, " + m.Add
	}
	return text
}

// quote is a text of the file between marks, on one line and not too long.
func quote(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	const most = 60
	if r := []rune(text); len(r) > most {
		text = string(r[:most-1]) + "…"
	}
	return "\"" + text + "\""
}

// TakenText is how long the session takes.
func (l Length) TakenText() string {
	text := units.FormatClock(l.Taken)
	switch {
	case l.Settled:
		return text
	case l.Beyond:
		return "about " + text
	}
	return "at least " + text
}

// Text is how long the session takes, against its stated length.
func (l Length) Text() string {
	text := l.TakenText()
	if l.Stated == nil {
		return text
	}
	text += " of the " + units.FormatClock(*l.Stated) + " stated"
	switch spare := math.Round(*l.Stated) - math.Round(l.Taken); {
	case spare < 0:
		return text + ", " + units.FormatClock(-spare) + " too long"
	case !l.Settled:
		return text + ", not proven"
	case spare == 0:
		return text + ", to the second"
	default:
		return text + ", " + units.FormatClock(spare) + " to spare"
	}
}

// Sum is how a time is made up, so that it can be checked by hand: moving 335.6 + drift 9.4 + 9 changes
// 72.0 + breaks 0 = 417.0.
func (s Spent) Sum() string {
	changes := "changes"
	switch {
	case s.ChangeCount == 1:
		changes = "1 change"
	case s.ChangeCount > 1:
		changes = fmt.Sprint(s.ChangeCount) + " changes"
	}
	parts := []string{"moving " + tenth(s.Moving), "drift " + tenth(s.Drift),
		changes + " " + tenth(s.Changes), "breaks " + tenth(s.Breaks)}
	for _, more := range []struct {
		name string
		v    float64
	}{{"set-ups", s.SetUps}, {"handovers", s.Handovers}, {"fixed", s.Fixed}, {"rest", s.Rest}} {
		if more.v != 0 {
			parts = append(parts, more.name+" "+tenth(more.v))
		}
	}
	text := strings.Join(parts, " + ")
	if s.Over != 0 {
		text += " - over the interval " + tenth(s.Over)
	}
	return text + " = " + tenth(s.Total)
}

func tenth(v float64) string {
	if v = math.Round(v*10) / 10; v == 0 {
		return "0"
	}
	return fmt.Sprintf("%.1f", v)
}

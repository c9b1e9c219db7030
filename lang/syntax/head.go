package syntax

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

func (r *reader) head(form string) Stmt {
	left, right, colon := split(r.toks, Colon)
	l := r.piece(left, r.ctx)
	if len(left) == 0 {
		return r.fail(0, form)
	}
	h := &Head{node: r.node()}
	h.Sets = l.withoutSets()
	l.spellTurns()
	g, at := headGrammar.parse(l.toks)
	if g == nil {
		return l.badHead(at, form)
	}
	if g.Part != nil {
		l.part(h, g.Part)
	}
	if g.Repeat != nil {
		h.Repeat = l.repeat(g.Repeat)
	}
	if g.Mode != nil {
		h.Mode = l.mode(g.Mode)
	}
	h.Clauses = l.clauses(g.Clauses)
	h.Unread = r.p.timeless
	l.headClauses(h.Clauses)
	if h.Repeat != nil || h.Mode != nil {
		l.firstComma(h.Clauses)
	}
	l.modeRules(h)
	if u := l.until(g.Until); u != nil {
		l.headEnd(h, u)
	}
	if colon && len(right) > 0 {
		h.Inline = r.inline(right)
		r.p.opens = under(h.Inline)
	}
	return h
}

// withoutSets takes "sets" out of the tokens of a head, and puts "ladder" in its place where numbers
// follow. It returns where the word stands; nowhere where the head has none.
func (r *reader) withoutSets() source.Span {
	i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == Word && t.Text == "sets" })
	section := r.word(0) == "part" || r.word(0) == "warm-up" || r.word(0) == "cool-down"
	if i < 0 || i > 0 && (!section || r.kind(i-1) == Comma || r.word(i-1) == "any") || r.word(i+1) == "of" {
		return source.Span{}
	}
	at := r.toks[i].Span
	r.toks = slices.Clone(r.toks)
	if r.number(i + 1) {
		r.toks[i].Text = string(Ladder)
	} else {
		r.toks = slices.Delete(r.toks, i, i+1)
	}
	return at
}

// startsSets reports whether the tokens are a head that starts with "sets".
func (r *reader) startsSets() bool {
	return r.word(0) == "sets" &&
		(len(r.toks) == 1 || r.number(1) || r.kind(1) == Comma || r.kind(1) == Colon || r.word(1) == "for")
}

// setsForm is what stands in the place of a head that starts with "sets".
const setsForm = "5 x 3 push press, rest 2:00"

// spellTurns reads laps over slots as rounds.
func (r *reader) spellTurns() {
	for i, t := range r.toks {
		if (t.Text == "laps" || t.Text == "lap") && r.kind(i-1) == Number && r.kind(i-2) == Times {
			r.toks[i].Text = "rounds"
		}
	}
}

// badHead says why the tokens are no head, from token i on.
func (r *reader) badHead(i int, form string) Stmt {
	switch {
	case len(r.p.diags) > 0:
	case r.eachRounds() > 0:
		at := r.eachRounds()
		r.report(lineDiag{rule: unreadable, span: r.toks[at].Span,
			message: "a count of rounds is that of each athlete, and a head does not say so",
			help:    "take each out; athletes who take turns are written " + r.text(0, at) + ", in pairs, one works"})
		return r.bad()
	case r.word(i-1) == "in" && r.number(i) && slices.Contains([]string{"teams", "groups", "team", "heats"}, r.word(i+1)):
		r.report(lineDiag{rule: unreadable, span: r.toks[i].Join(r.toks[i+1].Span),
			message: "how many are in each is said, and not how many " + r.toks[i+1].Raw + " there are",
			help:    "write how many of the class are in one of them: in teams of 4; where they differ, in teams of 3-4"})
		return r.bad()
	case i == 1 && r.word(0) == "part" && r.number(1):
		r.report(lineDiag{rule: unreadable, span: r.toks[1].Span,
			message: fmt.Sprintf("a part is called by one letter, not %q", r.toks[1].Raw),
			help:    "write part A, part B and so on"})
		return r.bad()
	case r.word(i-1) == "for" && r.inAll(i):
		return r.bad()
	case r.word(i-1) == "for":
		form = "for time, for load or for completion"
	case r.kind(i) == Word && (i == 2 && r.word(0) == "part" || i == 1 && r.word(0) == form):
		form += "; what it is for may follow as a note: part A > Strength."
	case r.extraComma(i):
		return r.bad()
	case r.number(i) && r.kind(i-1) == Comma && !r.missingColon(i):
		r.unknownClause(r.toks[i], "")
		return r.bad()
	case len(r.p.diags) > 0:
		return r.bad()
	}
	for from := i; from > 0; from-- { // "part A 12 burpee" is a head until behind its 12
		if r.number(from) || r.word(from) == "max" {
			if g, _ := headGrammar.parse(r.toks[:from]); g != nil && r.missingColon(from) {
				return r.bad()
			}
		}
	}
	if c, _ := r.wholeClause(i); c != nil && c.onHead.allowed() && r.kind(i-1) != Comma {
		r.reportComma(i, 1)
		return r.bad()
	}
	return r.fail(i, form)
}

// inAll reports "every 2:00 for 10:00", where the time behind for is that of all starts,
// and reports whether it is that.
func (r *reader) inAll(i int) bool {
	clock, all, next := r.timeAt(i)
	every, one, behind := r.timeAt(1)
	if r.word(0) != "every" || next == i || next != len(r.toks) || behind != i-1 || one <= 0 || math.Mod(all, one) != 0 {
		return false
	}
	mend := "every " + every + " x " + units.FormatNumber(all/one)
	r.report(lineDiag{rule: unreadable, span: r.toks[i-1].Join(r.toks[next-1].Span),
		message: "how many starts there are is a number, not the " + clock + " that they take",
		help:    "write " + mend, fix: r.whole(mend)})
	return true
}

// eachRounds is the index of each in "10 rounds each", and 0 where there is none.
func (r *reader) eachRounds() int {
	i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == Word && (t.Text == "round" || t.Text == "rounds") })
	if !r.number(i-1) || r.word(i+1) != "each" && r.word(i+1) != "ea" || r.kind(i+2) == Plus || r.kind(i+2) == Dash {
		return 0
	}
	return i + 1
}

func (r *reader) part(h *Head, g *gPart) {
	if g.Other != nil {
		h.Part = r.tok(*g.Other).Text
		return
	}
	h.Part = "part"
	h.Letter = r.letter(*g.Letter)
	if g.At != nil {
		h.At = r.start(g.At)
	}
}

// start reads when a part starts: a clock value, or a number of minutes, which is the same.
func (r *reader) start(g *gQuantity) *Value {
	q := r.quantity(g)
	v := q.Steps[0]
	r.rejectMore(v.Value)
	factor := map[string]float64{"s": 1, "min": 60, "h": 3600}[q.Unit]
	known := q.Form == One && q.Bound == "" && (q.Unit == "" || factor > 0)
	for i := range v.Tiers {
		n := &v.Tiers[i]
		if s := n.Value * factor; !n.Clock && factor > 0 && s == math.Trunc(s) {
			n.Value, n.Clock = s, true
		}
		known = known && n.Clock
	}
	if !known {
		d := lineDiag{rule: unitWrong, span: q.Span, message: "a part starts at a clock value", help: "write it like part A at 11:00"}
		offerClock(&d, q)
		r.report(d)
	}
	return &v.Value
}

// letter reads what a part is called by.
func (r *reader) letter(t tok) Name {
	n := r.wordName(t)
	n.Text = strings.ToUpper(n.Text)
	if len([]rune(n.Text)) != 1 {
		r.report(lineDiag{rule: unreadable, span: n.Span,
			message: fmt.Sprintf("a part is called by one letter, not %q", n.Text),
			help:    "write part A; what it is for may follow as a note: part A > Strength."})
	}
	return n
}

func (r *reader) repeat(g *gRepeat) *Repeat {
	p := &Repeat{Span: r.span(g.tokenRange)}
	switch {
	case g.Rounds != nil:
		p.Kind, p.Count = Rounds, r.amount(g.Rounds)
		r.rejectFromNothing(p.Count)
	case g.Ladder != nil:
		p.Kind = Ladder
		r.series(p, g.Ladder)
	case g.Emom != nil:
		p.Kind, p.Every = Emom, r.duration(g.Emom, "the time of an emom")
		if p.Every.Unit == "" && !p.Every.Clocked() {
			r.p.diags[len(r.p.diags)-1].others = nil // it is of whole minutes
		}
	case g.Every != nil:
		p.Kind, p.Every = Every, r.duration(g.Every, "an interval")
	case g.On != nil:
		p.Kind, p.On, p.Off = OnOff, r.duration(g.On, "the work of an interval"), r.duration(g.Off, "the rest of an interval")
	case g.Order != nil:
		p.Kind = AnyOrder
	case g.Choose != nil:
		p.Kind = ChooseOne
	}
	p.Times, p.Laps, p.Until = r.amount(g.Times), g.Laps != nil, r.until(g.Until)
	r.rejectFromNothing(p.Times)
	r.repeatRules(p)
	return p
}

// headEnd puts what stands behind until at the end of a head where it belongs.
func (r *reader) headEnd(h *Head, e *End) {
	switch {
	case h.Repeat == nil && h.Mode != nil && h.Mode.Kind == "amrap":
		h.Until = e
	case h.Repeat == nil:
		r.report(lineDiag{rule: misplaced, span: e.Span, message: "nothing comes round here that could end so",
			help: "put it behind the line of work that it ends, or behind rounds, every, on or an amrap"})
	case h.Repeat.Until != nil:
		r.report(lineDiag{rule: unreadable, span: e.Span, message: "this head says twice when it ends", help: "leave one of the two out"})
	default:
		h.Repeat.Until = e
		if h.Repeat.Kind == AnyOrder || h.Repeat.Kind == ChooseOne {
			r.repeatRules(h.Repeat)
		}
	}
}

// repeatRules reports what is missing in a repeat, or does not belong to it.
func (r *reader) repeatRules(p *Repeat) {
	var d lineDiag
	switch {
	case (p.Kind == AnyOrder || p.Kind == ChooseOne) && p.Until != nil:
		r.report(lineDiag{rule: misplaced, span: p.Until.Span, message: fmt.Sprintf("%s comes round once", p.Kind),
			help: "put until behind the line of work that it ends"})
		return
	case p.Times == nil && (r.named || r.keeps): // a swap names the clock alone, or changes it
		return
	case p.Kind == Every && p.Times == nil && p.Until == nil && !r.endsBehind():
		d.message = "it is not said how often this starts"
		d.help = "write it like every 2:30 x 5, or every 1:00 until missed"
	case p.Kind == OnOff && p.Times == nil && p.Until == nil && !r.endsBehind():
		d.message, d.help = "it is not said how many intervals there are", "write it like on 0:40 off 0:20 x 6"
	case p.Times != nil && p.Kind != Every && p.Kind != OnOff:
		d.message = fmt.Sprintf("%s takes no x: its own number says how often", p.Kind)
		d.help = "leave out the x and what follows it"
	default:
		return
	}
	d.rule, d.span = unreadable, p.Span
	r.report(d)
}

// endsBehind reports whether until stands behind the mode and the clauses of a head.
func (r *reader) endsBehind() bool {
	return slices.ContainsFunc(r.toks, func(t Tok) bool { return t.Kind == Until })
}

func (r *reader) mode(g *gMode) *Mode {
	m := &Mode{Span: r.span(g.tokenRange)}
	if g.For != nil {
		m.Kind = "for " + r.tok(*g.For).Text
		if m.Kind == "for practice" {
			m.Kind = "for completion"
		}
	} else {
		m.Kind, m.Time = "amrap", r.duration(g.Time, "the time of an amrap")
	}
	return m
}

// modeRules reads "amrap, lasts 14:00" as an amrap of that time, and reports an amrap on a head that
// says otherwise how often or how long.
func (r *reader) modeRules(h *Head) {
	if h.Mode == nil || h.Mode.Kind != "amrap" {
		return
	}
	var d lineDiag
	switch {
	case h.Repeat == nil:
		i := slices.IndexFunc(h.Clauses, func(c Clause) bool { return c.Kind == Lasts })
		if i >= 0 && h.Mode.Time == nil {
			h.Mode.Time = h.Clauses[i].Amount
			h.Clauses = slices.Delete(h.Clauses, i, i+1)
		}
		return
	case h.Repeat.Kind == Ladder:
		return
	case h.Repeat.Kind == OnOff && h.Mode.Time != nil:
		d.message, d.help = "the windows say how long, and this amrap says it again", "leave out its time: amrap alone goes on in every window until that closes"
		d.fix = &lineFix{title: "write amrap", span: h.Mode.Span, text: "amrap"}
	case h.Repeat.Kind == OnOff:
		return
	default:
		d.message, d.help = fmt.Sprintf("%s says how often, and an amrap goes on as often as there is time for", h.Repeat.Kind), "write one of the two"
	}
	d.rule, d.span = misplaced, h.Mode.Span
	r.report(d)
}

// firstComma reports a head whose first clause lacks its comma. Straight behind the
// name of a section it needs none.
func (r *reader) firstComma(cs []Clause) {
	if len(cs) == 0 {
		return
	}
	i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Start == cs[0].Start })
	if i > 0 && r.toks[i-1].Kind != Comma {
		r.reportComma(i, 1)
	}
}

// headClauses reports clauses that cannot be of a head.
func (r *reader) headClauses(cs []Clause) {
	for _, c := range cs {
		t := c.Kind.clauseType()
		if t.onHead.allowed() || c.Kind == RestOf || c.Kind == EffortOf { // where that belongs is said by who knows the block
			continue
		}
		r.report(lineDiag{rule: misplaced, span: c.Span,
			message: fmt.Sprintf("%q says how a line of work is done, not a head", c.Kind),
			help:    cmp.Or(t.notOnHead, "put it behind the lines that it is for")})
	}
}

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

// split cuts the tokens at the first of a kind. Found is false where there is none,
// and then all is left of it.
func split(toks []Tok, k Kind) (left, right []Tok, found bool) {
	i := slices.IndexFunc(toks, func(t Tok) bool { return t.Kind == k })
	if i < 0 {
		return toks, nil, false
	}
	return toks[:i], toks[i+1:], true
}

// inline reads what stands behind the colon of a head or lead.
func (r *reader) inline(toks []Tok) Stmt {
	in := r.piece(toks, InGroup)
	switch w := in.word(0); {
	case w == "rest":
		return in.rest("rest 1:30")
	case in.startsSets():
		return in.head(setsForm)
	case keywords[InGroup][w].shape == aHead:
		return in.head(keywords[InGroup][w].form)
	case keywords[InGroup][w].shape != noShape:
		in.report(lineDiag{rule: misplaced, span: toks[0].Span,
			message: fmt.Sprintf("%q may not stand behind a colon", toks[0].Raw),
			help:    "behind the colon stands one line of work, a rest or a head; put the rest into a block under it"})
		return in.bad()
	}
	return in.work()
}

// under is the kind of block that may stand under a line with something behind its
// colon: the work of a head that holds none yet, as in "slot 2: amrap 2:00".
func under(inline Stmt) Context {
	if h, ok := inline.(*Head); ok && (h.Inline == nil || under(h.Inline) == InGroup) {
		return InGroup
	}
	return InNothing
}

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
	case i == 1 && r.word(0) == "part" && r.number(1):
		r.report(lineDiag{rule: unreadable, span: r.toks[1].Span,
			message: fmt.Sprintf("a part is called by one letter, not %q", r.toks[1].Raw),
			help:    "write part A, part B and so on"})
		return r.bad()
	case r.word(i-1) == "for" && r.inAll(i):
		return r.bad()
	case r.word(i-1) == "for":
		form = "for time, for load, for completion or for practice"
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
		v := r.value(*g.At)
		h.At = &v
		r.rejectMore(v)
		for _, n := range v.Tiers {
			if !n.Clock {
				r.report(lineDiag{rule: unitWrong, span: v.Span, message: "a part starts at a clock value",
					help: "write it like part A at 11:00"})
				break
			}
		}
	}
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
	r.repeatRules(p)
	return p
}

// repeatRules reports what is missing in a repeat, or does not belong to it.
func (r *reader) repeatRules(p *Repeat) {
	var d lineDiag
	switch {
	case p.Kind == Every && p.Times == nil && p.Until == nil:
		d.message = "it is not said how often this starts"
		d.help = "write it like every 2:30 x 5, or every 1:00 until missed"
	case p.Kind == OnOff && p.Times == nil && p.Until == nil:
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

func (r *reader) mode(g *gMode) *Mode {
	m := &Mode{Span: r.span(g.tokenRange)}
	if g.For != nil {
		m.Kind = "for " + r.tok(*g.For).Text
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
		if t.onHead.allowed() || c.Kind == RestOf { // where that belongs is said by who knows the block
			continue
		}
		r.report(lineDiag{rule: misplaced, span: c.Span,
			message: fmt.Sprintf("%q says how a line of work is done, not a head", c.Kind),
			help:    cmp.Or(t.notOnHead, "put it behind the lines that it is for")})
	}
}

// maxLabel is how many words a label has at most: it is a name, not a sentence.
const maxLabel = 3

// label reads a name that the author gives to what follows: "A1: 8 push press", or
// "raise:" over a block. Nothing else is meant by it. A word that is nearly one of the
// notation's is taken for that word, misspelt.
func (r *reader) label() Stmt {
	left, right, colon := split(r.toks, Colon)
	if !colon || len(left) == 0 || words(left) > maxLabel || left[0].Kind != Word || keywords[r.ctx][left[0].Text].shape != noShape {
		return nil
	}
	for _, t := range left {
		if t.Kind != Word && t.Kind != Number && t.Kind != Dash {
			return nil
		}
	}
	if r.nearly(left) != "" {
		return nil
	}
	d := &Lead{node: r.node(), Kind: "label", Label: r.rawName(left).Text}
	r.p.opens = InGroup
	if len(right) > 0 {
		d.Inline = r.inline(right)
		r.p.opens = under(d.Inline)
	}
	return d
}

// words counts tokens, those that stand close together as one: A1.
func words(toks []Tok) int {
	n := 0
	for i, t := range toks {
		if i == 0 || t.Start > toks[i-1].End {
			n++
		}
	}
	return n
}

// nearly is the word with which the tokens read as a head, a lead or a rest, where their
// first word is that word misspelt.
func (r *reader) nearly(toks []Tok) string {
	limit := 2
	if len(toks[0].Text) < 6 {
		limit = 1
	}
	for _, w := range Nearest(toks[0].Text, KeywordsIn(InGroup), limit) {
		mended := slices.Clone(toks)
		mended[0].Text = w
		head, _ := headGrammar.parse(mended)
		lead, _ := leadGrammar.parse(mended)
		rest, _ := restGrammar.parse(mended)
		if head != nil || lead != nil || rest != nil {
			return w
		}
	}
	return ""
}

func (r *reader) lead(form string) Stmt {
	left, right, colon := split(r.toks, Colon)
	l := r.piece(left, r.ctx)
	g, at := leadGrammar.parse(left)
	if g == nil {
		if !colon && at > 0 && at < len(left) {
			if g, _ := leadGrammar.parse(left[:at]); g != nil && l.missingColon(at) {
				return r.bad()
			}
		}
		if l.word(0) == "at" && l.word(1) == "each" {
			form = "at each 2 min: 100 m run, at each 500 m ..., or at each break, drop, miss or catch"
		}
		return l.fail(at, form)
	}
	d := &Lead{node: r.node()}
	switch {
	case g.Slot != nil:
		l.pairs = true // of two numbers that fall it is said here what they should be
		d.Kind, d.Amount = l.tok(*g.Slot).Text, l.quantity(g.Number)
		l.rejectBound(&d.Amount.Amount, "a "+d.Kind)
		ranged := d.Kind == "round" && d.Amount.Form == Range
		also := ""
		if d.Kind == "round" {
			also = ", or a range of them"
		}
		if d.Amount.Unit != "" || d.Amount.Form != One && !ranged || len(d.Amount.Steps[0].Tiers) != 1 || d.Amount.Clocked() {
			l.report(lineDiag{rule: unreadable, span: d.Amount.Span,
				message: "a " + d.Kind + " has one number" + also, help: "write it like " + form})
		}
	case g.Break != nil:
		d.Kind, d.Event = "at each", l.tok(*g.Break).Text
	case g.Each != nil:
		d.Kind, d.Amount, d.From = "at each", l.quantity(g.Period), l.duration(g.From, "when it comes first")
		l.rejectBound(&d.Amount.Amount, "what comes back")
		if d.Amount.Unit == "%" || d.Amount.Unit == "" && !d.Amount.Clocked() {
			l.report(lineDiag{rule: unitWrong, span: d.Amount.Span, message: "it is not said what comes back",
				help: "write a time, a distance or a count: at each 2 min, at each 500 m, at each 10 reps"})
		}
	case g.At != nil:
		d.Kind, d.Amount = "at", l.duration(g.At, "when it happens")
	case g.Mean != nil:
		d.Kind = "meanwhile"
	case g.When != nil:
		d.Kind = "when done"
	case g.If != nil:
		d.Kind = l.tok(*g.If).Text
	}
	if colon && len(right) > 0 {
		d.Inline = r.inline(right)
		r.p.opens = under(d.Inline)
	}
	return d
}

func (r *reader) item(form string) Stmt {
	if r.ctx != InKit {
		r.sidesOf()
		r.countBehind()
		if s := r.setsBehind(); s != nil {
			return s
		}
	}
	if n := r.clauseWordCount(); 0 < n && n <= maxClauseWords && r.ctx != InKit {
		r.insertCommas()
		if r.wordForAt() {
			return r.bad()
		}
	}
	g, at := itemGrammar.parse(r.toks)
	if g == nil {
		if s := r.digitName(at); s != nil {
			return s
		}
		if d := r.digitInside(); d != nil && len(r.p.diags) == 0 {
			r.report(*d)
			return r.bad()
		}
		return r.fail(at, form)
	}
	if s := r.trailingLoad(g); s != nil {
		return s
	}
	r.pairs = g.Dose.twoSets() || g.After.twoSets()
	it := &Item{node: r.node(), Dose: r.dose(g.Dose), Or: len(g.Or) > 0}
	if g.After != nil {
		after := r.dose(g.After)
		if it.Dose != nil {
			r.report(lineDiag{rule: unreadable, span: after.Span,
				message: "this line says how much twice: before the movement and behind it",
				help:    "leave one of the two out; a load stands behind @"})
		} else {
			it.Dose = after
		}
	}
	if g.Side != nil {
		if it.Dose == nil {
			it.Dose = &Dose{Span: r.tok(*g.Side).Span}
			r.report(lineDiag{rule: unreadable, span: it.Dose.Span, message: "it is not said how many for each side",
				help: "write it like 10/side single-arm row"})
		}
		it.Dose.Side = true
	}
	first := r.name(g.First)
	it.Moves = []Move{{Span: first.Span, Name: first}}
	for _, m := range slices.Concat(g.Or, g.Plus) {
		n := r.name(m.Name)
		v := Move{Span: n.Span, Name: n, Count: r.quantity(m.Count)}
		if v.Count != nil && v.Count.Unit == "rep" {
			v.Count.Unit = ""
		}
		if v.Count != nil {
			v.Span = v.Span.Join(v.Count.Span)
		}
		it.Moves = append(it.Moves, v)
	}
	for _, t := range g.Terms {
		v := Term{Count: r.value(t.Count), Label: r.name(t.Label)}
		r.rejectMore(v.Count)
		v.Span = v.Count.Span.Join(v.Label.Span)
		it.Terms = append(it.Terms, v)
	}
	r.tails(it, g.Tail)
	for i := range g.How {
		h := &g.How[i]
		c := r.clause(&h.Clause)
		it.Loads = append(it.Loads, r.loads(h.Loads)...)
		if h.Until != nil {
			r.itemUntil(it, h.Until)
		}
		if c.Kind == EachSide && it.Dose != nil {
			it.Dose.Side = true // "10 lunge, each side" is 10/side lunge
			continue
		}
		if c.Kind != notScored && !c.timeless() {
			it.Clauses = append(it.Clauses, c)
		}
	}
	r.itemClauses(it)
	r.strayTimes()
	return it
}

func (r *reader) tails(it *Item, gs []gTail) {
	for i := range gs {
		switch t := &gs[i]; {
		case t.Load != nil:
			it.Loads = append(it.Loads, r.load(t.Load))
		case t.Until != nil:
			r.itemUntil(it, t.Until)
		case t.Tempo != nil:
			// Straight after a load the comma may be left out; the formatter writes it.
			it.Clauses = append(it.Clauses, Clause{Span: r.span(tokenRange{t.Tempo}), Kind: TempoOf, Tempo: r.tok(t.Tempo[1]).Text})
		}
	}
}

func (r *reader) itemUntil(it *Item, g *gUntil) {
	u := r.until(g)
	if it.Until != nil {
		r.report(lineDiag{rule: unreadable, span: u.Span, message: "this line says twice until when it goes on",
			help: "leave one of the two out"})
	}
	it.Until = u
}

// digitName says how to write a name that would hold a digit, such as 1-arm row.
func (r *reader) digitName(at int) Stmt {
	i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == Dash })
	if i <= 0 || i+1 >= len(r.toks) || r.toks[i-1].Kind != Number || r.toks[i+1].Kind != Word || at < i-1 {
		return nil
	}
	worded := map[string]string{"1": "single", "2": "two", "3": "three", "4": "four", "5": "five", "6": "six"}[r.toks[i-1].Text]
	if worded == "" || r.toks[i-1].End != r.toks[i].Start {
		return nil
	}
	span := r.toks[i-1].Span.Join(r.toks[i+1].Span)
	mend := worded + "-" + r.toks[i+1].Text
	r.report(lineDiag{rule: number, span: span, message: "a movement's name holds no digit", help: "write " + mend,
		fix: &lineFix{title: "write " + mend, span: span, text: mend}})
	return r.bad()
}

// itemClauses reports clauses that cannot be of a line of work.
func (r *reader) itemClauses(it *Item) {
	for _, c := range it.Clauses {
		if !c.Kind.clauseType().onWork.allowed() {
			r.report(lineDiag{rule: misplaced, span: c.Span,
				message: fmt.Sprintf("%q belongs to a head, not to one line of work", c.Kind),
				help:    "put it behind the part, or the group, that it is for"})
		}
	}
}

// insertCommas reports the clauses of an item that lack their comma, and reads on as if the
// commas stood there. A clause that only heads have is reported where its place is checked:
// a comma would not repair it.
func (r *reader) insertCommas() {
	for i := 2; i < len(r.toks); i++ {
		c := r.clauseAt(i)
		if c == nil {
			continue
		}
		if c.onWork.allowed() {
			n := 1
			if c.takes == takesNothing {
				n = len(strings.Fields(string(c.kind)))
			}
			r.reportComma(i, n)
		}
		end := r.toks[i-1].End
		comma := Tok{Kind: Comma, Span: source.Span{Start: end, End: end}, Text: ","}
		r.toks = slices.Insert(slices.Clone(r.toks), i, comma)
		i = 1 // what stands before it may be one as well, now that it has an end
	}
}

// maxClauseWords is how many words that start a clause a line may have for its missing commas
// to be looked for. It bounds the work on nonsense.
const maxClauseWords = 12

// clauseWordCount counts the words that start a clause.
func (r *reader) clauseWordCount() int {
	n := 0
	for _, t := range r.toks {
		if t.Kind == Word && startsClause(t.Text) {
			n++
		}
	}
	return n
}

// clauseEnds are the indexes at which what token i starts may end: at the next comma or the
// line's end, or before one of the next words that start another clause.
func (r *reader) clauseEnds(i int) []int {
	var before []int
	for i++; r.kind(i) != Comma && r.kind(i) != EOL; i++ {
		if startsClause(r.word(i)) {
			before = append(before, i)
		}
	}
	return append([]int{i}, before...)
}

// wholeClause is the kind of clause that the tokens from i to one of those ends are; nil
// where they are none.
func (r *reader) wholeClause(i int) (c *clauseType, end int) {
	if r.kind(i) != Word || !startsClause(r.word(i)) {
		return nil, 0
	}
	for _, end := range r.clauseEnds(i) {
		if g, _ := behindComma.parse(r.toks[i:end]); g != nil {
			return g.Clause.kind().clauseType(), end
		}
	}
	return nil, 0
}

// clauseAt is the clause that token i of an item starts without a comma before it; nil where
// it starts none, or may as well be of the movement's name.
func (r *reader) clauseAt(i int) *clauseType {
	if r.kind(i-1) == Comma || r.word(i-1) == "at" { // "at effort 80%" is a load
		return nil
	}
	c, end := r.wholeClause(i)
	if c == nil {
		return nil
	}
	item, _ := itemGrammar.parse(r.toks[:i])
	if item == nil {
		return nil
	}
	named := r.kind(i-1) == Word
	switch {
	case !c.onHead.allowed() && !c.onWork.allowed(): // of swaps
		return nil
	case c.kind == TempoOf && !named: // straight behind a load it needs no comma
		return nil
	case c.kind == With && named: // "box jump with step down": whoever knows the names can tell
		return nil
	case !named && r.perHand(i) != nil: // "@ 16 kg each hand"
		return nil
	case end == i+1 && c.takes != takesNothing && named: // "active rest"
		return nil
	case c.ambiguous && string(c.kind) == c.kind.first() && item.Dose == nil && named: // "hollow hold 0:30"
		return nil
	}
	return c
}

func (r *reader) rest(form string) Stmt {
	left, right, colon := split(r.toks, Colon)
	l := r.piece(left, r.ctx)
	g, at := restGrammar.parse(left)
	if g == nil {
		return l.fail(at, form)
	}
	s := l.restOf(g)
	if c := (Clause{Kind: RestOf, Rest: s}); c.timeless() {
		return r.bad()
	}
	s.Span = r.extent()
	if colon && len(right) > 0 {
		s.Inline = r.piece(right, InGroup).item(restForm)
	}
	return s
}

func (r *reader) tag(k keyword) Stmt {
	if len(r.toks) > 1 {
		return r.fail(1, k.form)
	}
	return &Tag{r.node()}
}

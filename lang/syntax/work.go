package syntax

import (
	"fmt"
	"slices"

	"stint.example/stint/lang/source"
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

func (r *reader) item(form string) Stmt {
	if r.ctx != InKit {
		r.sidesOf()
		r.countBehind()
		if s := r.setsBehind(); s != nil {
			return s
		}
		r.heldWork()
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
	if r.ctx != InKit && slices.ContainsFunc(it.Moves, func(m Move) bool { return r.nameUnfit(m.Name) }) {
		return r.bad()
	}
	for _, t := range g.Terms {
		it.Terms = append(it.Terms, r.term(it.Dose, &t))
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

// term is a piece of a dose. Its unit is dropped where it is the dose's.
func (r *reader) term(dose *Dose, g *gTerm) Term {
	t := Term{Count: r.value(g.Count)}
	t.Span = t.Count.Span
	r.rejectMore(t.Count)
	if g.Unit != nil {
		u := r.tok(*g.Unit)
		t.Span = t.Span.Join(u.Span)
		t.Unit = u.Text
		if dose != nil && dose.Amount != nil && (dose.Amount.Unit == t.Unit || t.Unit == "rep" && dose.Amount.Unit == "" && !dose.Amount.Clocked()) {
			t.Unit = ""
		}
	}
	if g.Label != nil {
		t.Label = r.name(*g.Label)
		t.Span = t.Span.Join(t.Label.Span)
	}
	return t
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
		if !c.Kind.clauseType().onWork.allowed() && c.Kind != EffortOf { // where that belongs is said by who knows the line
			r.report(lineDiag{rule: misplaced, span: c.Span,
				message: fmt.Sprintf("%q belongs to a head, not to one line of work", c.Kind),
				help:    "put it behind the part, or the group, that it is for"})
		}
	}
}

func (r *reader) rest(form string) Stmt {
	left, right, colon := split(r.toks, Colon)
	l := r.piece(left, r.ctx)
	g, at := restGrammar.parse(left)
	if g == nil {
		if r.restIf(left) {
			return r.bad()
		}
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

// restIf reports a rest with a condition behind it, which is a line of its own above a rest.
func (r *reader) restIf(toks []Tok) bool {
	n := len(toks)
	if n < 3 || toks[n-1].Text != string(If) || toks[n-2].Kind != Comma || r.p.Note == nil || len(r.p.diags) > 0 {
		return false
	}
	rest := r.body[toks[0].Start:toks[n-3].End]
	d := lineDiag{rule: misplaced, span: toks[n-1].Span, message: "a condition on a rest stands on a line above it",
		help: "write if > " + r.p.Note.Text + " and under it " + rest}
	if toks[0].Start == 0 {
		d.fix = &lineFix{title: "write the condition above the rest", span: source.Span{Start: 0, End: r.p.Note.End},
			text: "if > " + r.p.Note.Text + "\n  " + rest}
	}
	r.report(d)
	return true
}

func (r *reader) tag(k keyword) Stmt {
	if len(r.toks) > 1 {
		return r.fail(1, k.form)
	}
	return &Tag{r.node()}
}

package syntax

import (
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/source"
)

// swap reads a line of a scaling: one written thing, an arrow, and what stands in
// its place. A part's letter before a colon narrows it; a part without an arrow
// replaces the part; effort alone is the version's.
func (r *reader) swap(k keyword) Stmt {
	left, right, arrow := split(r.toks, Arrow)
	w := r.word(0)
	section := w == "part" || w == "warm-up" || w == "cool-down"
	if !arrow {
		return r.unswapped(k, w, section)
	}
	r.p.opens = InNothing
	s := &Swap{node: r.node()}
	if section {
		where, thing, colon := split(left, Colon)
		l := r.piece(where, r.ctx)
		g, at := leadGrammar.parse(where)
		switch {
		case g == nil && !colon && len(right) == 0 && r.headBeforeArrow(where):
			return r.bad()
		case g == nil || g.Part == nil:
			return l.fail(max(at, 0), k.form)
		case g.Part.At != nil:
			return r.partAlone(l, g.Part, k)
		case g.Part.Other != nil:
			s.Part = l.tok(*g.Part.Other).Text
		default:
			s.Part, s.Letter = "part", l.letter(*g.Part.Letter)
		}
		if !colon {
			return r.replaced(s, where, right)
		}
		left = thing
	}
	if len(left) == 0 && len(r.p.diags) == 0 {
		i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == Arrow })
		r.report(lineDiag{rule: unreadable, span: r.toks[i].Span, message: "nothing stands before the arrow",
			help: "write it like row -> run: what is written in the session, and what takes its place"})
		return r.bad()
	}
	if len(left) == 0 || len(right) == 0 {
		return r.fail(len(r.toks), "row -> run, or row -> nothing to leave it out")
	}
	if d := r.swappedLoads(left, right); d != nil && len(r.p.diags) == 0 {
		r.report(*d)
		return r.bad()
	}
	from := r.piece(left, r.ctx)
	from.named = true
	s.From = from.swapSide()
	to := r.piece(right, r.ctx)
	if h, ok := s.From.(*Head); ok && h.Repeat != nil {
		to.keeps = h.Repeat.Times == nil
	}
	if len(right) == 1 && to.word(0) == "nothing" {
		s.Nothing = true
	} else {
		s.To = to.swapSide()
	}
	return s
}

// replaced reads "part C -> nothing", which leaves out the part, and "part C -> 7 rounds", which writes
// it anew.
func (r *reader) replaced(s *Swap, where, right []Tok) Stmt {
	if len(right) == 1 && right[0].Kind == Word && right[0].Text == "nothing" {
		s.Nothing = true
		return s
	}
	r.p.opens = InGroup
	if r.workBehindArrow(where, right) {
		return r.bad()
	}
	h, ok := r.piece(slices.Concat(where, right), r.ctx).head(replacedForm).(*Head)
	if !ok {
		return r.bad()
	}
	h.Span, h.Replaces = r.extent(), true
	return h
}

// headBeforeArrow reports "part A 5 rounds ->", whose head stands on the wrong side of the arrow.
func (r *reader) headBeforeArrow(where []Tok) bool {
	n := 1
	if where[0].Text == "part" {
		n = 2
	}
	g, _ := headGrammar.parse(where)
	if g == nil || g.Part == nil || g.Part.At != nil || len(where) <= n || len(r.p.diags) > 0 {
		return false
	}
	r.p.opens = InGroup
	mend := r.body[where[0].Start:where[n-1].End] + " -> " + r.body[where[n].Start:where[len(where)-1].End]
	r.report(lineDiag{rule: unreadable, span: r.extent(), message: "what takes the place of a part stands behind the arrow",
		help: "write " + mend + ", with the work of the whole part under it", fix: r.whole(mend)})
	return true
}

// workBehindArrow reports "part A -> 25:00 bike", whose work lacks the colon before it.
func (r *reader) workBehindArrow(where, right []Tok) bool {
	if g, _ := itemGrammar.parse(right); g == nil || len(r.p.diags) > 0 {
		return false
	}
	if h, _ := headGrammar.parse(slices.Concat(where, right)); h != nil {
		return false
	}
	if p, _ := headGrammar.parse(right); p != nil { // a part is no work: "part B -> part C"
		return false
	}
	place := r.body[where[0].Start:where[len(where)-1].End]
	arrow := r.toks[slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == Arrow })]
	r.report(lineDiag{rule: unreadable, span: right[0].Span, message: "work that takes the place of a part stands behind a colon, or under it",
		help: "write " + place + " ->: " + r.body[right[0].Start:right[len(right)-1].End],
		fix:  insertion("put a colon behind the arrow", arrow.End, ":")})
	return true
}

// replacedForm is an example of a part that a scaling writes anew.
const replacedForm = "part C -> 3 rounds for time, with the work of the whole part under it, or part C -> nothing"

// partAlone reports a part that is more than the place of what a swap changes.
func (r *reader) partAlone(where *reader, g *gPart, k keyword) Stmt {
	d := lineDiag{rule: unreadable, span: where.extent(),
		message: "a part stands before a colon in a swap, and nothing but its letter with it",
		help:    "write it like " + k.form}
	if g.At != nil {
		d.help = "a start is changed like this: part B: at 11:00 -> at 12:00"
	}
	r.report(d)
	return r.bad()
}

func (r *reader) unswapped(k keyword, word string, section bool) Stmt {
	switch {
	case word == "effort":
		r.p.opens = InNothing
		return r.property(keyword{aEffort, InNothing, k.form})
	case word == "length" && r.ctx == InScaling:
		r.p.opens = InNothing
		return r.property(keyword{aAmount, InNothing, k.form})
	case section && r.ctx == InScaling:
		where, rest, colon := split(r.toks, Colon)
		if !colon {
			return r.head("part B for time, with the work of the whole part under it")
		}
		if len(rest) > 0 {
			break
		}
		g, at := leadGrammar.parse(where)
		if g == nil || g.Part == nil {
			return r.piece(where, r.ctx).fail(max(at, 0), k.form)
		}
		if g.Part.At != nil {
			return r.partAlone(r.piece(where, r.ctx), g.Part, k)
		}
		r.p.opens = InScaling
		l := &Lead{node: r.node(), Kind: word}
		if g.Part.Letter != nil {
			l.Letter = r.letter(*g.Part.Letter)
		}
		return l
	}
	if len(r.p.diags) > 0 {
		return r.bad()
	}
	d := lineDiag{rule: unreadable, span: r.extent(), noSwap: true,
		message: "a line of a scaling says what takes the place of what, with an arrow",
		help:    "write it like row -> run, or row -> nothing to leave it out"}
	if r.p.Note != nil && strings.Contains(r.p.Note.Text, "->") && len(r.toks) > 0 && r.kind(len(r.toks)-1) == Until {
		d.message = "the note goes to the end of the line, and has taken the arrow with it"
		d.help = "name what ends as a note says by until alone: " + strings.TrimSpace(r.body[:r.toks[len(r.toks)-1].End]) + " -> ..."
		at := r.toks[len(r.toks)-1].End
		d.fix = &lineFix{title: "take the note out of the left side", span: source.Span{Start: at, End: at + strings.Index(r.body[at:], "->")}, text: " "}
	} else if i := slices.IndexFunc(r.p.Toks, func(t Tok) bool { return t.Kind == Note }); i >= 0 {
		at := r.p.Toks[i].Start
		d.help = "a > alone starts a note; " + d.help
		d.fix = &lineFix{title: "write ->", span: source.Span{Start: at, End: at + 1}, text: "->"}
	} else if near := Nearest(word, KeywordsIn(r.ctx), 2); len(near) > 0 && near[0] != word {
		d.help += "; or did you mean " + strconv.Quote(near[0]) + "?"
	}
	r.p.misplaced = true
	r.report(d)
	return r.bad()
}

// timesSide reads "x 4 rounds", which is how often a clock starts what stands under it.
func (r *reader) timesSide() Stmt {
	r.toks = slices.Clone(r.toks)
	r.toks[0].Kind = Times // the scanner looks for a number before it
	g, at := timesGrammar.parse(r.toks)
	if g == nil {
		return r.fail(at, "x 4 rounds -> x 3 rounds")
	}
	p := &Repeat{Span: r.extent(), Times: r.amount(&g.Times), Laps: g.Laps != nil}
	return &Head{node: r.node(), Repeat: p}
}

// swapSide is what stands on one side of a swap.
func (r *reader) swapSide() Stmt {
	w := r.word(0)
	if r.times(0) && r.number(1) {
		return r.timesSide()
	}
	if r.kind(0) == At {
		g, at := loadsGrammar.parse(r.toks)
		if g == nil {
			return r.fail(at, "@ 24/16 kg -> @ 16/12 kg")
		}
		return &LoadSide{r.node(), r.loads(g.Loads)}
	}
	switch {
	case w == "rest":
		return r.rest("rest 1:30")
	case startsClause(w):
		if g, _ := clauseGrammar.parse(r.toks); g != nil {
			c := r.clause(g)
			if c.Kind == notScored {
				return r.bad()
			}
			return &ClauseSide{r.node(), c}
		} else if w == "each" {
			return r.fail(1, "each side, or each +5 kg")
		}
	}
	if startsRepeat(w) || r.startsRounds() {
		side := r.head("4 rounds")
		if h, ok := side.(*Head); ok && h.Inline != nil {
			r.report(lineDiag{rule: unreadable, span: r.extent(),
				message: "a swap of a head leaves the work as it is, and behind this colon stands work",
				help:    "swap the work on a line of its own, like burpee -> bike; or write the part anew: part A -> 3 rounds: 9 burpee"})
			return r.bad()
		}
		return side
	}
	return r.item("12 kettlebell swing")
}

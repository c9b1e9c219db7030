package syntax

import (
	"slices"
)

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
	if slices.Contains(ScoreOrders, toks[0].Text) {
		return "" // it is a word itself, such as best
	}
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
			form = "at each 2 min: 100 m run, at each 500 m ..., or at each break"
			if r.refusedEvent(right) {
				return r.bad()
			}
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

package syntax

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"stint.example/stint/lang/source"
)

// What work, rests and what comes round go on until.

// endHelp is what a message offers in the place of an end that is none.
const endHelp = "write until 2:40 (the clock), until 125 bpm, until missed, until done, until the first +0:08, " +
	"or what ends it as a note: until > The talk stops."

func (r *reader) until(g *gUntil) *End {
	if g == nil {
		return nil
	}
	e := &End{Span: r.tok(g.Word).Span}
	switch {
	case g.Amount != nil:
		e.Amount = r.quantity(g.Amount)
		e.End = e.Amount.End
		r.endAmount(e)
	case g.Past != nil:
		e.Kind, e.Past = EndPast, r.past(g.Past)
		e.End = e.Past.End
	case g.Event != nil:
		n := r.name(*g.Event)
		e.End, e.Kind = n.End, EndKind(strings.ToLower(n.Text))
		if e.Kind != EndMissed && e.Kind != EndDone {
			r.report(lineDiag{rule: unknownWord, span: n.Span, message: fmt.Sprintf("%q is nothing that work can go on until", n.Text),
				help: endHelp, fix: r.endAsNote(n.Span)})
			e.Kind = EndDone
		}
	default:
		e.Kind = EndNote
		if !r.named {
			e.Note = r.wordsOf(e.Span, "when this ends", endHelp)
		}
	}
	return e
}

// endAmount reads the number of an end as a time or as what a monitor shows.
func (r *reader) endAmount(e *End) {
	q := e.Amount
	text := r.body[q.Amount.Start:q.Amount.End]
	d := lineDiag{rule: unitWrong, span: q.Span}
	switch q.Unit {
	case "bpm", "spm", "W":
		e.Kind = EndReading
	case "":
		e.Kind = EndClock
		if !q.Clocked() {
			d.message = "until is followed by a clock value, or by what a monitor shows with its unit"
			d.help = "write it like until 2:40 or until 125 bpm"
			offerClock(&d, q)
		}
	case "s", "min", "h": // the same as a clock value
		e.Kind = EndClock
	default:
		e.Kind = EndReading
		d.message = "nothing ends at so many " + q.Unit
		d.help = endHelp
		if q.Unit == "RPE" || q.Unit == "RIR" {
			d.span, d.message = e.Span, "how hard it may get is a load and stands behind @"
			d.help = "write @ " + r.body[q.Start:q.End]
			d.fix = &lineFix{title: d.help, span: e.Span, text: "@ " + r.body[q.Start:q.End]}
		}
	}
	more := slices.ContainsFunc(q.Steps[0].Tiers, func(n Num) bool { return n.More })
	if d.message == "" && (q.Form != One || q.Bound != "" || more) {
		d.rule, d.message = number, "what something ends at is one number"
		d.help = "write it like until 2:40 or until 125 bpm"
		if q.Form == One {
			bare := strings.ReplaceAll(text, "+", "")
			d.fix = &lineFix{title: "write " + bare, span: q.Amount.Span, text: bare}
		}
	}
	if d.message != "" {
		q.Bound = ""
		r.report(d)
	}
}

// past reads what was done before, and what is added to it.
func (r *reader) past(g *gPast) *Past {
	p := &Past{Span: r.span(g.tokenRange), What: g.What[0].Value}
	if len(g.What) > 1 {
		p.What += " " + g.What[1].Value
	}
	if g.Offset != nil {
		p.Minus, p.Offset = r.tok(*g.Sign).Kind == Dash, r.quantity(g.Offset)
		r.pastOffset(p)
	}
	return p
}

// pastOffset reports an offset that is no single number.
func (r *reader) pastOffset(p *Past) {
	q := p.Offset
	d := lineDiag{rule: number, span: q.Span}
	switch {
	case q.Unit == "%":
		d.rule, d.message = unitWrong, "what is added to an earlier turn is so much, and no share of it"
		d.help = "write how much that is, such as until " + p.What + " +0:08; behind @, a share of a load is 90% of " + p.What
	case q.Form != One || q.Bound != "" || slices.ContainsFunc(q.Steps[0].Tiers, func(n Num) bool { return n.More }):
		d.message, d.help = "what is added to an earlier turn is one number", "write it like "+p.What+" +2"
	default:
		return
	}
	q.Bound = ""
	r.report(d)
}

// wordsOf is the line's note, where that says something of the line: an end, a load. It reports a line
// that has none, or whose note says something else already.
func (r *reader) wordsOf(span source.Span, what, help string) string {
	switch {
	case r.p.Note == nil || r.p.Note.Text == "":
		r.report(lineDiag{rule: unreadable, span: span, message: "it is not said " + what, help: help})
	case r.p.noteMeans:
		r.report(lineDiag{rule: unreadable, span: span, message: "two things of this line are said in words, and it has one note", help: "leave one of the two out"})
	case slices.ContainsFunc(r.p.Toks, func(t Tok) bool { return t.Kind == Word && t.Text == string(If) }):
		r.report(lineDiag{rule: unreadable, span: span, message: "the note of this line is what the if depends on, so it cannot say " + what,
			help: "put the if on a line above, and this line under it"})
	}
	r.p.noteMeans = true
	if r.p.Note == nil {
		return ""
	}
	return r.p.Note.Text
}

// Names reports whether an end on the left of a swap names another: the same, or with until alone
// any that a note says.
func (e *End) Names(other *End) bool {
	if e.Kind == EndNote && e.Note == "" {
		return other != nil && other.Kind == EndNote
	}
	return Same(e, other)
}

// NoteMeans reports whether the line's note is a score, a load or an end in words, and no remark.
func (p *Parsed) NoteMeans() bool { return p.noteMeans }

// endAsNote makes a note of the words that stand behind until; nil where something else than the line's
// note stands behind them.
func (r *reader) endAsNote(words source.Span) *lineFix {
	if r.p.Comment != nil {
		return nil
	}
	start := len(strings.TrimRight(r.body[:words.Start], " \t"))
	behind, note := r.body[words.End:], ""
	if r.p.Note != nil {
		behind, note, _ = strings.Cut(behind, " >")
		note = " " + strings.TrimSpace(note)
	}
	text := strings.TrimRight(behind, " \t") + " > " + sentence(r.body[words.Start:words.End]) + strings.TrimRight(note, " ")
	return &lineFix{title: "say it in a note", span: source.Span{Start: start, End: len(strings.TrimRight(r.body, " \t\r"))}, text: text}
}

// sentence writes words as a sentence.
func sentence(words string) string {
	first, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(first)) + words[size:] + "."
}

// formerEnds reads "max push-up until failure" as "max push-up", and reports other ends that boards
// have and the notation has not, with what says them.
func (r *reader) formerEnds() {
	for i := 0; i+1 < len(r.toks); i++ {
		if r.kind(i) != Until {
			continue
		}
		switch w, next := r.word(i+1), r.word(i+2); {
		case w == "failure" || w == "fail":
			r.toFailure(i)
		case w == "missed" && next == "twice":
			words := r.toks[i+1].Join(r.toks[i+2].Span)
			d := lineDiag{rule: unknownWord, span: words, message: "how many misses end it is said in words", help: "write until missed, or what ends it as a note"}
			d.fix = &lineFix{title: "write missed", span: words, text: "missed"}
			if f := r.endAsNote(words); f != nil {
				d.others = []lineFix{*f}
			}
			r.report(d)
			r.toks = slices.Delete(r.toks, i+2, i+3)
		case w == "rpe" && r.kind(i+2) == Number:
			mend := "@ RPE " + r.toks[i+2].Raw
			span := r.toks[i].Join(r.toks[i+2].Span)
			r.report(lineDiag{rule: unitWrong, span: span, message: "how hard it may get is a load and stands behind @", help: "write " + mend,
				fix: &lineFix{title: "write " + mend, span: span, text: mend}})
			r.toks[i+1].Text, r.toks[i+1].Raw = string(EndDone), string(EndDone)
			r.toks = slices.Delete(r.toks, i+2, i+3)
		}
	}
}

// toFailure reads work until failure, at token i, as max of it.
func (r *reader) toFailure(i int) {
	from := 0 // where the work begins
	for j := range i {
		if r.kind(j) == Colon || r.kind(j) == Arrow || r.kind(j) == Times {
			from = j + 1
		}
	}
	counted := slices.IndexFunc(r.toks[from:i], func(t Tok) bool { return t.Kind == Number || t.Kind == Clock || t.Kind == Bound })
	end := r.toks[i].Join(r.toks[i+1].Span)
	switch {
	case r.word(from) == "max":
	case StartsHead(r.word(from)) || r.startsRounds():
		r.report(lineDiag{rule: unknownWord, span: end, message: "what comes round goes on until a turn is missed", help: "write until missed",
			fix: &lineFix{title: "write until missed", span: end, text: "until missed"}})
	case counted == 0:
		name := from + slices.IndexFunc(r.toks[from:], func(t Tok) bool { return t.Kind == Word })
		if name >= from && name < i {
			work := r.text(name, i)
			span := r.toks[from].Join(end)
			r.report(lineDiag{rule: unknownWord, span: end, message: "until failure is max, and here stands a count",
				help:   "write max " + work + ", or only the count",
				fix:    &lineFix{title: "write max " + work, span: span, text: "max " + work},
				others: []lineFix{{title: "take until failure out", span: source.Span{Start: r.toks[i-1].End, End: end.End}}}})
		}
	case counted < 0 && r.kind(from) == Word:
		at := source.Span{Start: r.toks[from].Start, End: r.toks[from].Start}
		r.toks = slices.Insert(r.toks, from, Tok{Kind: Word, Span: at, Text: "max"})
		i++
	}
	r.toks = slices.Delete(r.toks, i, i+2)
}

// restEnd reports a rest that ends so as no rest does, or of whose length it is not said what it means
// beside the end.
func (r *reader) restEnd(s *Rest) {
	e := s.Until
	if e == nil {
		return
	}
	switch {
	case e.Kind == EndMissed || e.Kind == EndPast || e.Kind == EndDone:
		r.report(lineDiag{rule: misplaced, span: e.Span, message: "a rest ends at a time, at what a monitor shows, or as a note says",
			help: "write it like rest until 125 bpm; what ends the work stands behind the work"})
	case s.Needed || s.Work != nil:
		r.report(lineDiag{rule: unreadable, span: s.Span, message: "this rest says twice how long it is", help: "leave one of the two out"})
	case s.Amount == nil || s.Bound != "" || s.Amount.Form == Range:
	default:
		at := source.Span{Start: s.Amount.Start, End: s.Amount.Start}
		text := r.body[s.Amount.Start:s.Amount.End]
		r.report(lineDiag{rule: number, span: s.Amount.Span, message: "a rest that ends so has no length of its own, and " + text + " is the least or the most",
			help:   "write at most " + text + ", or at least " + text,
			fix:    &lineFix{title: "write at most " + text, span: at, text: "at most "},
			others: []lineFix{{title: "write at least " + text, span: at, text: "at least "}}})
	}
}

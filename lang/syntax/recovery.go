package syntax

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"stint.example/stint/lang/source"
)

// knownMistake reports what people are known to write in place of what is meant, and says
// whether token i, at which the line cannot be read, starts or ends such a thing.
func (r *reader) knownMistake(i int) bool {
	t := r.toks[i]
	switch k := r.kind(i); {
	case k == Dash && r.number(i+1) && !r.number(i-1) && t.End == r.toks[i+1].Start:
		span, mend := t.Join(r.toks[i+1].Span), r.toks[i+1].Raw
		r.report(lineDiag{rule: number, span: span, message: "nothing here is less than nothing",
			help: "write " + mend + ", without the minus",
			fix:  &lineFix{title: "write " + mend, span: span, text: mend}})
	case k == Dash && r.spaced(t) && !r.number(i-1):
		r.reportOdd([]Tok{t})
	case k == Dash && i == 0 && len(r.toks) > 1:
		r.report(lineDiag{rule: unreadable, span: t.Span, message: "a line starts with no dash",
			help: "take it out: each line is one thing as it is",
			fix:  &lineFix{title: "take the dash out", span: source.Span{Start: t.Start, End: r.toks[1].Start}}})
	case k == Plus && i == 0 && r.number(1):
		span, mend := t.Join(r.toks[1].Span), r.toks[1].Raw
		r.report(lineDiag{rule: number, span: span, message: "a count takes no plus sign", help: "write " + mend,
			fix: &lineFix{title: "write " + mend, span: span, text: mend}})
	case r.number(i) && r.kind(i-1) == Comma:
		r.report(lineDiag{rule: unreadable, span: t.Span,
			message: "a line holds one movement, and here another starts behind the comma",
			help:    "put it on a line of its own; + joins movements that are done without letting go",
			fix:     r.aLineEach(r.toks)})
	case k == RM && r.kind(i-1) == At:
		mend := "100% of " + t.Text
		r.report(lineDiag{rule: unreadable, span: t.Span, message: fmt.Sprintf("%s is what a share is of, and here none is said", t.Raw),
			help: "write @ " + mend + " for all of it", fix: &lineFix{title: "write " + mend, span: t.Span, text: mend}})
	case k == Bound && i+1 < len(r.toks):
		return r.unbounded(i + 1)
	case r.kind(i-1) == Bound:
		return r.unbounded(i)
	case k == Dots && r.number(i-1):
		r.report(lineDiag{rule: number, span: t.Span, message: "the dots of a series stand between hyphens",
			help: "write it like 2-4-...-10: two terms show the step"})
	case k == Comma && r.kind(i-1) == Comma:
		r.report(lineDiag{rule: unreadable, span: t.Span, message: "two commas follow one another",
			help: "take one out",
			fix:  &lineFix{title: "take the comma out", safe: true, span: t.Span}})
	case k == Slash && r.kind(i-1) == Word && (r.kind(i+1) == Word || r.number(i+1) && r.itemBehind(i)):
		span := source.Span{Start: r.toks[i-1].End, End: r.toks[i+1].Start}
		r.report(lineDiag{rule: unreadable, span: t.Span, message: "a choice of movements is written with or",
			help: "a slash stands between the numbers of two tiers, and before side",
			fix:  &lineFix{title: "write or", span: span, text: " or "}})
	case k == Word && r.kind(1) == Word && (r.word(1) == "sets" || r.word(1) == "set") && r.kind(0) == Number && i > 1:
		return r.setsOf()
	case k == Word && r.kind(i-1) == Number && r.word(i-2) == "each" && (t.Text == "kg" || t.Text == "lb"):
		r.report(lineDiag{rule: unreadable, span: r.toks[i-1].Span, message: fmt.Sprintf("the number %s does not fit behind %q", r.toks[i-1].Raw, r.toks[i-2].Raw),
			help: "what is added each turn has a sign: each +5 kg", fix: &lineFix{title: "write +" + r.toks[i-1].Raw, span: source.Span{Start: r.toks[i-1].Start, End: r.toks[i-1].Start}, text: "+"}})
	case k == Word && r.kind(i-1) == Number && r.loadUnit(i):
	default:
		for _, known := range []func(int) *lineDiag{r.loadFirst, r.perHand, r.twoUnits, r.second, r.strayColon, r.rateOfLoad, r.strayMark} {
			if d := known(i); d != nil {
				r.report(*d)
				return true
			}
		}
		return false
	}
	return true
}

// unbounded reports a bound that stands before no number.
func (r *reader) unbounded(i int) bool {
	bound := r.toks[i-1]
	d := lineDiag{rule: number, span: bound.Span, message: fmt.Sprintf("%s stands before a number, and here is %q", bound.Text, r.toks[i].Raw),
		help: "write it like " + bound.Text + " 7 ring row, or take it out"}
	if r.word(i) == "max" {
		d.message, d.help = "max is as many as can be, so no bound stands before it", "take "+bound.Text+" out"
	}
	d.fix = &lineFix{title: "take " + bound.Text + " out", span: source.Span{Start: bound.Start, End: r.toks[i].Start}}
	r.report(d)
	return true
}

// itemBehind reports whether work stands behind token i.
func (r *reader) itemBehind(i int) bool {
	g, _ := itemGrammar.parse(r.toks[i+1:])
	return g != nil
}

// second reports a line that holds another movement, with a count of its own.
func (r *reader) second(i int) *lineDiag {
	from := i - 1
	if r.kind(from) == Unit {
		from--
	}
	if r.kind(i) != Word || provesClause(r.word(i)) || !r.number(from) || r.kind(from-1) != Word || !r.number(0) && r.word(0) != "max" {
		return nil
	}
	return &lineDiag{rule: unreadable, span: r.toks[from].Join(r.toks[i].Span),
		message: fmt.Sprintf("a line holds one movement, and here another starts: %s", r.text(from, len(r.toks))),
		help:    "put it on a line of its own; + joins movements that are done without letting go",
		fix:     &lineFix{title: "put it on a line of its own", span: source.Span{Start: r.toks[from-1].End, End: r.toks[from].Start}, text: "\n"}}
}

// strayColon reports a colon in a line of work.
func (r *reader) strayColon(i int) *lineDiag {
	if r.kind(i) != Colon || r.ctx != InGroup || len(r.toks) < 2 {
		return nil
	}
	t := r.toks[i]
	if w := r.toks[0]; w.Kind == Word {
		if near := r.nearly(r.toks[:i]); near != "" {
			return &lineDiag{rule: unknownWord, span: w.Span, message: fmt.Sprintf("no line starts with %q", w.Raw),
				help: "did you mean " + near + "?",
				fix:  &lineFix{title: "write " + near, span: w.Span, text: near}}
		}
	}
	d := &lineDiag{rule: unreadable, span: t.Span,
		message: "a colon stands behind a head, behind slot 1 and its like, or behind a label of three words at most"}
	if r.kind(0) == Number && strings.HasPrefix(r.word(1), "set") && i == 2 {
		d.message = "sets of one movement are written with an x"
		d.help = "write it like " + r.toks[0].Raw + " x 10 air squat; over several lines, " + r.toks[0].Raw + " rounds"
		if r.number(3) {
			d.span = r.toks[0].Join(t.Span)
			d.fix = &lineFix{title: "write " + r.toks[0].Raw + " x", span: d.span, text: r.toks[0].Raw + " x"}
		}
		return d
	}
	if i > 0 && i+1 < len(r.toks) && r.kind(i+1) == Word {
		d.help = "a remark stands behind >: " + r.text(0, i) + " > " + r.text(i+1, len(r.toks))
		d.fix = &lineFix{title: "make the rest of the line a note", span: t.Span, text: " >"}
		return d
	}
	d.help = "take it out, or write the work that it heads on lines below, under a head such as 3 rounds"
	return d
}

// rateOfLoad reports a load that is a word and a number: "@ rate 18", "@ zone 2".
func (r *reader) rateOfLoad(i int) *lineDiag {
	if r.kind(i) != Number || r.kind(i-1) != Word || r.kind(i-2) != At {
		return nil
	}
	span := r.toks[i-1].Join(r.toks[i].Span)
	d := &lineDiag{rule: unreadable, span: span, message: "a load that is a number says what it counts behind it",
		help: "write a load such as " + loadForms}
	if mend := r.toks[i].Raw + " spm"; r.word(i-1) == "rate" || r.word(i-1) == "r" {
		d.help = "write @ " + mend
		d.fix = &lineFix{title: "write " + mend, span: span, text: mend}
	}
	return d
}

// strayMark reports a slash, a plus, an x or a number that has no place in a line of
// work, each with what it is for.
func (r *reader) strayMark(i int) *lineDiag {
	if r.ctx != InGroup || i == 0 {
		return nil
	}
	t := r.toks[i]
	d := &lineDiag{rule: unreadable, span: t.Span, message: fmt.Sprintf("%q does not fit here", t.Raw)}
	switch {
	case t.Kind == Slash:
		d.help = "a slash stands between the numbers of two tiers, 14/11 cal row, and before side, 10/side split squat; " +
			"movements to choose from are written with or"
	case t.Kind == Plus && r.word(i-1) == "pace" && slices.ContainsFunc(r.toks[:i], func(t Tok) bool { return t.Kind == Percent }):
		d.message = "a share of a pace takes nothing added to it"
		d.help = "write one of the two: @ 80% of 5 km pace, or @ 5 km pace +0:10 per km"
	case t.Kind == Plus:
		d.message = "a plus has no movement behind it"
		d.help = "write it like 1 power clean + 2 front squat, which are done without letting go; or each on a line of its own"
	case t.Kind == Times:
		d.message = "an x is said once, between the sets and the count of each"
		d.help = "write it like 3 x 10 air squat; what is done around it stands in a head such as 8 rounds"
	case r.number(i) && r.kind(i-1) == Word && !startsClause(r.word(i-1)):
		d.message = fmt.Sprintf("the number %s does not fit behind %q", t.Raw, r.toks[i-1].Raw)
		d.help = "how many stands before the movement, " + t.Raw + " burpee, and a load behind @: 12 burpee @ " + t.Raw + " kg"
	case r.number(i) && r.number(i-1):
		d.message = "two numbers stand side by side"
		d.help = fmt.Sprintf("two tiers are written %[1]s/%[2]s, a range or a series %[1]s-%[2]s, sets and a count %[1]s x %[2]s",
			r.toks[i-1].Raw, t.Raw)
	default:
		return nil
	}
	return d
}

// missingHelp says what a line of work lacks that stops too early.
func (r *reader) missingHelp(help string) string {
	n := len(r.toks) - 1
	numbers := !slices.ContainsFunc(r.toks, func(t Tok) bool { return t.Kind == Word && t.Text != "max" && t.Text != "to" })
	switch {
	case r.kind(n) == Plus:
		return "behind a plus stands another movement: 1 power clean + 2 front squat"
	case r.kind(n) == Or:
		return "behind or stands another movement: 500 m row or ski"
	case r.kind(n) == At:
		return "behind @ stands a load: " + loadForms
	case r.word(n) == "max" && r.kind(n-1) == Number:
		return "how many is either a number or max: write max burpee, or 0:30 max burpee"
	case numbers && r.kind(n) == Number && r.kind(0) == Number && r.kind(n-1) == Times:
		return "say of what: " + r.text(0, n+1) + " air squat"
	case numbers && (r.kind(n) == Clock || r.kind(n) == Unit):
		return "say of what: " + r.text(0, n+1) + " row"
	case numbers && (r.kind(n) == Number || n == 0 && r.word(0) == "max"):
		return "say of what: " + r.text(0, n+1) + " burpee"
	}
	return help
}

// kind is the kind of token i, and EOL where there is none.
func (r *reader) kind(i int) Kind {
	if i < 0 || i >= len(r.toks) {
		return EOL
	}
	return r.toks[i].Kind
}

func (r *reader) number(i int) bool { return r.kind(i) == Number || r.kind(i) == Clock }

// spaced reports whether a blank stands on either side of the token.
func (r *reader) spaced(t Tok) bool {
	before, _ := utf8.DecodeLastRuneInString(r.body[:t.Start])
	behind, _ := utf8.DecodeRuneInString(r.body[t.End:])
	return isBlank(before) && isBlank(behind)
}

// setsOf reports "3 sets of 10", which is written 3 x 10.
func (r *reader) setsOf() bool {
	last := 1
	if r.word(2) == "of" {
		last = 2
	}
	if !r.number(last + 1) {
		return false
	}
	span, mend := r.toks[0].Join(r.toks[last].Span), r.toks[0].Raw+" x"
	r.report(lineDiag{rule: unreadable, span: span, message: "sets of one movement are written with an x",
		help: "write it like 3 x 10 air squat",
		fix:  &lineFix{title: "write " + mend, span: span, text: mend}})
	return true
}

// loadUnit reports a load that lacks its @, "12 goblet squat 24/16 kg", or one in a
// unit that is none. Token i is the unit.
func (r *reader) loadUnit(i int) bool {
	from := i - 1
	for r.number(from-1) || r.kind(from-1) == Slash || r.kind(from-1) == Dash {
		from--
	}
	_, is := unitAt(r.toks[i].Text, true, false)
	switch r.kind(from - 1) {
	case At:
		if r.reading(from, i) {
			return true
		}
		r.report(lineDiag{rule: unitWrong, span: r.toks[i].Span,
			message: fmt.Sprintf("%q is no unit of a load", r.toks[i].Raw),
			help:    "a load is in kg, lb or %, a height in cm, m, in or ft; or write @ RPE 8, @ 2 RIR"})
		return true
	case Word:
		if is {
			r.missingAt(r.toks[from].Join(r.toks[i].Span))
		}
		return is
	}
	return false
}

// trailingLoad reports what reads as a second count of a line and can only be a load
// that lacks its @: "5 squat 80%", "5 squat RPE 8".
func (r *reader) trailingLoad(g *gItem) Stmt {
	if g.Dose == nil || g.After == nil || g.After.Qty == nil || !r.onlyCommas() {
		return nil
	}
	q := g.After.Qty
	span := r.quantity(q).Span
	last := g.First.Words[len(g.First.Words)-1]
	switch {
	case q.Unit != nil && r.tok(*q.Unit).Kind == Percent:
	case len(g.First.Words) > 1 && last.Value == "rpe":
		span = span.Join(r.tok(last).Span)
	case q.Unit == nil && q.Amount.First.Nums != nil && len(q.Amount.Rest) == 0 && q.Amount.To == nil && r.tok(q.Amount.First.Nums[0]).Kind == Number &&
		g.After.Sets == nil && g.After.Side == nil && g.After.Window == nil:
		r.bareWeight(span)
		return r.bad()
	default:
		return nil
	}
	r.missingAt(span)
	return r.bad()
}

func (r *reader) missingAt(load source.Span) {
	r.report(lineDiag{rule: unreadable, span: load, message: "a load stands behind @",
		help: "write @ " + r.body[load.Start:load.End],
		fix:  insertion("put @ before it", load.Start, "@ ")})
}

// wordForAt reports the word at before what would be a load behind @, "5 squat at 70%", and
// reports whether there is one. Whether it would be is found by reading it so: behind @ other
// words are units.
func (r *reader) wordForAt() bool {
	if !r.onlyCommas() {
		return false
	}
	for i, t := range r.toks {
		if t.Kind != Word || t.Text != "at" || r.kind(i-1) != Word {
			continue
		}
		for _, end := range r.clauseEnds(i) {
			load := t.Join(r.toks[end-1].Span)
			if text := "@" + r.body[t.End:load.End]; r.isNumberedLoad(text) {
				r.report(lineDiag{rule: unreadable, span: load, message: "a load stands behind @",
					help: "write " + text,
					fix:  &lineFix{title: "write " + text, safe: true, span: t.Span, text: "@"}})
				return true
			}
		}
	}
	return false
}

// isNumberedLoad reports whether a text is a load with a number, and nothing else.
func (r *reader) isNumberedLoad(text string) bool {
	l := &reader{body: text, ctx: r.ctx, toks: scan(text).toks, p: &Parsed{}}
	g, _ := loadsGrammar.parse(l.toks)
	if g == nil {
		return false
	}
	first := l.loads(g.Loads)[0]
	return first.Amount != nil && len(l.p.diags) == 0
}

// onlyCommas reports whether nothing is wrong with the line so far but missing commas.
func (r *reader) onlyCommas() bool {
	return !slices.ContainsFunc(r.p.diags, func(d lineDiag) bool { return d.rule != commaMissing })
}

// missingColon reports a head or lead that runs on into the work that belongs behind its
// colon, and reports whether that is what token i starts.
func (r *reader) missingColon(i int) bool {
	if len(r.p.diags) > 0 || i < 1 || i >= len(r.toks) {
		return false
	}
	for _, t := range r.toks[i:] {
		if t.Kind == Word && (provesClause(t.Text) || startsRepeat(t.Text) || t.Text == "rounds") {
			return false // more of the head, in the wrong place
		}
	}
	if g, _ := itemGrammar.parse(r.toks[i:]); g == nil {
		return false
	}
	at := source.Span{Start: r.toks[i-1].End, End: r.toks[i-1].End}
	if r.kind(i-1) == Comma {
		at = r.toks[i-1].Span
	}
	r.report(lineDiag{rule: unreadable, span: r.toks[i].Span,
		message: fmt.Sprintf("a colon is missing before %q", r.toks[i].Raw),
		label:   "what is done stands behind a colon, or on lines under this one", help: "put a colon before it",
		fix: &lineFix{title: "put a colon before " + r.toks[i].Raw, safe: true, span: at, text: ":"}})
	return true
}

// extraComma reports a head that can be read but for a comma: "part B, for time".
func (r *reader) extraComma(i int) bool {
	if r.kind(i) != Comma {
		i--
	}
	if r.kind(i) != Comma || i+1 >= len(r.toks) {
		return false
	}
	without := slices.Delete(slices.Clone(r.toks), i, i+1)
	if g, _ := headGrammar.parse(without); g == nil {
		return false
	}
	r.report(lineDiag{rule: unreadable, span: r.toks[i].Span,
		message: fmt.Sprintf("no comma stands before %q", r.toks[i+1].Raw),
		help:    "take it out: commas stand before clauses only",
		fix:     &lineFix{title: "take the comma out", safe: true, span: r.toks[i].Span}})
	return true
}

// strayTimes reports an x that has become part of a name, since no number stands on
// either side of it: "3 x", "squat x 10".
func (r *reader) strayTimes() {
	for i, t := range r.toks {
		if t.Kind == Word && t.Text == "x" && len(r.p.diags) == 0 {
			d := lineDiag{rule: unreadable, span: t.Span,
				message: "an x stands between two numbers: sets, and the count of each",
				help:    "write it like 3 x 10 air squat"}
			if r.kind(i-1) == Number && r.kind(i+1) == Word {
				d.help += "; as many, or as long, as can be is max"
				d.fix = insertion("write max", r.toks[i+1].Start, "max ")
				d.fix.safe = false
			}
			r.report(d)
		}
	}
}

// form is an example of how to write what token i stands in: the clause, where it is
// one that has been begun, or else the line.
func (r *reader) form(i int, line string) string {
	for i = min(i, len(r.toks)) - 1; i > 0; i-- {
		if r.kind(i-1) == Comma {
			if f := clauseForm(r.word(i)); f != "" {
				return f
			}
			break
		}
	}
	return line
}

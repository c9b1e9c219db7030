package syntax

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"stint.example/stint/lang/source"
)

// The names of what can be wrong with a line. They are rules like any other, with a
// page each, but no house can turn them off.
const (
	unreadable      = "line-unreadable"
	misplaced       = "word-misplaced"
	unknownWord     = "word-unknown"
	number          = "number-malformed"
	unitWrong       = "unit-wrong"
	commaMissing    = "comma-missing"
	oddCharacter    = "character-odd"
	reasonless      = "reason-missing"
	indentOdd       = "indent-odd"
	plainCharacters = "characters-plain"
)

// Rules are the names of all that this package reports.
func Rules() []string {
	return []string{unreadable, misplaced, unknownWord, number, unitWrong, commaMissing, oddCharacter, reasonless, indentOdd, plainCharacters}
}

// A lineDiag is a diagnostic whose spans count from the line's body.
type lineDiag struct {
	rule, message, label, help string
	span                       source.Span
	fix                        *lineFix
	others                     []lineFix // other ways to mend it, where the text has two readings
	noSwap                     bool      // it is that a line of a scaling swaps nothing
}

type lineFix struct {
	title string
	safe  bool
	span  source.Span
	text  string
}

// insertion is the safe fix that puts a text in at a place.
func insertion(title string, at int, text string) *lineFix {
	return &lineFix{title: title, safe: true, span: source.Span{Start: at, End: at}, text: text}
}

// A fault is what the scanner found wrong with the token that it had just made.
type fault = lineDiag

func (s *scanner) fault(message, help, mend string) {
	t := s.toks[len(s.toks)-1]
	f := fault{rule: number, message: message, help: help, span: t.Span}
	if mend != "" {
		f.fix = &lineFix{title: "write " + mend, span: t.Span, text: mend}
	}
	s.faults = append(s.faults, f)
}

// MaxBody is the longest line that is read, in bytes without its indent and the blanks
// at its end. One line says one thing; a longer one is no session text, and reading it
// token by token would only cost time.
const MaxBody = 4096

// parseLine reads one line's body as it is meant in a block of the given kind. Of the fixes that
// its mistakes have, those are kept that mend it.
func parseLine(body string, ctx Context) *Parsed {
	p := readLine(body, ctx)
	p.in = ctx
	p.keepMending(body, ctx, maxFixes-1)
	return p
}

func readLine(body string, ctx Context) *Parsed {
	p := &Parsed{Text: body, Len: len(body), opens: InNothing}
	text := body
	if len(strings.TrimRightFunc(body, isBlank)) > MaxBody {
		cut := MaxBody
		for cut > 0 && !utf8.RuneStart(body[cut]) {
			cut--
		}
		p.Bad = true
		p.diags = append(p.diags, lineDiag{rule: unreadable, span: source.Span{Start: 0, End: cut},
			message: fmt.Sprintf("this line is %d bytes long and is not read; a line of stint has at most %d", len(body), MaxBody),
			help:    "one line says one thing: put each on a line of its own"})
		p.Stmt = &Bad{node{source.Span{Start: 0, End: len(body)}}}
		p.Toks = []Tok{{Kind: Odd, Span: source.Span{Start: 0, End: len(body)}, Raw: body}}
		return p
	}
	sc := scanTitled(text, titled(ctx))
	p.Toks, p.plain = sc.toks, sc.plain
	if ctx == InUnclear {
		ctx = InGroup
		if slices.ContainsFunc(sc.toks, func(t Tok) bool { return t.Kind == Arrow }) {
			ctx = InScaling
		}
	}
	r := &reader{body: body, ctx: ctx, p: p, toks: make([]Tok, 0, len(sc.toks))}
	var odd []Tok
	for _, t := range sc.toks {
		switch t.Kind {
		case Note:
			p.Note = freeText(body, t)
		case Comment:
			p.Comment = freeText(body, t)
		case Odd:
			odd = append(odd, t)
		default:
			r.toks = append(r.toks, t)
		}
	}
	if r.prose() || r.condition() {
		return p
	}
	r.spellings()
	for _, f := range sc.faults {
		if i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Span == f.span }); !r.ratio(i) {
			r.report(f)
		}
	}
	r.reportOdd(odd)
	if len(r.toks) == 0 {
		return p
	}
	before := len(p.diags)
	p.Stmt = r.line()
	if len(odd) > 0 {
		p.diags = p.diags[:before] // the odd character is the cause of what follows
	}
	r.remark()
	return p
}

// prose reads a line that is a keyword and free text that lacks its >. Whatever its
// words and marks are, that is the mistake.
func (r *reader) prose() bool {
	r.respell()
	k, ok := keywords[r.ctx][r.word(0)]
	if !ok || k.shape != aBare {
		return false
	}
	text := source.Span{Start: -1}
	for _, t := range r.p.Toks {
		if t.Start >= r.toks[0].End && t.Kind != Note && t.Kind != Comment {
			if text.Start < 0 {
				text = t.Span
			}
			text.End = t.End
		}
	}
	if text.Start < 0 {
		return false
	}
	r.p.opens = k.opens
	r.report(lineDiag{rule: unreadable, span: text,
		message: fmt.Sprintf("text behind %s is a note and needs its >", r.toks[0].Text),
		help:    "write it like " + k.form,
		fix:     insertion("put > before it", text.Start, "> ")})
	r.p.Stmt = r.bad()
	return true
}

func freeText(body string, t Tok) *Text {
	start := t.Start + 1
	for start < t.End && (body[start] == ' ' || body[start] == '\t') {
		start++
	}
	text := strings.TrimRightFunc(body[start:t.End], isBlank)
	return &Text{source.Span{Start: start, End: start + len(text)}, text}
}

// A reader reads the tokens of one line, or of a piece of it behind a colon or an
// arrow.
type reader struct {
	body string
	ctx  Context
	toks []Tok
	p    *Parsed
	// pairs says that two falling numbers are two turns, since what they belong to has two.
	pairs bool
	// named says that this is the left of a swap, which names what there is.
	named bool
	// keeps says that this is the right of a swap whose left names a clock without how often it starts: that stays.
	keeps bool
}

// report adds a diagnostic. A line is called unreadable only once.
func (r *reader) report(d lineDiag) {
	r.p.Bad = true
	if d.rule == unreadable && slices.ContainsFunc(r.p.diags, func(p lineDiag) bool { return p.rule == unreadable }) {
		return
	}
	r.p.diags = append(r.p.diags, d)
}

// piece is a reader of some of the tokens.
func (r *reader) piece(toks []Tok, ctx Context) *reader {
	return &reader{body: r.body, ctx: ctx, toks: toks, p: r.p, named: r.named, keeps: r.keeps}
}

func (r *reader) extent() source.Span {
	if len(r.toks) == 0 {
		return source.Span{}
	}
	return source.Span{Start: r.toks[0].Start, End: r.toks[len(r.toks)-1].End}
}

func (r *reader) node() node { return node{r.extent()} }

// word is the text of token i if that is a word, and empty otherwise.
func (r *reader) word(i int) string {
	if r.kind(i) == Word {
		return r.toks[i].Text
	}
	return ""
}

// respell puts a first word into the spelling that the keywords have.
func (r *reader) respell() {
	w := r.word(0)
	if (w == "warm" || w == "cool") && (r.word(1) == "up" || r.word(1) == "down") {
		r.toks[1].Start = r.toks[0].Start
		r.toks[1].Text = w + "-" + r.toks[1].Text
		r.toks = r.toks[1:]
		return
	}
	if r.ctx == InHouse && w == "sessions" && (r.word(1) == "need" || r.word(1) == "needs") {
		r.toks[1].Start, r.toks[1].Text = r.toks[0].Start, "needs"
		r.toks = r.toks[1:]
		return
	}
	if r.ctx == InHouse && w == "loads" && r.word(1) == "round" {
		r.toks[0].Text, r.toks[1].Text = "round", "loads"
		return
	}
	if to, ok := keywordSpellings[w]; ok {
		if _, is := keywords[r.ctx][to]; is {
			r.toks[0].Text = to
		}
	}
}

// line reads a whole line.
func (r *reader) line() Stmt {
	w := r.word(0)
	if k, ok := keywords[r.ctx][w]; ok {
		r.p.opens = k.opens
		return r.read(k)
	}
	switch r.ctx {
	case InGroup:
		r.p.opens = InGroup // even under an item: that it holds no work is said with what it means
		if r.startsSets() {
			return r.head(setsForm)
		}
		return r.work()
	case InScaling, InHouseScaling:
		return r.swap(keyword{form: "row -> run"})
	case InKit:
		r.p.opens = InKitItem
		return r.item("16 kettlebell @ 24 kg")
	}
	return r.misplaced()
}

// read reads a line by its keyword.
func (r *reader) read(k keyword) Stmt {
	switch k.shape {
	case aEntry:
		return r.entry(k)
	case aHead:
		return r.head(k.form)
	case aLead:
		return r.lead(k.form)
	case aRest:
		return r.rest(k.form)
	case aTag:
		return r.tag(k)
	case aScaling:
		return r.scaling()
	case aSwap:
		return r.swap(k)
	}
	return r.property(k)
}

// work reads what may stand in a group without a keyword: a count of rounds, or an
// item.
func (r *reader) work() Stmt {
	if s := r.idiom(); s != nil {
		return s
	}
	if s := r.label(); s != nil {
		return s
	}
	if s := r.timedRest(); s != nil {
		return s
	}
	if r.startsRounds() {
		return r.head("3 rounds")
	}
	if provesClause(r.word(0)) {
		step := r.word(0) == "each" && (r.kind(1) == Plus || r.kind(1) == Dash)
		if g, _ := clauseGrammar.parse(r.toks); (g != nil || step) && len(r.p.diags) == 0 {
			r.report(lineDiag{rule: misplaced, span: r.extent(),
				message: fmt.Sprintf("%q does not stand on a line of its own", r.toks[0].Raw),
				help:    "put it behind a comma, on the head or the line that it is for"})
			return r.bad()
		}
	}
	return r.item(workForm)
}

// restForm is an example of a rest with work in it.
const restForm = "rest: 400 m jog"

// workForm is an example of a line of work.
const workForm = "12 kettlebell swing @ 24/16 kg, alternating"

// timedRest reads "2:00 rest", which is as common as "rest 2:00".
func (r *reader) timedRest() Stmt {
	n := 0
	if r.kind(n) == Bound {
		n++
	}
	if !r.number(n) {
		return nil
	}
	if n++; r.kind(n) == Unit {
		n++
	}
	if r.word(n) != "rest" {
		return nil
	}
	left, right, colon := split(r.toks, Colon)
	toks := slices.Concat(left[n:n+1], left[:n], left[n+1:])
	g, _ := restGrammar.parse(toks)
	if g == nil {
		return nil
	}
	s := r.piece(toks, r.ctx).restOf(g)
	s.Span = r.extent()
	if colon && len(right) > 0 {
		s.Inline = r.piece(right, InGroup).item(restForm)
	}
	r.p.opens = InNothing
	return s
}

// startsRounds reports whether the tokens are an amount and the word rounds.
func (r *reader) startsRounds() bool {
	for i, t := range r.toks {
		switch t.Kind {
		case Number, Clock, Dash, Slash, Dots:
		case Bound:
			if i > 0 {
				return false
			}
		case Word:
			if i > 0 && (t.Text == "rounds" || t.Text == "round") {
				return true
			}
			if i == 0 || t.Text != "to" {
				return false
			}
		default:
			return false
		}
	}
	return false
}

func parseDate(text string) (time.Time, error) { return time.Parse(time.DateOnly, text) }

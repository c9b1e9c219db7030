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
	sc := scan(text)
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
	return &reader{body: r.body, ctx: ctx, toks: toks, p: r.p}
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
		return r.scaling(k)
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

// bad is the statement of a line that cannot be read, which has been reported.
func (r *reader) bad() Stmt {
	r.p.Bad = true
	return &Bad{r.node()}
}

// fail reports that the tokens cannot be read from token i on. One line gives one
// such message, and none where a token of it is wrong by itself: that is the cause.
func (r *reader) fail(i int, form string) Stmt {
	if len(r.p.diags) > 0 {
		return r.bad()
	}
	help := "write it like " + r.form(i, form)
	if d := r.takenWord(i, form); d != nil {
		r.report(*d)
		return r.bad()
	}
	if k := r.kind(i); i == len(r.toks)-1 && (k == Plus || k == Or || k == Equals || k == Slash || k == Dash) {
		i++ // something has to follow these
	}
	if i >= len(r.toks) {
		end := r.extent().End
		if form == workForm {
			help = r.missingHelp(help)
		}
		r.report(lineDiag{rule: unreadable, span: source.Span{Start: r.toks[len(r.toks)-1].Start, End: end},
			message: "the line stops too early", label: "something is missing behind this", help: help})
		return r.bad()
	}
	if r.kind(i) == Comma && r.kind(i-1) != Comma && r.kind(i+1) != Comma && i+1 < len(r.toks) {
		i++
	}
	if r.knownMistake(i) {
		return r.bad()
	}
	t := r.toks[i]
	d := lineDiag{rule: unreadable, span: t.Span, help: help,
		message: fmt.Sprintf("%q does not fit here", t.Raw)}
	switch {
	case t.Kind == Tempo && i > 1:
		r.reportComma(i-1, 1)
		return r.bad()
	case t.Kind == Word && i > 0 && r.toks[i-1].Kind == Comma:
		r.unknownClause(t, help)
		return r.bad()
	case t.Kind == Number && i > 0 && r.toks[i-1].Kind == Word:
		d.message = fmt.Sprintf("the number %s does not fit behind %q", t.Raw, r.toks[i-1].Raw)
	case t.Kind == Word && provesClause(t.Text) && i > 0 && keywords[r.ctx][r.word(0)].shape != aLead:
		r.reportComma(i, 1)
		return r.bad()
	}
	d.fix = r.noteFrom(i)
	r.report(d)
	return r.bad()
}

// reportComma reports that a comma is missing before token i, the first of n tokens that
// are the words of a clause.
func (r *reader) reportComma(i, n int) {
	at := r.toks[i-1].End
	r.report(lineDiag{rule: commaMissing, span: r.toks[i].Join(r.toks[i+n-1].Span),
		message: fmt.Sprintf("a comma is missing before %q", r.toks[i].Raw),
		label:   "how a line is done stands behind a comma",
		help:    "put a comma before it",
		fix:     insertion("put a comma before "+r.toks[i].Raw, at, ",")})
}

func (r *reader) unknownClause(t Tok, help string) {
	d := lineDiag{rule: unknownWord, span: t.Span, message: fmt.Sprintf("%q means nothing behind a comma", t.Raw),
		help: "behind a comma stand " + clauseList}
	if startsClause(t.Text) {
		d.rule, d.message = unreadable, fmt.Sprintf("what starts with %q behind this comma cannot be read", t.Raw)
		d.help = help + "; behind a comma stand " + clauseList
	} else if meant := string(clauseSynonyms[t.Text]); meant != "" {
		d.help = "did you mean " + meant + "?"
		d.fix = &lineFix{title: "write " + meant, span: t.Span, text: meant}
	} else if t.Text == "rate" || t.Text == "pace" || t.Text == "zone" {
		d.help = "how fast or how hard stands behind @: " + loadForms
	} else if near := Nearest(t.Text, clauseWords(), 2); len(near) > 0 {
		d.help = "did you mean " + near[0] + "?"
		d.fix = &lineFix{title: "write " + near[0], span: t.Span, text: near[0]}
	} else {
		d.fix = r.noteFrom(slices.IndexFunc(r.toks, func(o Tok) bool { return o.Start == t.Start }) - 1)
	}
	r.report(d)
}

// loadForms are examples of loads, for messages.
const loadForms = "@ 24/16 kg, @ 80%, @ RPE 8, @ 2:05 per 500 m, @ 18 spm, @ 140 bpm"

// reportOdd reports characters that have no meaning where they stand, once a line.
func (r *reader) reportOdd(toks []Tok) {
	if len(toks) == 0 {
		return
	}
	t := toks[0]
	d := lineDiag{rule: oddCharacter, span: t.Span, message: fmt.Sprintf("%s has no meaning here", describe(t.Raw))}
	d.help = "take it out, or put > before text that is a note"
	if n := len(toks); n > 1 {
		d.message += fmt.Sprintf(" (and %d more on this line)", n-1)
	}
	c := []rune(t.Raw)[0]
	behind := strings.TrimLeft(r.body[t.End:], " \t")
	switch {
	case isDash(c):
		d.message = fmt.Sprintf("this dash is %s; the notation uses - between numbers and inside words only", dashName(c))
		if behind != "" {
			d.help = "where it starts a remark, write > instead"
			d.fix = &lineFix{title: "make the rest of the line a note", span: t.Span, text: ">"}
			if before, _ := utf8.DecodeLastRuneInString(r.body[:t.Start]); t.Start > 0 && !isBlank(before) {
				d.fix.text = " >"
			}
		}
	case strings.ContainsRune(quotes, c):
		d.help = "names need no quotation marks: take them out"
		d.fix = unquote(r.body, toks)
	case strings.ContainsRune("([{", c):
		d.help = "where the brackets hold a remark, write > before it"
		r.bracket(&d)
	case c == ')' && len(r.toks) > 1 && r.kind(0) == Word && t.Start == r.toks[min(1, len(r.toks)-1)].End:
		d.help = "a label ends in a colon: " + r.text(0, 2) + ": before the work"
		d.fix = &lineFix{title: "write a colon", span: t.Span, text: ":"}
	case c == '&':
		d.help = "write and inside a name, or + between movements that are done without letting go"
	case c == ';':
		d.help = "write a comma between clauses, and a second movement on a line of its own"
	case strings.ContainsRune("½¼¾⅓⅔", c):
		d.help = "write a fraction with a point, such as 0.5"
	}
	r.report(d)
}

const quotes = "\"“”„«»‘’"

// unquote takes out all quotation marks among the odd tokens of a line.
func unquote(body string, toks []Tok) *lineFix {
	span := toks[0].Span.Join(toks[len(toks)-1].Span)
	var b strings.Builder
	at := span.Start
	for _, t := range toks {
		if strings.Trim(t.Raw, quotes) == "" {
			b.WriteString(body[at:t.Start])
			at = t.End
		}
	}
	b.WriteString(body[at:span.End])
	return &lineFix{title: "take out the quotation marks", span: span, text: b.String()}
}

func dashName(r rune) string {
	switch r {
	case 0x2013:
		return "an en dash"
	case 0x2014:
		return "an em dash"
	case 0x2212:
		return "a minus sign"
	case '-':
		return "a hyphen"
	}
	return fmt.Sprintf("the dash U+%04X", r)
}

// describe names a run of characters so that a person can find it on the screen.
func describe(raw string) string {
	rs := []rune(raw)
	switch r := rs[0]; {
	case r == 0xFFFD:
		return "a broken byte (the text is not UTF-8 here)"
	case r < 0x20 || r == 0x7F:
		return fmt.Sprintf("the control character U+%04X", r)
	}
	if len(rs) > 12 {
		raw = string(rs[:12]) + "…"
	}
	return fmt.Sprintf("%q", raw)
}

// misplaced reports a line whose first word is no keyword in its block.
func (r *reader) misplaced() Stmt {
	t := r.toks[0]
	d := lineDiag{rule: misplaced, span: t.Span}
	word := r.word(0)
	var homes []string
	for _, c := range []Context{InFile, InSession, InGroup, InScaling, InMovement, InHouse, InCycle, InWeek} {
		if k, ok := keywords[c][word]; ok {
			homes = append(homes, block[c])
			if r.p.opens == InNothing {
				r.p.opens = k.opens
			}
		}
	}
	near := Nearest(word, KeywordsIn(r.ctx), 2)
	refused := ""
	if r.ctx == InHouse {
		refused = refusedHouseLine[word]
	}
	switch {
	case refused != "":
		d.message, d.help = refused, "take the line out"
		d.fix = &lineFix{title: "make it a comment", span: source.Span{Start: t.Start, End: t.Start}, text: "# "}
	case len(homes) > 0:
		d.message = fmt.Sprintf("%q may not stand %s", t.Raw, block[r.ctx])
		d.help = "it belongs " + strings.Join(homes, ", or ")
		if r.ctx == InFile {
			d.help += "; indent it by two blanks under its head"
		}
	case word == "" || len(near) == 0 && (r.ctx == InFile || r.ctx == InSession):
		d.message = fmt.Sprintf("%q may not stand %s", t.Raw, block[r.ctx])
		d.help = "work stands in a part, indented by two blanks: under warm-up, part A ... or cool-down"
		if word != "" {
			d.help = "lines there start with " + strings.Join(KeywordsIn(r.ctx), ", ") + "; " + d.help
		}
	default:
		d.rule = unknownWord
		d.message = fmt.Sprintf("no line %s starts with %q", block[r.ctx], t.Raw)
		d.help = "lines there start with " + strings.Join(KeywordsIn(r.ctx), ", ")
	}
	if len(homes) == 0 && len(near) > 0 && refused == "" {
		d.rule = unknownWord
		d.message = fmt.Sprintf("no line %s starts with %q", block[r.ctx], t.Raw)
		d.help = "did you mean " + near[0] + "?"
		d.fix = &lineFix{title: "write " + near[0], span: t.Span, text: near[0]}
		r.p.opens = keywords[r.ctx][near[0]].opens
	}
	if r.ctx == InFile && word != "" && len(homes) == 0 && len(near) == 0 {
		r.p.opens = InGroup // a head of some kind, so that its lines are not all called wrong
	}
	r.p.misplaced = true
	if len(r.p.diags) == 0 {
		r.report(d)
	}
	return r.bad()
}

func parseDate(text string) (time.Time, error) { return time.Parse(time.DateOnly, text) }

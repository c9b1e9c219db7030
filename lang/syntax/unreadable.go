package syntax

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"stint.example/stint/lang/source"
)

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
	} else if StartsHead(t.Text) && t.Text != "hold" {
		d.help = "on a head, how often it comes round and what it is for stand before all clauses: part A amrap 6:00, in pairs"
	} else if t.Text == "hold" && r.refusedHold(&d) {
		d.fix, d.others = nil, nil // it is of a head
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

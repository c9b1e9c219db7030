package syntax

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"stint.example/stint/lang/source"
)

// Fixes of a line that write several, move a part of it, or make it a note; and the proof that a
// fix mends.

// maxProven is how many mistakes of a line have their fixes proven, and maxFixes how many fixes
// are made at once. They bound the work on nonsense.
const (
	maxProven = 8
	maxFixes  = 3
)

// keepMending leaves out the fixes with which the line would not read: a mistake has to be gone,
// and no other may come in. Where the mended line has another mistake with a fix of its own, the
// two are made at once.
func (p *Parsed) keepMending(body string, ctx Context, deep int) {
	if len(p.diags) > maxProven {
		return
	}
	for i := range p.diags {
		d := &p.diags[i]
		if d.fix == nil {
			continue
		}
		var all []lineFix
		for _, f := range append([]lineFix{*d.fix}, d.others...) {
			text := body[:f.span.Start] + f.text + body[f.span.End:]
			if p.mends(text, ctx) {
				all = append(all, f)
			} else if next := further(text, ctx, deep); next != nil {
				f.title += ", and " + next.title
				f.safe = f.safe && next.safe
				f.text, f.span = text[:next.span.Start]+next.text+text[next.span.End:], source.Span{End: len(body)}
				all = append(all, f)
			}
		}
		d.fix, d.others = nil, nil
		if len(all) > 0 {
			d.fix, d.others = &all[0], all[1:]
		}
	}
}

// further is the fix of what is wrong with a line once one mistake is mended, if that mends it.
func further(text string, ctx Context, deep int) *lineFix {
	if deep == 0 || strings.Contains(text, "\n") {
		return nil
	}
	p := readLine(text, ctx)
	p.keepMending(text, ctx, deep-1)
	if len(p.diags) != 1 || p.diags[0].fix == nil || p.diags[0].fix.text == aNote {
		return nil
	}
	return p.diags[0].fix
}

// Mends reports whether the line reads without a mistake with a text put in at an offset of its
// body.
func (p *Parsed) Mends(at int, text string) bool {
	return at >= 0 && at <= len(p.Text) && !readLine(p.Text[:at]+text+p.Text[at:], p.in).Bad
}

// mends reports whether a text has fewer mistakes than the line, and none that it has not.
func (p *Parsed) mends(text string, ctx Context) bool {
	left := 0
	for i, line := range strings.Split(text, "\n") {
		body := strings.TrimLeft(line, " ")
		within := ctx
		if i > 0 && body != line {
			within = InGroup
		}
		for _, d := range readLine(body, within).diags {
			left++
			if !slices.ContainsFunc(p.diags, func(o lineDiag) bool { return o.rule == d.rule && o.message == d.message }) {
				return false
			}
		}
	}
	return left < len(p.diags)
}

// remark offers to make a note of a line that is a sentence and cannot be mended otherwise.
func (r *reader) remark() {
	if r.ctx != InGroup || !r.p.Bad || len(r.p.diags) == 0 || len(r.toks) == 0 || r.toks[0].Kind != Word || !r.sentence() ||
		slices.ContainsFunc(r.p.diags, func(d lineDiag) bool { return d.fix != nil }) {
		return
	}
	d := &r.p.diags[0]
	r.p.diags = r.p.diags[:1]
	d.fix = &lineFix{title: "make the line a note", text: aNote}
	if !strings.Contains(d.help, ">") {
		d.help += "; a remark stands behind >"
	}
}

// noteFrom is the fix that makes a note of what cannot be read from token i on, where two words or
// more are left and what stands before them is work.
func (r *reader) noteFrom(i int) *lineFix {
	if i == 0 && r.p.Note == nil && r.ctx == InGroup && len(r.p.Toks) > 1 && r.p.Toks[0].Text == "score" && r.toks[0].Start > 0 {
		return &lineFix{title: "put > before it", span: source.Span{Start: r.toks[0].Start, End: r.toks[0].Start}, text: "> "}
	}
	if r.ctx != InGroup || r.p.Note != nil || i < 1 || i >= len(r.toks) || r.toks[0].Start > 0 && strings.Contains(r.body[:r.toks[0].Start], ":") {
		return nil
	}
	from := i
	if k := r.kind(i); k == Comma || k == Arrow {
		from++
	}
	if from >= len(r.toks) || startsClause(r.word(from)) || r.kind(from) == Dash || r.kind(from) == Times {
		return nil
	}
	if len(strings.Fields(r.body[r.toks[from].Start:])) < 2 {
		return nil
	}
	if g, _ := itemGrammar.parse(r.toks[:i]); g == nil || r.startsRounds() {
		return nil
	}
	return &lineFix{title: "make the rest of the line a note", span: source.Span{Start: r.toks[i-1].End, End: r.toks[from].Start}, text: " > "}
}

// aNote is what stands before a line that is a note.
const aNote = "> "

// sentenceWords are words that sentences have and lines of work have not.
var sentenceWords = strings.Fields("the your you u ur is are was it its it's this that these we me i he she they them if then but " +
	"not no dont don't cant can't can do does did has have had be been so as too when what who same was will would should")

// sentence reports whether a line of some words has one that only sentences have, or ends or is
// cut like one.
func (r *reader) sentence() bool {
	words := strings.Fields(strings.ToLower(r.body))
	return len(words) > 3 && slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains(sentenceWords, strings.Trim(w, ".,;:!?")) || strings.ContainsAny(w[len(w)-1:], ".;!?")
	})
}

// aLineEach is the fix that puts each movement of a line that holds several on a line of its own.
// Behind a colon they come under what stands before it.
func (r *reader) aLineEach(toks []Tok) *lineFix {
	lines := r.movements(toks)
	if len(lines) < 2 {
		return nil
	}
	fix := &lineFix{title: "put each on a line of its own", span: toks[0].Join(toks[len(toks)-1].Span), text: strings.Join(lines, "\n")}
	before := strings.TrimSpace(r.body[:fix.span.Start])
	over, headed := strings.CutSuffix(before, ":")
	if !headed {
		over, headed = strings.CutSuffix(before, " of") // 3 rounds of 10 push-up, 10 squat
	}
	if before != "" && !headed {
		return nil
	}
	if headed {
		fix.span.Start, fix.text = len(over), "\n  "+strings.Join(lines, "\n  ")
		if head := readLine(over, r.ctx); head.Bad || !isHead(head.Stmt) {
			fix.text = ":" + fix.text
		}
	}
	return fix
}

func isHead(s Stmt) bool {
	_, is := s.(*Head)
	return is
}

// movements cuts tokens at the commas behind which another movement starts.
func (r *reader) movements(toks []Tok) []string {
	var out []string
	from := 0
	for i := range toks {
		if toks[i].Kind != Comma || i == from || i+1 == len(toks) || toks[i+1].Kind == Word && startsClause(toks[i+1].Text) {
			continue
		}
		out = append(out, r.body[toks[from].Start:toks[i-1].End])
		from = i + 1
	}
	if from < len(toks) {
		out = append(out, r.body[toks[from].Start:toks[len(toks)-1].End])
	}
	return out
}

var bracketedLoad = regexp.MustCompile(`^(\d+(?:\.\d+)?(?: ?[/-] ?\d+(?:\.\d+)?)?) ?(kg|kgs|lb|lbs|cm|%)?$`)

// bracket offers what brackets are mostly put around: a load, movements that come round, or a
// remark.
func (r *reader) bracket(d *lineDiag) {
	from := d.span.Start
	size := strings.IndexByte(r.body[from:], ')')
	if r.body[from] != '(' || size < 0 || r.p.Comment != nil {
		return
	}
	inside := strings.TrimSpace(r.body[from+1 : from+size])
	end := from + size + 1
	span := source.Span{Start: from, End: end}
	before := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Start >= from })
	load := bracketedLoad.FindStringSubmatch(inside)
	switch {
	case before == 2 && r.number(0) && r.times(1) && strings.TrimSpace(r.body[end:]) == "":
		toks := slices.DeleteFunc(slices.Clone(r.toks[before:]), func(t Tok) bool { return t.Start >= end })
		if lines := r.movements(toks); len(lines) > 0 {
			head := r.toks[0].Raw + " rounds"
			d.message, d.help = "what comes round stands under its head, a line each", "write "+head+", and under it what the brackets hold"
			d.fix = &lineFix{title: "write " + head, span: source.Span{Start: 0, End: end}, text: head + "\n  " + strings.Join(lines, "\n  ")}
		}
	case load != nil && load[2] != "":
		d.help = "a load stands behind @: write @ " + inside
		d.fix = &lineFix{title: "write @ " + inside, span: span, text: "@ " + inside}
	case load != nil && strings.Contains(inside, "/"):
		d.help = "a load stands behind @ and has a unit: write @ " + inside + " kg"
		r.inKilogramsOrPounds(d, span, inside)
	case r.p.Note == nil:
		code := strings.Join(strings.Fields(r.body[:from]+" "+r.body[end:]), " ")
		d.fix = &lineFix{title: "make a note of what the brackets hold", span: source.Span{Start: 0, End: len(r.body)},
			text: strings.TrimSpace(strings.ReplaceAll(code, " ,", ",")) + " > " + inside}
	}
}

// inKilogramsOrPounds offers a load in both of the units that it may be in.
func (r *reader) inKilogramsOrPounds(d *lineDiag, span source.Span, load string) {
	d.fix = &lineFix{title: "write @ " + load + " kg", span: span, text: "@ " + load + " kg"}
	d.others = []lineFix{{title: "write @ " + load + " lb", span: span, text: "@ " + load + " lb"}}
	if last, _ := utf8.DecodeLastRuneInString(r.body[:span.Start]); span.Start > 0 && !isBlank(last) {
		d.fix.text, d.others[0].text = " "+d.fix.text, " "+d.others[0].text
	}
}

// bareWeight reports a number behind the movement that can only be its weight.
func (r *reader) bareWeight(load source.Span) {
	text := r.body[load.Start:load.End]
	d := lineDiag{rule: unreadable, span: load, message: "this line says how much twice: before the movement and behind it",
		help: "leave one of the two out; a load stands behind @ and has a unit: @ " + text + " kg"}
	r.inKilogramsOrPounds(&d, load, text)
	r.report(d)
}

// loadFirst reports a load that stands before its movement, "10 @ 60 kg back squat". Token i is
// where the line cannot be read.
func (r *reader) loadFirst(i int) *lineDiag {
	from := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == At })
	if from < 1 || i < from || slices.ContainsFunc(r.toks[:from], func(t Tok) bool { return t.Kind == Word }) {
		return nil
	}
	to := from + 2 // an @ alone is no load here
	for to < len(r.toks) && r.kind(to) != Comma {
		if g, _ := loadsGrammar.parse(r.toks[from:to]); g != nil && r.kind(to) == Word {
			break
		}
		to++
	}
	if r.kind(to) != Word {
		return nil
	}
	end := to
	for r.kind(end) == Word && !startsClause(r.word(end)) {
		end++
	}
	if end == to {
		return nil
	}
	span := r.toks[from].Join(r.toks[end-1].Span)
	mend := r.text(to, end) + " " + r.text(from, to)
	return &lineDiag{rule: unreadable, span: span, message: "a load stands behind the movement that it is of", help: "write " + r.text(0, from) + " " + mend,
		fix: &lineFix{title: "write " + r.text(0, from) + " " + mend, span: span, text: mend}}
}

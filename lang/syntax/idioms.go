package syntax

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

// idiom reports a form that is common on whiteboards and not part of the notation, before
// the line is read as work: some of these forms would parse as a movement's name. It
// returns nil where the line is none of them.
func (r *reader) idiom() Stmt {
	if len(r.p.diags) > 0 || len(r.toks) < 2 {
		return nil
	}
	for _, known := range []func() *lineDiag{r.sectionInside, r.seriesAlone, r.onOff, r.interval, r.timeAndWord, r.accumulated, r.rate, r.maxInTime} {
		if d := known(); d != nil {
			r.report(*d)
			return r.bad()
		}
	}
	return nil
}

// whole is the fix that writes another text instead of the tokens.
func (r *reader) whole(mend string) *lineFix {
	return &lineFix{title: "write " + mend, span: r.extent(), text: mend}
}

// text is the line from token i up to token j.
func (r *reader) text(i, j int) string { return r.body[r.toks[i].Start:r.toks[j-1].End] }

// sectionInside reports a section that is indented under another.
func (r *reader) sectionInside() *lineDiag {
	w := r.word(0)
	if to, ok := keywordSpellings[w]; ok {
		w = to
	}
	section := w == "part" && r.kind(1) == Word && len([]rune(r.toks[1].Text)) == 1
	section = section || (w == "warm-up" || w == "cool-down") && (r.kind(1) == Colon || provesClause(r.word(1)))
	if !section || r.ctx != InGroup {
		return nil
	}
	return &lineDiag{rule: misplaced, span: r.toks[0].Span,
		message: fmt.Sprintf("%q may not stand in a part", r.toks[0].Raw),
		help:    "it starts at the margin; a block inside a part may have a name of any other words before a colon"}
}

// seriesAlone reports "21-15-9", which says how many but not whether as a ladder.
func (r *reader) seriesAlone() *lineDiag {
	n := 0
	for n < len(r.toks) && (r.kind(n) == Number || r.kind(n) == Dash || r.kind(n) == Dots) {
		n++
	}
	dashes := 0
	for _, t := range r.toks[:n] {
		if t.Kind == Dash {
			dashes++
		}
	}
	falls := dashes == 1 && r.kind(0) == Number && r.kind(2) == Number && numOf(r.toks[0]).Value > numOf(r.toks[2]).Value
	if dashes < 2 && !falls || n < len(r.toks) && r.word(n) != "for" && r.kind(n) != Colon && !(r.kind(n) == Comma && provesClause(r.word(n+1))) {
		return nil
	}
	d := &lineDiag{rule: unreadable, span: r.toks[0].Join(r.toks[n-1].Span),
		message: "a series alone does not say what is counted",
		help:    "did you mean ladder " + r.text(0, n) + "? The work stands under it; or write it before one movement: " + r.text(0, n) + " burpee"}
	d.fix = &lineFix{title: "write ladder " + r.text(0, n), span: source.Span{Start: d.span.Start, End: d.span.Start}, text: "ladder "}
	return d
}

// timeAt reads a duration at token i: its clock value, and the index behind it, which
// is i where there is none.
func (r *reader) timeAt(i int) (clock string, seconds float64, next int) {
	switch {
	case r.kind(i) == Clock:
		seconds, _ = units.ParseClock(r.toks[i].Text)
		next = i + 1
	case r.kind(i) == Number && r.kind(i+1) == Unit:
		u, ok := units.Lookup(r.toks[i+1].Text)
		if !ok || u.Dimension() != units.Time {
			return "", 0, i
		}
		seconds = u.ToBase(numOf(r.toks[i]).Value)
		next = i + 2
	default:
		return "", 0, i
	}
	if seconds != math.Trunc(seconds) {
		return "", 0, i
	}
	return units.FormatClock(seconds), seconds, next
}

// times reports whether token i is an x, behind whatever it stands.
func (r *reader) times(i int) bool { return r.kind(i) == Times || r.word(i) == "x" }

// onOff reports "20 s on 10 s off x 8", which starts with on.
func (r *reader) onOff() *lineDiag {
	i, times := 0, ""
	if r.kind(0) == Number && (r.times(1) || strings.HasPrefix(r.word(1), "round")) {
		times, i = r.toks[0].Raw, 2
		if r.word(2) == "of" {
			i++
		}
	}
	on, _, i2 := r.timeAt(i)
	if i2 == i || r.word(i2) != "on" && r.word(i2) != "work" {
		return nil
	}
	i2++
	if k := r.kind(i2); k == Slash || k == Comma {
		i2++
	}
	off, _, i3 := r.timeAt(i2)
	if i3 == i2 || r.word(i3) != "off" && r.word(i3) != "rest" {
		return nil
	}
	i3++
	if (r.kind(i3) == Comma || r.word(i3) == "for") && r.kind(i3+1) == Number {
		i3++
	}
	switch {
	case r.times(i3) && r.kind(i3+1) == Number:
		times, i3 = r.toks[i3+1].Raw, i3+2
	case r.kind(i3) == Number && strings.HasPrefix(r.word(i3+1), "round"):
		times, i3 = r.toks[i3].Raw, i3+2
	}
	mend := "on " + on + " off " + off + " x " + times
	d := &lineDiag{rule: unreadable, span: r.extent(), message: "work and rest by the clock start with on",
		help: "write " + mend}
	switch {
	case times == "":
		d.help = "write " + mend + "8, or as many as are meant"
	case i3 == len(r.toks) || r.kind(i3) == Colon:
		d.span.End = r.toks[i3-1].End
		d.fix = &lineFix{title: "write " + mend, span: d.span, text: mend}
	}
	return d
}

// interval reports "E2MOM x 5", which is every 2:00 x 5.
func (r *reader) interval() *lineDiag {
	if r.word(0) != "e" || r.kind(1) != Number || r.word(2) != "mom" || r.toks[0].End != r.toks[1].Start || r.toks[1].End != r.toks[2].Start {
		return nil
	}
	minutes := numOf(r.toks[1]).Value
	if minutes < 1 || minutes != math.Trunc(minutes) {
		return nil
	}
	every := "every " + units.FormatClock(60*minutes)
	d := &lineDiag{rule: unreadable, span: r.toks[0].Join(r.toks[2].Span),
		message: "starts that are more than a minute apart are written with every",
		help:    "write " + every + " x 5, or as many starts as are meant"}
	end := 0
	total, seconds, next := r.timeAt(3)
	switch {
	case r.times(3) && r.kind(4) == Number:
		every, end = every+" x "+r.toks[4].Raw, 5
	case next > 3 && math.Mod(seconds, 60*minutes) == 0 && seconds > 0:
		every, end = every+" x "+units.FormatNumber(seconds/60/minutes), next
		d.label = total + " in all"
	default:
		return d
	}
	d.help = "write " + every
	d.fix = &lineFix{title: "write " + every, span: r.toks[0].Join(r.toks[end-1].Span), text: every}
	return d
}

// timeAndWord reports "12 min cap" and its like: the word stands before the time.
func (r *reader) timeAndWord() *lineDiag {
	clock, _, i := r.timeAt(0)
	if i == 0 || i == len(r.toks) {
		return nil
	}
	w := r.word(i)
	if w == "time" && r.kind(i+1) == Word {
		i++
		w = r.word(i)
	}
	if i+1 < len(r.toks) && r.kind(i+1) != Colon {
		return nil
	}
	d := &lineDiag{rule: unreadable, span: r.toks[0].Join(r.toks[i].Span)}
	switch w {
	case "clock", "limit", "window", "block":
		d.message = "how long something goes on is said before it"
		d.help = "write lasts " + clock + ", over the lines that it is for or behind the part: part A lasts " + clock
		d.fix = &lineFix{title: "write lasts " + clock, span: d.span, text: "lasts " + clock}
	case "cap", "timecap":
		d.message = "a cap belongs behind the head that it is for"
		d.help = "write it like part A for time, cap " + clock + "; where all work until the end of it, lasts " + clock
	case "amrap", "emom":
		d.message, d.help = w+" stands before its time", "write "+w+" "+clock
		d.fix = &lineFix{title: "write " + w + " " + clock, span: d.span, text: w + " " + clock}
	default:
		return nil
	}
	return d
}

// accumulated reports "accumulate 3:00 hollow hold", which is a dose in any sets.
func (r *reader) accumulated() *lineDiag {
	if w := r.word(0); w != "accumulate" && w != "accumulated" && w != "collect" || !r.number(1) {
		return nil
	}
	mend := r.text(1, len(r.toks)) + ", any sets"
	return &lineDiag{rule: unreadable, span: r.toks[0].Span,
		message: "what is done in as many sets as one likes has a clause for that", help: "write " + mend,
		fix: r.whole(mend)}
}

// rate reports "rate 18" on a line of its own.
func (r *reader) rate() *lineDiag {
	if r.word(0) != "rate" || r.kind(1) != Number {
		return nil
	}
	return &lineDiag{rule: misplaced, span: r.extent(), message: "a rate stands behind the work that it is for",
		help: "write it like 500 m row @ " + r.toks[1].Raw + " spm"}
}

// abbreviated says how a name with a digit in it is written, where that is well known.
var abbreviated = map[string]string{"t2b": "toes to bar", "c2b": "chest-to-bar", "g2o": "ground to overhead", "g2oh": "ground to overhead",
	"s2oh": "shoulder to overhead", "s2o": "shoulder to overhead"}

// maxInTime reports a max whose time stands behind it, or has its sides before it: "max 0:30 plank" and
// "0:30/side max plank".
func (r *reader) maxInTime() *lineDiag {
	i := slices.IndexFunc(r.toks, func(t Tok) bool { return t.Kind == Word && t.Text == "max" })
	if i < 0 {
		return nil
	}
	from, to, number := i, i+1, i-2
	side := r.kind(i-1) == Side
	if side {
		from = number
	} else {
		number = i + 1
		if to = i + 2; r.kind(to) == Side {
			side, to = true, to+1
		}
	}
	if number < 0 || r.kind(number) != Clock || r.kind(to) != Word {
		return nil
	}
	mend := r.toks[number].Raw + " max"
	if side {
		mend += "/side"
	}
	span := r.toks[from].Join(r.toks[to-1].Span)
	return &lineDiag{rule: unreadable, span: span, message: "how long stands before max, and each side behind it",
		help: "write " + mend + " " + r.text(to, len(r.toks)), fix: &lineFix{title: "write " + mend, span: span, text: mend}}
}

// digitInside reports a name with a digit between its letters, such as T2B, or a label
// that lacks its colon, such as A1.
func (r *reader) digitInside() *lineDiag {
	for i := 0; i+1 < len(r.toks); i++ {
		if r.kind(i) != Word || r.kind(i+1) != Number || r.toks[i].End != r.toks[i+1].Start || provesClause(r.word(i)) {
			continue
		}
		end := i + 2
		for end < len(r.toks) && r.toks[end-1].End == r.toks[end].Start && (r.kind(end) == Word || r.kind(end) == Number || r.kind(end) == Unit) {
			end++
		}
		raw := r.text(i, end)
		d := &lineDiag{rule: number, span: r.toks[i].Join(r.toks[end-1].Span),
			message: "a movement's name holds no digits", help: "write it in words, as the book has it"}
		if i == 0 && end == 2 && len([]rune(r.toks[0].Text)) == 1 && end < len(r.toks) {
			d.message = fmt.Sprintf("%s is no word of the notation; a label of your own ends in a colon", raw)
			d.help = "write " + raw + ": " + r.text(end, len(r.toks))
			d.fix = insertion("write "+raw+":", d.span.End, ":")
			return d
		}
		if words := abbreviated[strings.ToLower(raw)]; words != "" {
			if words == "chest-to-bar" && r.kind(end) != Word {
				words += " pull-up"
			}
			d.help = "write " + words
			d.fix = &lineFix{title: "write " + words, span: d.span, text: words}
		}
		return d
	}
	return nil
}

// perHand reports a load that is said to be in each hand: the number of implements
// stands before it. Token i is where the line cannot be read.
func (r *reader) perHand(i int) *lineDiag {
	end := i + 1
	switch {
	case r.kind(i) == Side:
	case r.word(i) == "each" || r.word(i) == "per":
		if w := r.word(end); slices.Contains(sideWords, w) || w == "dumbbell" || w == "kettlebell" {
			end++
		}
	case r.word(i) == "ea":
	default:
		return nil
	}
	from := i - 1
	for from > 0 && r.kind(from) != At && r.kind(from) != Comma {
		from--
	}
	if r.kind(from) != At || !r.number(from+1) || r.kind(i-1) != Unit || r.toks[i-1].Text != "kg" && r.toks[i-1].Text != "lb" {
		return nil
	}
	mend := "2x" + r.text(from+1, i)
	d := &lineDiag{rule: unreadable, span: r.toks[i].Join(r.toks[end-1].Span),
		message: "a load is that of one implement, and before it stands how many there are", help: "write @ " + mend}
	if !slices.ContainsFunc(r.toks[from:i], func(t Tok) bool { return t.Kind == Times }) {
		d.fix = &lineFix{title: "write @ " + mend, span: r.toks[from+1].Join(r.toks[end-1].Span), text: mend}
	}
	return d
}

// twoUnits reports "@ 24kg/16kg", which says its unit twice.
func (r *reader) twoUnits(i int) *lineDiag {
	united := r.kind(i-2) == Number && r.kind(i-1) == Unit && r.kind(i+1) == Number && r.kind(i+2) == Unit
	if r.kind(i) != Slash || !united || r.toks[i-1].Text != r.toks[i+2].Text {
		return nil
	}
	mend := r.toks[i-2].Raw + "/" + r.toks[i+1].Raw + " " + r.toks[i+2].Raw
	span := r.toks[i-2].Join(r.toks[i+2].Span)
	return &lineDiag{rule: unreadable, span: span, message: "two tiers have one unit", help: "write " + mend,
		fix: &lineFix{title: "write " + mend, span: span, text: mend}}
}

// bareLoad reports whether the tokens are a load that lacks its @, as on a side of a swap.
func bareLoad(toks []Tok) bool {
	n := len(toks) - 1
	if n < 1 || toks[0].Kind != Number {
		return false
	}
	for _, t := range toks[:n] {
		if t.Kind != Number && t.Kind != Slash && t.Kind != Dash && t.Kind != Times {
			return false
		}
	}
	last := toks[n]
	return last.Kind == Percent || last.Kind == Word && (last.Text == "kg" || last.Text == "lb" || last.Text == "lbs")
}

// swappedLoads reports "16/12 kg -> 8/6 kg", whose loads lack their @.
func (r *reader) swappedLoads(left, right []Tok) *lineDiag {
	if len(left) == 0 || len(right) == 0 || !bareLoad(left) {
		return nil
	}
	words := func(toks []Tok) string {
		at := ""
		if bareLoad(toks) {
			at = "@ "
		}
		return at + r.body[toks[0].Start:toks[len(toks)-1].End]
	}
	span := left[0].Join(right[len(right)-1].Span)
	mend := words(left) + " -> " + words(right)
	return &lineDiag{rule: unreadable, span: left[0].Join(left[len(left)-1].Span), message: "a load starts with @",
		help: "write " + mend,
		fix:  &lineFix{title: "write " + mend, span: span, text: mend}}
}

// restRatio reports "rest 1:1", a work-to-rest ratio. The scanner has reported it as a
// malformed clock value, so that diagnostic is removed.
func (r *reader) restRatio(t Tok) {
	work, rest, found := strings.Cut(t.Raw, ":")
	if t.Kind != Clock || !found || len(work) != 1 || len(rest) != 1 || work == "0" || rest == "0" {
		return
	}
	mend := units.FormatNumber(math.Round(float64(rest[0]-'0')/float64(work[0]-'0')*100)/100) + " x work"
	r.p.diags = slices.DeleteFunc(r.p.diags, func(d lineDiag) bool { return d.span == t.Span })
	r.report(lineDiag{rule: number, span: t.Span,
		message: t.Raw + " is no clock value; a rest as long as the work, or so many times that, says so",
		help:    "write rest " + mend,
		fix:     &lineFix{title: "write rest " + mend, span: t.Span, text: mend}})
}

// takenWords are the words of the notation that a movement's name might start with.
var takenWords = []string{"tag", "in", "one", "with", "carry", "round", "when", "any", "choose", "on", "lasts", "total", "aim"}

// takenWord reports a movement whose first word starts another kind of line.
func (r *reader) takenWord(i int, form string) *lineDiag {
	if r.ctx != InGroup || i != 1 || r.kind(1) != Word || provesClause(r.word(1)) || !slices.Contains(takenWords, r.word(0)) {
		return nil
	}
	if slices.ContainsFunc(r.p.Toks, func(t Tok) bool { return t.Kind == Colon }) {
		return nil // a head or a lead is meant
	}
	form, _, _ = strings.Cut(form, ";")
	if second := strings.Fields(form); len(second) > 1 && len(Nearest(r.word(1), []string{strings.TrimRight(second[1], ":,")}, 2)) > 0 {
		return nil // the second word is misspelt
	}
	words := GroupWords()
	slices.Sort(words)
	return &lineDiag{rule: unreadable, span: r.toks[1].Span,
		message: fmt.Sprintf("%q does not fit behind %q", r.toks[1].Raw, r.toks[0].Raw),
		help:    "write it like " + form + "; if a movement is meant, its name has to start with another word, since these are taken: " + strings.Join(words, ", ")}
}

package syntax

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/units"
)

func (r *reader) entry(k keyword) Stmt {
	e := &Entry{node: r.node(), Kind: r.toks[0].Text}
	if len(r.toks) == 1 {
		return r.fail(1, k.form)
	}
	e.Name = r.rawName(r.toks[1:])
	switch e.Kind {
	case "session", "house", "cycle":
		if nameless(e.Name) {
			r.report(lineDiag{rule: unreadable, span: e.Name.Span, message: "a name has a letter or a digit in it, by which it is told from others",
				help: "write it like " + k.form})
		}
	case "stint":
		if e.Name.Text != "1" {
			r.report(lineDiag{rule: unknownWord, span: e.Name.Span,
				message: fmt.Sprintf("this tool reads stint 1, not stint %s", e.Name.Text),
				help:    "write stint 1"})
		}
	case "movement":
		if t, ok := notName(r.toks[1:]); ok {
			r.report(lineDiag{rule: unreadable, span: t.Span,
				message: fmt.Sprintf("a movement's name may not hold %q", t.Raw),
				help:    "a name is letters, hyphens and apostrophes; say numbers in words: single-arm row"})
			break
		}
		if w := r.toks[1].Text; slices.Contains(GroupWords(), w) {
			r.report(lineDiag{rule: misplaced, span: r.toks[1].Span,
				message: fmt.Sprintf("a movement's name may not start with %q: a line of work that starts so means something else", w),
				help:    "put another word first"})
		} else if kind := endsInClause(r.toks[1:]); kind != "" {
			r.report(lineDiag{rule: misplaced, span: r.toks[1].Span.Join(r.toks[len(r.toks)-1].Span),
				message: fmt.Sprintf("a movement's name may not end in %q: behind a movement it says how the work is done", kind),
				help:    "put another word last"})
		}
	}
	return e
}

// endsInClause is the clause of a line of work that a name ends in; empty where it ends in none, or
// is nothing else.
func endsInClause(toks []Tok) ClauseKind {
	for _, c := range clauseTypes {
		words := strings.Fields(string(c.kind))
		if n := len(toks) - len(words); n > 0 && c.takes == takesNothing && c.onWork.allowed() &&
			slices.EqualFunc(toks[n:], words, func(t Tok, w string) bool { return t.Text == w }) {
			return c.kind
		}
	}
	return ""
}

func notName(toks []Tok) (Tok, bool) {
	i := slices.IndexFunc(toks, func(t Tok) bool { return t.Kind != Word })
	if i < 0 {
		return Tok{}, false
	}
	return toks[i], true
}

// rawName is a name of any tokens, such as a session's: as written, with one blank
// where there are any.
func (r *reader) rawName(toks []Tok) Name {
	n := Name{Span: toks[0].Span}
	n.End = toks[len(toks)-1].End
	var b strings.Builder
	for i, t := range toks {
		if i > 0 && t.Start > toks[i-1].End {
			b.WriteByte(' ')
		}
		switch t.Kind {
		case Dots, Arrow:
			b.WriteString(t.Text)
		default: // a slash and its word are one token, with blanks between them perhaps
			b.WriteString(strings.Join(strings.FieldsFunc(plainWord(t.Raw), isBlank), " "))
		}
	}
	n.Text = b.String()
	return n
}

func (r *reader) scaling() Stmt {
	s := &Scaling{node: r.node()}
	toks := r.toks[1:]
	from := slices.IndexFunc(toks, func(t Tok) bool { return t.Kind == Word && t.Text == "from" })
	if from == 0 || len(toks) == 0 || from == len(toks)-1 {
		return r.fail(len(r.toks), "scaling no-kit, or scaling shed from no-kit")
	}
	rest := toks[len(toks):]
	if from > 0 {
		toks, rest = toks[:from], toks[from+1:]
	}
	if t, bad := notVersion(toks); bad {
		return r.badVersion(t)
	}
	s.Name = r.rawName(toks)
	if from > 0 {
		names, bad := r.versions(rest)
		switch i := slices.Index(r.toks, rest[0]) + bad; {
		case bad < 0:
			s.From = names
		case i < len(r.toks) && r.kind(i) != Comma:
			return r.badVersion(r.toks[i])
		default:
			return r.fail(i, "scaling masters from light, no-kit")
		}
	}
	return s
}

// versions reads the names of versions, with commas between them. Where it cannot, it returns the
// index of the token that does not fit.
func (r *reader) versions(toks []Tok) (names []Name, bad int) {
	for rest := toks; len(rest) > 0; {
		one, more, comma := split(rest, Comma)
		if len(one) == 0 || comma && len(more) == 0 {
			return nil, len(toks)
		}
		if t, is := notVersion(one); is {
			return nil, slices.Index(toks, t)
		}
		names = append(names, r.rawName(one))
		rest = more
	}
	return names, -1
}

// badVersion reports what does not belong into the name of a version.
func (r *reader) badVersion(t Tok) Stmt {
	if len(r.p.diags) == 0 {
		d := lineDiag{rule: unreadable, span: t.Span, message: fmt.Sprintf("a version is called by words and numbers, and %q is neither", t.Raw),
			help: "write it like scaling no-kit, scaling G2 or scaling level-2"}
		switch t.Kind {
		case Dash:
			d.message = "a hyphen in a version's name stands between letters or digits, without blanks"
		case Comma:
			d.message = "a scaling has one name"
			d.help = "write a scaling for each, or what it starts from behind from: scaling masters from light, no-kit"
		}
		r.report(d)
	}
	return r.bad()
}

// notVersion is the first token that does not belong into the name of a version, which is words and
// numbers: no-kit, G2, level 2, level-2, 55+.
func notVersion(toks []Tok) (Tok, bool) {
	for i, t := range toks {
		switch t.Kind {
		case Word, Number, Unit:
		case Dash:
			if i == 0 || i == len(toks)-1 || toks[i-1].End != t.Start || t.End != toks[i+1].Start {
				return t, true
			}
		default:
			return t, true
		}
	}
	return Tok{}, false
}

// property reads a line that is a keyword and what belongs to it.
func (r *reader) property(k keyword) Stmt {
	p := &Property{node: r.node(), Key: r.toks[0].Text, KeySpan: r.toks[0].Span}
	a := r.piece(r.toks[1:], r.ctx)
	form := k.form
	switch k.shape {
	case aBare:
		return p // what stands behind it is a note (see prose)
	case aAllow:
		return r.allow(p, a, form)
	case aDay:
		return r.day(p, a, form)
	}
	if len(a.toks) == 0 {
		return r.fail(1, form)
	}
	at := -1
	switch k.shape {
	case aNames:
		at = r.nameList(p, a)
	case aNeeds:
		at = r.needs(p, a)
	case aVersions:
		p.Names, at = a.versions(a.toks)
	case aDate:
		var g *gDate
		if g, at = dateGrammar.parse(a.toks); g != nil {
			p.Date = a.tok(g.Date).Text
		} else if len(r.p.diags) == 0 {
			r.report(lineDiag{rule: number, span: a.extent(),
				message: fmt.Sprintf("%q is no date", r.body[a.extent().Start:a.extent().End]),
				help:    "a date is written year-month-day, such as 2027-03-01"})
		}
	case aAmount, aEffort:
		at = r.amountProperty(p, a)
	case aRounding:
		at = r.rounding(p, a)
	case aStart:
		var g *gStart
		if g, at = startGrammar.parse(a.toks); g != nil {
			p.Time = a.dayTime(a.tok(g.Time))
		}
	case aHeat:
		at = r.heatProperty(p, a)
	case aPace:
		at = r.paceProperty(p, a)
	case aScore:
		at = r.scoreProperty(p, a)
	case aAim:
		at = r.aimProperty(p, a)
	case aTotal:
		at = r.totalProperty(p, a)
	case aProgress:
		var g *gProgress
		if g, at = progressGrammar.parse(a.toks); g != nil {
			at = a.progress(p, g, form)
		}
	case aRule:
		at = r.ruleProperty(p, a)
	case aWeek:
		var g *gWeek
		if g, at = weekGrammar.parse(a.toks); g != nil {
			a.pairs = true // of two numbers that fall it is said here what they should be
			w := a.amount(&g.Number)
			a.rejectBound(w, "a week")
			p.Quantity = &Quantity{Span: w.Span, Amount: *w}
			if w.Form != One && w.Form != Range || len(w.Steps[0].Tiers) != 1 || w.Clocked() {
				a.report(lineDiag{rule: number, span: w.Span, message: "a week has one number, or a range of them",
					help: "write it like week 4, or week 1-3"})
			}
			if g.Kind != nil {
				p.Names = []Name{a.name(*g.Kind)}
			}
		}
	}
	switch {
	case at == reported:
		return r.bad()
	case at >= 0 && k.shape == aProgress && at < len(a.toks) && a.toks[at].Kind == Number && !bareLoad(a.toks[at:]):
		a.report(lineDiag{rule: unreadable, span: a.extent(), message: "sets and counts stand before the movement",
			help: "write it like progress 3-4-5 x 8 push-up, or " + form})
		return r.bad()
	case at >= 0:
		return a.fail(at, form)
	}
	return p
}

// progress is what a movement is to be from week to week: its sets, its count, its load, or several of
// these.
func (r *reader) progress(p *Property, g *gProgress, form string) int {
	p.Names, p.Loads = []Name{r.name(g.Name)}, r.loads(g.Loads)
	if g.Sets != nil {
		p.Sets = r.amount(g.Sets)
	}
	if g.Dose != nil {
		p.Quantity = r.quantity(g.Dose)
		switch p.Quantity.Unit {
		case "rep": // as in a line of work
			p.Quantity.Unit = ""
		case "%":
			r.report(lineDiag{rule: unitWrong, span: p.Quantity.Span, message: "a count is no percentage",
				help: "write the counts; a share of a maximum is a load: " + form})
		}
	}
	if p.Sets == nil && p.Quantity == nil && len(p.Loads) == 0 {
		r.report(lineDiag{rule: unreadable, span: r.extent(),
			message: "progress says how a count or a load changes from week to week, and here is neither",
			help:    "write it like " + form + ", or progress 3-4-5 x 8 push-up"})
		return reported
	}
	return -1
}

// reported is what a shape returns instead of a token's index where it has reported
// itself why the line cannot be read.
const reported = -2

// day reads a session's place in a week: "mon Bowline", "mon 7:00 Bowline, light", or
// "wed rest".
func (r *reader) day(p *Property, a *reader, form string) Stmt {
	toks := a.toks
	if len(toks) > 0 && toks[0].Kind == Clock {
		p.Time = a.dayTime(toks[0])
		toks = toks[1:]
	}
	name, version, comma := split(toks, Comma)
	if len(name) == 0 || comma && len(version) == 0 {
		return r.fail(len(r.toks), form)
	}
	if i := slices.IndexFunc(version, func(t Tok) bool { return t.Kind == Comma }); i >= 0 {
		r.report(lineDiag{rule: unreadable, span: version[i].Span,
			message: "a line of a week holds one session, and one version of it behind a comma",
			help:    "write each session on a line of its own, each with its day"})
		return r.bad()
	}
	p.Names = []Name{a.rawName(name)}
	if comma {
		p.Version = a.rawName(version)
	}
	return p
}

// dayTime is a time of day, in hours and minutes. As any clock value it is kept in the smaller of
// its two units.
func (r *reader) dayTime(t Tok) *Value {
	n := numOf(t)
	v := &Value{Span: n.Span, Tiers: []Num{n}}
	r.rejectMore(*v)
	if strings.Count(t.Text, ":") > 1 || n.Value >= 24*60 {
		r.report(lineDiag{rule: number, span: n.Span, message: fmt.Sprintf("%q is no time of day", t.Raw),
			help: "write hours and minutes, from 0:00 to 23:59, such as 9:20 or 17:30"})
	}
	return v
}

func (r *reader) allow(p *Property, a *reader, form string) Stmt {
	if len(a.toks) == 0 {
		return r.fail(1, form)
	}
	g, at := namesGrammar.parse(a.toks)
	if g == nil {
		return a.fail(at, form)
	}
	p.Names = a.names(g.Names)
	if r.p.Note == nil || r.p.Note.Text == "" {
		r.report(lineDiag{rule: reasonless, span: r.extent(),
			message: "a waiver says why: what it lets stand needs a reason",
			help:    "write it like " + form})
	}
	return p
}

func (r *reader) nameList(p *Property, a *reader) int {
	g, at := namesGrammar.parse(a.toks)
	if g != nil {
		p.Names = a.names(g.Names)
	}
	return at
}

// rounding reads how weights that are worked out are rounded: down or up, to a step or to what discs make.
func (r *reader) rounding(p *Property, a *reader) int {
	g, at := roundingGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	p.Up = a.tok(g.Way).Text == "up"
	if g.Step == nil {
		return -1
	}
	p.Quantity = a.quantity(g.Step)
	q := p.Quantity
	a.rejectBound(&q.Amount, "a step")
	if v := q.Steps[0].Tiers; (q.Unit != "kg" && q.Unit != "lb") || q.Form != One || len(v) != 1 || v[0].Clock || v[0].Value <= 0 {
		a.report(lineDiag{rule: unitWrong, span: q.Span, message: "loads are rounded to a step of one weight, or to what discs make",
			help: "write it like round loads down to 2.5 kg, or round loads down to discs"})
	}
	return -1
}

func (r *reader) needs(p *Property, a *reader) int {
	g, at := needsGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	p.Or = make([][]Name, len(g.Needs))
	for i, n := range g.Needs {
		p.Names = append(p.Names, a.name(n.Name))
		if len(n.Or) > 0 {
			p.Or[i] = a.names(n.Or)
		}
	}
	return -1
}

// durations and counts are the properties that have to be one.
var durations = map[string]string{"length": "a length"}

func (r *reader) amountProperty(p *Property, a *reader) int {
	g, at := amountGrammar.parse(a.toks)
	if g == nil {
		if a.word(0) != "" && p.Key != "effort" {
			return 0
		}
		return at
	}
	if g.Name != nil {
		p.Names = []Name{a.name(*g.Name)}
		if p.Key != "effort" {
			return 0
		}
	}
	switch what, isDuration := durations[p.Key]; {
	case isDuration:
		p.Quantity = a.duration(&g.Qty, what)
	case p.Key == "effort" && len(p.Names) > 0 && strings.EqualFold(p.Names[0].Text, "RPE"):
		p.Names = nil
		p.Quantity = a.quantity(&g.Qty)
		p.Quantity.Unit = "RPE"
	case p.Key == "effort":
		p.Quantity = a.percent(&g.Qty, EffortOf.clauseType().noun)
	default:
		p.Quantity = a.quantity(&g.Qty)
		q := p.Quantity
		a.rejectBound(&q.Amount, p.Key)
		if n := q.Steps[0].Tiers; q.Unit != "" || q.Form != One || len(n) != 1 || n[0].Clock || n[0].Value != math.Trunc(n[0].Value) {
			a.report(lineDiag{rule: unitWrong, span: q.Span, message: p.Key + " is one whole number",
				help: "write it like " + keywords[r.ctx][p.Key].form})
		}
	}
	return -1
}

// heatProperty reads how hot it is: one number, in degrees Celsius.
func (r *reader) heatProperty(p *Property, a *reader) int {
	g, at := heatGrammar.parse(a.toks)
	if g != nil {
		v := a.value(gValue{Nums: []tok{g.Number}})
		a.rejectMore(v)
		unit := a.tok(g.Unit).Span
		p.Quantity = &Quantity{Span: v.Span.Join(unit), Amount: Amount{Span: v.Span, Form: One, Steps: []Step{{Value: v}}}, Unit: "C", UnitSpan: unit}
		return -1
	}
	if len(r.p.diags) > 0 {
		return at
	}
	d := lineDiag{rule: unitWrong, span: a.extent(),
		message: "heat is one number of degrees Celsius, of the wet-bulb globe temperature (WBGT)",
		help:    "write it like heat 29 C"}
	if len(a.toks) == 2 && a.kind(0) == Number && strings.HasPrefix(a.word(1), "f") {
		// A tenth is what the tables of heat are drawn in.
		text := units.FormatNumber(math.Round((numOf(a.toks[0]).Value-32)/1.8*10)/10) + " C"
		d.help = "write heat " + text
		d.fix = &lineFix{title: "write " + text, span: a.extent(), text: text}
	}
	r.report(d)
	return reported
}

func (r *reader) paceProperty(p *Property, a *reader) int {
	g, at := paceGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	v := a.value(g.Value)
	a.rejectMore(v)
	q := &Quantity{Span: v.Span, Amount: Amount{Span: v.Span, Form: One, Steps: []Step{{Value: v}}}}
	p.Quantity = q
	if g.Unit != nil {
		u := a.tok(*g.Unit)
		q.Unit, q.UnitSpan, q.End = u.Text, u.Span, u.End
	}
	p.Loads = a.loads(g.Loads)
	if g.Per != nil {
		p.Per = a.tok(g.Per.Unit).Text
		if g.Per.Count != nil {
			a.report(lineDiag{rule: unitWrong, span: a.tok(*g.Per.Count).Span,
				message: "a movement's pace is per one rep, m, cal or breath",
				help:    "write it like pace 0.212 / 0.25 / 0.3 s per m"})
		}
	}
	d := lineDiag{rule: unitWrong, span: v.Span}
	switch {
	case len(v.Tiers) != 3:
		d.message = fmt.Sprintf("%s is three numbers, for a fast, a typical and a slow member; here are %d", p.Key, len(v.Tiers))
		d.help = "write it like " + keywords[r.ctx][p.Key].form
	case p.Key == "pace" && (p.Per == "" || q.Unit != "s"):
		d.message = "a pace is in seconds per rep, m, cal or breath"
		d.help = "write it like pace 2.0 / 2.8 / 4.0 s per rep"
	case p.Key == "unbroken" && (q.Unit != "" && q.Unit != "m" || p.Per != ""):
		d.message = "unbroken is counts, metres, or clock values for holds"
		d.help = "write it like unbroken 8 / 4 / 2, unbroken 150 / 100 / 70 m, or unbroken 1:20 / 0:45 / 0:20"
	case p.Key != "pace" && p.Key != "unbroken" && q.Unit != "s":
		d.message, d.help = p.Key+" is in seconds", "write it like "+keywords[r.ctx][p.Key].form
	default:
		return -1
	}
	a.report(d)
	return -1
}

func (r *reader) aimProperty(p *Property, a *reader) int {
	g, at := aimGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	if g.Rest != nil {
		p.Rest = a.restOf(g.Rest)
		return -1
	}
	p.Quantity = a.quantity(g.Qty)
	a.rejectFromNothing(&p.Quantity.Amount)
	if g.At != nil {
		p.At = true
		if t, ok := a.aimAt(p.Quantity, g.Name); !ok {
			a.report(t)
			return reported
		}
		return -1
	}
	if g.Name != nil {
		n := a.name(*g.Name)
		if w := strings.ToLower(n.Text); w == "laps" || w == "rungs" || w == "sets" {
			n.Text = "rounds"
		}
		p.Names = []Name{n}
	}
	if len(p.Names) == 0 && p.Quantity.Unit == "" && !p.Quantity.Clocked() {
		a.report(lineDiag{rule: unitWrong, span: p.Quantity.Span, message: "it is not said what this aim counts",
			help: "write aim 7:00-9:00, aim 5-6 rounds, aim 100 reps or aim rest 2 x work"})
	}
	return -1
}

// aimAt reports what stands behind "aim at" and is no time on the clock.
func (r *reader) aimAt(q *Quantity, name *gName) (lineDiag, bool) {
	d := lineDiag{rule: unitWrong, span: q.Span, message: "aim at says when it is over, as a time on the clock",
		help: "write it like aim at 47:30, or aim at 45:00-47:30"}
	if name != nil {
		text := r.body[q.Start:r.name(*name).End]
		d.help = "write aim " + text + " for what is aimed at, or aim at 47:30 for when it is over"
		return d, false
	}
	return d, q.Clocked() && (q.Form == One || q.Form == Range)
}

func (r *reader) totalProperty(p *Property, a *reader) int {
	g, at := totalGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	if g.After != nil {
		n := a.num(*g.After)
		p.After = int(n.Value)
		if n.More || n.Value < 1 || n.Value != float64(p.After) {
			a.report(lineDiag{rule: number, span: n.Span, message: "a round has a number of its own",
				help: "write it like total after round 7: 84 dip"})
		}
	}
	for i := range g.Items {
		gi := &g.Items[i]
		q := a.quantity(&gi.Qty)
		it := &Item{node: node{q.Span}, Dose: &Dose{Span: q.Span, Amount: q}, Loads: a.loads(gi.Loads)}
		if gi.Whose != nil {
			whose := a.tok(*gi.Whose)
			it.Whose, it.Start = whose.Text, whose.Start
		}
		if gi.Name != nil {
			n := a.name(*gi.Name)
			it.Moves = []Move{{Span: n.Span, Name: n}}
			it.End = n.End
			if q.Unit == "rep" { // as in a line of work
				q.Unit = ""
			}
		} else if q.Unit == "" && !q.Clocked() {
			a.report(lineDiag{rule: unitWrong, span: q.Span, message: "it is not said what this total counts",
				help: "write it like total 45 burpee, 800 m row; all repetitions together are 90 reps"})
		}
		if n := len(it.Loads); n > 0 {
			it.End = it.Loads[n-1].End
		}
		p.Items = append(p.Items, it)
	}
	return -1
}

func (r *reader) ruleProperty(p *Property, a *reader) int {
	g, at := ruleGrammar.parse(a.toks)
	if g == nil {
		return at
	}
	words := g.Name.Words
	if len(words) > 2 || len(words) < 2 && len(g.Settings) == 0 {
		a.report(lineDiag{rule: unreadable, span: a.name(g.Name).Span,
			message: "a rule is set by its name and error, or by its name and thresholds behind commas",
			help:    "write it like rule class-uneven error > Why., or allow class-uneven > Why. to have none of it"})
		return reported
	}
	p.Names = []Name{a.wordName(words[0])}
	if len(words) == 2 && !r.severity(p, a.wordName(words[1]), len(g.Settings) > 0) {
		return reported
	}
	for _, s := range g.Settings {
		v := Setting{Key: a.name(s.Key), Value: *a.quantity(&s.Qty)}
		a.rejectBound(&v.Value.Amount, "a threshold")
		v.Span = v.Key.Span.Join(v.Value.Span)
		p.Settings = append(p.Settings, v)
	}
	if r.p.Note == nil || r.p.Note.Text == "" {
		r.report(lineDiag{rule: reasonless, span: r.extent(), message: "a house that sets a rule says why",
			help: "write it like rule class-uneven error > Why."})
	}
	return -1
}

// severity takes how strict a house is with a rule: error, or off, which allow says.
func (r *reader) severity(p *Property, level Name, thresholds bool) bool {
	switch word := strings.ToLower(level.Text); {
	case word == diag.Error.String():
		p.Error = true
		return true
	case word == diag.Off.String() && !thresholds:
		p.Key = "allow"
		return true
	case word == diag.Off.String():
		r.report(lineDiag{rule: unreadable, span: level.Span, message: "a rule that is off has no thresholds",
			help: "write allow " + p.Names[0].Text + " to have none of it, or take off out"})
	case word == diag.Warning.String() || word == diag.Suggestion.String():
		d := lineDiag{rule: unknownWord, span: level.Span, message: "how much a rule matters is as its page says; a house may make it an error, or allow what it finds",
			help: "write error, or allow " + p.Names[0].Text + "; thresholds need no word before them"}
		if thresholds {
			d.fix = &lineFix{title: "take " + word + " out", span: source.Span{Start: p.Names[0].End, End: level.End}}
		} else {
			d.fix = &lineFix{title: "write error", span: level.Span, text: diag.Error.String()}
		}
		r.report(d)
	default:
		r.report(lineDiag{rule: unknownWord, span: level.Span, message: fmt.Sprintf("%q is no severity", level.Text), help: "write error, or allow in the place of rule"})
	}
	return false
}

package syntax

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
)

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
	if k.shape == aScore && len(a.toks) == 0 && r.p.Note != nil && r.p.Note.Text != "" {
		p.Score, r.p.noteMeans = &Score{What: ScoreNote}, true
		return p
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
		if at = r.amountProperty(p, a); at >= 0 && k.shape == aEffort && r.ctx != InHouse && a.kind(0) == Word && len(r.p.diags) == 0 {
			r.report(lineDiag{rule: unreadable, span: a.extent(), message: "the effort of a block is a share or RPE, and no word",
				help: "write effort 80% or effort RPE 7; a word that the house has for how hard stands behind @ on a line of work"})
			at = reported
		}
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
	if strings.Count(t.Text, ":") > 1 || strings.Contains(t.Text, ".") || n.Value >= 24*60 {
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

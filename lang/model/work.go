package model

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// itemStep lowers a line of work into the group, and what wrongly stands under it.
func (l *lowerer) itemStep(g *Group, b *syntax.Block, it *syntax.Item, sc scope, inline bool) {
	line := b.Line
	var under []*syntax.Block // work under a line that holds none
	for _, k := range b.Kids {
		p, property := k.Line.Stmt.(*syntax.Property)
		switch {
		case k.Line.Stmt == nil || property && p.Key == "allow":
		case property:
			l.report(wordMisplaced, l.place(k.Line, p.Span), fmt.Sprintf("%q says something of a part or a group, and stands under a line of work", p.Key), "indent it as far as the lines of the part", nil)
		default:
			under = append(under, k)
		}
	}
	if len(under) > 0 && l.slippedHead(g, b, it, under) {
		return
	}
	w := l.work(line, it)
	switch {
	case w.If != "" || inline && g.If != "": // the note is that condition
	case !inline || !g.IsSection(): // behind a part's colon, the note is the part's
		w.Notes = appendNote(w.Notes, line)
	}
	for _, k := range b.Kids {
		if k.Line.Stmt == nil {
			w.Notes = appendNote(w.Notes, k.Line)
		}
	}
	l.doseFrom(w, sc)
	if l.swaps != nil {
		if w = l.swaps.work(w); w == nil {
			return
		}
	}
	l.unitFits(w)
	g.Steps = append(g.Steps, w)
	if w.Rest != nil && w.Sets == nil && !w.AnySets && w.SetsOf == nil { // without sets it is taken behind the line
		r := *w.Rest
		w.Rest = nil
		if r.Of == "" && r.Place != RestAfterPart {
			r.Place = RestHere
		}
		r.behind = &restClause{l.file.Src, b, r.At.Span}
		if l.swaps != nil || r.At.File != l.file.Src || r.Place != RestHere {
			r.behind = nil
			l.report(restMisplaced, r.At, "a rest behind a line of work is taken between its sets, and this line has one",
				"say how many sets, such as 3 x 12, or put the rest on a line of its own", nil)
		}
		g.Steps = append(g.Steps, &r)
	}
	if w.Every != nil && w.Sets == nil {
		l.report(restMisplaced, w.Every.At, "every so often on a line is from set to set, and this line has one set", "write how many: 4 x 50 m swim, every 1:15", nil)
	}
	l.tooDeep(g, under, sc)
}

// slippedHead reports a line of work that holds work and looks like a head with a slip
// in it, such as "3 ronds". What stands under it is read; how often it is done is not
// known.
func (l *lowerer) slippedHead(g *Group, b *syntax.Block, it *syntax.Item, under []*syntax.Block) bool {
	if len(it.Moves) != 1 || it.Dose == nil || it.Dose.Amount == nil {
		return false
	}
	n := it.Moves[0].Name
	if m, _ := l.env.Book.Lookup(n.Text); m != nil || len(syntax.Nearest(strings.ToLower(n.Text), roundWords, 2)) == 0 {
		return false
	}
	at := l.place(b.Line, it.Span)
	l.report(workMisplaced, at, "work stands under this line, but it is none of the heads that hold work", "did you mean rounds?",
		&diag.Fix{Title: "write rounds", Edits: []diag.Edit{{At: l.place(b.Line, n.Span), New: "rounds"}}})
	u := &Group{Kind: Plain, At: at, Repeat: Repeat{Kind: Once}, Unread: true, Block: blockSpan(b), Steps: []Step{}}
	l.steps(u, under, scope{clock: true})
	g.Steps = append(g.Steps, u)
	return true
}

var roundWords = []string{"rounds", "round", "sets", "times"}

// tooDeep reports lines that stand under a line of work, which holds none, once for all
// of them. They are read as if they stood beside it.
func (l *lowerer) tooDeep(g *Group, under []*syntax.Block, sc scope) {
	if len(under) == 0 {
		return
	}
	first := under[0].Line
	fix := &diag.Fix{Title: "indent what stands under the line of work as far as that line", Safe: true}
	var dedent func(bs []*syntax.Block)
	dedent = func(bs []*syntax.Block) {
		for _, b := range bs {
			at := l.file.Src.At(source.Span{Start: b.Line.Body - 2, End: b.Line.Body})
			if at.Text() == "  " {
				fix.Edits = append(fix.Edits, diag.Edit{At: at})
			}
			dedent(b.Kids)
		}
	}
	dedent(under)
	l.report(workMisplaced, l.place(first, first.Stmt.Extent()), "this stands under a line of work, which holds no other work",
		"indent it two blanks less; a head such as 3 rounds holds what stands under it", fix)
	l.steps(g, under, sc)
}

func (l *lowerer) reportAdd(r diag.Related) {
	d := &(*l.diags)[len(*l.diags)-1]
	d.Related = append(d.Related, r)
}

func relatedTo(at source.Place) diag.Related {
	return diag.Related{At: at, Message: "the other is here"}
}

// work lowers a line by itself, whatever its head gives it.
func (l *lowerer) work(line *syntax.Line, it *syntax.Item) *Work {
	w := &Work{At: l.place(line, it.Span), Choice: it.Or, From: FromLine}
	for _, m := range it.Moves {
		w.Moves = append(w.Moves, l.move(line, m.Name, l.tiers(l.quantity(line, m.Count, "rep")).counted()))
	}
	if it.Dose != nil {
		l.dose(w, line, it.Dose)
	}
	if d := w.Dose; d != nil && d.Max && d.Unit == "rep" && w.Moves[0].Movement.Held() {
		d.Unit = "s" // the most of a hold is its time
	}
	for _, t := range it.Terms {
		w.Terms = append(w.Terms, l.term(line, t, w.Dose))
	}
	w.Loads = l.loads(line, it.Loads, &w.Moves[0])
	w.Until = l.until(line, it.Until)
	l.lineEnd(line, it, w)
	l.once(line, it.Clauses)
	for i := range it.Clauses {
		l.workClause(w, line, &it.Clauses[i])
	}
	l.effortBehind(w, line, it)
	l.shareOfEach(w)
	return w
}

// shareOfEach reports how much each does of a line that partners do not share as they like, or says so in
// another unit than the line.
func (l *lowerer) shareOfEach(w *Work) {
	q := w.ShareOfEach
	switch {
	case q == nil:
	case w.Share != Split:
		l.report(wordMisplaced, q.At, "how much each does is said of what partners split as they like, and this is not",
			"write split before it, as in split, each at least 20", nil)
	case w.Dose != nil && w.Dose.Unit != q.Unit:
		l.report(unitUnfit, q.At, fmt.Sprintf("what each does is counted in %s, and the whole in %s", UnitName(q.Unit), UnitName(w.Dose.Unit)),
			"write both in one unit", nil)
	}
}

// dose lowers how much of a line is done.
func (l *lowerer) dose(w *Work, line *syntax.Line, d *syntax.Dose) {
	w.Sets = l.amountOf(line, d.Sets, "set").counted()
	w.Side, w.RM = d.Side, d.RM
	at := l.place(line, d.Span)
	switch {
	case d.RM > 0:
		w.Dose = &Quantity{Unit: "rep", Form: syntax.One, Terms: [][]float64{{d.RM}}, At: at}
	case d.Max:
		w.Dose = &Quantity{Unit: orRep(d.Unit), Form: syntax.One, Max: true, At: at}
		w.Window = l.quantity(line, d.Amount, "")
	case d.Past != nil && d.Amount == nil:
		w.Past = l.past(line, d.Past)
		w.Dose = &Quantity{Unit: "rep", Form: syntax.One, At: at} // worked out when all of the session is there
	default:
		w.Dose = l.tiers(l.quantity(line, d.Amount, "rep")).counted()
		w.Past = l.past(line, d.Past)
	}
}

func orRep(unit string) string {
	if unit == "" {
		return "rep"
	}
	return unit
}

// writtenUnit is the unit that a dose is written in; repetitions where there is none.
func writtenUnit(dose *Quantity) string {
	if dose == nil {
		return "rep"
	}
	return cmp.Or(dose.Written, dose.Unit)
}

// termLabels are the words that a piece of a dose may be called by.
var termLabels = []string{"left", "right", "forward", "back", "in", "out"}

// term lowers a piece of a dose, in the dose's unit where it has none of its own.
func (l *lowerer) term(line *syntax.Line, t syntax.Term, dose *Quantity) Term {
	unit := cmp.Or(t.Unit, writtenUnit(dose))
	out := Term{Label: strings.ToLower(t.Label.Text),
		Count: l.amount(line, &syntax.Amount{Span: t.Count.Span, Form: syntax.One, Steps: []syntax.Step{{Value: t.Count}}}, t.Count.Span, unit)}
	if dose != nil && out.Count.Unit != dose.Unit {
		l.report(unitUnfit, l.place(line, t.Span), fmt.Sprintf("a piece is counted in %s, and the whole in %s", UnitName(out.Count.Unit), UnitName(dose.Unit)),
			"write both in one unit, or the pieces as bare numbers", nil)
	}
	if out.Label != "" && !slices.Contains(termLabels, out.Label) {
		help := "write one of " + strings.Join(termLabels, ", ")
		if near := syntax.Nearest(out.Label, termLabels, 2); len(near) > 0 {
			help = "did you mean " + near[0] + "?"
		}
		l.report(book.WordUnknown, l.place(line, t.Label.Span), fmt.Sprintf("%q is no word for a piece of a count", t.Label.Text), help, nil)
	}
	return out
}

func (l *lowerer) workClause(w *Work, line *syntax.Line, c *syntax.Clause) {
	switch c.Kind {
	case syntax.EachSide:
		w.Side = true
	case syntax.Alternating:
		w.Alternating = true
	case syntax.TempoOf:
		w.Tempo = c.Tempo
	case syntax.Unbroken:
		w.Unbroken = true
	case syntax.AnySets:
		w.AnySets = true
	case syntax.SetsOf:
		w.SetsOf = l.quantity(line, c.Amount, "rep")
	case syntax.EveryOf:
		w.Every = l.quantity(line, c.Amount, "")
	case syntax.Split, syntax.SplitEvenly, syntax.Together:
		w.Share, w.share = Sharing(c.Kind), line.Span(c.Span)
	case syntax.ShareOfEach:
		w.ShareOfEach = l.tiers(l.quantity(line, c.Amount, "rep"))
	case syntax.With:
		w.With = append(w.With, l.with(line, c))
	case syntax.RestOf:
		w.Rest = l.rest(line, c.Rest, RestBetweenSets)
	case syntax.If:
		w.If = note(line)
	case syntax.EffortOf:
		w.Loads = append(w.Loads, Load{Kind: syntax.Effort, Amount: l.quantity(line, c.Amount, "%"), At: l.place(line, c.Span)})
	}
}

// doseFrom gives a line without a count the one that its head has, or reports that
// there is none.
func (l *lowerer) doseFrom(w *Work, sc scope) {
	switch {
	case w.Dose != nil:
	case sc.series != nil:
		w.Dose, w.From = sc.series, FromHead
	case sc.clock || w.Until != nil:
		w.From = FromClock
	default:
		names := make([]string, len(w.Moves))
		for i, m := range w.Moves {
			names[i] = m.Name
		}
		at := w.At
		if len(w.Moves) > 0 && w.Moves[0].Movement == nil {
			return // the name is reported, and may well be the mistake
		}
		l.report(countMissing, at, "it is not said how many or how long", "write a count before it, such as 12 "+names[0]+", or 1:00 "+names[0]+"; under ladder 5-4-3, on 0:40 off 0:20 or lasts 6:00 the head says it; or say what ends it: "+names[0]+" until > You are warm.", nil)
	}
}

// unitFits reports a dose in a unit that the movement has no pace for, such as metres
// of push-ups.
func (l *lowerer) unitFits(w *Work) {
	if w.Dose == nil || w.From == FromClock {
		return
	}
	for _, m := range w.Moves {
		unit := w.Dose.Unit
		if m.Count != nil {
			unit = m.Count.Unit
		}
		if m.Movement == nil || fits(m.Movement, unit) || m.Movement.Held() && w.Dose.Max && unit == "rep" {
			continue
		}
		if m.Movement.Held() {
			l.holdCounted(w, m, unit)
			return
		}
		if len(m.Movement.Paces) == 0 {
			l.report(unitUnfit, w.At, fmt.Sprintf("%s is not counted in %s", m.Name, UnitName(unit)), "say how long or how often it is done, such as 2:00 "+m.Name, nil)
			return
		}
		var have []string
		for _, p := range m.Movement.Paces {
			have = append(have, p.Per)
		}
		if w.Dose.Max && w.Dose.Unit == "rep" {
			l.maxOfWhat(w, m)
			return
		}
		l.report(unitUnfit, w.At, fmt.Sprintf("%s is not counted in %s: it has a pace per %s", m.Name, UnitName(unit), strings.Join(have, " and per ")),
			fmt.Sprintf("count it in %s, or give the movement a pace per %s of your own", UnitName(have[0]), unit), nil)
		return
	}
}

// holdCounted reports a hold that is counted in what is no time.
func (l *lowerer) holdCounted(w *Work, m Move, unit string) {
	help := "write how long it is held, such as 0:30 " + m.Name + ", or how many sets of that: 3 x 0:30 " + m.Name
	var fix *diag.Fix
	n, one := w.Dose.One()
	if one && unit == "rep" && w.From == FromLine && len(w.Moves) == 1 && w.Past == nil && w.Dose.Bound == Unbounded && w.RM == 0 {
		at := w.Dose.At
		switch {
		case n >= leastHold:
			text := units.FormatClock(n)
			fix = &diag.Fix{Title: "write " + text + ", for seconds", Edits: []diag.Edit{{At: at, New: text}}}
		case w.Sets == nil && n == math.Trunc(n) && n > 0:
			text := units.FormatNumber(n) + " x 0:30"
			fix = &diag.Fix{Title: "write " + text + ", for sets of half a minute", Edits: []diag.Edit{{At: at, New: text}}}
		}
	}
	l.report(unitUnfit, w.At, fmt.Sprintf("%s is held, so it is done for a time and not counted in %s", m.Name, UnitName(unit)), help, fix)
}

// leastHold is from how many on a bare number before a hold is seconds rather than sets, in s.
const leastHold = 10

// maxOfWhat reports a bare max of what is not counted in repetitions.
func (l *lowerer) maxOfWhat(w *Work, m Move) {
	var ways []string
	for _, u := range []string{"m", "cal", "breath"} {
		if fits(m.Movement, u) {
			ways = append(ways, "max "+u+" "+m.Name)
		}
	}
	l.report(unitUnfit, w.At, fmt.Sprintf("it is not said what is counted of %s", m.Name),
		"write "+strings.Join(ways, " or ")+"; where things are counted, name it by them, as a movement of your own: max cone "+m.Name, nil)
}

// UnitName is what is counted in a unit, as a sentence says it.
func UnitName(u string) string {
	switch u {
	case "rep":
		return "repetitions"
	case "m":
		return "metres"
	case "cal":
		return "calories"
	case "breath":
		return "breaths"
	}
	return u
}

// fits says whether a movement can be dosed in a unit: anything can be done for a time; a hold is, or for so
// many breaths; what has no pace otherwise may be counted, a duty in nothing but times; and the monitors of
// machines that measure metres show calories.
func fits(m *book.Movement, unit string) bool {
	switch {
	case unit == "s" || unit == "%":
		return true
	case m.Held():
		return unit == "breath"
	case len(m.Paces) == 0:
		return unit == "rep" || len(m.Trains) > 0
	}
	if _, ok := m.Pace(unit); ok {
		return true
	}
	switch unit {
	case "cal":
		_, ok := m.Pace("m")
		return ok && slices.Contains([]book.Pattern{book.Row, book.Ski}, m.Main())
	case "breath":
		return m.Main() == book.Mobility
	}
	return false
}

func (l *lowerer) load(line *syntax.Line, s *syntax.Load, of *Move) Load {
	out := Load{Kind: s.Kind, At: l.place(line, s.Span), Per: s.Per, Unit: s.Unit}
	out.Count = l.amountOf(line, s.Count, "implement")
	bare := ""
	if s.Kind == syntax.RPE || s.Kind == syntax.RIR {
		bare = string(s.Kind)
	}
	out.Amount = l.tiers(l.quantity(line, s.Amount, bare))
	if s.Kind == syntax.Mass || s.Kind == syntax.Height {
		out.Amount.counted() // at most 12 kg is anything up to it
	}
	out.Share = l.tiers(l.quantity(line, s.Share, "%"))
	out.Power = s.Share != nil && of != nil && of.Movement != nil && of.Movement.Main() == book.Bike
	if s.Offset != nil {
		l.paceOffset(line, s, &out, of)
	}
	switch s.Kind {
	case syntax.Noted:
		out.Note = s.Note
	case syntax.Share:
		out.Base = l.base(line, s, of)
	case syntax.Earlier:
		out.Past = l.past(line, s.Past)
	case syntax.Rising:
		out.Word = strings.ToLower(s.Word.Text)
	case syntax.Named:
		out.Word = strings.ToLower(s.Word.Text)
		if out.Word == "bodyweight" {
			out.Kind, out.Base, out.Word = syntax.Share, &Base{Kind: OfBodyweight}, ""
			out.Amount = &Quantity{Unit: "%", Form: syntax.One, Terms: [][]float64{{100}}, At: out.At}
			break
		}
		if l.env == nil {
			break
		}
		q, ok := l.env.House.Efforts[book.Key(out.Word)]
		if !ok {
			l.unknownEffort(l.place(line, s.Word.Span), out.Word)
			break
		}
		out.Amount = q
	}
	return out
}

// raceDistances are the distances that a pace is called by the name of.
var raceDistances = map[string]string{"marathon": "42.2 km", "half marathon": "21.1 km", "half-marathon": "21.1 km", "mile": "1 mile"}

func (l *lowerer) unknownEffort(at source.Place, word string) {
	var known []string
	for w := range l.env.House.Efforts {
		known = append(known, w)
	}
	slices.Sort(known)
	d := diag.Diagnostic{Rule: book.WordUnknown, Severity: diag.Error, At: at, Message: fmt.Sprintf("the house has no word %q for how hard", word),
		Help: "write a load such as @ 24/16 kg, @ 80%, @ RPE 8 or @ rising, or a word that the house has; it gets one by a line such as effort easy 60-65%"}
	if strings.HasSuffix(strings.ToLower(word), " pace") {
		d.Message = fmt.Sprintf("no pace is known by the name of %q", word)
		d.Help = "a pace is that of a distance or a time, such as @ 42.2 km pace, @ 5 km pace or @ 1 mile pace, or a time per distance: @ 4:50 per km"
		if distance, known := raceDistances[strings.TrimSuffix(strings.ToLower(word), " pace")]; known {
			d.Help = "write the distance: @ " + distance + " pace"
			d.Fixes = []diag.Fix{{Title: "write " + distance + " pace", Edits: []diag.Edit{{At: at, New: distance + " pace"}}}}
		}
		*l.diags = append(*l.diags, d)
		return
	}
	slips := 1 // of short words, two letters make another
	if len(word) > 6 {
		slips = 2
	}
	if near := syntax.Nearest(book.Key(word), known, slips); len(near) > 0 {
		d.Help = "did you mean " + near[0] + "? " + d.Help
		d.Fixes = []diag.Fix{{Title: "write " + near[0], Edits: []diag.Edit{{At: at, New: near[0]}}}}
	}
	*l.diags = append(*l.diags, d)
}

// maxima are what a percentage can be of, beside maxima of weight.
var maxima = []string{"max reps", "max time", "max heart rate", "max speed", "max power"}

var repMax = regexp.MustCompile(`(?i)^(\d+)RM$`)

// base resolves what a percentage is of. Alone it is of the movement's own 1RM, so the
// movement has to be one whose athletes know theirs.
func (l *lowerer) base(line *syntax.Line, s *syntax.Load, of *Move) *Base {
	text := strings.ToLower(s.Base.Text)
	at := l.place(line, s.Base.Span)
	switch m := repMax.FindStringSubmatch(s.Base.Text); {
	case text == "" || m != nil:
		reps := 1
		if m != nil {
			reps, _ = strconv.Atoi(m[1])
			if reps < 1 || reps > 30 {
				l.report(numberMalformed, at, fmt.Sprintf("nobody tests a maximum of %s repetitions", m[1]), "write 1RM to 30RM", nil)
			}
		}
		if of != nil && of.Movement != nil && of.Movement.Best != book.BestLoad && reps == 1 {
			l.report(shareBaseless, l.place(line, s.Span), fmt.Sprintf("nobody knows a one-repetition maximum of %s, so a percentage of it says nothing", of.Name),
				"how hard to go is written @ effort 80%; a share of another thing names it: 80% of today, 50% of bodyweight, 75% of clean; if your athletes do test it, say so in a movement of your own by the line best load", nil)
		}
		return &Base{Kind: OfRM, Reps: reps}
	case text == "today", text == "the first", text == "the last", text == "bodyweight":
		return &Base{Kind: BaseKind(text)}
	case slices.Contains(maxima, text):
		return &Base{Kind: BaseKind(strings.TrimPrefix(text, "max "))}
	}
	var d *diag.Diagnostic
	b := &Base{Kind: OfMovement, Name: s.Base.Text}
	if l.env == nil {
		return b
	}
	if d = l.env.Book.Resolve(at, s.Base.Text, &b.Movement); d != nil {
		d.Help += "; a percentage can also be of 5RM, today, bodyweight, max reps, max time, max heart rate, max speed or max power, or of a pace: 5 km pace, and 60:00 pace for what somebody holds for an hour"
		*l.diags = append(*l.diags, *d)
		return b
	}
	b.Name = b.Movement.Name
	if b.Movement.Best != book.BestLoad {
		l.report(shareBaseless, at, fmt.Sprintf("nobody knows a one-repetition maximum of %s", b.Name), "name a lift that athletes test, or say in a movement of your own by the line best load that they test this one", nil)
	}
	return b
}

package model

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A scope is what a line has from the heads above it.
type scope struct {
	part   bool      // straight under the session
	series *Quantity // the count that a ladder or sets gives
	clock  bool      // a window, a slot or a lasting group says how long
	fills  bool      // a rest without a length fills what a slot, or what lasts, leaves
	lasts  bool      // the time is that of a group that lasts, which its lines share, and no window's
}

// group lowers a head with what it holds; nil where a version leaves it out.
func (l *lowerer) group(b *syntax.Block, h *syntax.Head, sc scope) *Group {
	line := b.Line
	if l.swaps != nil {
		if h = l.swaps.head(line, h); h == nil {
			return nil
		}
	}
	g := &Group{Kind: Plain, At: l.place(line, h.Span), Block: blockSpan(b), Steps: []Step{}}
	if h.Part != "" {
		g.Kind, g.Letter = GroupKind(h.Part), h.Letter.Text
	}
	_, rests := h.Inline.(*syntax.Rest)
	switch item, is := h.Inline.(*syntax.Item); {
	case rests: // the note is the rest's
	case depends(h.Clauses):
		g.If = note(line)
	case is && (depends(item.Clauses) || !g.IsSection()): // the note is the item's
	default:
		g.Notes = appendNote(g.Notes, line)
	}
	if h.At != nil {
		g.Start = l.amount(line, &syntax.Amount{Span: h.At.Span, Form: syntax.One, Steps: []syntax.Step{{Value: *h.At}}}, h.At.Span, "s")
	}
	g.Repeat = Repeat{Kind: Once, At: g.At}
	g.Unread = h.Unread
	if h.Repeat != nil && !h.Unread {
		g.Repeat = l.repeat(line, h.Repeat)
	}
	if h.Until != nil && !h.Unread {
		g.Repeat.Until = l.until(line, h.Until)
	}
	if h.Mode != nil && !h.Unread {
		g.Mode = Mode(h.Mode.Kind)
		g.Time = l.quantity(line, h.Mode.Time, "")
	}
	l.once(line, h.Clauses)
	for i := range h.Clauses {
		l.headClause(g, line, &h.Clauses[i])
		l.effortOnHead(b, h, &h.Clauses[i])
	}
	l.headRules(g, line, h, sc)
	l.setsHead(g, b, h)
	inner := l.scopeOf(g, sc)
	l.body(g, b, h.Inline, inner)
	for i := range h.Clauses {
		if r := h.Clauses[i].Rest; h.Clauses[i].Kind == syntax.RestOf {
			rest := l.rest(line, r, RestBetweenTurns)
			l.restOnHead(g, b, h, rest)
			g.Steps = append(g.Steps, rest)
		}
	}
	l.restPlaces(g, sc)
	switch {
	case g.Repeat.Kind == AnyOrder:
		l.firstOfAny(g.Steps)
	case g.Repeat.Kind == ChooseOne: // one of them is done
	case g.Lasts != nil && inner.lasts:
		g.shareTime()
	case !inner.lasts:
		l.lastOfWindow(g.Steps)
	}
	return g
}

// headRules reports a head of which it is not said how long it goes on, or how.
func (l *lowerer) headRules(g *Group, line *syntax.Line, h *syntax.Head, sc scope) {
	switch {
	case g.Mode == AMRAP && g.Time == nil && g.Repeat.Kind != On && !sc.clock:
		l.report(countMissing, l.place(line, h.Mode.Span), "it is not said how long this amrap is",
			"write its time, such as amrap 12:00; without one it goes on until the window, the slot, the station or the head that lasts around it is over", nil)
	case g.CarryOn && g.Repeat.Kind == On && g.Mode != AMRAP && g.Mode != ForTime:
		end := line.Span(h.Repeat.Span).End
		at := l.file.Src.At(source.Span{Start: end, End: end})
		d := diag.Diagnostic{Rule: wordMisplaced, Severity: diag.Error, At: l.place(line, h.Repeat.Span),
			Message: "it is not said whether the windows go on round after round or cut one list into pieces",
			Help:    "write amrap behind the windows for round after round, or for time for the list once"}
		if g.Mode == NoMode {
			for _, m := range []string{"amrap", "for time"} {
				d.Fixes = append(d.Fixes, diag.Fix{Title: "write " + m, Edits: []diag.Edit{{At: at, New: " " + m}}})
			}
		}
		*l.diags = append(*l.diags, d)
	}
}

// lastOfWindow reports a line that takes all that is left of its window with work behind it, which
// would never be done.
func (l *lowerer) lastOfWindow(steps []Step) {
	for i, s := range steps {
		w, ok := s.(*Work)
		if !ok || w.From != FromClock || w.Until != nil || len(w.Moves) == 0 {
			continue
		}
		if slices.ContainsFunc(steps[i+1:], func(s Step) bool { _, rest := s.(*Rest); return !rest }) {
			l.report(countMissing, w.At, "without a count this goes on until its time is over, so what stands behind it is never done",
				"write how many or how long: 12 "+w.Moves[0].Name+" or 0:20 "+w.Moves[0].Name+"; or make it the last line", nil)
			return
		}
	}
}

// shareTime lets the lines without a count of a group that lasts share what the others leave of its time,
// unless there is only one, as the last: that has all of what is left.
func (g *Group) shareTime() {
	var open []*Work
	last := false // whether the last thing done is open
	var walk func(steps []Step, turns bool)
	walk = func(steps []Step, turns bool) {
		for _, s := range steps {
			switch s := s.(type) {
			case *Work:
				if last = s.From == FromClock && s.Until == nil && len(s.Moves) > 0; last {
					open = append(open, s)
					last = !turns
				}
			case *Group:
				switch {
				case s.Lasts != nil || s.Repeat.Clocked() || s.Mode == AMRAP || s.IsSlot() || s.Repeat.Kind == ChooseOne || s.Repeat.Kind == AnyOrder:
					last = false
				default:
					walk(s.Steps, turns || s.ComesRound())
				}
			}
		}
	}
	walk(g.Steps, g.ComesRound())
	if len(open) == 1 && last {
		return
	}
	for _, w := range open {
		w.Shares = true
	}
}

// firstOfAny reports a line without a count that others are done beside in whatever order: who starts
// with it never comes to the others.
func (l *lowerer) firstOfAny(steps []Step) {
	if len(WorkSteps(steps)) < 2 {
		return
	}
	for s := range Flat(steps) {
		if w, ok := s.(*Work); ok && w.From == FromClock && w.Until == nil && len(w.Moves) > 0 {
			l.report(countMissing, w.At, "without a count this goes on until the time is over, and in any order it may be the first",
				"write how many or how long: 12 "+w.Moves[0].Name+" or 0:20 "+w.Moves[0].Name, nil)
		}
	}
}

// body lowers what a head or a lead holds: what stands behind its colon, and the block
// under it. Where a head without work of its own stands behind the colon, the block is
// that head's.
func (l *lowerer) body(g *Group, b *syntax.Block, inline syntax.Stmt, sc scope) {
	if _, head := inline.(*syntax.Head); head {
		l.step(g, b, inline, sc, true)
		return
	}
	if inline != nil {
		l.step(g, &syntax.Block{Line: b.Line}, inline, sc, true)
	}
	l.steps(g, b.Kids, sc)
}

// scopeOf is what the lines of a group have from its head and from those above.
func (l *lowerer) scopeOf(g *Group, sc scope) scope {
	in := scope{lasts: (g.Lasts != nil || sc.lasts) && !g.Repeat.Clocked(), series: sc.series, clock: sc.clock || g.Lasts != nil || g.Unread, fills: g.Lasts != nil || g.Unread || g.Repeat.Clocked() || sc.fills && !g.ComesRound()}
	switch g.Repeat.Kind {
	case Ladder:
		in.series = g.Repeat.Series
	case On:
		in.clock = true
	default: // the others give their lines nothing
	}
	if g.Mode == AMRAP || g.Mode == ForLoad { // rounds and sets have counts
		in.clock, in.lasts = false, false
	}
	return in
}

// unread is a group whose head cannot be read; what stands under it is read all the
// same.
func (l *lowerer) unread(b *syntax.Block) *Group {
	g := &Group{Kind: Plain, At: l.place(b.Line, b.Line.Stmt.Extent()), Repeat: Repeat{Kind: Once}, Unread: true, Block: blockSpan(b), Steps: []Step{}}
	if b.Line.Depth == 0 {
		g.Kind = Part
	}
	// Whatever the head gives its lines is not known, so nothing is missing in them.
	l.steps(g, b.Kids, scope{clock: true})
	return g
}

func (l *lowerer) repeat(line *syntax.Line, r *syntax.Repeat) Repeat {
	out := Repeat{Kind: RepeatKind(r.Kind), At: l.place(line, r.Span), Laps: r.Laps}
	count := r.Count
	switch r.Kind {
	case syntax.Ladder:
		unit := "rep"
		if r.Unit != "" {
			unit = r.Unit
		}
		if r.Count != nil && r.Unit == "" && r.Count.Clocked() {
			unit = "s"
		}
		if r.Count != nil {
			out.Series = l.tiers(l.amount(line, r.Count, r.Count.Span, unit).byOne())
		}
		count = nil
	case syntax.Emom:
		out.Kind = Every
		out.Whole = l.quantity(line, r.Every, "")
		out.Interval = &Quantity{Unit: "s", Form: syntax.One, Terms: [][]float64{{60}}, At: out.At}
		if w, ok := out.Whole.One(); ok {
			out.Count = &Quantity{Unit: "turn", Form: syntax.One, Terms: [][]float64{{float64(int(w / 60))}}, At: out.Whole.At}
		}
	case syntax.Every:
		out.Interval = l.quantity(line, r.Every, "")
	case syntax.OnOff:
		out.On, out.Off = l.quantity(line, r.On, ""), l.quantity(line, r.Off, "")
	}
	if r.Times != nil {
		count = r.Times
	}
	if count != nil {
		unit := "turn"
		if r.Laps {
			unit = "lap"
		}
		out.Count = l.amountOf(line, count, unit).counted()
		if f := out.Count.Form; f == syntax.Series || f == syntax.FromTo {
			l.report(numberMalformed, out.Count.At, fmt.Sprintf("how often something comes round is one number, not %s", out.Count.At.Text()),
				"write 3 rounds, or a range: 3-4 rounds; counts that change from round to round stand on the lines", nil)
			out.Count = nil
		}
	}
	out.Until = l.until(line, r.Until)
	return out
}

func (l *lowerer) amountOf(line *syntax.Line, a *syntax.Amount, unit string) *Quantity {
	if a == nil {
		return nil
	}
	if a.Clocked() {
		l.report(numberMalformed, l.place(line, a.Span), "a clock value counts nothing here", "write a plain number", nil)
	}
	return l.tiers(l.amount(line, a, a.Span, unit))
}

// tiers reports a quantity that tells apart more tiers than the house has, or fewer.
func (l *lowerer) tiers(q *Quantity) *Quantity {
	if q == nil || l.env == nil {
		return q
	}
	have := l.env.House.Tiers
	for _, t := range q.Terms {
		if len(t) != 1 && len(t) != len(have) {
			l.report(tiersWrong, q.At, fmt.Sprintf("%d numbers stand between slashes, but the house has %d tiers (%s)", len(t), len(have), strings.Join(have, ", ")),
				"write one number for all, or one for each tier in the house's order", nil)
			break
		}
	}
	return q
}

func (l *lowerer) headClause(g *Group, line *syntax.Line, c *syntax.Clause) {
	switch c.Kind {
	case syntax.Cap:
		g.Cap = l.quantity(line, c.Amount, "")
	case syntax.Lasts:
		g.Lasts = l.quantity(line, c.Amount, "")
	case syntax.In:
		if c.People.Kind == "heats" {
			g.Heats = l.people(line, c.People)
		} else {
			g.People = l.people(line, c.People)
		}
	case syntax.Split, syntax.SplitEvenly:
		g.Share, g.share = Sharing(c.Kind), line.Span(c.Span)
	case syntax.EachSide:
		g.Side = true
	case syntax.OneWorks:
		g.Solo = true
	case syntax.CarryOn:
		g.CarryOn = true
	case syntax.EachPlus:
		q := l.quantity(line, c.Amount, "")
		if c.Minus {
			q.negate()
		}
		g.Each = append(g.Each, q)
	case syntax.EffortOf: // it is refused, with what to write: see group
		g.Effort = l.quantity(line, c.Amount, "%")
	case syntax.With:
		g.With = append(g.With, l.with(line, c))
	case syntax.If: // the note is its condition: see group
	case syntax.RestOf:
		// It is appended to the steps when those are there: see group.
	}
}

// once reports a clause that a head or a line has twice: the second would silently take
// the place of the first.
func (l *lowerer) once(line *syntax.Line, cs []syntax.Clause) {
	for i := range cs {
		for j := range i {
			if cs[i].Excludes(&cs[j]) {
				l.reportRelated(book.PropertyTwice, l.place(line, cs[i].Span), "this says again, or otherwise, what a clause before it says", "keep one of the two", l.place(line, cs[j].Span))
				return
			}
		}
	}
}

func (l *lowerer) with(line *syntax.Line, c *syntax.Clause) Kit {
	at := l.place(line, c.Kit.Span)
	return Kit{Name: l.kit(at, c.Kit.Text), Loads: l.loads(line, c.Loads, nil), At: at}
}

func (l *lowerer) people(line *syntax.Line, p *syntax.People) *People {
	out := &People{Kind: PeopleKind(p.Kind), At: l.place(line, p.Span), Every: l.quantity(line, p.Every, "")}
	switch {
	case p.Size != nil:
		out.Size = l.amount(line, p.Size, p.Size.Span, "person")
	case out.Kind == Pairs:
		out.Size = &Quantity{Unit: "person", Form: syntax.One, Terms: [][]float64{{2}}, At: out.At}
	}
	return out
}

// steps lowers what stands under a head.
func (l *lowerer) steps(g *Group, kids []*syntax.Block, sc scope) {
	for _, k := range kids {
		if k.Line.Stmt == nil {
			g.Notes = appendNote(g.Notes, k.Line)
			continue
		}
		l.step(g, k, k.Line.Stmt, sc, false)
	}
}

// step lowers one line of a group with what stands under it. Inline says that it
// stands behind the head's colon.
func (l *lowerer) step(g *Group, b *syntax.Block, stmt syntax.Stmt, sc scope, inline bool) {
	line := b.Line
	if _, property := stmt.(*syntax.Property); line.Bad && !property {
		g.Gaps = true
	}
	switch s := stmt.(type) {
	case *syntax.Head:
		inner := sc
		inner.part = false
		if k := l.group(b, s, inner); k != nil {
			g.Steps = append(g.Steps, k)
		}
	case *syntax.Lead:
		l.lead(g, b, s, sc)
	case *syntax.Item:
		l.itemStep(g, b, s, sc, inline)
	case *syntax.Rest:
		if l.swaps != nil {
			if s = l.swaps.rest(line, s); s == nil {
				return
			}
		}
		r := l.rest(line, s, RestHere)
		r.fills = sc.fills
		if a := r.Amount; a != nil && a.Bound == AtMost && r.Until == nil && r.Of == "" && (g.Repeat.Clocked() && g.Slots() == 0 || g.IsSlot()) {
			r.Bound, a.Bound = AtMost, "" // what is left of a turn is rest by itself, and this asks how much
		}
		r.takenInRounds(g)
		if r.Bare() && !sc.fills {
			l.report(restMisplaced, r.At, "it is not said how long this rest is, and nothing it could fill has a length",
				"write how long, such as rest 1:00, or what is done in it; a rest alone fills a slot, a station or a head that lasts", nil)
		}
		if r.Bound != Unbounded {
			switch {
			case r.Of != "": // its own words say where
			case g.Repeat.Clocked() || g.IsSlot():
				r.Place = RestInInterval
			default:
				r.Place = RestAfterPart
			}
			g.Rests = append(g.Rests, r)
			return
		}
		g.Steps = append(g.Steps, r)
	case *syntax.Tag:
		g.Steps = append(g.Steps, &Tag{At: l.place(line, s.Span), Notes: appendNote(nil, line)})
	case *syntax.Property:
		l.groupProperty(g, line, s)
	case *syntax.Bad:
		if len(b.Kids) > 0 {
			g.Steps = append(g.Steps, l.unread(b))
		}
	}
}

func (l *lowerer) groupProperty(g *Group, line *syntax.Line, p *syntax.Property) {
	switch p.Key {
	case "score":
		sc := &Score{Agg: p.Score.Agg, What: p.Score.What, At: l.place(line, p.Span), Notes: appendNote(nil, line)}
		if sc.What == syntax.ScoreNote {
			sc.Note = note(line)
		}
		if slices.ContainsFunc(g.Scores, func(o *Score) bool { return o.Agg == sc.Agg && o.What == sc.What && o.Note == sc.Note }) {
			l.twice(line, p, "this part")
			return
		}
		for _, x := range p.Score.Penalties {
			q := l.quantity(line, x.Amount, "rep")
			if x.Minus {
				q.negate()
			}
			sc.Penalties = append(sc.Penalties, Penalty{Amount: q, Per: x.Per.Text, At: l.place(line, x.Span)})
		}
		g.Scores = append(g.Scores, sc)
	case "total":
		if l.swaps == nil { // a total is of what is written; a version states its own
			l.after(line, p, g.ComesRound())
			g.Totals = append(g.Totals, l.totals(line, p)...)
		}
	case "aim":
		if p.At && !g.IsSection() {
			l.report(wordMisplaced, l.place(line, p.Span), "when it is over on the clock is said of a part, or of the session",
				"write how long this takes, such as aim 3:00, or put the line under the part", nil)
		}
		g.Aims = append(g.Aims, l.aim(line, p))
	case "effort":
		g.Effort = l.effort(line, p)
	}
}

func (l *lowerer) aim(line *syntax.Line, p *syntax.Property) *Aim {
	a := &Aim{At: l.place(line, p.Span), Notes: appendNote(nil, line)}
	if p.Rest != nil {
		a.Rest = l.rest(line, p.Rest, RestBetweenTurns)
		l.restAsked(a.Rest)
		return a
	}
	a.Amount = l.quantity(line, p.Quantity, "rep").counted()
	switch {
	case p.At:
		a.What = AimedEnd
	case len(p.Names) > 0:
		a.What = strings.ToLower(p.Names[0].Text)
		known := []string{"rounds", "reps", "time", "distance", "calories", "load"}
		if !slices.Contains(known, a.What) {
			l.report(book.WordUnknown, l.place(line, p.Names[0].Span), fmt.Sprintf("%q is nothing that an aim can count", p.Names[0].Text),
				"write rounds or reps behind the number, or a unit", nil)
		}
		if a.What == "rounds" {
			a.Amount.Unit = "turn"
		}
	case a.Amount.Unit == "s":
		a.What = "time"
	default:
		a.What = a.Amount.Unit
	}
	return a
}

// after reports a total of some rounds where nothing comes round.
func (l *lowerer) after(line *syntax.Line, p *syntax.Property, rounds bool) {
	if p.After > 0 && !rounds {
		l.report(wordMisplaced, l.place(line, p.Span), "nothing comes round here, so no round is ever over",
			"put it under the head whose rounds it counts, or take after round out", nil)
	}
}

func (l *lowerer) totals(line *syntax.Line, p *syntax.Property) []*Total {
	var out []*Total
	for _, it := range p.Items {
		t := &Total{At: l.place(line, it.Span), Notes: appendNote(nil, line), Whose: Whose(it.Whose), After: p.After,
			Amount: l.tiers(l.quantity(line, it.Dose.Amount, "rep")).counted()}
		for _, ld := range it.Loads {
			l.report(wordMisplaced, l.place(line, ld.Span), "a total counts a movement at whatever load", "take the load out", nil)
		}
		if len(it.Moves) > 0 && !slices.Contains([]string{"rep", "reps"}, strings.ToLower(it.Moves[0].Name.Text)) {
			m := l.move(line, it.Moves[0].Name, nil)
			t.Movement, t.Name = m.Movement, m.Name
		}
		out = append(out, t)
	}
	return out
}

func (l *lowerer) lead(g *Group, b *syntax.Block, d *syntax.Lead, sc scope) {
	line := b.Line
	at := l.place(line, d.Span)
	body := func(inner scope) *Group {
		s := &Group{Kind: GroupKind(d.Kind), At: at, Repeat: Repeat{Kind: Once, At: at}, Block: blockSpan(b), Steps: []Step{}}
		if d.Inline == nil { // otherwise the note is that of what stands behind the colon
			s.Notes = appendNote(s.Notes, line)
		}
		l.body(s, b, d.Inline, inner)
		return s
	}
	switch d.Kind {
	case "if", "otherwise":
		inner := sc
		inner.part = false
		s := body(inner)
		for i, st := range s.Steps {
			if r, ok := st.(*Rest); ok && r.Place == RestHere {
				l.restOfSets(s.Steps[:i], r)
			}
		}
		if d.Kind == "if" {
			s.If, s.Notes = note(line), s.Notes[1:]
		}
		g.Steps = append(g.Steps, s)
	case "round", "label":
		inner := sc
		inner.part, inner.fills = false, sc.fills && d.Kind == "label"
		s := body(inner)
		if d.Kind == "round" {
			l.restPlaces(s, inner)
		}
		s.Label = d.Label
		if d.Kind == "round" {
			s.Number = int(d.Amount.Steps[0].Tiers[0].Value)
			s.Last = int(d.Amount.Steps[len(d.Amount.Steps)-1].Tiers[0].Value)
		}
		g.Steps = append(g.Steps, s)
	case "slot", "station":
		inner := sc
		inner.clock, inner.fills, inner.part, inner.lasts = true, true, false, false
		s := body(inner)
		s.Number = int(d.Amount.Steps[0].Tiers[0].Value)
		for _, st := range s.Steps {
			if r, ok := st.(*Rest); ok && r.behind == nil {
				r.Place = RestInInterval
			}
		}
		l.restPlaces(s, inner)
		l.lastOfWindow(s.Steps)
		g.Steps = append(g.Steps, s)
	case "part", "warm-up", "cool-down":
		l.report(wordMisplaced, at, "a part with a colon stands in a scaling only", "write the part's work under it, at the margin", nil)
	default:
		e := &Event{At: at, Kind: EventKind(strings.TrimSpace(d.Kind + " " + d.Event)), When: l.quantity(line, d.Amount, ""), First: l.quantity(line, d.From, "")}
		inner := sc
		fills := d.Kind == "meanwhile" || d.Kind == "when done"
		inner.series, inner.part, inner.clock, inner.fills, inner.lasts = nil, false, fills, fills, false
		in := body(inner)
		l.restPlaces(in, inner)
		e.Steps, e.Notes = in.Steps, in.Notes
		g.Events = append(g.Events, e)
	}
}

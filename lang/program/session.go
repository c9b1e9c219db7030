package program

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// sessionOf lowers a session as written, and then in each of its versions.
func (l *lowerer) sessionOf(head *syntax.Block, sections []*syntax.Block) *Session {
	s := l.session(head, sections)
	l.versions(s, head, sections)
	return s
}

func (l *lowerer) session(head *syntax.Block, sections []*syntax.Block) *Session {
	e := head.Line.Stmt.(*syntax.Entry)
	s := &Session{Name: e.Name.Text, At: l.place(head.Line, e.Name.Span), Block: blockSpan(head), Parts: []*Group{}}
	s.Notes = appendNote(s.Notes, head.Line)
	seen := map[string]bool{}
	for _, kid := range head.Kids {
		line := kid.Line
		switch p := line.Stmt.(type) {
		case nil:
			s.Notes = appendNote(s.Notes, line)
		case *syntax.Rest:
			s.Rests = append(s.Rests, l.asked(line, p))
		case *syntax.Property:
			if seen[p.Key] && p.Key != "allow" && p.Key != "purpose" && p.Key != "aim" {
				l.twice(line, p, s.Name)
				continue
			}
			seen[p.Key] = true
			l.sessionProperty(s, line, p)
		}
	}
	letters := map[string]source.Place{}
	for _, b := range sections {
		s.Block = s.Block.Join(blockSpan(b))
		switch h := b.Line.Stmt.(type) {
		case *syntax.Head:
			if g := l.section(b, h, letters); g != nil {
				s.Parts = append(s.Parts, g)
			}
		case *syntax.Bad:
			if len(b.Kids) > 0 {
				g := l.unread(b)
				s.Parts = append(s.Parts, g)
			}
		case *syntax.Property:
			if h.Key == "total" {
				s.Totals = append(s.Totals, l.totals(b.Line, h)...)
			}
		case nil:
			s.Notes = appendNote(s.Notes, b.Line)
		}
	}
	return s
}

func (l *lowerer) sessionProperty(s *Session, line *syntax.Line, p *syntax.Property) {
	switch p.Key {
	case "date":
		s.Date = p.Date
	case "length":
		s.Length = l.quantity(line, p.Quantity, "")
	case "effort":
		s.Effort = l.effort(line, p)
	case "purpose":
		s.Purpose = strings.TrimSpace(s.Purpose + " " + note(line))
	case "aim":
		s.Aims = append(s.Aims, l.aim(line, p))
	}
}

func (l *lowerer) effort(line *syntax.Line, p *syntax.Property) *Quantity {
	if len(p.Names) > 0 {
		l.report(wordMisplaced, l.place(line, p.Names[0].Span), "only a house says what a word of effort stands for", "write effort 80-85% here", nil)
	}
	return l.quantity(line, p.Quantity, "%")
}

// asked is a rest that is asked for at the head of a session.
func (l *lowerer) asked(line *syntax.Line, r *syntax.Rest) *Rest {
	if r.Bound == "" {
		l.report(restMisplaced, l.place(line, r.Span), "a session's head says how much rest it asks for, not when to take it",
			"write rest at least 1:30 here, or put the rest into a part", nil)
	}
	return l.rest(line, r, "between parts")
}

// section lowers the warm-up, a part or the cool-down. Letters are those that the
// session has used.
func (l *lowerer) section(b *syntax.Block, h *syntax.Head, letters map[string]source.Place) *Group {
	key := h.Part + h.Letter.Text
	at := l.place(b.Line, h.Span)
	if h.Letter.Text != "" {
		at = l.place(b.Line, h.Letter.Span)
	}
	if old, ok := letters[key]; ok {
		l.reportRelated(book.NameTaken, at, fmt.Sprintf("the session has a %s already", strings.TrimSpace(h.Part+" "+h.Letter.Text)), "call it by the next letter", old)
	}
	letters[key] = at
	if l.swaps != nil {
		whole := l.swaps.whole(h.Part, h.Letter.Text)
		switch {
		case whole == nil:
		case whole.block == nil:
			return nil // left out
		default:
			return l.replaced(whole)
		}
		l.swaps.enter(h.Part, h.Letter.Text)
		defer l.swaps.leave()
	}
	g := l.group(b, h, scope{part: true})
	if l.swaps != nil {
		if e := l.swaps.efforts[h.Part+h.Letter.Text]; e != nil {
			g.Effort = e
		}
	}
	return g
}

func (l *lowerer) reportRelated(rule string, at source.Place, message, help string, other source.Place) {
	l.report(rule, at, message, help, nil)
	d := &(*l.diags)[len(*l.diags)-1]
	d.Related = append(d.Related, relatedTo(other))
}

// A scope is what a line has from the heads above it.
type scope struct {
	part   bool      // straight under the session
	series *Quantity // the count that a ladder or sets gives
	clock  bool      // a window, a slot or a lasting group says how long
}

func (l *lowerer) group(b *syntax.Block, h *syntax.Head, sc scope) *Group {
	line := b.Line
	if l.swaps != nil {
		h = l.swaps.head(line, h)
	}
	g := &Group{Kind: "group", At: l.place(line, h.Span), Block: blockSpan(b), Steps: []Step{}}
	if h.Part != "" {
		g.Kind, g.Letter = h.Part, h.Letter.Text
	}
	if _, item := h.Inline.(*syntax.Item); !item || g.IsSection() { // else the note is the item's
		g.Notes = appendNote(g.Notes, line)
	}
	if h.At != nil {
		g.Start = l.amount(line, &syntax.Amount{Span: h.At.Span, Form: syntax.One, Steps: []syntax.Step{{Value: *h.At}}}, h.At.Span, "s")
	}
	g.Repeat = Repeat{Kind: "once", At: g.At}
	if h.Repeat != nil {
		g.Repeat = l.repeat(line, h.Repeat)
	}
	if h.Mode != nil {
		g.Mode = h.Mode.Kind
		g.Time = l.quantity(line, h.Mode.Time, "")
	}
	l.once(line, h.Clauses)
	for i := range h.Clauses {
		l.headClause(g, line, &h.Clauses[i])
	}
	inner := l.scopeOf(g, sc)
	l.body(g, b, h.Inline, inner)
	for i := range h.Clauses {
		if r := h.Clauses[i].Rest; h.Clauses[i].Kind == syntax.RestOf {
			g.Steps = append(g.Steps, l.rest(line, r, "between turns"))
		}
	}
	l.restPlaces(g, sc)
	return g
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
	in := scope{series: sc.series, clock: sc.clock || g.Lasts != nil}
	switch g.Repeat.Kind {
	case "ladder", "sets":
		in.series = g.Repeat.Series
	case "on":
		in.clock = true
	}
	return in
}

// unread is a group whose head cannot be read; what stands under it is read all the
// same.
func (l *lowerer) unread(b *syntax.Block) *Group {
	g := &Group{Kind: "group", At: l.place(b.Line, b.Line.Stmt.Extent()), Repeat: Repeat{Kind: "once"}, Unread: true, Block: blockSpan(b), Steps: []Step{}}
	if b.Line.Depth == 0 {
		g.Kind = "part"
	}
	// Whatever the head gives its lines is not known, so nothing is missing in them.
	l.steps(g, b.Kids, scope{clock: true})
	return g
}

func (l *lowerer) repeat(line *syntax.Line, r *syntax.Repeat) Repeat {
	out := Repeat{Kind: string(r.Kind), At: l.place(line, r.Span), Laps: r.Laps}
	count := r.Count
	switch r.Kind {
	case syntax.Ladder, syntax.Sets:
		unit := "rep"
		if r.Unit != "" {
			unit = r.Unit
		}
		if r.Count != nil && r.Unit == "" && r.Count.Clocked() {
			unit = "s"
		}
		if r.Count != nil {
			out.Series = l.tiers(l.amount(line, r.Count, r.Count.Span, unit))
		}
		count = nil
	case syntax.Emom:
		out.Kind = "every"
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
		out.Count = l.amountOf(line, count, unit)
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

func (l *lowerer) until(line *syntax.Line, e *syntax.End) *End {
	if e == nil {
		return nil
	}
	out := &End{Kind: e.Kind, At: l.place(line, e.Span)}
	if e.Kind == "clock" {
		out.Clock = l.amount(line, &syntax.Amount{Span: e.At.Span, Form: syntax.One, Steps: []syntax.Step{{Value: e.At}}}, e.At.Span, "s")
	}
	return out
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
		g.Share = string(c.Kind)
	case syntax.EachSide:
		g.Side = true
	case syntax.NotScored:
		g.Unscored = true
	case syntax.OneWorks:
		g.Solo = true
	case syntax.CarryOn:
		g.CarryOn = true
	case syntax.EachPlus:
		q := l.quantity(line, c.Amount, "")
		if c.Minus {
			for _, row := range q.Terms {
				for i := range row {
					row[i] = -row[i]
				}
			}
		}
		g.Each = append(g.Each, q)
	case syntax.EffortOf:
		g.Effort = l.quantity(line, c.Amount, "%")
	case syntax.With:
		g.With = append(g.With, l.with(line, c))
	case syntax.RestOf:
		// It is appended to the steps when those are there: see group.
	}
}

// once reports a clause that a head or a line has twice: the second would silently take
// the place of the first.
func (l *lowerer) once(line *syntax.Line, cs []syntax.Clause) {
	same := func(a, b syntax.Clause) bool {
		shares := []syntax.ClauseKind{syntax.Split, syntax.SplitEvenly, syntax.Together, syntax.InTime}
		switch {
		case a.Kind == syntax.In && b.Kind == syntax.In:
			return (a.People.Kind == "heats") == (b.People.Kind == "heats")
		case slices.Contains(shares, a.Kind) && slices.Contains(shares, b.Kind):
			return true
		case a.Kind == syntax.With || a.Kind == syntax.EachPlus:
			return false
		}
		return a.Kind == b.Kind
	}
	for i := range cs {
		for j := range i {
			if same(cs[i], cs[j]) {
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
	out := &People{Kind: p.Kind, At: l.place(line, p.Span), Every: l.quantity(line, p.Every, "")}
	size := 0.0
	switch p.Kind {
	case "halves":
		return out
	case "pairs":
		size = 2
	case "threes":
		size = 3
	case "fours":
		size = 4
	default:
		out.Size = l.amount(line, p.Size, p.Size.Span, "person")
		return out
	}
	out.Size = &Quantity{Unit: "person", Form: syntax.One, Terms: [][]float64{{size}}, At: out.At}
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
		g.Steps = append(g.Steps, l.group(b, s, inner))
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
		r := l.rest(line, s, "here")
		if s.Bound != "" {
			switch {
			case r.Of != "": // its own words say where
			case g.Repeat.Clocked() || g.IsSlot():
				r.Place = "in its interval"
			default:
				r.Place = "after the part"
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
		if slices.ContainsFunc(g.Scores, func(o *Score) bool { return o.Agg == sc.Agg && o.What == sc.What }) {
			l.twice(line, p, "this part")
			return
		}
		g.Scores = append(g.Scores, sc)
	case "total":
		if l.swaps == nil { // a total is of what is written; a version states its own
			g.Totals = append(g.Totals, l.totals(line, p)...)
		}
	case "aim":
		g.Aims = append(g.Aims, l.aim(line, p))
	case "effort":
		g.Effort = l.effort(line, p)
	}
}

func (l *lowerer) aim(line *syntax.Line, p *syntax.Property) *Aim {
	a := &Aim{At: l.place(line, p.Span), Notes: appendNote(nil, line)}
	if p.Rest != nil {
		a.Rest = l.rest(line, p.Rest, "between turns")
		return a
	}
	a.Amount = l.quantity(line, p.Quantity, "rep")
	switch {
	case len(p.Names) > 0:
		a.What = strings.ToLower(p.Names[0].Text)
		known := []string{"rounds", "laps", "rungs", "sets", "reps", "time", "distance", "calories", "load", "points", "level", "power"}
		if !slices.Contains(known, a.What) {
			l.report(book.WordUnknown, l.place(line, p.Names[0].Span), fmt.Sprintf("%q is nothing that an aim can count", p.Names[0].Text),
				"write rounds, laps or reps behind the number, or a unit", nil)
		}
		if a.What == "rounds" || a.What == "laps" {
			a.Amount.Unit = "turn"
		}
	case a.Amount.Unit == "s":
		a.What = "time"
	default:
		a.What = a.Amount.Unit
	}
	return a
}

func (l *lowerer) totals(line *syntax.Line, p *syntax.Property) []*Total {
	var out []*Total
	for _, it := range p.Items {
		t := &Total{At: l.place(line, it.Span), Notes: appendNote(nil, line), Amount: l.tiers(l.quantity(line, it.Dose.Amount, "rep"))}
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
		s := &Group{Kind: d.Kind, At: at, Repeat: Repeat{Kind: "once", At: at}, Block: blockSpan(b), Steps: []Step{}}
		if d.Inline == nil { // otherwise the note is that of what stands behind the colon
			s.Notes = appendNote(s.Notes, line)
		}
		l.body(s, b, d.Inline, inner)
		return s
	}
	switch d.Kind {
	case "round", "label":
		inner := sc
		inner.part = false
		s := body(inner)
		s.Label = d.Label
		if d.Kind == "round" {
			s.Number = int(d.Amount.Steps[0].Tiers[0].Value)
			s.Last = int(d.Amount.Steps[len(d.Amount.Steps)-1].Tiers[0].Value)
		}
		g.Steps = append(g.Steps, s)
	case "slot", "station":
		inner := sc
		inner.clock, inner.part = true, false
		s := body(inner)
		s.Number = int(d.Amount.Steps[0].Tiers[0].Value)
		for _, st := range s.Steps {
			if r, ok := st.(*Rest); ok {
				r.Place = "in its interval"
			}
		}
		g.Steps = append(g.Steps, s)
	case "part", "warm-up", "cool-down":
		l.report(wordMisplaced, at, "a part with a colon stands in a scaling only", "write the part's work under it, at the margin", nil)
	default:
		e := &Event{At: at, Kind: strings.TrimSpace(d.Kind + " " + d.Event), When: l.quantity(line, d.Amount, ""), First: l.quantity(line, d.From, "")}
		inner := sc
		inner.series, inner.part, inner.clock = nil, false, d.Kind == "meanwhile" || d.Kind == "when done"
		in := body(inner)
		e.Steps, e.Notes = in.Steps, in.Notes
		g.Events = append(g.Events, e)
	}
}

func (l *lowerer) rest(line *syntax.Line, r *syntax.Rest, place string) *Rest {
	out := &Rest{At: l.place(line, r.Span), Amount: l.quantity(line, r.Amount, ""), Bound: r.Bound, Needed: r.Needed, Place: place}
	if place != "between sets" {
		out.Notes = appendNote(nil, line)
	}
	if it, ok := r.Inline.(*syntax.Item); ok && l.env != nil {
		inner := &Group{}
		l.itemStep(inner, &syntax.Block{Line: line}, it, scope{clock: true}, false)
		out.Steps, out.Notes = inner.Steps, nil
	}
	if r.After {
		out.Place = "after the part"
	}
	if r.Bound != "" && r.Inline != nil {
		l.report(restMisplaced, out.At, "rest "+r.Bound+" asks for a rest and adds none, so nothing can be done in it", "write the rest itself, such as rest 4:00: bike @ easy, or rest as needed: bike @ easy", nil)
	}
	if r.Work != nil {
		out.Work = l.amount(line, &syntax.Amount{Span: r.Work.Span, Form: syntax.One, Steps: []syntax.Step{{Value: *r.Work}}}, r.Work.Span, "x")
	}
	if r.Between.Text != "" {
		out.Of = strings.ToLower(r.Between.Text)
		if !slices.Contains([]string{"rounds", "laps", "sets", "parts", "turns", "rungs", "windows", "stations", "slots"}, out.Of) {
			l.report(book.WordUnknown, l.place(line, r.Between.Span), fmt.Sprintf("%q is nothing that a rest can stand between", r.Between.Text),
				"write between rounds, laps, sets, rungs, stations or parts", nil)
		}
		if out.Of != "parts" && place != "between parts" {
			out.Place = "between turns"
		}
	}
	if out.Amount == nil && !out.Needed && out.Work == nil && place != "in its interval" && r.Bound != "" {
		l.report(countMissing, out.At, "it is not said how much rest", "write rest "+r.Bound+" 1:30", nil)
	}
	return out
}

// restPlaces settles when the rests of a group are taken: the last line of what comes
// round again is taken between its turns; the last line of a part that does not, after
// the part; any other where it stands. On a clock what is left of a turn is rest by
// itself, so a rest line there has no place.
//
// A label is a name and no more: what stands under one counts as if it stood alone.
func (l *lowerer) restPlaces(g *Group, sc scope) { l.restsIn(g, g.Steps, true, sc) }

// restsIn settles the rests among some steps of a group, which may be its last.
func (l *lowerer) restsIn(g *Group, steps []Step, end bool, sc scope) {
	n := len(steps)
	for n > 0 && afterAll(steps[n-1]) { // it follows the turns, and so is no line of them
		n--
	}
	for i, st := range steps {
		last := end && i == n-1
		if k, ok := st.(*Group); ok && k.Kind == "label" {
			l.restsIn(g, k.Steps, last, sc)
			continue
		}
		r, ok := st.(*Rest)
		if ok && r.Place == "between turns" && r.Of == "" { // a clause of the head
			l.restClause(g, r)
		}
		if !ok || r.Place != "here" {
			continue
		}
		switch {
		case g.IsSlot():
			r.Place = "in its interval"
		case g.Repeat.Clocked() && g.Slots() == 0:
			l.report(restMisplaced, r.At, "on a clock, what is left of each interval is the rest; a rest line has no place in it",
				"take it out, or say between which turns: rest 1:00 between laps", nil)
		case last && g.Repeat.Kind == "sets" && g.Repeat.Series == nil && !r.behind:
			r.Place = "between sets" // of all lines of the block
		case last && g.ComesRound():
			r.Place = "between turns"
		case last && sc.part:
			r.Place = "after the part"
		}
	}
}

func afterAll(s Step) bool {
	r, ok := s.(*Rest)
	return ok && r.Place == "after the part"
}

// restClause reports a rest between turns on a head that has none, or whose clock says
// how much there is.
func (l *lowerer) restClause(g *Group, r *Rest) {
	switch {
	case g.Repeat.Clocked() && g.Slots() == 0:
		l.report(restMisplaced, r.At, "on a clock, what is left of each interval is the rest; a rest on the head has no place",
			"take it out, or say between which turns: rest 1:00 between laps", nil)
	case !g.ComesRound():
		l.report(restMisplaced, r.At, "a rest on a head stands between its turns, and this is done once",
			"say how often: 3 rounds, rest 1:00; or put the rest on a line of its own", nil)
	}
}

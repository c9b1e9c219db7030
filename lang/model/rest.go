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

func (l *lowerer) rest(line *syntax.Line, r *syntax.Rest, place RestPlace) *Rest {
	out := &Rest{At: l.place(line, r.Span), Amount: l.quantity(line, r.Amount, ""), Needed: r.Needed, Place: place,
		Until: l.until(line, r.Until)}
	if out.Until != nil {
		if place == RestBetweenParts {
			l.restAsked(out)
		}
		out.Amount.counted()
	} else if out.Bound = Bound(r.Bound); out.Amount != nil {
		if out.Bound == AtMost && (place == RestHere || place == RestBetweenSets) { // as they like, and no longer
			out.Bound = Unbounded
			out.Amount.counted()
		} else {
			out.Amount.Bound = "" // it is the rest's
		}
	}
	if place != RestBetweenSets {
		out.Notes = appendNote(nil, line)
	}
	if it, ok := r.Inline.(*syntax.Item); ok && l.env != nil {
		inner := &Group{}
		l.itemStep(inner, &syntax.Block{Line: line}, it, scope{clock: true}, false)
		out.Steps, out.Notes = inner.Steps, nil
	}
	if r.After {
		out.Place = RestAfterPart
	}
	if out.Bound != "" && r.Inline != nil {
		l.report(restMisplaced, out.At, "rest "+r.Bound+" asks for a rest and adds none, so nothing can be done in it", "write the rest itself, such as rest 4:00: bike @ easy, or rest as needed: bike @ easy", nil)
	}
	if r.Work != nil {
		out.Work = l.amount(line, &syntax.Amount{Span: r.Work.Span, Form: syntax.One, Steps: []syntax.Step{{Value: *r.Work}}}, r.Work.Span, "x")
	}
	if out.Bound == AtLeast && place == RestBetweenSets {
		out.take()
	}
	if r.Between.Text != "" {
		out.Of = Turns(strings.ToLower(r.Between.Text))
		if !slices.Contains([]Turns{OfRounds, OfRungs, OfParts, OfStations, OfSlots}, out.Of) {
			l.report(book.WordUnknown, l.place(line, r.Between.Span), fmt.Sprintf("%q is nothing that a rest can stand between", r.Between.Text),
				"write between rounds, rungs, stations, slots or parts; between the sets of a line it stands behind that line: 5 x 3 push press, rest 2:00", nil)
		}
		if out.Of != OfParts && place != RestBetweenParts {
			out.Place = RestBetweenTurns
		}
	}
	if out.Amount == nil && !out.Needed && out.Work == nil && place != RestInInterval && out.Bound != "" {
		l.report(countMissing, out.At, "it is not said how much rest", "write rest "+r.Bound+" 1:30", nil)
	}
	return out
}

// takenInRounds lets a rest of at least so long be one that is taken, and may be longer, where it is a line
// of rounds: there it asks nothing of what comes after.
func (r *Rest) takenInRounds(g *Group) {
	if r.Bound == AtLeast && r.Place == RestHere && r.Of == NearestTurns && g.Repeat.Kind == Rounds && plainRounds(g) && g.Slots() == 0 {
		r.take()
	}
}

// take lets a rest that has a bound be one that is taken.
func (r *Rest) take() {
	for _, q := range []*Quantity{r.Amount, r.Work} {
		if q != nil {
			q.Bound, r.Bound = r.Bound, Unbounded
			q.counted()
			return
		}
	}
}

// restAsked reports an end of a rest that is asked for, or expected, and not taken.
func (l *lowerer) restAsked(r *Rest) {
	if r.Until != nil {
		l.report(restMisplaced, r.Until.At, "a rest that is asked for is so long, and ends at nothing", "write how long it is, such as rest at least 1:30", nil)
	}
}

// restPlaces settles when the rests of a group are taken: the last line of rounds between them, the
// last line of a part after it, and any other where it stands. Of what else comes round it has to be
// said, since coaches read it in both ways. On a clock what is left of a turn is rest by itself.
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
		if k, ok := st.(*Group); ok && k.Kind == Label {
			l.restsIn(g, k.Steps, last, sc)
			continue
		}
		if r, ok := st.(*Rest); ok && r.Place == RestHere {
			l.restPlace(g, r, last, sc)
			l.restOfSets(steps[:i], r)
		}
	}
}

// restPlace settles when a rest of a group is taken that does not say it.
func (l *lowerer) restPlace(g *Group, r *Rest, last bool, sc scope) {
	behind := r.behind
	r.behind = nil
	clocked := g.Repeat.Clocked() && g.Slots() == 0
	switch {
	case g.IsSlot():
		r.Place = RestInInterval
	case clocked && behind == nil:
		l.report(restMisplaced, r.At, "on a clock, what is left of each interval is the rest; a rest line has no place in it",
			"take it out, or write when it is taken: rest 1:00 after", nil)
	case last && g.ComesRound() && !clocked:
		r.Place = RestBetweenTurns
	case last && sc.part && !(r.Bare() && g.Lasts != nil): // it fills what the part lasts
		r.Place = RestAfterPart
	}
	switch {
	case behind != nil && (g.IsSlot() || clocked):
		l.reportRest(r.At, "what is left of the interval is rest by itself, and this line has no sets to rest between",
			"take the rest out", diag.Fix{Title: "take the rest out", Edits: behind.out()})
	case behind != nil:
		text := r.At.Text()
		if r.Place == RestBetweenTurns && !plainRounds(g) {
			text += " between " + turnWord(g)
		}
		fixes := behind.ownLine(text)
		l.reportRest(r.At, "a rest behind a line of work is taken between its sets, and this line has one",
			"say how many sets, such as 3 x 12, or put the rest on a line of its own", fixes...)
	case r.Place == RestBetweenTurns && !plainRounds(g):
		l.restUnsaid(g, r)
	}
}

// plainRounds says whether a rest as the last line of a group is read between its turns by everybody.
func plainRounds(g *Group) bool { return g.Repeat.Kind == Rounds && g.Mode != AMRAP || g.refused }

// restUnsaid reports a rest as the last line of what comes round otherwise than in rounds.
func (l *lowerer) restUnsaid(g *Group, r *Rest) {
	between := []string{turnWord(g)}
	if g.Slots() > 0 {
		between = append(between, slotWord(g)+"s")
	}
	at := restEnd(r.At)
	var fixes []diag.Fix
	for _, w := range between {
		fixes = append(fixes, diag.Fix{Title: "write between " + w, Edits: []diag.Edit{{At: at, New: " between " + w}}})
	}
	fixes = append(fixes, diag.Fix{Title: "write after", Edits: []diag.Edit{{At: at, New: " after"}}})
	l.reportRest(r.At, "it is not said whether this rest is taken each time or when all is done",
		"write between "+strings.Join(between, ", between ")+" or after", fixes...)
}

// turnWord is what the turns of a group are called behind between.
func turnWord(g *Group) string {
	if g.Repeat.Kind == Ladder {
		return string(OfRungs)
	}
	return string(OfRounds)
}

// slotWord is what the slots of a group are called.
func slotWord(g *Group) string {
	for _, s := range g.Steps {
		if k, ok := s.(*Group); ok && k.IsSlot() {
			return string(k.Kind)
		}
	}
	return string(Slot)
}

// restEnd is the place right behind the words of a rest, before its colon.
func restEnd(at source.Place) source.Place {
	text := at.Text()
	if i := strings.Index(text+" ", ": "); i >= 0 {
		text = strings.TrimRight(text[:i], " ")
	}
	end := at.Start + len(text)
	return at.File.At(source.Span{Start: end, End: end})
}

func afterAll(s Step) bool {
	r, ok := s.(*Rest)
	return ok && r.Place == RestAfterPart
}

// restsNamed reports rests between turns that nothing around them has.
func (l *lowerer) restsNamed(part *Group) {
	Walk(part, Everything, func(s Step, around []*Group) bool {
		r, ok := s.(*Rest)
		if !ok || r.Of == NearestTurns || r.Of == OfParts || slices.ContainsFunc(around, func(g *Group) bool { return g.Unread || g.TurnsAre(r.Of) }) {
			return true
		}
		if slices.Contains([]Turns{OfRounds, OfRungs, OfStations, OfSlots}, r.Of) {
			l.report(restMisplaced, r.At, fmt.Sprintf("nothing around this has %s, so the rest is never taken", r.Of),
				"put it into what comes round, such as 3 rounds, or write rest 1:00 where it is taken", nil)
		}
		return true
	})
}

// Bare says whether a rest says nothing but that it is one.
func (r *Rest) Bare() bool {
	return r.Amount == nil && !r.Needed && r.Work == nil && len(r.Steps) == 0 && r.Bound == Unbounded && r.Until == nil
}

// Fills says whether the rest takes what the slot, or the head that lasts, leaves.
func (r *Rest) Fills() bool { return r.fills && r.unsaid() }

// AsLongAsItTakes says whether the rest is as long as what is done in it, and nothing says how long
// that is: rest: walk.
func (r *Rest) AsLongAsItTakes() bool {
	return !r.fills && r.unsaid() && slices.ContainsFunc(r.Steps, func(s Step) bool {
		w, ok := s.(*Work)
		return ok && w.From == FromClock && w.Until == nil
	})
}

// unsaid says whether the rest itself does not say how long it is.
func (r *Rest) unsaid() bool { return r.Amount == nil && r.Work == nil && r.Until == nil && !r.Needed }

// reportRest reports a rest that stands where it means nothing, or two things.
func (l *lowerer) reportRest(at source.Place, message, help string, fixes ...diag.Fix) {
	*l.diags = append(*l.diags, diag.Diagnostic{Rule: restMisplaced, Severity: diag.Error, At: at,
		Message: message, Help: help, Fixes: fixes})
}

// A restClause is a rest that is written as a clause where it is none.
type restClause struct {
	src   *source.File
	block *syntax.Block
	at    source.Span // of the rest, in the file
}

// out are the edits that take the clause out of its line.
func (c *restClause) out() []diag.Edit {
	return []diag.Edit{clauseOut(c.src.At(c.at))}
}

// lineEnd inserts a line, so many levels deep, behind a block.
func lineBehind(src *source.File, end, depth int, text string) diag.Edit {
	return diag.Edit{At: src.At(source.Span{Start: end, End: end}), New: "\n" + strings.Repeat("  ", depth) + text}
}

// ownLine puts the rest on a line of its own, where the line of work that it stands behind is one by
// itself, or stands behind the colon of a label or of one head.
func (c *restClause) ownLine(text string) []diag.Fix {
	line := c.block.Line
	depth := line.Depth
	edits := c.out()
	switch st := line.Stmt.(type) {
	case *syntax.Item:
	case *syntax.Lead:
		if _, item := st.Inline.(*syntax.Item); !item || st.Kind != "label" {
			return nil
		}
	case *syntax.Head:
		open, ok := openHead(c.src, line, st)
		if !ok {
			return nil
		}
		depth++
		edits = append(edits, open)
	default:
		return nil
	}
	edits = append(edits, lineBehind(c.src, blockSpan(c.block).End, depth, text))
	return []diag.Fix{{Title: "put the rest on a line of its own", Edits: edits}}
}

// openHead puts the line of work behind a head's colon on a line of its own under it.
func openHead(src *source.File, line *syntax.Line, h *syntax.Head) (diag.Edit, bool) {
	it, item := h.Inline.(*syntax.Item)
	if !item || line.Note != nil || line.Comment != nil {
		return diag.Edit{}, false
	}
	start := line.Span(it.Span).Start
	colon := len(strings.TrimRight(src.Text[:start], " :"))
	return diag.Edit{At: src.At(source.Span{Start: colon, End: start}), New: "\n" + strings.Repeat("  ", line.Depth+1)}, true
}

// restOnHead reports a rest that is a clause of a head.
func (l *lowerer) restOnHead(g *Group, b *syntax.Block, h *syntax.Head, r *Rest) {
	c := &restClause{l.file.Src, b, r.At.Span}
	if r.At.File != l.file.Src || l.swaps != nil {
		c = nil
	}
	message, help := "a rest is no clause of a head", "put it on a line of its own: as the last line of rounds it is taken between them"
	if c == nil || !g.ComesRound() || g.Repeat.Clocked() && g.Slots() == 0 {
		l.report(restMisplaced, r.At, message, help, nil)
		return
	}
	text := r.At.Text()
	if r.Place == RestBetweenTurns && r.Of == NearestTurns && !plainRounds(g) {
		text += " between " + turnWord(g)
	}
	edits := c.out()
	if h.Inline != nil {
		open, ok := openHead(c.src, b.Line, h)
		if !ok {
			l.report(restMisplaced, r.At, message, help, nil)
			return
		}
		edits = append(edits, open)
	}
	edits = append(edits, lineBehind(c.src, blockSpan(b).End, b.Line.Depth+1, text))
	l.reportRest(r.At, message, help, diag.Fix{Title: "put the rest on a line of its own", Edits: edits})
}

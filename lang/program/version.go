package program

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// versions makes the session in each of its scalings, and in those of the house that
// come with swaps of their own.
func (l *lowerer) versions(s *Session, head *syntax.Block, sections []*syntax.Block) {
	own := map[string]*syntax.Block{}
	var names []string
	for _, b := range sections {
		sc, ok := b.Line.Stmt.(*syntax.Scaling)
		if !ok {
			continue
		}
		key := book.Key(sc.Name.Text)
		if old := own[key]; old != nil {
			l.reportRelated(book.NameTaken, l.place(b.Line, sc.Name.Span), fmt.Sprintf("the session has a scaling %s already", sc.Name.Text),
				"write all that changes in one of them", l.place(old.Line, old.Line.Stmt.(*syntax.Scaling).Name.Span))
			continue
		}
		own[key] = b
		names = append(names, strings.ToLower(sc.Name.Text))
	}
	for _, h := range l.env.House.Scalings {
		if own[book.Key(h.Name)] == nil && changes(h.block) {
			names = append(names, h.Name)
		}
	}
	for _, n := range names {
		s.Versions = append(s.Versions, l.version(n, own, head, sections))
	}
}

// changes says whether a scaling of the house holds swaps, and so makes a version of
// sessions that do not speak of it.
func changes(b *syntax.Block) bool {
	return slices.ContainsFunc(b.Kids, func(k *syntax.Block) bool {
		_, swap := k.Line.Stmt.(*syntax.Swap)
		return swap
	})
}

func (l *lowerer) version(name string, own map[string]*syntax.Block, head *syntax.Block, sections []*syntax.Block) *Version {
	v := &Version{Name: name}
	sw := &swaps{l: l}
	l.collect(sw, v, name, own, nil)
	// What the lines as written draw has been reported; what is lowered again here is
	// for its meaning only. Findings about the swaps go to the file's own list.
	var again []diag.Diagnostic
	inner := &lowerer{file: l.file, env: l.env, diags: &again, swaps: sw}
	v.Session = inner.session(head, sections)
	v.Session.Version = v.Name
	v.Session.Totals = sw.totals
	if sw.effort != nil {
		v.Session.Effort = sw.effort
	}
	if sw.length != nil {
		v.Session.Length = sw.length
	}
	if !hasGaps(v.Session) {
		sw.report()
	}
	return v
}

// hasGaps says whether a line of the session could not be read: what a swap looks for may
// well be there.
func hasGaps(s *Session) bool {
	var gap func(g *Group) bool
	gap = func(g *Group) bool {
		return g.Gaps || g.Unread || slices.ContainsFunc(g.Steps, func(st Step) bool {
			k, ok := st.(*Group)
			return ok && gap(k)
		})
	}
	return slices.ContainsFunc(s.Parts, gap)
}

// collect gathers what makes a version: the house's swaps for it, those of the version
// that it starts from, and its own, each taking the place of those before it with the
// same left side.
func (l *lowerer) collect(sw *swaps, v *Version, name string, own map[string]*syntax.Block, chain []string) {
	key := book.Key(name)
	if slices.Contains(chain, key) {
		b := own[chain[0]]
		at := source.Place{File: l.file.Src}
		if b != nil {
			at = l.place(b.Line, b.Line.Stmt.Extent())
		} else if h := l.env.House.Scaling(chain[0]); h != nil {
			at = h.At
		}
		l.report(versionUnknown, at, fmt.Sprintf("the scaling %s starts from itself", name), "let one of them stand by itself", nil)
		return
	}
	chain = append(chain, key)
	h := l.env.House.Scaling(name)
	b := own[key]
	if h != nil {
		for _, n := range h.From {
			l.from(sw, v, n, own, chain)
		}
	}
	if b != nil {
		for _, n := range b.Line.Stmt.(*syntax.Scaling).From {
			v.From = append(v.From, strings.ToLower(n.Text))
			l.from(sw, v, l.name(b.Line, n), own, chain)
		}
	}
	sw.layer++
	v.Note = ""
	if h != nil {
		v.Note, v.At = h.Note, h.At
		if h.HasOnly {
			v.Has, v.HasOnly = h.Has, true
		}
		// What the house's own lines draw is reported with the house's file.
		hl := &lowerer{file: h.file, env: l.env, diags: new([]diag.Diagnostic)}
		hl.gather(sw, h.block, true)
	}
	if b == nil {
		return
	}
	v.At = l.place(b.Line, b.Line.Stmt.(*syntax.Scaling).Name.Span)
	if n := note(b.Line); n != "" {
		v.Note = n
	}
	for _, k := range b.Kids {
		if p, ok := k.Line.Stmt.(*syntax.Property); ok && p.Key == "has" {
			v.HasOnly, v.Has = true, nil
			for _, n := range p.Names {
				if !strings.EqualFold(n.Text, "nothing") {
					v.Has = append(v.Has, l.kit(l.place(k.Line, n.Span), n.Text))
				}
			}
		}
	}
	l.gather(sw, b, false)
}

func (l *lowerer) from(sw *swaps, v *Version, from Name, own map[string]*syntax.Block, chain []string) {
	if own[book.Key(from.Text)] == nil && l.env.House.Scaling(from.Text) == nil {
		l.report(versionUnknown, from.At, fmt.Sprintf("neither the session nor the house has a scaling %q", from.Text), "start from one that is there", nil)
		return
	}
	l.collect(sw, v, from.Text, own, chain)
	sw.totals = nil // they are of that version
}

// gather adds the lines of a scaling.
func (l *lowerer) gather(sw *swaps, b *syntax.Block, house bool) {
	var where *syntax.Lead
	var walk func(kids []*syntax.Block)
	walk = func(kids []*syntax.Block) {
		for _, k := range kids {
			switch s := k.Line.Stmt.(type) {
			case *syntax.Swap:
				if _, item := s.From.(*syntax.Item); house && (!item || s.Part != "") {
					l.report(workMisplaced, l.place(k.Line, s.Span), "a house swaps movements only; heads, rests and parts differ from session to session", "write this swap in the sessions that it is for", nil)
					continue
				}
				if made := l.swap(k.Line, s, where, house); made != nil {
					sw.add(made)
				}
			case *syntax.Lead:
				where = s
				walk(k.Kids)
				where = nil
			case *syntax.Head:
				if s.Part != "" {
					sw.replace(&whole{part: s.Part, letter: s.Letter.Text, block: k, l: l, at: l.place(k.Line, s.Span)})
				}
			case *syntax.Property:
				switch s.Key {
				case "effort":
					q := l.quantity(k.Line, s.Quantity, "%")
					if where == nil {
						sw.effort = q
						break
					}
					if sw.efforts == nil {
						sw.efforts = map[string]*Quantity{}
					}
					sw.efforts[where.Kind+where.Letter.Text] = q
				case "length":
					sw.length = l.quantity(k.Line, s.Quantity, "")
				case "total":
					sw.totals = append(sw.totals, l.totals(k.Line, s)...)
				}
			}
		}
	}
	walk(b.Kids)
}

// swap is a line of a scaling, nil where it swaps what cannot take each other's place.
func (l *lowerer) swap(line *syntax.Line, s *syntax.Swap, where *syntax.Lead, house bool) *swap {
	out := &swap{l: l, line: line, stmt: s, part: s.Part, letter: s.Letter.Text, house: house, at: l.place(line, s.Span), note: note(line)}
	if out.part == "" && where != nil {
		out.part, out.letter = where.Kind, where.Letter.Text
	}
	if s.From != nil {
		out.fromAt = l.place(line, s.From.Extent())
	}
	if it, ok := s.From.(*syntax.Item); ok {
		out.from = l.work(line, it)
	}
	if s.To != nil && s.From != nil && !line.Bad && reflect.TypeOf(s.From) != reflect.TypeOf(s.To) {
		l.report(swapUnclear, out.at, "the two sides of this swap are of different kinds", "work takes the place of work, a head of a head, a clause of a clause, a rest of a rest, a load of a load; nothing takes the place of all", nil)
		return nil
	}
	if it, ok := s.To.(*syntax.Item); ok {
		out.to = l.work(line, it)
		l.unitFits(out.to)
	}
	if s.To != nil && syntax.Same(s.From, s.To) && out.note == "" {
		l.report(swapUnchanged, out.at, "both sides of the arrow are the same, so this changes nothing", "take the line out, or write what is done instead", nil)
		out.used = true
	}
	return out
}

// swaps are what makes a version of a session.
type swaps struct {
	l      *lowerer
	list   []*swap
	wholes []*whole
	layer  int // how many versions have been gathered: each is made on what those before it make
	effort *Quantity
	length *Quantity
	// efforts are those of single parts, by kind and letter.
	efforts map[string]*Quantity
	totals  []*Total
	part    string // where the session is being lowered
	letter  string
}

// A swap is one line of a scaling.
type swap struct {
	l            *lowerer // of the file that it stands in
	line         *syntax.Line
	stmt         *syntax.Swap
	part, letter string
	from, to     *Work // where the sides are work
	house        bool
	layer        int
	used         bool
	at, fromAt   source.Place
	note         string
}

// whole is a part that takes the place of the session's own; with no block it is left
// out.
type whole struct {
	part, letter string
	block        *syntax.Block
	l            *lowerer
	layer        int
	at           source.Place
	used         bool
}

func (sw *swaps) add(s *swap) {
	if s.stmt.From == nil && s.stmt.Nothing {
		sw.replace(&whole{part: s.part, letter: s.letter, l: s.l, at: s.at})
		return
	}
	s.layer = sw.layer
	for i, old := range sw.list {
		if old.layer != s.layer && s.from != nil {
			continue // it is made on the other's result
		}
		if old.part == s.part && old.letter == s.letter && syntax.Same(old.stmt.From, s.stmt.From) && old.line != s.line {
			if old.l == s.l && old.house == s.house && sameBlock(old, s) {
				s.l.reportRelated(swapUnclear, s.fromAt, "this is swapped already in the same scaling", "keep one of the two", old.at)
			}
			sw.list[i] = s
			return
		}
	}
	sw.list = append(sw.list, s)
}

// sameBlock says whether two swaps stand in one scaling: no line at the margin, and
// none of another scaling, is between them.
func sameBlock(a, b *swap) bool {
	for _, l := range a.l.file.Lines {
		if _, ok := l.Stmt.(*syntax.Scaling); ok && a.line.Body < l.Body && l.Body < b.line.Body {
			return false
		}
	}
	return true
}

func (sw *swaps) replace(w *whole) {
	w.layer = sw.layer
	for i, old := range sw.wholes {
		if old.part == w.part && old.letter == w.letter {
			sw.wholes[i] = w
			return
		}
	}
	sw.wholes = append(sw.wholes, w)
}

// whole is what takes the place of a part, or nil where the part stays.
func (sw *swaps) whole(part, letter string) *whole {
	for _, w := range sw.wholes {
		if w.part == part && w.letter == letter {
			w.used = true
			return w
		}
	}
	return nil
}

// replaced lowers a part that a scaling writes anew. What it draws is a finding about
// the file's own lines.
func (l *lowerer) replaced(w *whole) *Group {
	inner := &lowerer{file: w.l.file, env: l.env, diags: w.l.diags}
	if later := l.swaps.since(w.layer); len(later.list) > 0 {
		later.enter(w.part, w.letter)
		inner.swaps = later
	}
	return inner.group(w.block, w.block.Line.Stmt.(*syntax.Head), scope{part: true})
}

// since are the swaps of the versions that are made on the one of a layer.
func (sw *swaps) since(layer int) *swaps {
	c := *sw
	c.list = nil
	for _, s := range sw.list {
		if s.layer > layer {
			c.list = append(c.list, s)
		}
	}
	return &c
}

func (sw *swaps) enter(part, letter string) { sw.part, sw.letter = part, letter }
func (sw *swaps) leave()                    { sw.part, sw.letter = "", "" }

func (sw *swaps) here(s *swap) bool {
	return s.part == "" || s.part == sw.part && s.letter == sw.letter
}

// rank orders swaps that match one thing: a session's own before the house's, one
// narrowed to a part before one for all, one with a dose or a load before a bare name.
func (s *swap) rank() int {
	n := 0
	if !s.house {
		n += 16
	}
	if s.part != "" {
		n += 8
	}
	if s.from != nil {
		if s.from.Dose != nil {
			n += 4
		}
		if s.from.Sets != nil {
			n += 2
		}
		if len(s.from.Loads) > 0 || len(s.from.Moves) > 1 {
			n++
		}
	}
	return n
}

// best picks the most specific of those that match. All that match are used: a swap
// that only ever loses to a more specific one is a mistake that would stay hidden, but
// it is not one that matches nothing.
func (sw *swaps) best(layer int, at source.Place, match func(*swap) bool) *swap {
	var best, other *swap
	for _, s := range sw.list {
		if s.layer != layer || !sw.here(s) || !match(s) {
			continue
		}
		s.used = true
		switch {
		case best == nil || s.rank() > best.rank():
			best, other = s, nil
		case s.rank() == best.rank():
			other = s
		}
	}
	if other != nil {
		sw.l.report(swapUnclear, other.fromAt, fmt.Sprintf("two swaps of this version match %q, and neither says more than the other", at.Text()),
			"say in one of them which is meant: its count, or the part before a colon", nil)
		sw.l.reportAdd(relatedTo(best.at))
		sw.l.reportAdd(diag.Related{At: at, Message: "both match this"})
	}
	return best
}

// head makes the swaps that change a head: its repeat, its mode or its clauses.
func (sw *swaps) head(line *syntax.Line, h *syntax.Head) *syntax.Head {
	c := *h
	c.Clauses = slices.Clone(h.Clauses)
	for _, s := range sw.list {
		if !sw.here(s) {
			continue
		}
		by := s.line.Body - line.Body // the swap's words stand in another line
		switch from := s.stmt.From.(type) {
		case *syntax.Head:
			sw.headSwap(&c, s, from, by)
		case *syntax.ClauseThing:
			sw.clauseSwap(&c, s, from, by)
		}
	}
	return &c
}

// headSwap changes the repeat or the mode of a head.
func (sw *swaps) headSwap(h *syntax.Head, s *swap, from *syntax.Head, by int) {
	match := (from.Repeat == nil || h.Repeat != nil && syntax.Same(from.Repeat, h.Repeat)) &&
		(from.Mode == nil || h.Mode != nil && syntax.Same(from.Mode, h.Mode)) && (from.Repeat != nil || from.Mode != nil)
	if !match {
		return
	}
	s.used = true
	to, _ := s.stmt.To.(*syntax.Head)
	if to == nil {
		to = &syntax.Head{}
	}
	to = syntax.Moved(to, by).(*syntax.Head)
	if from.Repeat != nil {
		h.Repeat = to.Repeat
	} else if to.Repeat != nil {
		h.Repeat = to.Repeat
	}
	if from.Mode != nil || to.Mode != nil {
		h.Mode = to.Mode
	}
	h.Clauses = append(h.Clauses, to.Clauses...)
}

func (sw *swaps) clauseSwap(h *syntax.Head, s *swap, from *syntax.ClauseThing, by int) {
	to, _ := syntax.Moved(s.stmt.To, by).(*syntax.ClauseThing)
	if from.Clause.Kind == syntax.StartAt {
		if h.At == nil || from.Clause.Amount == nil || !syntax.Same(from.Clause.Amount.Steps[0].Value, *h.At) {
			return
		}
		s.used = true
		h.At = nil
		if to != nil && to.Clause.Amount != nil {
			h.At = &to.Clause.Amount.Steps[0].Value
		}
		return
	}
	i := slices.IndexFunc(h.Clauses, func(c syntax.Clause) bool { return syntax.Same(c, from.Clause) })
	if i < 0 {
		return
	}
	s.used = true
	if to == nil {
		h.Clauses = slices.Delete(h.Clauses, i, i+1)
		return
	}
	h.Clauses[i] = to.Clause
}

// rest makes the swap of a line of rest; nil leaves it out.
func (sw *swaps) rest(line *syntax.Line, r *syntax.Rest) *syntax.Rest {
	for _, s := range sw.list {
		if from, ok := s.stmt.From.(*syntax.Rest); ok && sw.here(s) && syntax.Same(from, r) {
			s.used = true
			to, _ := syntax.Moved(s.stmt.To, s.line.Body-line.Body).(*syntax.Rest)
			return to
		}
	}
	return r
}

// work makes the swaps of a line of work; nil leaves it out. A version that starts from
// another is made on what that one makes, but looks for lines as the session has them.
func (sw *swaps) work(w *Work) *Work {
	out := w
	for layer := 1; layer <= sw.layer; layer++ {
		out = sw.loads(layer, w, out)
		if len(w.Moves) == 1 {
			out = sw.one(layer, w, out)
		} else {
			out = sw.several(layer, w, out)
		}
	}
	if out == nil {
		return nil
	}
	c := *out
	c.Written = w.At
	sw.clauses(&c)
	return &c
}

// one makes the swap of a line of one movement. Out is what the versions before have
// made of it, nil where they have left it out.
func (sw *swaps) one(layer int, w, out *Work) *Work {
	s := sw.best(layer, w.At, func(s *swap) bool { return s.from != nil && len(s.from.Moves) == 1 && s.from.matches(w) })
	if s == nil {
		return out
	}
	if s.to == nil {
		return nil
	}
	if out == nil {
		out = w
	}
	c := *out
	c.Moves, c.Choice = slices.Clone(s.to.Moves), s.to.Choice
	sw.carry(&c, s, out.Moves)
	return &c
}

// several makes the swaps of a line of several movements: it is looked for whole first,
// then movement by movement.
func (sw *swaps) several(layer int, w, out *Work) *Work {
	s := sw.best(layer, w.At, func(s *swap) bool { return s.from != nil && len(s.from.Moves) > 1 && s.from.matches(w) })
	if s != nil && s.to == nil || s == nil && out == nil {
		return nil
	}
	if out == nil {
		out = w
	}
	c := *out
	if s != nil {
		c.Moves, c.Choice = slices.Clone(s.to.Moves), s.to.Choice
		sw.carry(&c, s, out.Moves)
		return &c
	}
	var kept []Move
	for i := range out.Moves {
		one := *out
		one.Moves = out.Moves[i : i+1]
		s := sw.best(layer, out.Moves[i].At, func(s *swap) bool { return s.from != nil && len(s.from.Moves) == 1 && s.from.matches(&one) })
		switch {
		case s == nil:
			kept = append(kept, out.Moves[i])
		case s.to == nil:
		default:
			to := slices.Clone(s.to.Moves)
			to[0].Count = out.Moves[i].Count
			kept = append(kept, to...)
			c.Choice = c.Choice || s.to.Choice
			sw.carry(&c, s, one.Moves)
		}
	}
	if len(kept) == 0 {
		return nil
	}
	c.Moves = dedupe(kept, c.Choice)
	if len(c.Moves) == 1 {
		c.Choice = false
	}
	return &c
}

// dedupe leaves a movement in a choice once.
func dedupe(ms []Move, choice bool) []Move {
	if !choice {
		return ms
	}
	var out []Move
	for _, m := range ms {
		if !slices.ContainsFunc(out, func(o Move) bool { return o.Name == m.Name }) {
			out = append(out, m)
		}
	}
	return out
}

// carry takes over what the right side of a swap says. What it does not say stays, but
// for the weight: that belongs to the implement.
func (sw *swaps) carry(w *Work, s *swap, from []Move) {
	to, before := s.to, w.At
	w.At = to.At
	same := len(from) == 1 && len(to.Moves) == 1 && from[0].Name == to.Moves[0].Name
	if !same {
		w.Notes = nil // a cue is of the movement
	}
	if to.Dose != nil && !same {
		// A count and a movement are a line of their own: how the other was done goes with it.
		w.Alternating, w.Unbroken, w.Tempo, w.Hold = false, false, "", nil
	}
	if to.Dose != nil {
		w.Dose, w.Side, w.From, w.Terms = to.Dose, to.Side, "line", to.Terms
		w.UpTo, w.RM, w.Window = to.UpTo, to.RM, to.Window
	}
	if to.Sets != nil {
		w.Sets = to.Sets
	}
	kept := to.Loads
	switch {
	case len(kept) > 0:
	case same:
		kept = w.Loads // and so is the implement
	default:
		for _, ld := range w.Loads {
			if slices.Contains([]syntax.LoadKind{syntax.RPE, syntax.RIR, syntax.Effort, syntax.Named, syntax.Reading}, ld.Kind) {
				kept = append(kept, ld) // how hard is the line's, not the implement's
			}
		}
	}
	w.Loads = kept
	w.Side = w.Side || to.Side
	w.Alternating = w.Alternating || to.Alternating
	w.Unbroken = w.Unbroken || to.Unbroken
	w.AnySets = w.AnySets || to.AnySets
	if to.Tempo != "" {
		w.Tempo = to.Tempo
	}
	if to.SetsOf != nil {
		w.SetsOf = to.SetsOf
	}
	if to.Share != "" {
		w.Share = to.Share
	}
	if to.Rest != nil {
		w.Rest = to.Rest
	}
	if to.Effort != nil {
		w.Effort = to.Effort
	}
	if to.Until != nil {
		w.Until = to.Until
	}
	if to.Hold != nil {
		w.Hold = to.Hold
	}
	if to.Every != nil {
		w.Every = to.Every
	}
	w.Unscored = w.Unscored || to.Unscored
	w.With = append(slices.Clone(w.With), to.With...)
	if s.note != "" {
		w.Notes = []string{s.note}
	}
	misfit := slices.ContainsFunc(from, func(m Move) bool { return m.Movement == nil || w.Dose != nil && !fits(m.Movement, w.Dose.Unit) })
	if w.Dose != nil && to.Dose == nil && w.From != "clock" && !misfit {
		for _, m := range to.Moves {
			if m.Movement != nil && !fits(m.Movement, w.Dose.Unit) {
				at := s.at
				if s.house {
					at = sw.l.file.Src.At(before.Span)
				}
				sw.l.report(unitUnfit, at, fmt.Sprintf("the count carries over, but %s is not counted in %s", m.Name, unitName(w.Dose.Unit)),
					"write a count on the right of the arrow too", nil)
				break
			}
		}
	}
}

// clauses makes the swaps of a clause of a line, such as a rest between sets.
func (sw *swaps) clauses(w *Work) {
	for _, s := range sw.list {
		switch from := s.stmt.From.(type) {
		case *syntax.Rest:
			if w.Rest == nil || !sw.here(s) || !sameRest(w.Rest, s.l.rest(s.line, from, "between sets")) {
				continue
			}
			s.used = true
			w.Rest = nil
			if to, ok := s.stmt.To.(*syntax.Rest); ok {
				w.Rest = s.l.rest(s.line, to, "between sets")
			}
		case *syntax.ClauseThing:
			sw.lineClause(w, s, from)
		}
	}
}

// loads makes the swaps of loads alone, whatever the movement. They are looked for on
// the line as the session has it, and made before a movement brings loads of its own.
func (sw *swaps) loads(layer int, w, out *Work) *Work {
	for _, s := range sw.list {
		from, ok := s.stmt.From.(*syntax.LoadThing)
		if !ok || s.layer != layer || !sw.here(s) {
			continue
		}
		want := s.l.loads(s.line, from.Loads, nil)
		wanted := func(o Load) bool { return slices.ContainsFunc(want, func(ld Load) bool { return sameLoad(ld, o) }) }
		if slices.ContainsFunc(want, func(ld Load) bool {
			return !slices.ContainsFunc(w.Loads, func(o Load) bool { return sameLoad(ld, o) })
		}) {
			continue
		}
		s.used = true
		if out == nil || !slices.ContainsFunc(out.Loads, wanted) {
			continue
		}
		c := *out
		c.Loads = slices.DeleteFunc(slices.Clone(out.Loads), wanted)
		if to, ok := s.stmt.To.(*syntax.LoadThing); ok {
			c.Loads = append(c.Loads, s.l.loads(s.line, to.Loads, nil)...)
		}
		out = &c
	}
	return out
}

func (sw *swaps) lineClause(w *Work, s *swap, from *syntax.ClauseThing) {
	if !sw.here(s) {
		return
	}
	to, _ := s.stmt.To.(*syntax.ClauseThing)
	is := false
	switch from.Clause.Kind {
	case syntax.TempoOf:
		if is = w.Tempo == from.Clause.Tempo; is {
			w.Tempo = ""
		}
	case syntax.Unbroken:
		if is = w.Unbroken; is {
			w.Unbroken = false
		}
	case syntax.Alternating:
		if is = w.Alternating; is {
			w.Alternating = false
		}
	case syntax.EachSide:
		if is = w.Side; is {
			w.Side = false
		}
	case syntax.AnySets:
		if is = w.AnySets; is {
			w.AnySets = false
		}
	case syntax.SetsOf:
		if is = w.SetsOf != nil && sameQuantity(w.SetsOf, s.l.quantity(s.line, from.Clause.Amount, "rep")); is {
			w.SetsOf = nil
		}
	case syntax.EffortOf:
		if is = w.Effort != nil && sameQuantity(w.Effort, s.l.quantity(s.line, from.Clause.Amount, "%")); is {
			w.Effort = nil
		}
	case syntax.With:
		loads := s.l.loads(s.line, from.Clause.Loads, nil)
		i := slices.IndexFunc(w.With, func(k Kit) bool {
			return book.Key(k.Name) == book.Key(from.Clause.Kit.Text) && slices.EqualFunc(k.Loads, loads, sameLoad)
		})
		if is = i >= 0; is {
			w.With = slices.Delete(slices.Clone(w.With), i, i+1)
		}
	case syntax.Split, syntax.SplitEvenly, syntax.Together, syntax.InTime:
		if is = w.Share == string(from.Clause.Kind); is {
			w.Share = ""
		}
	}
	if is {
		s.used = true
		if to != nil {
			s.l.workClause(w, s.line, &to.Clause)
		}
	}
}

func sameRest(a, b *Rest) bool { return sameQuantity(a.Amount, b.Amount) && a.Needed == b.Needed }

// matches says whether a line is one that the left side of a swap means: it has its
// movements and all else that the left side says.
func (from *Work) matches(w *Work) bool {
	if len(from.Moves) != len(w.Moves) || len(w.Moves) > 1 && from.Choice != w.Choice {
		return false
	}
	for i, m := range from.Moves {
		if book.Key(m.Name) != book.Key(w.Moves[i].Name) {
			return false
		}
	}
	if from.Dose != nil && (!sameQuantity(from.Dose, w.Dose) || from.Side != w.Side) {
		return false
	}
	if from.Sets != nil && !sameQuantity(from.Sets, w.Sets) {
		return false
	}
	for _, ld := range from.Loads {
		if !slices.ContainsFunc(w.Loads, func(o Load) bool { return sameLoad(ld, o) }) {
			return false
		}
	}
	return true
}

func sameLoad(a, b Load) bool {
	return a.Kind == b.Kind && a.Word == b.Word && sameQuantity(a.Amount, b.Amount) && sameQuantity(a.Count, b.Count)
}

func sameQuantity(a, b *Quantity) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Unit == b.Unit && a.Form == b.Form && a.Max == b.Max && a.Open == b.Open && slices.EqualFunc(a.Terms, b.Terms, slices.Equal[[]float64])
}

// report says which of the session's own swaps match nothing. A house's swap may: it is
// written for all sessions.
func (sw *swaps) report() {
	for _, s := range sw.list {
		if s.used || s.house {
			continue
		}
		what := "the session"
		if s.part != "" {
			what = strings.TrimSpace(s.part + " " + s.letter)
		}
		at := s.fromAt
		if at.File == nil {
			at = s.at
		}
		if s.from != nil && s.from.Moves[0].Movement == nil {
			continue // the name is wrong, and that has been reported
		}
		s.l.report(swapUnmatched, at, fmt.Sprintf("%s has no %q, so this swap changes nothing", what, at.Text()),
			"write it as the session has it, or take the line out", nil)
	}
	for _, w := range sw.wholes {
		if !w.used {
			w.l.report(swapUnmatched, w.at, fmt.Sprintf("the session has no %s to take the place of", strings.TrimSpace(w.part+" "+w.letter)),
				"write the letter of one of its parts", nil)
		}
	}
}

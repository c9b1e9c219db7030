package model

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
	sw := &swaps{l: l, name: name, own: map[string]*ownLines{}, sections: sections}
	l.collect(sw, v, name, own, nil)
	// What the lines as written draw has been reported; what is lowered again here is
	// for its meaning only. Findings about the swaps go to the file's own list.
	var again []diag.Diagnostic
	inner := &lowerer{file: l.file, env: l.env, diags: &again, swaps: sw}
	v.Session = inner.session(head, sections)
	v.Session.Version, v.Session.OwnKit = v.Name, v.HasOnly
	sw.restate(v.Session)
	v.Left = sw.left
	if !hasGaps(v.Session) {
		sw.report()
	}
	for _, s := range sw.list {
		v.Swaps = append(v.Swaps, Swap{At: s.at, Changes: s.hits})
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
	for _, o := range sw.own {
		o.totals = nil // they are of that version
	}
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
				if _, unread := s.To.(*syntax.Bad); unread {
					continue // only nothing leaves work out
				}
				if made := l.swap(k.Line, s, where, house); made != nil {
					sw.add(made)
				}
			case *syntax.Lead:
				where = s
				walk(k.Kids)
				where = nil
			case *syntax.Head:
				if s.Part == "" {
					break
				}
				holds := l.replaces(sw, k, s)
				switch {
				case !s.Replaces && onlySwaps(k.Kids):
					where = &syntax.Lead{Kind: s.Part, Letter: s.Letter}
					walk(k.Kids)
					where = nil
				case holds:
					sw.replace(&whole{part: s.Part, letter: s.Letter.Text, head: s, block: k, l: l, at: l.place(k.Line, s.Span)})
				}
			case *syntax.Property:
				l.restated(sw, k.Line, s, where)
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
	if l.effortSwap(line, s) {
		return nil
	}
	if it, ok := s.From.(*syntax.Item); ok {
		out.from = l.work(line, it)
	}
	if s.To != nil && s.From != nil && !line.Bad && reflect.TypeOf(s.From) != reflect.TypeOf(s.To) {
		l.report(swapUnclear, out.at, "the two sides of this swap are of different kinds", "work takes the place of work, a head of a head, a clause of a clause, a rest of a rest, a load of a load; nothing takes the place of all", nil)
		return nil
	}
	if it, ok := s.To.(*syntax.Item); ok {
		if out.to = l.work(line, it); out.to.If != "" {
			out.note = "" // it says what the work depends on
		}
		l.unitFits(out.to)
		l.setsStay(line, s, out)
	}
	if line.NoteMeans() {
		out.note = ""
	}
	if s.To != nil && syntax.Same(s.From, s.To) && out.note == "" {
		l.report(swapUnchanged, out.at, "both sides of the arrow are the same, so this changes nothing", "take the line out, or write what is done instead", nil)
		out.used = true
	}
	return out
}

// setsStay reports a swap that names so many sets and says a dose without any: it could be that of each set, or
// all there is.
func (l *lowerer) setsStay(line *syntax.Line, s *syntax.Swap, made *swap) {
	from, to := made.from, made.to
	if from == nil || from.Sets == nil || from.Dose == nil || to.Sets != nil || to.Dose == nil || to.RM > 0 {
		return
	}
	it := s.To.(*syntax.Item)
	at := l.place(line, it.Dose.Span)
	at.End = at.Start
	sets := from.Sets.At.Text() + " x "
	d := diag.Diagnostic{Rule: swapUnclear, Severity: diag.Error, At: made.at,
		Message: "it is not said whether this takes the place of each of the sets or of all of them",
		Help:    "write how many sets on the right too: " + sets + "in front of it, or 1 x"}
	for _, text := range []string{sets, "1 x "} {
		d.Fixes = append(d.Fixes, diag.Fix{Title: "write " + text + "on the right", Edits: []diag.Edit{{At: at, New: text}}})
	}
	*l.diags = append(*l.diags, d)
}

// swaps are what makes a version of a session.
type swaps struct {
	l      *lowerer
	name   string // of the version
	list   []*swap
	wholes []*whole
	layer  int // how many versions have been gathered: each is made on what those before it make
	// own are the lines of the versions that stand in the place of the session's or a part's: by the
	// kind and the letter of the part, empty for the session.
	own      map[string]*ownLines
	sections []*syntax.Block // of the session as written
	left     []source.Place  // of the session as written: left out with a reason
	part     string          // where the session is being lowered
	letter   string
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
	hits         []source.Place // what it changes
	at, fromAt   source.Place
	near         source.Place // a pace of the session that is the left side's but for its offset
	note         string
}

// hit says that the swap changes what stands at a place.
func (s *swap) hit(at source.Place) {
	s.used = true
	if !slices.Contains(s.hits, at) {
		s.hits = append(s.hits, at)
	}
}

// whole is a part that takes the place of the session's own; with no block it is left
// out.
type whole struct {
	part, letter string
	head         *syntax.Head
	block        *syntax.Block
	l            *lowerer
	layer        int
	at           source.Place
	used         bool
	note         string // why it is left out
}

func (sw *swaps) add(s *swap) {
	if s.stmt.From == nil && s.stmt.Nothing {
		sw.replace(&whole{part: s.part, letter: s.letter, l: s.l, at: s.at, note: s.note})
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

// replaced lowers a part that a scaling writes anew in the place of one that has a head. What it draws
// is a finding about the file's own lines.
func (l *lowerer) replaced(w *whole, line *syntax.Line, old *syntax.Head) *Group {
	head := *w.head
	if head.At == nil && old.At != nil { // of the old head, its start stays
		head.At = syntax.ShiftSpans(&syntax.Head{At: old.At}, line.Body-w.block.Line.Body).(*syntax.Head).At
		l.swaps.start(&head, w)
	}
	inner := &lowerer{file: w.l.file, env: l.env, diags: w.l.diags}
	if later := l.swaps.since(w.layer); len(later.list) > 0 {
		later.enter(w.part, w.letter)
		inner.swaps = later
	}
	g := inner.group(w.block, &head, scope{part: true})
	inner.sectionRules(g)
	return g
}

// start makes the swaps of a part's start that stand beside the part written anew: its start stays otherwise.
func (sw *swaps) start(h *syntax.Head, w *whole) {
	was := *h
	for _, s := range sw.list {
		from, ok := s.stmt.From.(*syntax.ClauseSide)
		if ok && from.Clause.Kind == syntax.StartAt && s.layer <= w.layer && s.part == w.part && s.letter == w.letter &&
			sw.clauseSwap(h, &was, s, from, s.line.Body-w.block.Line.Body) {
			s.hit(w.at)
		}
	}
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
		if len(s.from.Loads) > 0 || s.from.Until != nil || len(s.from.Moves) > 1 {
			n++
		}
	}
	return n
}

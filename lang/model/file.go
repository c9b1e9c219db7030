package model

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// The names of what can be wrong with what a line means.
const (
	wordMisplaced   = "word-misplaced"
	countMissing    = "count-missing"
	unitUnfit       = "unit-unfit"
	kitUnknown      = "kit-unknown"
	shareBaseless   = "share-baseless"
	sessionUnknown  = "session-unknown"
	sessionMissing  = "session-missing"
	workMisplaced   = "work-misplaced"
	restMisplaced   = "rest-misplaced"
	tiersWrong      = "tiers-wrong"
	swapUnmatched   = "swap-unmatched"
	swapUnclear     = "swap-unclear"
	swapUnchanged   = "swap-unchanged"
	versionUnknown  = "version-unknown"
	commaMissing    = "comma-missing"
	numberMalformed = "number-malformed"
)

// Rules are the names of all that this package reports.
func Rules() []string {
	return []string{wordMisplaced, countMissing, unitUnfit, kitUnknown, shareBaseless, sessionUnknown, sessionMissing, workMisplaced,
		restMisplaced, tiersWrong, swapUnmatched, swapUnclear, swapUnchanged, versionUnknown, commaMissing, numberMalformed,
		book.NameTaken, book.PropertyTwice, book.MovementUnknown, book.MovementUnclear, book.WordUnknown, book.PatternUnknown, book.FiguresWrong}
}

// Decls is what a file declares that other files are read against. It depends on the
// file's own text only.
type Decls struct {
	House     *House
	Movements []*book.Movement
	Sessions  []Name
	Cycles    []Name
	Length    bool // its house or one of its sessions says how long the hour is
	Diags     []diag.Diagnostic
}

// Declare takes a file's declarations.
func Declare(f *syntax.File) *Decls {
	d := &Decls{}
	d.Movements, d.Diags = book.Read(f)
	l := &lowerer{file: f, diags: &d.Diags}
	for _, b := range f.Roots {
		e, ok := b.Line.Stmt.(*syntax.Entry)
		if !ok {
			continue
		}
		switch e.Kind {
		case "session":
			d.Sessions = append(d.Sessions, l.name(b.Line, e.Name))
			d.Length = d.Length || statesLength(b)
		case "cycle":
			d.Cycles = append(d.Cycles, l.name(b.Line, e.Name))
		case "house":
			if d.House != nil {
				l.report(book.NameTaken, l.place(b.Line, e.Name.Span), "a workspace has one house, and this file has two", "keep one of them", nil)
				continue
			}
			d.House = l.house(b, e)
			d.Length = d.Length || statesLength(b)
		}
	}
	return d
}

// statesLength says whether an entry has a line for its length, even one that cannot be read.
func statesLength(b *syntax.Block) bool {
	return slices.ContainsFunc(b.Kids, func(k *syntax.Block) bool {
		return len(k.Line.Toks) > 0 && strings.EqualFold(k.Line.Toks[0].Text, "length")
	})
}

// An Env is what sessions and cycles are read against: the book with the workspace's
// own movements and kit, its house, and the names of its sessions. It never changes
// once made.
type Env struct {
	Book     *book.Book
	House    *House
	Sessions map[string]string // their names by key

	own      []*book.Movement
	declared *House
	taken    []diag.Diagnostic
}

// SameNames says whether both envs lead every name of a movement, of kit, of the house
// and of a session to the same thing, so that a file reads alike against either.
func (e *Env) SameNames(o *Env) bool {
	return e.Book == o.Book && e.House == o.House &&
		maps.Equal(e.Sessions, o.Sessions)
}

// NewEnv gathers what files declare. Where none declares a house, the defaults hold. The
// env before, if not nil, lends what is still the same: its book and house.
func NewEnv(files []*Decls, before *Env) (*Env, []diag.Diagnostic) {
	env := &Env{Sessions: map[string]string{}}
	first := map[string]Name{}
	var ds []diag.Diagnostic
	var own []*book.Movement
	var house *House
	for _, f := range files {
		own = append(own, f.Movements...)
		for _, s := range f.Sessions {
			k := book.Key(s.Text)
			if old, ok := first[k]; ok {
				ds = append(ds, diag.Diagnostic{Rule: book.NameTaken, Severity: diag.Error, At: s.At,
					Message: fmt.Sprintf("another session is called %s too", old.Text), Help: "call one of them otherwise: a cycle could not tell them apart",
					Related: []diag.Related{{At: old.At, Message: "the other is here"}}})
				continue
			}
			env.Sessions[k], first[k] = s.Text, s
		}
		switch {
		case f.House == nil:
		case house == nil:
			house = f.House
		default:
			ds = append(ds, diag.Diagnostic{Rule: book.NameTaken, Severity: diag.Error, At: f.House.At,
				Message: "a workspace has one house", Help: "keep one of the two",
				Related: []diag.Related{{At: house.At, Message: "the other is here"}}})
		}
	}
	env.own, env.declared = own, house
	if before != nil && before.declared == house && slices.Equal(before.own, own) {
		env.Book, env.House, env.taken = before.Book, before.House, before.taken
		return env, append(ds, env.taken...)
	}
	b := book.Builtin()
	if len(own) > 0 {
		b, env.taken = b.With(own)
	}
	ds = append(ds, env.taken...)
	env.House = Defaults()
	if house != nil {
		env.House = house.over(Defaults())
	}
	kit := kitWords(env.House.Kit)
	for _, s := range env.House.Scalings {
		for _, h := range s.Has {
			kit = append(kit, book.KitWord{Name: h})
		}
	}
	env.Book = b.WithKit(kit)
	return env, ds
}

func kitWords(kit []KitItem) []book.KitWord {
	var out []book.KitWord
	for _, k := range kit {
		out = append(out, book.KitWord{Name: k.Name, Also: k.Also})
	}
	return out
}

// For is the env that a session is held against: with its own kit in the place of the house's,
// where it lists some.
func (e *Env) For(s *Session) *Env {
	if s == nil {
		return e
	}
	return e.withKit(s.Kit)
}

// withKit is the env with other kit in the place of the house's, where there is any.
func (e *Env) withKit(kit []KitItem) *Env {
	if len(kit) == 0 {
		return e
	}
	c, h := *e, *e.House
	h.Kit = kit
	c.House, c.Book = &h, e.Book.WithKit(kitWords(kit))
	return &c
}

// A File is what one file means.
type File struct {
	Syntax   *syntax.File
	Sessions []*Session
	Cycles   []*Cycle
	Waivers  []*Waiver
	Diags    []diag.Diagnostic // what is wrong with it, the text itself left out
}

// Resolve reads what a file means. It depends on the file's text and on env only.
func Resolve(f *syntax.File, env *Env) *File {
	out := &File{Syntax: f}
	l := &lowerer{file: f, env: env, diags: &out.Diags}
	var session *syntax.Block
	var sections []*syntax.Block
	end := func() {
		if session != nil {
			out.Sessions = append(out.Sessions, l.sessionOf(session, sections))
		}
		session, sections = nil, nil
	}
	for _, b := range f.Roots {
		e, entry := b.Line.Stmt.(*syntax.Entry)
		switch {
		case entry && e.Kind == "session":
			end()
			session = b
		case entry && e.Kind == "cycle":
			end()
			out.Cycles = append(out.Cycles, l.cycle(b, e))
		case entry:
			end()
		case session != nil:
			sections = append(sections, b)
		case isSection(b.Line.Stmt):
			l.report(sessionMissing, l.place(b.Line, b.Line.Stmt.Extent()), "this belongs to no session", "write the session's name above it: session Bowline", nil)
		}
	}
	end()
	out.Diags = append(out.Diags, env.Book.Check(f)...)
	l.houseNames()
	l.waivers(f.Roots, source.Span{}, false, &out.Waivers)
	out.Diags = once(out.Diags)
	return out
}

// once leaves out what is said again: a version that starts from another reads the
// other's lines too.
func once(ds []diag.Diagnostic) []diag.Diagnostic {
	type key struct {
		rule, message string
		at            source.Place
	}
	seen := map[key]bool{}
	return slices.DeleteFunc(ds, func(d diag.Diagnostic) bool {
		k := key{d.Rule, d.Message, d.At}
		was := seen[k]
		seen[k] = true
		return was
	})
}

// houseNames reports what the house's own lines name and nothing has: versions that it
// asks for, kit and movements of its scalings. They can be read only against the book,
// and are reported with the file that holds the house.
func (l *lowerer) houseNames() {
	h := l.env.House
	if h.At.File != l.file.Src {
		return
	}
	for _, n := range h.Needs {
		if h.Scaling(n.Text) == nil {
			l.report(versionUnknown, n.At, fmt.Sprintf("the house asks for a version %q that it does not declare", n.Text),
				"add a line such as scaling "+strings.ToLower(n.Text)+" > What it is for.", nil)
		}
	}
	for _, s := range h.Scalings {
		for _, n := range s.From {
			if h.Scaling(n.Text) == nil {
				l.report(versionUnknown, n.At, fmt.Sprintf("the house has no scaling %q", n.Text), "start from one that is there", nil)
			}
		}
		l.gather(&swaps{l: l}, s.block, true)
	}
	l.kitNames(h.Kit)
}

// fittings are kit that no movement names and that belongs to some that they need.
var fittings = []string{"collar"}

// kitNames reports names in a list of kit that no movement needs and that may be meant for one that
// some do: what is short for want of the right name would be looked for in vain. Other names are let
// be, since work may be done with what they name.
func (l *lowerer) kitNames(kit []KitItem) {
	var needed []string
	for _, m := range l.env.Book.Movements() {
		needed = append(needed, m.Kit()...)
	}
	slices.Sort(needed)
	needed = slices.Compact(needed)
	for _, k := range kit {
		name, _ := l.env.Book.Kit(k.Name)
		for _, a := range k.also {
			if other, _ := l.env.Book.Kit(a.Text); other != name {
				l.report(book.NameTaken, a.At, fmt.Sprintf("%q is a word for the %s already", a.Text, other), "call it by a word that is free", nil)
			}
		}
		if slices.Contains(needed, name) || slices.Contains(fittings, strings.TrimSuffix(k.Name, "s")) {
			continue
		}
		d := diag.Diagnostic{Rule: kitUnknown, Severity: diag.Error, At: k.NameAt, Message: fmt.Sprintf("no movement needs a %q", k.Name)}
		like := syntax.Nearest(k.Name, needed, 2)
		if len(like) == 0 {
			continue
		}
		for _, n := range like[:min(3, len(like))] {
			d.Fixes = append(d.Fixes, diag.Fix{Title: "write " + n, Edits: []diag.Edit{{At: k.NameAt, New: n}}})
		}
		d.Help = "did you mean " + strings.Join(like[:min(3, len(like))], " or ") + "? stint kit lists the words for kit"
		*l.diags = append(*l.diags, d)
	}
}

func isSection(s syntax.Stmt) bool {
	switch s := s.(type) {
	case *syntax.Head, *syntax.Scaling:
		return true
	case *syntax.Property:
		return s.Key == "total"
	}
	return false
}

// waivers gathers the waivers of blocks. A waiver covers the block that it stands in:
// of a session's head, the whole session.
// Directly in a house, it is for the whole workspace: see houseProperty.
func (l *lowerer) waivers(bs []*syntax.Block, around source.Span, house bool, into *[]*Waiver) {
	for i, b := range bs {
		scope := blockSpan(b)
		if e, ok := b.Line.Stmt.(*syntax.Entry); ok && e.Kind == "session" {
			for _, next := range bs[i+1:] {
				if _, ok := next.Line.Stmt.(*syntax.Entry); ok {
					break
				}
				scope = scope.Join(blockSpan(next))
			}
		}
		if p, ok := b.Line.Stmt.(*syntax.Property); ok && p.Key == "allow" && !house {
			w := &Waiver{Reason: note(b.Line), Scope: l.file.Src.At(around), At: l.place(b.Line, p.Span)}
			for _, n := range p.Names {
				w.Rules = append(w.Rules, l.name(b.Line, n))
			}
			*into = append(*into, w)
		}
		e, entry := b.Line.Stmt.(*syntax.Entry)
		l.waivers(b.Kids, scope, entry && e.Kind == "house", into)
	}
}

// blockSpan is all that a block covers: its line, and the lines under it.
func blockSpan(b *syntax.Block) source.Span {
	s := source.Span{Start: b.Line.Body, End: b.Line.Body + b.Line.Len}
	for _, k := range b.Kids {
		s = s.Join(blockSpan(k))
	}
	return s
}

// A lowerer turns trees into meaning. One serves one file.
type lowerer struct {
	file  *syntax.File
	env   *Env
	diags *[]diag.Diagnostic
	swaps *swaps // of the version that is being made, or nil as written
}

func (l *lowerer) place(line *syntax.Line, s source.Span) source.Place {
	return l.file.Src.At(line.Span(s))
}

func (l *lowerer) name(line *syntax.Line, n syntax.Name) Name {
	return Name{n.Text, l.place(line, n.Span)}
}

func appendNote(notes []string, line *syntax.Line) []string {
	if line.Note == nil || line.Note.Text == "" || line.NoteMeans() {
		return notes
	}
	return append(notes, line.Note.Text)
}

// move resolves a movement's name. Where no book has it the name stays as written.
func (l *lowerer) move(line *syntax.Line, n syntax.Name, count *Quantity) Move {
	m := Move{Name: n.Text, Count: count, At: l.place(line, n.Span)}
	if d := l.env.Book.Resolve(m.At, n.Text, &m.Movement); d != nil {
		*l.diags = append(*l.diags, l.known(line, n, *d))
		return m
	}
	m.Name = m.Movement.Name
	return m
}

// known sharpens the message for a name that no book has: where it is a known name and
// a clause that lacks its comma, or a load that lacks its @, that is the mistake.
func (l *lowerer) known(line *syntax.Line, n syntax.Name, d diag.Diagnostic) diag.Diagnostic {
	words := strings.Fields(n.Text)
	for i := 1; i < len(words); i++ {
		if w := strings.ToLower(words[i]); !syntax.StartsWorkClause(w) && w != "hold" { // "ring row hold your chest high"
			continue
		}
		head := strings.Join(words[:i], " ")
		if m, _ := l.env.Book.Lookup(head); m == nil {
			continue
		}
		// The head ends where the words up to it do.
		raw := d.At.Text()
		at := d.At.Start + nthWordEnd(raw, i)
		if !line.Mends(at-line.Body, ",") {
			if i+1 < len(words) && line.Mends(at-line.Body, " >") {
				d.Help = "a remark stands behind >: " + head + " > " + strings.Join(words[i:], " ")
				d.Fixes = []diag.Fix{{Title: "make the rest of the line a note",
					Edits: []diag.Edit{{At: d.At.File.At(source.Span{Start: at, End: at}), New: " >"}}}}
			}
			return d
		}
		d.Rule, d.Message = commaMissing, fmt.Sprintf("a comma is missing before %q", words[i])
		d.Help = "put a comma before it"
		d.Fixes = []diag.Fix{{Title: "put a comma before " + words[i], Safe: true,
			Edits: []diag.Edit{{At: d.At.File.At(source.Span{Start: at, End: at}), New: ","}}}}
		return d
	}
	if rest, ok := alternates(words); ok {
		if m, _ := l.env.Book.Lookup(rest); m != nil {
			first := d.At.Start + len(d.At.Text()) - len(strings.TrimLeft(d.At.Text()[len(words[0]):], " "))
			d.Help = fmt.Sprintf("how sides take turns stands behind a comma: %s, alternating", rest)
			d.Fixes = []diag.Fix{{Title: "write " + rest + ", alternating", Edits: []diag.Edit{
				{At: d.At.File.At(source.Span{Start: d.At.Start, End: first})},
				{At: d.At.File.At(source.Span{Start: d.At.End, End: d.At.End}), New: ", alternating"}}}}
			return d
		}
	}
	if len(words) > 2 && strings.EqualFold(words[0], "death") && strings.EqualFold(words[1], "by") {
		d.Help = "one more each minute until it cannot be done is written every 1:00 until missed, with 1-2-... " + strings.Join(words[2:], " ") + " under it"
		d.Fixes = nil
		return d
	}
	if i := slices.Index(words, "and"); i > 0 && i+1 < len(words) {
		first, second := strings.Join(words[:i], " "), strings.Join(words[i+1:], " ")
		one, _ := l.env.Book.Lookup(first)
		if other, _ := l.env.Book.Lookup(second); one != nil && other != nil {
			d.Help = bothHelp(line, one.Name, l.secondOf(one, other, second))
			d.Fixes = nil
			return d
		}
	}
	if len(words) > 1 && slices.Contains([]string{"kg", "lb", "lbs", "cm"}, strings.ToLower(words[0])) {
		d.Help = "a weight or a height stands behind @: " + strings.Join(words[1:], " ") + " @ 24/16 kg"
		d.Fixes = nil
	}
	if near := syntax.Nearest(strings.ToLower(words[0]), syntax.KeywordsIn(syntax.InGroup), 1); len(near) > 0 && len(words) > 1 && len(d.Fixes) == 0 {
		d.Help = fmt.Sprintf("did you mean to start the line with %q? Otherwise add a movement of your own in a file under movements/", near[0])
	}
	return d
}

// alternates is a name without the word in front of it that says that sides take turns.
func alternates(words []string) (rest string, ok bool) {
	if len(words) < 2 || !slices.Contains([]string{"alternating", "alternate", "alt"}, strings.ToLower(words[0])) {
		return "", false
	}
	return strings.Join(words[1:], " "), true
}

// secondOf are the movements that may be meant by the second word of "hang clean and jerk", as one
// phrase: with the implement of the first where there are such.
func (l *lowerer) secondOf(one, other *book.Movement, second string) string {
	implement, _, _ := strings.Cut(one.Name, " ")
	var alike, plain []string
	for _, m := range l.env.Book.Movements() {
		kind, is := strings.CutSuffix(m.Name, " "+second)
		switch {
		case !is || strings.HasSuffix(kind, " and"):
		case strings.HasPrefix(kind, implement+" "):
			alike = append(alike, m.Name)
		case !strings.Contains(kind, " "):
			plain = append(plain, m.Name)
		}
	}
	if len(alike) == 0 {
		alike = append(plain, other.Name)
	}
	slices.Sort(alike)
	alike = slices.Compact(alike)
	return strings.Join(alike[:min(3, len(alike))], " or ")
}

// bothHelp says how two movements are written that one line names with an and. A complex is so many of
// each in a set, so that n of both are n sets of one and one.
func bothHelp(line *syntax.Line, first, second string) string {
	apart := fmt.Sprintf("write %s and %s on a line each", first, second)
	it, ok := line.Stmt.(*syntax.Item)
	if !ok || it.Dose == nil || it.Dose.Amount == nil || it.Dose.Sets != nil || it.Dose.Max || it.Dose.Amount.Unit != "" {
		return fmt.Sprintf("%s, or where one follows the other each time, 1 %s + 1 %s", apart, first, second)
	}
	n := line.Text[it.Dose.Amount.Start:it.Dose.Amount.End]
	return fmt.Sprintf("%s, or where one follows the other each time, %s x 1 %s + 1 %s", apart, n, first, second)
}

// sharing are those names that have a word in common with a name, three at most.
func sharing(name string, names []string) []string {
	var out []string
	for _, n := range names {
		for _, w := range strings.Fields(strings.ToLower(name)) {
			if len(out) < 3 && slices.ContainsFunc(strings.Fields(strings.ToLower(n)), func(o string) bool { return book.Key(o) == book.Key(w) || o == w+"s" || w == o+"s" }) && !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}

// nthWordEnd is the offset behind the nth word (from 1) of raw.
func nthWordEnd(raw string, n int) int {
	in, seen := false, 0
	for i, r := range raw {
		blank := r == ' ' || r == '\t' || r == 0xA0
		if !blank && !in {
			in = true
			seen++
		}
		if blank && in {
			in = false
			if seen == n {
				return i
			}
		}
	}
	return len(raw)
}

func (l *lowerer) kit(at source.Place, name string) string {
	if k, ok := l.env.Book.Kit(name); ok {
		return k
	}
	var keys []string
	names := l.env.Book.KitNames()
	for _, n := range names {
		keys = append(keys, strings.ToLower(n))
	}
	d := diag.Diagnostic{Rule: kitUnknown, Severity: diag.Error, At: at, Message: fmt.Sprintf("neither the house nor the book has a %q", name),
		Help: "add it to the house's kit, or write it as there"}
	if near := syntax.Nearest(strings.ToLower(name), keys, 2); len(near) > 0 {
		d.Help = "did you mean " + near[0] + "?"
		d.Fixes = []diag.Fix{{Title: "write " + near[0], Edits: []diag.Edit{{At: at, New: near[0]}}}}
	} else if like := sharing(name, names); len(like) > 0 {
		d.Help = "did you mean " + strings.Join(like, " or ") + "? Otherwise add it to the house's kit"
	}
	*l.diags = append(*l.diags, d)
	return strings.ToLower(name)
}

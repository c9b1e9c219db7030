package book

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// The names of what can be wrong with a movement.
const (
	NameTaken       = "name-taken"
	PatternUnknown  = "pattern-unknown"
	FiguresWrong    = "figures-wrong"
	MovementUnknown = "movement-unknown"
	PropertyTwice   = "property-twice"
	WordUnknown     = "word-unknown"
)

// Read takes the movements out of a text.
func Read(f *syntax.File) ([]*Movement, []diag.Diagnostic) {
	var ms []*Movement
	var ds []diag.Diagnostic
	for _, b := range f.Roots {
		e, ok := b.Line.Stmt.(*syntax.Entry)
		if !ok || e.Kind != "movement" {
			continue
		}
		r := reader{src: f.Src, m: &Movement{Name: strings.ToLower(e.Name.Text), At: f.Src.At(b.Line.Span(e.Name.Span))}}
		for _, kid := range b.Kids {
			r.property(kid.Line)
		}
		r.figures()
		ms = append(ms, r.m)
		ds = append(ds, r.diags...)
	}
	return ms, ds
}

type reader struct {
	src   *source.File
	m     *Movement
	seen  []string
	diags []diag.Diagnostic
	line  *syntax.Line
}

func (r *reader) report(rule string, at source.Span, message, help string) {
	r.diags = append(r.diags, diag.Diagnostic{Rule: rule, Severity: diag.Error, At: r.src.At(at), Message: message, Help: help})
}

// repeatable are the properties that may stand more than once.
var repeatable = []string{"pace", "cue", "fault", "caution", "set-up", "standard", "allow"}

func (r *reader) property(l *syntax.Line) {
	p, ok := l.Stmt.(*syntax.Property)
	if !ok {
		return
	}
	r.line = l
	if slices.Contains(r.seen, p.Key) && !slices.Contains(repeatable, p.Key) {
		r.report(PropertyTwice, l.Span(p.KeySpan), fmt.Sprintf("%s has a line %q already", r.m.Name, p.Key), "write all of it on one line, with commas between")
		return
	}
	r.seen = append(r.seen, p.Key)
	note := ""
	if l.Note != nil {
		note = l.Note.Text
	}
	names := lower(p.Names)
	m := r.m
	switch p.Key {
	case "also":
		m.Also = names
	case "needs":
		r.needs(p, names)
	case "easier":
		m.Easier = names
	case "harder":
		m.Harder = names
	case "instead":
		m.Instead = names
	case "trains":
		r.trains(p)
	case "moves":
		r.moves(p)
	case "best":
		if !slices.Contains([]string{"load", "reps", "time"}, names[0]) || len(names) > 1 {
			r.report(WordUnknown, l.Span(p.Names[0].Span), fmt.Sprintf("%q is nothing that athletes know their best of", names[0]), "write best load, best reps or best time")
			return
		}
		m.Best = Best(names[0])
	case "pace":
		pace := Pace{Levels: levels(p, note), Per: p.Per}
		for _, ld := range p.Loads {
			pace.Load = strings.TrimSpace(strings.TrimPrefix(r.src.Slice(l.Span(ld.Span)), "@"))
		}
		m.Paces = append(m.Paces, pace)
	case "unbroken":
		v := levels(p, note)
		m.Unbroken, m.UnbrokenPer = &v, p.Quantity.Unit
	case "class":
		q := p.Quantity
		if v := q.Steps[0].Tiers[0].Value; q.Unit == "%" && v > 0 && v <= 100 {
			m.Class = &Share{Of: v / 100, AtMost: q.Bound == syntax.AtMost, Source: note}
		}
	case "set-up":
		m.SetUp = append(m.SetUp, note)
	case "standard":
		m.Standard = append(m.Standard, note)
	case "cue":
		m.Cues = append(m.Cues, note)
	case "fault":
		m.Faults = append(m.Faults, note)
	case "caution":
		m.Cautions = append(m.Cautions, note)
	}
}

// needs takes the kit of a movement, or that it needs none.
func (r *reader) needs(p *syntax.Property, names []string) {
	r.m.Needs = []string{} // said, if only that it is none
	r.m.StandIns = map[string][]string{}
	for i, name := range names {
		of := append([]string{name}, lower(p.Or[i])...)
		if len(names) == 1 && len(of) == 1 && name == nothing {
			return
		}
		if k := slices.Index(of, nothing); k >= 0 {
			at := p.Names[i].Span
			if k > 0 {
				at = p.Or[i][k-1].Span
			}
			r.report(WordUnknown, r.line.Span(at), "no kit is called nothing", "write needs nothing alone for a movement that needs none, and leave out what it can be done without")
			continue
		}
		r.m.Needs = append(r.m.Needs, name)
		if len(of) > 1 {
			r.m.StandIns[name] = of[1:]
		}
	}
}

// nothing says of a movement that there is none of what the line is about.
const nothing = "nothing"

func lower(ns []syntax.Name) []string {
	var out []string
	for _, n := range ns {
		out = append(out, strings.ToLower(n.Text))
	}
	return out
}

func (r *reader) trains(p *syntax.Property) {
	for _, n := range p.Names {
		name := strings.ToLower(n.Text)
		if name == nothing && len(p.Names) == 1 {
			return
		}
		if !slices.Contains(Patterns, Pattern(name)) {
			var all []string
			for _, p := range Patterns {
				all = append(all, string(p))
			}
			help := "the patterns are " + strings.Join(all, ", ") + "; a duty trains nothing"
			if near := syntax.Nearest(name, all, 2); len(near) > 0 {
				help = "did you mean " + near[0] + "? " + help
			}
			r.report(PatternUnknown, r.line.Span(n.Span), fmt.Sprintf("%q is no pattern", name), help)
			continue
		}
		r.m.Trains = append(r.m.Trains, Pattern(name))
	}
}

func (r *reader) moves(p *syntax.Property) {
	r.m.Joints = []Joint{} // said, if only that it is none
	for _, n := range p.Names {
		name := strings.ToLower(n.Text)
		if name == nothing && len(p.Names) == 1 {
			return
		}
		if !slices.Contains(Joints, Joint(name)) {
			var all []string
			for _, j := range Joints {
				all = append(all, string(j))
			}
			help := "the joints are " + strings.Join(all, ", ") + "; what moves none moves nothing"
			if near := syntax.Nearest(name, all, 2); len(near) > 0 {
				help = "did you mean " + near[0] + "? " + help
			}
			r.report(WordUnknown, r.line.Span(n.Span), fmt.Sprintf("%q is no joint", name), help)
			continue
		}
		r.m.Joints = append(r.m.Joints, Joint(name))
	}
}

func levels(p *syntax.Property, note string) Levels {
	t := p.Quantity.Steps[0].Tiers
	if len(t) != 3 {
		return Levels{}
	}
	return Levels{Fast: t[0].Value, Typical: t[1].Value, Slow: t[2].Value, Source: note}
}

// widest is how much slower than the fast the slow may be: beyond it the figures are
// of two movements, not one.
const widest = 4

// figures reports paces and counts that cannot be: out of order, not positive, or
// further apart than one movement's are.
func (r *reader) figures() {
	m := r.m
	for _, p := range m.Paces {
		if p.Levels == (Levels{Source: p.Source}) {
			continue // reported by the syntax
		}
		switch {
		case p.Fast <= 0:
			r.report(FiguresWrong, m.At.Span, fmt.Sprintf("%s has a pace of %g s per %s: a pace is more than nothing", m.Name, p.Fast, p.Per), "write the seconds that a fast, a typical and a slow member take")
		case p.Fast > p.Typical || p.Typical > p.Slow:
			r.report(FiguresWrong, m.At.Span, fmt.Sprintf("the pace of %s does not rise: %g, %g, %g s per %s", m.Name, p.Fast, p.Typical, p.Slow, p.Per), "write fast / typical / slow")
		case p.Slow > widest*p.Fast:
			r.report(FiguresWrong, m.At.Span, fmt.Sprintf("the slow pace of %s is %.1f times the fast one (%g and %g s per %s); more than %d times is not one movement", m.Name, p.Slow/p.Fast, p.Slow, p.Fast, p.Per, widest), "give slow members an easier form instead")
		}
	}
	if u := m.Unbroken; u != nil && *u != (Levels{Source: u.Source}) {
		switch {
		case u.Slow < 1:
			r.report(FiguresWrong, m.At.Span, fmt.Sprintf("%s is unbroken for %g: who cannot do one needs the easier form", m.Name, u.Slow), "write at least 1")
		case u.Fast < u.Typical || u.Typical < u.Slow:
			r.report(FiguresWrong, m.At.Span, fmt.Sprintf("the unbroken counts of %s do not fall: %g, %g, %g", m.Name, u.Fast, u.Typical, u.Slow), "write fast / typical / slow: the fast do more before they pause")
		}
	}
}

// Check reports words in the movements of a workspace that lead nowhere: the forms of
// a movement that no book has.
func (b *Book) Check(f *syntax.File) []diag.Diagnostic {
	var ds []diag.Diagnostic
	for _, root := range f.Roots {
		if e, ok := root.Line.Stmt.(*syntax.Entry); !ok || e.Kind != "movement" {
			continue
		}
		for _, kid := range root.Kids {
			p, ok := kid.Line.Stmt.(*syntax.Property)
			if !ok || !slices.Contains([]string{"easier", "harder", "instead"}, p.Key) {
				continue
			}
			for _, n := range p.Names {
				if d := b.Resolve(f.Src.At(kid.Line.Span(n.Span)), n.Text, nil); d != nil {
					ds = append(ds, *d)
				}
			}
		}
	}
	return ds
}

// Resolve says what is wrong with a movement's name at a place, or nil if the book has
// it. Into, if not nil, gets the movement.
func (b *Book) Resolve(at source.Place, name string, into **Movement) *diag.Diagnostic {
	m, claims := b.Lookup(name)
	if m != nil {
		if into != nil {
			*into = m
		}
		return nil
	}
	if len(claims) > 0 {
		var names []string
		for _, c := range claims {
			names = append(names, c.Name)
		}
		d := &diag.Diagnostic{Rule: MovementUnclear, Severity: diag.Error, At: at,
			Message: fmt.Sprintf("%q could be %s", name, orList(names)), Help: "write which one is meant"}
		for _, n := range names {
			d.Fixes = append(d.Fixes, diag.Fix{Title: "write " + n, Edits: []diag.Edit{{At: at, New: n}}})
		}
		return d
	}
	d := &diag.Diagnostic{Rule: MovementUnknown, Severity: diag.Error, At: at, Message: fmt.Sprintf("no book has a movement %q", name),
		Help: "write it as the book does, or add a movement of your own in a file under movements/"}
	if full := b.endingIn(name); len(full) > 0 {
		d.Help = "did you mean " + orList(full) + "? Otherwise add a movement of your own in a file under movements/"
		for _, n := range full {
			d.Fixes = append(d.Fixes, diag.Fix{Title: "write " + n, Edits: []diag.Edit{{At: at, New: n}}})
		}
	} else if near := b.Near(name, 3); len(near) > 0 {
		d.Help = "did you mean " + orList(near) + "? Otherwise add a movement of your own in a file under movements/"
		slips := b.Slips(name) // what merely shares a word is no correction
		for _, n := range slips[:min(3, len(slips))] {
			d.Fixes = append(d.Fixes, diag.Fix{Title: "write " + n, Edits: []diag.Edit{{At: at, New: n}}})
		}
	}
	return d
}

// MovementUnclear is the rule for a word that two movements claim.
const MovementUnclear = "movement-unclear"

func orList(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " or " + names[n-1]
	}
	return strings.Join(names, "")
}

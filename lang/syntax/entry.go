package syntax

import (
	"fmt"
	"slices"
	"strings"
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

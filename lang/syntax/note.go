package syntax

import (
	"regexp"
	"slices"
	"strings"

	"stint.example/stint/lang/source"
)

// InNote is a piece of a line's note that would be read if it did not stand there: everything behind
// the first > of a line is text.
type InNote struct {
	source.Span        // in the line's body
	Text        string // without the comma or colon before it
	Kind        InNoteKind
	Work        *Item    // of InNoteWork
	Behind      string   // what the note is of: until, @, if or score; empty for a remark
	Lines       []string // the line written so that it is read; nil where nothing known reads so
}

// InNoteKind is what such a piece would be.
type InNoteKind uint8

// The kinds.
const (
	InNoteNote   InNoteKind = iota // another end, load or condition in words
	InNoteClause                   // clauses, or a load
	InNoteWork                     // work behind a colon
)

var secondNote = regexp.MustCompile(`(?:^|,? )(if|until|@) > `)

// ReadInNote finds what the note of a line of work, of a rest, a head, a condition or a score holds that
// would be read outside of it; nil where there is none. A note that ends as a sentence does holds none,
// but for another end, load or condition.
func (p *Parsed) ReadInNote() *InNote {
	if p.Note == nil || p.Bad {
		return nil
	}
	switch s := p.Stmt.(type) {
	case *Item, *Rest, *Head, *Lead:
	case *Property:
		if s.Score == nil {
			return nil
		}
	default:
		return nil
	}
	text := p.Note.Text
	n := noteOf(p)
	if n.word == "" {
		return nil
	}
	if at := secondNote.FindStringSubmatchIndex(text); at != nil {
		in := p.inNote(n, at[2], len(text), InNoteNote)
		in.Lines = p.written(n.secondNote(text[:at[0]], text[at[2]:at[3]], text[at[1]:]))
		return in
	}
	if strings.ContainsAny(text[len(text)-min(1, len(text)):], ".!?") {
		return nil
	}
	for i := range text {
		cut, mark, _ := strings.Cut(text[i:], " ")
		rest := strings.TrimPrefix(mark, "then ")
		start := len(text) - len(rest)
		switch {
		case cut == "," && clausesIn(rest):
			in := p.inNote(n, start, len(text), InNoteClause)
			in.Lines = p.written(n.clauses(strings.TrimSpace(text[:i]), rest))
			return in
		case cut == "@" && i > 0 && text[i-1] == ' ' && loadIn(text[i:]):
			in := p.inNote(n, i, len(text), InNoteClause)
			in.Lines = p.written([]string{n.before + " " + text[i:] + n.intro + strings.TrimSpace(text[:i])})
			return in
		case cut == ":":
			if it := workIn(rest); it != nil {
				in := p.inNote(n, start, len(text), InNoteWork)
				in.Work, in.Lines = it, p.written(n.work(strings.TrimSpace(text[:i]), rest))
				return in
			}
		}
	}
	return nil
}

func (p *Parsed) inNote(n noted, from, to int, kind InNoteKind) *InNote {
	return &InNote{Span: source.Span{Start: p.Note.Start + from, End: p.Note.Start + to}, Text: p.Note.Text[from:to], Kind: kind, Behind: n.word}
}

// noted is a line cut before what its note is of.
type noted struct {
	stmt   Stmt
	before string // without blanks at its end
	word   string // until, @, if or score
	intro  string // the word with what stands around it, up to the note
}

func noteOf(p *Parsed) noted {
	n := noted{stmt: p.Stmt}
	i := slices.IndexFunc(p.Toks, func(t Tok) bool { return t.Kind == Note }) - 1
	if i < 0 {
		return n
	}
	at := p.Toks[i].Start
	switch t := p.Toks[i]; {
	case t.Kind == Until:
		n.word = "until"
	case t.Kind == At:
		n.word = "@"
	case t.Kind == Word && t.Text == string(If):
		n.word = t.Text
		if i > 0 {
			at = p.Toks[i-1].Start
		}
	case t.Kind == Word && t.Text == "score":
		n.word = t.Text
	}
	n.before = strings.TrimRight(p.Text[:at], " \t")
	n.intro = p.Text[len(n.before):p.Note.Start]
	return n
}

// secondNote writes a line with a note and another that its note holds: one of them has to be a
// condition, which may stand above the line.
func (n noted) secondNote(first, word, second string) []string {
	first = strings.TrimRight(first, ", ")
	switch {
	case n.before == "":
		return nil
	case word == string(If):
		return []string{"if > " + second, "  " + n.before + n.intro + first}
	case n.word == string(If):
		return []string{"if > " + first, "  " + n.before + " " + word + " > " + second}
	}
	return nil
}

// clauses writes a line with clauses that its note holds.
func (n noted) clauses(note, clauses string) []string {
	rest, line := strings.HasPrefix(clauses, string(RestOf)), n.before+n.intro+note
	it, work := n.stmt.(*Item)
	sets := work && it.Dose != nil && it.Dose.Sets != nil
	switch {
	case n.before == "" && n.word == string(If):
		if rest {
			return []string{line, "  " + clauses}
		}
		return nil
	case sets && rest && n.word == "until" && !strings.Contains(clauses, ","):
		count, each, _ := strings.Cut(line, " x ")
		return []string{count + " rounds", "  " + each, "  " + clauses}
	case rest && !sets:
		if isHead(n.stmt) {
			return nil // where under it, nothing says
		}
		return []string{line, clauses}
	case work || isHead(n.stmt):
		return []string{n.before + ", " + clauses + n.intro + note}
	}
	return nil
}

// work writes a line with work that stands behind a colon in its note.
func (n noted) work(note, work string) []string {
	line := n.before + n.intro + note
	switch n.stmt.(type) {
	case *Head, *Lead:
		return []string{line, "  " + work}
	case *Rest:
		return []string{work, line}
	}
	return []string{line, work}
}

// written are lines that all read without a mistake; nil otherwise.
func (p *Parsed) written(lines []string) []string {
	for _, line := range lines {
		ctx := p.in
		body := strings.TrimLeft(line, " ")
		if body != line {
			ctx = InGroup
		}
		if readLine(body, ctx).Bad {
			return nil
		}
	}
	return lines
}

// clausesIn reports whether a text is clauses, with commas between them.
func clausesIn(text string) bool {
	sc := scan(text)
	if len(sc.faults) > 0 || len(sc.toks) == 0 {
		return false
	}
	for toks, more := sc.toks, true; more; {
		var clause []Tok
		clause, toks, more = split(toks, Comma)
		g, _ := behindComma.parse(clause)
		if g == nil {
			return false
		}
		if c := g.Clause.kind().clauseType(); c.kind == If || !c.onWork.allowed() && !c.onHead.allowed() {
			return false
		}
	}
	return true
}

// loadIn reports whether a text is loads with numbers.
func loadIn(text string) bool {
	sc := scan(text)
	g, _ := loadsGrammar.parse(sc.toks)
	return g != nil && len(sc.faults) == 0 && slices.ContainsFunc(sc.toks, func(t Tok) bool { return t.Kind == Number || t.Kind == Clock })
}

// workIn is the line of work that a text is, with how much of it; nil where it is none.
func workIn(text string) *Item {
	it, _ := readLine(text, InGroup).Stmt.(*Item)
	if it == nil || it.Dose == nil {
		return nil
	}
	return it
}

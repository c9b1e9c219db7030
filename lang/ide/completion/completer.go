package completion

import (
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// A completer is a cursor, and what is being written at it.
type completer struct {
	snap *workspace.Snapshot
	file *workspace.File
	off  int

	body   int    // offset of the line's first byte behind its indent
	text   string // the line behind its indent
	toks   []syntax.Tok
	before int // how many tokens lie whole before the cursor, with a blank or a mark between
	ctx    syntax.Context
	up     []*syntax.Line // the lines that it stands under, the nearest first

	session *model.Session // as written
	env     *model.Env     // with the session's own kit, where it lists some
	version *model.Version // where it stands in a scaling
	part    *model.Group   // of the session, or of the version

	from, to int  // the words that are being written
	noName   bool // the token at the cursor is no part of a name, so nothing completes it
	query    *query
	items    []Suggestion
}

// newCompleter finds out where a cursor is; nil where nothing can be offered.
func newCompleter(snap *workspace.Snapshot, f *workspace.File, off int) *completer {
	src := f.Src
	if f.Syntax().NotUTF8 || off < 0 || off > len(src.Text) {
		return nil
	}
	c := &completer{snap: snap, file: f, off: off, from: off, to: off, body: off, env: snap.Env}
	c.ctx, c.up = f.Syntax().Under(off)
	if i := src.LineAt(off); i < src.Lines() {
		s := src.Line(i)
		if off > s.End {
			return nil // between the two bytes of a line end
		}
		l := f.Syntax().Lines[i]
		if len(l.Toks) > 0 {
			if l.Len > syntax.MaxBody {
				return nil
			}
			c.body, c.text, c.toks = l.Body, src.Slice(source.Span{Start: l.Body, End: s.End}), joinHyphens(l.Toks)
		}
	}
	if off < c.body {
		return nil // in the indent of a line that is written
	}
	col := off - c.body
	for _, t := range c.toks {
		if (t.Kind == syntax.Note || t.Kind == syntax.Comment) && col > t.Start {
			return nil
		}
		if t.End < col || t.End == col && !growsWithLetters(t) {
			c.before++
		}
	}
	c.inSession()
	return c
}

// joinHyphens are tokens in which a hyphen that stands behind a word, and before nothing yet, is
// of that word.
func joinHyphens(toks []syntax.Tok) []syntax.Tok {
	var out []syntax.Tok
	for _, t := range toks {
		if n := len(out) - 1; t.Kind == syntax.Dash && n >= 0 && out[n].Kind == syntax.Word && out[n].End == t.Start {
			out[n].End, out[n].Text, out[n].Raw = t.End, out[n].Text+"-", out[n].Raw+"-"
			continue
		}
		out = append(out, t)
	}
	return out
}

// growsWithLetters says whether a token goes on when a letter is typed behind it.
func growsWithLetters(t syntax.Tok) bool {
	switch t.Kind {
	case syntax.Word, syntax.Or, syntax.Until, syntax.Bound, syntax.Number, syntax.Clock, syntax.Date, syntax.Tempo, syntax.RM,
		syntax.Unit, syntax.Times, syntax.Side:
		return true
	}
	return false
}

// isNameToken says whether a token can be of a name.
func isNameToken(t syntax.Tok) bool {
	return t.Kind == syntax.Word || t.Kind == syntax.Unit
}

// inSession finds the session, the version and the part that the cursor is in.
func (c *completer) inSession() {
	name := c.file.SessionNameAt(c.off)
	if name == "" {
		return
	}
	sessions := c.file.Program().Sessions
	i := slices.IndexFunc(sessions, func(s *model.Session) bool { return s.Name == name })
	if i < 0 {
		return
	}
	c.session = sessions[i]
	c.env = c.snap.Env.For(c.session)
	switch st := c.file.RootAt(c.off).Line.Stmt.(type) {
	case *syntax.Head:
		c.part = c.session.FindPart(model.GroupKind(st.Part), st.Letter.Text)
	case *syntax.Scaling:
		c.version = c.session.FindVersion(st.Name.Text)
	}
}

// word is the text of a token before the cursor, in lower case; empty where there is none.
func (c *completer) word(i int) string {
	if i < 0 || i >= c.before {
		return ""
	}
	return c.toks[i].Text
}

// last is the index of the last token of some kinds before the one that is being written;
// -1 where there is none.
func (c *completer) last(kinds ...syntax.Kind) int {
	for i := c.before - 1; i >= 0; i-- {
		if slices.Contains(kinds, c.toks[i].Kind) {
			return i
		}
	}
	return -1
}

// span says that what is being written begins with a token, if the cursor is in or behind
// it, and goes on as long as more says so of those that follow.
func (c *completer) span(first int, more func(syntax.Tok) bool) {
	c.from, c.to, c.query = c.off, c.off, nil
	if first >= len(c.toks) || c.body+c.toks[first].Start > c.off {
		return
	}
	if !more(c.toks[first]) {
		c.noName = c.body+c.toks[first].Start < c.off
		return
	}
	c.from, c.query = c.body+c.toks[first].Start, nil
	for _, t := range c.toks[first:] {
		if !more(t) {
			break
		}
		c.to = max(c.to, c.body+t.End)
	}
}

// name says that a name is being written, and returns which token it begins with: the first
// of the words before the cursor, but for those before a token.
func (c *completer) name(keep int) int {
	i := c.before
	for i > keep && c.toks[i-1].Kind == syntax.Word {
		i--
	}
	c.span(i, isNameToken)
	return i
}

// add offers an item, if it fits what is typed.
func (c *completer) add(it Suggestion) {
	it.Block = c.ctx
	names := append([]string{it.Label}, it.keys...)
	if it.matchQuality, it.Also = c.match(searchNames(names...)); it.matchQuality != noMatch {
		c.items = append(c.items, it)
	}
}

// values offers words that are written as they are.
func (c *completer) values(kind Category, detail string, texts ...string) {
	for i, t := range texts {
		c.add(Suggestion{Label: t, New: t, Kind: kind, Detail: detail, rank: i})
	}
}

package completion

import (
	"slices"

	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/workspace"
)

// A here is a cursor, and what is being written at it.
type here struct {
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
	version *model.Version // where it stands in a scaling
	part    *model.Group   // of the session, or of the version

	from, to int  // the words that are being written
	odd      bool // they are none that could be gone on with
	want     *typed
	items    []Item
}

// look finds out where a cursor is; nil where nothing can be offered.
func look(snap *workspace.Snapshot, f *workspace.File, off int) *here {
	src := f.Src
	if f.Syntax().NotUTF8 || off < 0 || off > len(src.Text) {
		return nil
	}
	h := &here{snap: snap, file: f, off: off, from: off, to: off, body: off}
	h.ctx, h.up = f.Syntax().Under(off)
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
			h.body, h.text, h.toks = l.Body, src.Slice(source.Span{Start: l.Body, End: s.End}), joined(l.Toks)
		}
	}
	if off < h.body {
		return nil // in the indent of a line that is written
	}
	col := off - h.body
	for _, t := range h.toks {
		if (t.Kind == syntax.Note || t.Kind == syntax.Comment) && col > t.Start {
			return nil
		}
		if t.End < col || t.End == col && !wordlike(t) {
			h.before++
		}
	}
	h.inSession()
	return h
}

// joined are tokens in which a hyphen that stands behind a word, and before nothing yet, is
// of that word.
func joined(toks []syntax.Tok) []syntax.Tok {
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

// wordlike says whether a token goes on when a letter is typed behind it.
func wordlike(t syntax.Tok) bool {
	switch t.Kind {
	case syntax.Word, syntax.Or, syntax.Until, syntax.Number, syntax.Clock, syntax.Date, syntax.Tempo, syntax.RM, syntax.Unit, syntax.Times, syntax.Side:
		return true
	}
	return false
}

// namelike says whether a token can be of a name.
func namelike(t syntax.Tok) bool {
	return t.Kind == syntax.Word || t.Kind == syntax.Unit
}

// inSession finds the session, the version and the part that the cursor is in.
func (h *here) inSession() {
	name := h.file.SessionNameAt(h.off)
	if name == "" {
		return
	}
	sessions := h.file.Program().Sessions
	i := slices.IndexFunc(sessions, func(s *model.Session) bool { return s.Name == name })
	if i < 0 {
		return
	}
	h.session = sessions[i]
	switch st := h.file.RootAt(h.off).Line.Stmt.(type) {
	case *syntax.Head:
		h.part = h.session.FindPart(model.GroupKind(st.Part), st.Letter.Text)
	case *syntax.Scaling:
		h.version = h.session.FindVersion(st.Name.Text)
	}
}

// word is the text of a token before the cursor, in lower case; empty where there is none.
func (h *here) word(i int) string {
	if i < 0 || i >= h.before {
		return ""
	}
	return h.toks[i].Text
}

// last is the index of the last token of some kinds before the one that is being written;
// -1 where there is none.
func (h *here) last(kinds ...syntax.Kind) int {
	for i := h.before - 1; i >= 0; i-- {
		if slices.Contains(kinds, h.toks[i].Kind) {
			return i
		}
	}
	return -1
}

// span says that what is being written begins with a token, if the cursor is in or behind
// it, and goes on as long as more says so of those that follow.
func (h *here) span(first int, more func(syntax.Tok) bool) {
	h.from, h.to, h.want = h.off, h.off, nil
	if first >= len(h.toks) || h.body+h.toks[first].Start > h.off {
		return
	}
	if !more(h.toks[first]) {
		h.odd = h.body+h.toks[first].Start < h.off
		return
	}
	h.from, h.want = h.body+h.toks[first].Start, nil
	for _, t := range h.toks[first:] {
		if !more(t) {
			break
		}
		h.to = max(h.to, h.body+t.End)
	}
}

// name says that a name is being written, and returns which token it begins with: the first
// of the words before the cursor, but for those before a token.
func (h *here) name(keep int) int {
	i := h.before
	for i > keep && h.toks[i-1].Kind == syntax.Word {
		i--
	}
	h.span(i, namelike)
	return i
}

// add offers an item, if it fits what is typed.
func (h *here) add(it Item) {
	it.Block = h.ctx
	if it.how, it.Also = h.fits(spell(append([]string{it.Label}, it.keys...)...)); it.how != unfit {
		h.items = append(h.items, it)
	}
}

// values offers words that are written as they are.
func (h *here) values(kind Kind, detail string, texts ...string) {
	for i, t := range texts {
		h.add(Item{Label: t, New: t, Kind: kind, Detail: detail, rank: i})
	}
}

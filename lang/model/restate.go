package model

import (
	"fmt"
	"slices"
	"strings"

	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// ownLines are the lines of versions that stand in the place of those of the session, or of a part.
type ownLines struct {
	layer    int // the version that they were last stated in
	effort   *Quantity
	length   *Quantity
	purpose  string
	cautions []string
	aims     []*Aim
	totals   []*Total
}

// ownOf are the lines for a part, or for the session where that is empty. What an earlier version
// has in several lines is replaced by the first such line of a later one.
func (sw *swaps) ownOf(part string) *ownLines {
	if sw.own == nil {
		sw.own = map[string]*ownLines{}
	}
	if sw.own[part] == nil {
		sw.own[part] = &ownLines{}
	}
	return sw.own[part]
}

// restated takes a line of a scaling that states something of the version, or of the part that it
// stands under.
func (l *lowerer) restated(sw *swaps, line *syntax.Line, p *syntax.Property, where *syntax.Lead) {
	part := ""
	if where != nil {
		part = where.Kind + where.Letter.Text
		if slices.Contains([]string{"has", "length", "purpose", "caution"}, p.Key) {
			l.report(wordMisplaced, l.place(line, p.KeySpan), fmt.Sprintf("%s is of the whole version, not of a part", p.Key),
				"write it under the scaling's own line, outside the part", nil)
			return
		}
	}
	o := sw.ownOf(part)
	fresh := o.layer != sw.layer
	switch p.Key {
	case "effort":
		o.effort = l.quantity(line, p.Quantity, "%")
	case "length":
		o.length = l.quantity(line, p.Quantity, "")
	case "purpose":
		if fresh {
			o.purpose = ""
		}
		o.purpose = strings.TrimSpace(o.purpose + " " + note(line))
	case "caution":
		if fresh {
			o.cautions = nil
		}
		o.cautions = appendNote(o.cautions, line)
	case "aim":
		if fresh {
			o.aims = nil
		}
		o.aims = append(o.aims, l.aim(line, p))
	case "total":
		o.totals = append(o.totals, l.totals(line, p)...)
	default:
		return
	}
	o.layer = sw.layer
}

// restate puts what a version states into its session.
func (sw *swaps) restate(s *Session) {
	s.Totals = nil // they are of the session as written
	o := sw.own[""]
	if o == nil {
		return
	}
	s.Totals = o.totals
	override(&s.Effort, o.effort)
	override(&s.Length, o.length)
	override(&s.Purpose, o.purpose)
	if o.cautions != nil {
		s.Cautions = o.cautions
	}
	if o.aims != nil {
		s.Aims = o.aims
	}
}

// restatePart puts what a version states of a part into it.
func (sw *swaps) restatePart(g *Group) {
	o := sw.own[string(g.Kind)+g.Letter]
	if o == nil {
		return
	}
	g.Totals = append(g.Totals, o.totals...)
	override(&g.Effort, o.effort)
	if o.aims != nil {
		g.Aims = o.aims
	}
}

// override puts a value that is stated in the place of another.
func override[T comparable](value *T, stated T) {
	var nothing T
	if stated != nothing {
		*value = stated
	}
}

// onlySwaps says whether the lines of a block are swaps and what a version states, and no work.
func onlySwaps(kids []*syntax.Block) bool {
	swaps := false
	for _, k := range kids {
		switch k.Line.Stmt.(type) {
		case *syntax.Swap:
			swaps = true
		case *syntax.Property, nil:
		default:
			return false
		}
	}
	return swaps
}

// replaces reports a section in a scaling of which it is not said whether it takes the place of the
// session's, or what does, and says whether it holds something that could.
func (l *lowerer) replaces(sw *swaps, b *syntax.Block, h *syntax.Head) (holds bool) {
	line := b.Line
	name := strings.TrimSpace(h.Part + " " + h.Letter.Text)
	place := h.Letter.End
	if h.Letter.Text == "" {
		place = line.Toks[0].End
		if t := line.Toks[0].Text; t == "warm" || t == "cool" {
			place = line.Toks[1].End
		}
	}
	behind := line.Span(source.Span{Start: place, End: place})
	holds = h.Inline != nil || slices.ContainsFunc(b.Kids, func(k *syntax.Block) bool { return k.Line.Stmt != nil })
	bare := line.Span(h.Span).End == behind.End // nothing but the name
	d := diag.Diagnostic{Rule: swapUnclear, Severity: diag.Error, At: l.place(line, h.Span)}
	fix := func(title string, at source.Span, text string) {
		d.Fixes = append(d.Fixes, diag.Fix{Title: title, Edits: []diag.Edit{{At: l.file.Src.At(at), New: text}}})
	}
	switch {
	case h.Replaces && holds:
		return holds
	case h.Replaces:
		d.Message = fmt.Sprintf("it is not said what takes the place of %s", name)
		d.Help = "write the work under it, or what of its head changes: " + name + ": 4 rounds -> 3 rounds; or leave it out: " + name + " -> nothing"
		if from, to := sw.headChange(h, l); from != "" {
			fix("write "+name+": "+from+" -> "+to, line.Span(h.Span), name+": "+from+" -> "+to)
		}
		fix("write "+name+" -> nothing", line.Span(h.Span), name+" -> nothing")
	default:
		d.Message = fmt.Sprintf("it is not said whether this takes the place of %s or changes it", name)
		d.Help = name + " -> 3 rounds, with work under it, takes its place; " + name + ":, with swaps under it, changes it"
		from, to := sw.headChange(h, l)
		switch {
		case onlySwaps(b.Kids) && bare:
			fix("write "+name+":, which changes it", behind, ":")
		case onlySwaps(b.Kids):
		case holds:
			fix("write "+name+" ->, which takes its place", behind, " ->")
		case from != "":
			fix("write "+name+": "+from+" -> "+to, line.Span(h.Span), name+": "+from+" -> "+to)
		case bare:
			fix("write "+name+" -> nothing", line.Span(h.Span), name+" -> nothing")
		}
	}
	*l.diags = append(*l.diags, d)
	return holds
}

// headChange is the repeat, or the mode, of the session's section and what a scaling has in its place,
// as the sides of a swap; empty where there is no such pair.
func (sw *swaps) headChange(h *syntax.Head, l *lowerer) (from, to string) {
	text := func(line *syntax.Line, s source.Span) string { return l.place(line, s).Text() }
	var own *syntax.Line
	for _, line := range l.file.Lines {
		if line.Stmt == syntax.Stmt(h) {
			own = line
		}
	}
	for _, b := range sw.sections {
		old, ok := b.Line.Stmt.(*syntax.Head)
		if !ok || own == nil || old.Part != h.Part || !strings.EqualFold(old.Letter.Text, h.Letter.Text) {
			continue
		}
		switch {
		case old.Repeat != nil && h.Repeat != nil && h.Mode == nil && len(h.Clauses) == 0:
			return text(b.Line, old.Repeat.Span), text(own, h.Repeat.Span)
		case old.Mode != nil && h.Mode != nil && h.Repeat == nil && len(h.Clauses) == 0:
			return text(b.Line, old.Mode.Span), text(own, h.Mode.Span)
		}
	}
	return "", ""
}

// formThatWorks is how to write a swap of a head that matches none: what the heads of the part have, and
// where a clock starts the rounds that it means, these.
func (sw *swaps) formThatWorks(s *swap) (help string, fix *diag.Fix) {
	help = "write it as the session has it, or take the line out"
	from, ok := s.stmt.From.(*syntax.Head)
	if !ok {
		return help, nil
	}
	var have []string
	for _, b := range sw.sections {
		h, ok := b.Line.Stmt.(*syntax.Head)
		if !ok || s.part != "" && (h.Part != s.part || !strings.EqualFold(h.Letter.Text, s.letter)) {
			continue
		}
		eachHead(b, func(line *syntax.Line, h *syntax.Head) {
			r := h.Repeat
			if r == nil {
				return
			}
			have = append(have, s.l.place(line, r.Span).Text())
			to, swaps := s.stmt.To.(*syntax.Head)
			if fix != nil || !swaps || r.Times == nil || !r.Laps || !countsRounds(from) || !countsRounds(to) ||
				!syntax.Same(r.Times.Steps, from.Repeat.Count.Steps) {
				return
			}
			mend := func(h *syntax.Head) string {
				return "x " + s.l.place(s.line, h.Repeat.Span).Text()
			}
			fix = &diag.Fix{Title: fmt.Sprintf("write %s -> %s", mend(from), mend(to)), Edits: []diag.Edit{
				{At: s.l.place(s.line, from.Extent()), New: mend(from)}, {At: s.l.place(s.line, to.Extent()), New: mend(to)}}}
		})
	}
	switch {
	case fix != nil:
		help = "where a clock starts them: " + fix.Title
	case len(have) > 0:
		help = "write it as the session has it: " + strings.Join(have, ", or ") + "; or take the line out"
	}
	return help, fix
}

// countsRounds says whether a head is a number of rounds and nothing else.
func countsRounds(h *syntax.Head) bool {
	return h.Repeat != nil && h.Repeat.Kind == syntax.Rounds && h.Repeat.Count != nil && h.Mode == nil && len(h.Clauses) == 0
}

// eachHead visits the heads of a block, its own first.
func eachHead(b *syntax.Block, visit func(*syntax.Line, *syntax.Head)) {
	for s := b.Line.Stmt; s != nil; {
		var next syntax.Stmt
		switch st := s.(type) {
		case *syntax.Head:
			visit(b.Line, st)
			next = st.Inline
		case *syntax.Lead:
			next = st.Inline
		}
		s = next
	}
	for _, k := range b.Kids {
		eachHead(k, visit)
	}
}

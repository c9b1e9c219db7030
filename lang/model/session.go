package model

import (
	"fmt"
	"strings"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

// sessionOf lowers a session as written, and then in each of its versions.
func (l *lowerer) sessionOf(head *syntax.Block, sections []*syntax.Block) *Session {
	env := l.env
	defer func() { l.env = env }()
	l.env = env.withKit(l.kitOf(head))
	s := l.session(head, sections)
	l.kitNames(s.Kit)
	l.versions(s, head, sections)
	return s
}

// kitOf is the kit that a session lists in the place of the house's; what is wrong with it is
// reported with the session.
func (l *lowerer) kitOf(head *syntax.Block) []KitItem {
	quiet := &lowerer{file: l.file, env: l.env, diags: new([]diag.Diagnostic)}
	for _, kid := range head.Kids {
		if p, ok := kid.Line.Stmt.(*syntax.Property); ok && p.Key == "kit" {
			return quiet.kitList(kid)
		}
	}
	return nil
}

func (l *lowerer) session(head *syntax.Block, sections []*syntax.Block) *Session {
	e := head.Line.Stmt.(*syntax.Entry)
	s := &Session{Name: e.Name.Text, At: l.place(head.Line, e.Name.Span), Block: blockSpan(head), Parts: []*Group{}}
	s.Notes = appendNote(s.Notes, head.Line)
	seen := map[string]bool{}
	for _, kid := range head.Kids {
		line := kid.Line
		switch p := line.Stmt.(type) {
		case nil:
			s.Notes = appendNote(s.Notes, line)
		case *syntax.Rest:
			s.Rests = append(s.Rests, l.asked(line, p))
		case *syntax.Property:
			if seen[p.Key] && p.Key != "allow" && p.Key != "purpose" && p.Key != "caution" && p.Key != "aim" {
				l.twice(line, p, s.Name)
				continue
			}
			seen[p.Key] = true
			if p.Key == "kit" {
				s.Kit = l.kitList(kid)
			}
			l.sessionProperty(s, line, p)
		}
	}
	letters := map[string]source.Place{}
	for _, b := range sections {
		s.Block = s.Block.Join(blockSpan(b))
		switch h := b.Line.Stmt.(type) {
		case *syntax.Head:
			if g := l.section(b, h, letters); g != nil {
				s.Parts = append(s.Parts, g)
			}
		case *syntax.Bad:
			if len(b.Kids) > 0 {
				g := l.unread(b)
				s.Parts = append(s.Parts, g)
			}
		case *syntax.Property:
			if h.Key == "total" {
				l.after(b.Line, h, false)
				s.Totals = append(s.Totals, l.totals(b.Line, h)...)
			}
		case nil:
			s.Notes = appendNote(s.Notes, b.Line)
		}
	}
	l.pasts(s)
	return s
}

func (l *lowerer) sessionProperty(s *Session, line *syntax.Line, p *syntax.Property) {
	switch p.Key {
	case "date":
		s.Date = p.Date
	case "start":
		at := p.Time.Tiers[0].Value
		s.Start = &TimeOfDay{Time: units.FormatClock(at), Minutes: at, At: l.place(line, p.Time.Span)}
	case "length":
		s.Length = l.quantity(line, p.Quantity, "")
	case "effort":
		s.Effort = l.effort(line, p)
	case "heat":
		s.Heat = l.quantity(line, p.Quantity, "")
	case "caution":
		s.Cautions = appendNote(s.Cautions, line)
	case "purpose":
		s.Purpose = strings.TrimSpace(s.Purpose + " " + note(line))
	case "aim":
		s.Aims = append(s.Aims, l.aim(line, p))
	}
}

func (l *lowerer) effort(line *syntax.Line, p *syntax.Property) *Quantity {
	if len(p.Names) > 0 {
		l.report(wordMisplaced, l.place(line, p.Names[0].Span), "only a house says what a word of effort stands for", "write effort 80-85% here", nil)
	}
	return l.quantity(line, p.Quantity, "%")
}

// asked is a rest that is asked for at the head of a session.
func (l *lowerer) asked(line *syntax.Line, r *syntax.Rest) *Rest {
	if r.Bound == "" && r.Until == nil {
		l.report(restMisplaced, l.place(line, r.Span), "a session's head says how much rest it asks for, not when to take it",
			"write rest at least 1:30 here, or put the rest into a part", nil)
	}
	return l.rest(line, r, RestBetweenParts)
}

// section lowers the warm-up, a part or the cool-down. Letters are those that the
// session has used.
func (l *lowerer) section(b *syntax.Block, h *syntax.Head, letters map[string]source.Place) *Group {
	key := h.Part + h.Letter.Text
	at := l.place(b.Line, h.Span)
	if h.Letter.Text != "" {
		at = l.place(b.Line, h.Letter.Span)
	}
	if old, ok := letters[key]; ok {
		l.reportRelated(book.NameTaken, at, fmt.Sprintf("the session has a %s already", strings.TrimSpace(h.Part+" "+h.Letter.Text)), "call it by the next letter", old)
	}
	letters[key] = at
	if l.swaps != nil {
		whole := l.swaps.whole(h.Part, h.Letter.Text)
		switch {
		case whole == nil:
		case whole.block == nil:
			l.swaps.leaveOut(l.file.Src.At(blockSpan(b)), whole.note)
			return nil
		default:
			g := l.replaced(whole, b.Line, h)
			l.swaps.restatePart(g)
			return g
		}
		l.swaps.enter(h.Part, h.Letter.Text)
		defer l.swaps.leave()
	}
	g := l.group(b, h, scope{part: true})
	if g == nil {
		return nil
	}
	if l.swaps == nil {
		l.sectionRules(g)
		l.restsOfPartners(g)
		l.scores(g)
	}
	l.restsNamed(g)
	if l.swaps != nil {
		l.swaps.restatePart(g)
	}
	return g
}

func (l *lowerer) reportRelated(rule string, at source.Place, message, help string, other source.Place) {
	l.report(rule, at, message, help, nil)
	d := &(*l.diags)[len(*l.diags)-1]
	d.Related = append(d.Related, relatedTo(other))
}

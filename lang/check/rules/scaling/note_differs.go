package scaling

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/check"
	"stint.example/stint/lang/check/phrase"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
	"stint.example/stint/lang/units"
)

var NoteDiffers = check.Rule{Name: "note-differs", Family: "scaling", Severity: diag.Warning,
	Summary: "a note that counts a movement otherwise than the lines that it stands with",
	Session: func(p *check.Pass, s *model.Session) {
		if p.Version != nil || !p.SessionReadWithoutErrors() {
			return
		}
		for _, b := range p.File.Syntax.Roots {
			if !s.Block.Contains(b.Line.Body) {
				continue
			}
			switch stmt := b.Line.Stmt.(type) {
			case *syntax.Head:
				notesOf(p, b, s, stmt)
			case *syntax.Scaling:
				if v := s.FindVersion(stmt.Name.Text); v != nil && p.Here(v.At) {
					notesUnder(p, b, v.Session.Parts, "the version "+v.Name)
				}
			}
		}
	}}

// notesOf reads the notes of a part against the part.
func notesOf(p *check.Pass, b *syntax.Block, s *model.Session, h *syntax.Head) {
	for _, g := range s.Parts {
		if string(g.Kind) == h.Part && g.Letter == h.Letter.Text {
			notesUnder(p, b, []*model.Group{g}, g.PartName())
		}
	}
}

func notesUnder(p *check.Pass, b *syntax.Block, scope []*model.Group, what string) {
	prop, property := b.Line.Stmt.(*syntax.Property)
	if b.Line.Note != nil && !(property && prop.Key == "allow") { // a waiver gives a reason, not an order
		checkNote(p, b.Line, scope, what)
	}
	for _, k := range b.Kids {
		notesUnder(p, k, scope, what)
	}
}

// checkNote reads one note: each number with a movement behind it that the lines have.
func checkNote(p *check.Pass, line *syntax.Line, scope []*model.Group, what string) {
	text := line.Note.Text
	raw := p.File.Syntax.Src.Slice(line.Span(line.Note.Span))
	start := line.Body + line.Note.Start + max(0, strings.Index(raw, text))
	for _, c := range counted(p, text) {
		m, lines := linesOf(p, c.name, scope)
		if len(lines) == 0 {
			continue
		}
		doses, open := dosesIn(lines, c.unit)
		if open || len(doses) == 0 || comesTo(p, m, c, lines, scope) {
			continue
		}
		at := func(span source.Span) source.Place { return p.File.Syntax.Src.At(span.Shift(start)) }
		has := make([]string, len(doses))
		for i, v := range doses {
			has[i] = units.FormatNumber(v)
			if c.unit != "rep" {
				has[i] += " " + c.unit
			}
		}
		d := diag.Diagnostic{At: at(c.all), Label: phrase.And(has...) + " in the list",
			Message: fmt.Sprintf("the note says %s, and %s has %s %s", text[c.all.Start:c.all.End], what, phrase.And(has...), m.Name),
			Help:    "write the same in the note and in the list",
			Related: []diag.Related{{At: lines[0].At, Message: "the list has it here"}}}
		if len(doses) == 1 {
			to := units.FormatNumber(doses[0])
			d.Help = "write " + to + " in the note, or mend the list"
			d.Fixes = []diag.Fix{{Title: "write " + to + " in the note", Edits: []diag.Edit{{At: at(c.number), New: to}}}}
		}
		p.Report(d, check.OfWords)
	}
}

// A mention is a number in a note with what it counts.
type mention struct {
	n           float64
	unit, name  string
	number, all source.Span // in the note's text
}

var (
	noteWords   = regexp.MustCompile(`[0-9]+(?:[.,:/–-]+[0-9]+)*|\p{L}[\p{L}'’-]*|[^\s]`)
	noteNumbers = []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
		"fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"}
	// What may stand before a number that says how many there are; anything else, such as
	// the last, of or after, may speak of some of them.
	beforeCount = []string{".", ";", ":", ",", "!", "?", "and", "then", "plus", "the", "these", "all", "do", "same", "+"}
	// What makes a sentence say something else than how many there are.
	unsure = []string{"if", "or", "unless", "until", "instead", "than", "about", "least", "most", "first", "last", "after", "before", "extra",
		"otherwise", "might", "could", "can", "cannot", "would", "should", "may", "sometimes", "maximum", "minimum", "max", "min", "not", "no", "never"}
	// What behind the movement makes it a piece of the count, or a rate.
	partial = []string{"unbroken", "at", "each", "per", "a", "an", "every", "in", "left", "more", "straight", "apiece", "to", "into", "of"}
)

// counted finds the numbers of a note that are followed by the name of a movement, perhaps
// with a unit between.
func counted(p *check.Pass, text string) []mention {
	spots := noteWords.FindAllStringIndex(text, -1)
	word := func(i int) string {
		if i < 0 || i >= len(spots) {
			return "."
		}
		return strings.ToLower(text[spots[i][0]:spots[i][1]])
	}
	sentence := func(i int) []string {
		var out []string
		for j := i; j >= 0 && !strings.Contains(".!?;", word(j)); j-- {
			out = append(out, word(j))
		}
		for j := i + 1; j < len(spots) && !strings.Contains(".!?;", word(j)); j++ {
			out = append(out, word(j))
		}
		return out
	}
	var out []mention
	for i := range spots {
		n, err := strconv.ParseFloat(word(i), 64)
		if k := slices.Index(noteNumbers, word(i)); k >= 0 {
			n, err = float64(k+1), nil
		}
		if err != nil || n != float64(int(n)) || !slices.Contains(beforeCount, word(i-1)) ||
			slices.ContainsFunc(sentence(i), func(w string) bool { return slices.Contains(unsure, w) }) {
			continue
		}
		c := mention{n: n, unit: "rep", number: source.Span{Start: spots[i][0], End: spots[i][1]}}
		from := i + 1
		if u, ok := units.Lookup(word(from)); ok && (u.Dimension() == units.Length || u.Dimension() == units.Energy) {
			c.unit = "m"
			if u.Dimension() == units.Energy {
				c.unit = "cal"
			}
			c.n = u.ToBase(n)
			from++
		}
		for k := min(4, len(spots)-from); k > 0; k-- {
			end := from + k - 1
			name := text[spots[from][0]:spots[end][1]]
			m, claims := p.Env.Book.Lookup(name)
			if strings.ContainsAny(name, ".,;:!?") || m == nil && len(claims) == 0 {
				continue
			}
			if !slices.Contains(partial, word(end+1)) {
				c.name = name
				c.all = source.Span{Start: spots[i][0], End: spots[end][1]}
				out = append(out, c)
			}
			break
		}
	}
	return out
}

// linesOf are the lines of some parts that have a movement, by its name or by a word that
// only one movement there is called by.
func linesOf(p *check.Pass, name string, scope []*model.Group) (*book.Movement, []*model.Work) {
	m, claims := p.Env.Book.Lookup(name)
	if m != nil {
		claims = []*book.Movement{m}
	}
	var found *book.Movement
	var lines []*model.Work
	many := false
	for _, g := range scope {
		for w := range g.Lines(model.Everything) {
			for _, mv := range w.Moves {
				if mv.Movement == nil || !slices.Contains(claims, mv.Movement) {
					continue
				}
				many = many || found != nil && found != mv.Movement
				found = mv.Movement
				lines = append(lines, w)
			}
		}
	}
	if many {
		return nil, nil
	}
	return found, lines
}

// dosesIn are the counts of some lines in a unit, each once; open says that one of them is
// for the athlete or the clock to say, or is counted in something else.
func dosesIn(lines []*model.Work, unit string) (doses []float64, open bool) {
	for _, w := range lines {
		q := w.Dose
		if q == nil || q.Max || q.More || q.Bound != "" || q.Open || w.RM > 0 || w.From == model.FromClock || q.Unit != unit || len(w.Moves) > 1 {
			return nil, true
		}
		for _, row := range q.Terms {
			for _, v := range row {
				if !slices.Contains(doses, v) {
					doses = append(doses, v)
				}
			}
		}
	}
	return doses, false
}

// comesTo says whether a count is a total of the lines in some way: in a set, between two
// that they have, on both sides, in all sets or turns, or in all.
func comesTo(p *check.Pass, m *book.Movement, c mention, lines []*model.Work, scope []*model.Group) bool {
	tiers := len(p.Env.House.Tiers)
	for _, w := range lines {
		sets := 1.0
		if n, ok := w.Sets.One(); ok {
			sets = n
		}
		for _, k := range []float64{1, 2, sets, 2 * sets} {
			if w.Dose.Form == syntax.Range && c.n >= k*slices.Min(w.Dose.Terms[0]) && c.n <= k*slices.Max(w.Dose.Terms[1]) {
				return true
			}
			if slices.ContainsFunc(w.Dose.Terms, func(row []float64) bool {
				return slices.ContainsFunc(row, func(v float64) bool { return units.Same(k*v, c.n) })
			}) {
				return true
			}
		}
		for _, t := range w.Terms {
			if v, ok := t.Count.One(); ok && v == c.n {
				return true
			}
		}
		if v, ok := w.SetsOf.One(); ok && v == c.n {
			return true
		}
	}
	is := func(groups ...*model.Group) bool {
		var all [2]float64
		for _, g := range groups {
			row, _ := totals.OfGroup(g, tiers).Row(m.Name, c.unit)
			for i, s := range row.Tiers {
				if s.Open || units.Same(s.Lo, c.n) || units.Same(s.Hi, c.n) {
					return true
				}
				if i < 2 {
					all[i] += s.Lo
				}
			}
		}
		return units.Same(all[0], c.n) || units.Same(all[1], c.n)
	}
	found := is(scope...)
	for _, top := range scope {
		for g := range top.Groups(model.Everything) {
			if !found {
				found = is(g)
				// One turn of it is the total of its lines.
				one := *g
				one.Repeat = model.Repeat{Kind: model.Once, At: g.Repeat.At}
				found = found || g.Repeat.Series == nil && is(&one)
			}
		}
	}
	return found
}
